"""What lies on the disk beside a client's programs, read once into frozen data: pictures, takes,
drawings that exist, and the steps that were published before."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, TypedDict

from builder.make.drawings import emblem
from builder.make.drawings import find as drawing_of
from builder.make.pictures import trouble
from builder.model.program import Client, Item
from builder.phonetics.inventory import Sound
from builder.problems import UsageError
from builder.recordings import takes
from builder.recordings.prompts import Asked, Prompt, wanted
from builder.recordings.takes import Take, Takes
from builder.text.slugs import slug_of
from builder.workspace.folder import MARK, find
from builder.workspace.store import Store, digest_of

if TYPE_CHECKING:
    from builder.phonetics.lexicon.index import Index

PICTURE_ENDINGS = (".png", ".jpg", ".jpeg", ".webp", ".gif", ".svg")
OTHER_PICTURES = (".heic", ".heif", ".avif", ".tif", ".tiff", ".bmp", ".pdf")


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
    takes:    the recordings of all that is to be said, the one that is heard first.
    wrong:    by the word that should be said, its recording with the client's error.
    doubtful: recordings that were cut with doubt, of all that is to be said; none is used.
    strange_takes: recordings that are named like nothing of this client: of the clinic's by
              name, of the client's own with their folders.
    gone:     step ids in the site as published last.
    zipf:     how common the items' words are (Zipf scale), lower case; {} without an index.
    emblem:   code points and name of the drawing of the client's code; ("", "") without one.
    """

    own: Mapping[str, Found]
    drawings: Mapping[str, str]
    takes: Takes
    emblem: tuple[str, str] = ("", "")
    wrong: Mapping[Asked, Take] = field(default_factory=dict)
    doubtful: Takes = field(default_factory=dict)
    strange_takes: tuple[str, ...] = ()
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

    def take(self, asked: Asked) -> Take | None:
        """The recording by which this is said; None when there is none that may be heard."""
        return next((take for take in self.takes.get(asked, ())[:1] if take.usable), None)

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
    seen = Survey(
        own=_files(folder / client.code, (*PICTURE_ENDINGS, *OTHER_PICTURES)),
        drawings=_drawings(client),
        **_takes(client),
        emblem=(badge.code, badge.name) if badge else ("", ""),
        gone=_published(published),
        zipf=_zipf(client),
    )
    return _looked_into(seen, client)


def _zipf(client: Client) -> dict[str, float]:
    """How common the items' words are, where the workspace has an index of words; never made here.

    What the index does not know, or knows no frequency of, is left out.
    """
    try:
        folder = find(Path(client.folder)).index
    except UsageError:
        return {}
    if not folder.is_dir():
        return {}
    items = (i for p in client.programs for s in p.steps for i in s.items)
    return _frequencies(folder, {word.text.lower() for item in items for word in item.words})


def _frequencies(folder: Path, words: set[str]) -> dict[str, float]:
    import sqlite3

    from builder.phonetics.lexicon.index import FILE, Index

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


def _looked_into(seen: Survey, client: Client) -> Survey:
    """With what is wrong with the pictures that an item shows; the others are not opened."""
    items = (item for p in client.programs for step in p.steps for item in step.said)
    shown = {found.path for item in items if (found := seen.own_picture(item))}
    own = {
        name: replace(one, trouble=trouble(Path(one.path))) if one.path in shown else one
        for name, one in seen.own.items()
    }
    return replace(seen, own=own)


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


class _Takes(TypedDict):
    takes: Takes
    doubtful: Takes
    wrong: Mapping[Asked, Take]
    strange_takes: tuple[str, ...]


def _takes(client: Client) -> _Takes:
    """The recordings of the client's own folder, then those of the clinic."""
    everything, folders = wanted(client), takes.folders(client)
    asked = [prompt.asked for prompt in everything]
    if not any(one.is_dir() for one in folders):
        return {"takes": {}, "doubtful": {}, "wrong": {}, "strange_takes": ()}
    store = store_of(client)
    wrong = {}
    for program in client.programs:
        error = program.error if isinstance(program.error, str) else program.error.symbol
        for word in _words(everything, program.sound) if error else ():
            if take := _first_wrong(folders, error, word, store):
                wrong[word] = take
    return {
        "takes": takes.found(asked, folders, store),
        "doubtful": takes.doubtful(asked, folders, store),
        "wrong": wrong,
        "strange_takes": (
            *(f"{client.code}/{takes.OWN}/{name}" for name in takes.strangers(asked, folders[0])),
            *takes.strangers(asked, folders[1]),
        ),
    }


def _words(prompts: Iterable[Prompt], sound: Sound) -> Iterator[Asked]:
    for prompt in prompts:
        if prompt.sound is sound and prompt.level == "word" and prompt.form == "natural":
            yield prompt.asked


def _first_wrong(
    folders: Iterable[Path], error: str, asked: Asked, store: Store | None
) -> Take | None:
    found = (takes.wrong(folder, error, asked, store) for folder in folders)
    return next(filter(None, found), None)


def store_of(client: Client) -> Store | None:
    """Where measured facts are kept; None outside a practice folder."""
    try:
        return Store(find(Path(client.folder)).store)
    except UsageError:
        return None


def _published(site: Path | None) -> tuple[str, ...]:
    if site is None or not (site / MARK).is_file():
        return ()
    try:
        steps = json.loads((site / MARK).read_text("utf-8"))["steps"]
        return tuple(sorted(str(step) for step in steps))
    except (ValueError, KeyError, TypeError):
        return ()
