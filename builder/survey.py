"""What lies on the disk beside a client's programs, read once into frozen data: pictures, takes,
drawings that exist, and the steps that were published before."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

from builder.drawings import emblem
from builder.drawings import find as drawing_of
from builder.model import Client, Form, Item
from builder.names import slug_of
from builder.pictures import trouble
from builder.problems import UsageError
from builder.store import digest_of
from builder.workspace import MARK, find

if TYPE_CHECKING:
    from builder.phonetics.index import Index

PICTURE_ENDINGS = (".png", ".jpg", ".jpeg", ".webp", ".gif", ".svg")
OTHER_PICTURES = (".heic", ".heif", ".avif", ".tif", ".tiff", ".bmp", ".pdf")
TAKE_ENDINGS = (".wav", ".flac", ".mp3")
UNREAD_ENDINGS = (".m4a", ".aac", ".mp4", ".ogg", ".opus", ".webm", ".wma", ".amr", ".3gp", ".caf")


@dataclass(frozen=True)
class Found:
    """A file beside the program: its path and the first half of its SHA-256.

    trouble: why it cannot be used, as a sentence; "" when it can.
    """

    path: str
    digest: str
    trouble: str = ""


@dataclass(frozen=True)
class Survey:
    """What the disk holds for one client.

    own:      pictures of the client's folder, by file name.
    drawings: code points of a drawing, by an item's text.
    takes:    recordings by (name of the item, form).
    unread_takes: names of recordings of a kind that is not read.
    gone:     step ids in the site as published last.
    zipf:     how common the items' words are (Zipf scale), lower case; {} without an index.
    emblem:   code points and name of the drawing of the client's code; ("", "") without one.
    """

    own: Mapping[str, Found]
    drawings: Mapping[str, str]
    takes: Mapping[tuple[str, Form], Found]
    emblem: tuple[str, str] = ("", "")
    unread_takes: tuple[str, ...] = ()
    gone: tuple[str, ...] = ()
    zipf: Mapping[str, float] = field(default_factory=dict)

    def own_picture(self, item: Item) -> Found | None:
        """The client's own picture of an item: the one it names, else one named by its text or,
        in a phrase or sentence, by its target word."""
        if item.picture:
            return self.own.get(item.picture)
        names = (slug_of(text) + ending for text in _texts(item) for ending in PICTURE_ENDINGS)
        return next((self.own[name] for name in names if name in self.own), None)

    def drawing(self, item: Item) -> str:
        """The code points of the drawing of an item or of its target word, "" without one."""
        return next((self.drawings[t] for t in _texts(item) if t in self.drawings), "")

    def has_picture(self, item: Item) -> bool:
        """Whether an item can be shown without reading it."""
        return self.own_picture(item) is not None or bool(self.drawing(item))


def _texts(item: Item) -> tuple[str, ...]:
    """By what an item is looked up: its own text first, then the word that holds its target."""
    return (item.text, item.words[item.focus[0]].text) if item.focus else (item.text,)


def survey(client: Client, published: Path | None = None) -> Survey:
    """Look at the disk once. `published`: the folder of the client's site as it stands, if any."""
    folder = Path(client.folder)
    badge = emblem(client.code)
    return Survey(
        own=_pictures(folder / client.code),
        drawings=_drawings(client),
        takes=_takes(folder / client.clinic.takes, _names(client)),
        unread_takes=tuple(_files(folder / client.clinic.takes, UNREAD_ENDINGS)),
        emblem=(badge.code, badge.name) if badge else ("", ""),
        gone=_published(published),
        zipf=_zipf(client),
    )


def _names(client: Client) -> set[str]:
    """What a take may be called to be heard by this client."""
    texts = {i.text for p in client.programs for s in p.steps for i in s.said}
    return {slug_of(text) for text in texts | {p.sound.spelled for p in client.programs}}


def _zipf(client: Client) -> dict[str, float]:
    """How common the items' words are, where the workspace has an index of words; never made here.

    What the index does not know, or knows no frequency of, is left out.
    """
    try:
        folder = find(Path(client.folder)).root / ".practice" / "index"
    except UsageError:
        return {}
    if not folder.is_dir():
        return {}
    items = (i for p in client.programs for s in p.steps for i in s.items)
    return _frequencies(folder, {word.text.lower() for item in items for word in item.words})


def _frequencies(folder: Path, words: set[str]) -> dict[str, float]:
    import sqlite3

    from builder.phonetics.index import FILE, Index

    try:
        index = Index(folder / FILE)
        found = {word: _frequency(index, word) for word in sorted(words)}
        index.close()
    except sqlite3.Error:  # none yet, or of another form
        return {}
    return {word: zipf for word, zipf in found.items() if zipf > 0}


def _frequency(index: Index, word: str) -> float:
    """That of a word, or of the word of which it is a form, whichever is commoner; 0 unknown."""
    row = index.row(word)
    base = index.row(row.lemma_of) if row and row.lemma_of else None
    return max((one.zipf for one in (row, base) if one), default=0.0)


def _files(folder: Path, endings: Iterable[str]) -> dict[str, Found]:
    if not folder.is_dir():
        return {}
    files = sorted(
        f
        for f in folder.iterdir()
        if f.suffix.lower() in endings and f.is_file() and not f.name.startswith(".")
    )
    return {f.name: Found(str(f), digest_of(f)) for f in files}


def _pictures(folder: Path) -> dict[str, Found]:
    found = _files(folder, (*PICTURE_ENDINGS, *OTHER_PICTURES))
    return {name: replace(one, trouble=trouble(Path(one.path))) for name, one in found.items()}


def _drawings(client: Client) -> dict[str, str]:
    """The drawings there are, by text; a syllable (`pea` of a list of syllables) shows none."""
    found = {}
    for program in client.programs:
        for step in program.steps:
            texts = (text for item in step.said for text in _texts(item))
            for text in () if step.level in ("isolation", "syllable") else texts:
                drawing = drawing_of(text)
                if drawing:
                    found[text] = drawing.code
    return found


def _unfit(take: str) -> str:
    from builder.audio.studio import trouble as of_take  # numpy only where there are takes

    return of_take(take)


def _takes(folder: Path, wanted: set[str]) -> dict[tuple[str, Form], Found]:
    """Recordings by name: `cow.wav` is natural, `cow-long.wav` holds the target."""
    takes: dict[tuple[str, Form], Found] = {}
    for name, found in _files(folder, TAKE_ENDINGS).items():
        stem = Path(name).stem.lower()
        form: Form = "long" if stem.endswith("-long") else "natural"
        name = slug_of(stem.removesuffix("-long"))
        # Only those that this client will hear are looked into.
        known = replace(found, trouble=_unfit(found.path)) if name in wanted else found
        takes.setdefault((name, form), known)
    return takes


def _published(site: Path | None) -> tuple[str, ...]:
    if site is None or not (site / MARK).is_file():
        return ()
    try:
        steps = json.loads((site / MARK).read_text("utf-8"))["steps"]
        return tuple(sorted(str(step) for step in steps))
    except (ValueError, KeyError, TypeError):
        return ()
