"""What lies on the disk for a client: listed and told apart by digest, none of it decoded."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path

from builder.make import drawings
from builder.make.pictures import MAX_FILE_BYTES
from builder.model.program import Client
from builder.problems import UsageError
from builder.survey.survey import PICTURE_ENDINGS, Found, texts_of
from builder.text.slugs import slug_of
from builder.workspace.folder import SITE_MARK, find
from builder.workspace.program_files import PICTURES
from builder.workspace.store import Store, digest_of

# Kinds of pictures that are seen so that the check can name them; no browser shows them all.
UNSHOWN = (".heic", ".heif", ".avif", ".tif", ".tiff", ".bmp", ".pdf")


def own_pictures(client: Client) -> dict[str, Found]:
    """The pictures by file name: the client's own, and of those that all clients share such as
    are named otherwise."""
    home = Path(client.folder)
    own = _pictures(home / client.code)
    named = {slug_of(Path(name).stem) for name in own}
    shared = _pictures(home / PICTURES)
    return {n: one for n, one in shared.items() if slug_of(Path(n).stem) not in named} | own


def _pictures(folder: Path) -> dict[str, Found]:
    found = _listed(folder, (*PICTURE_ENDINGS, *UNSHOWN))
    return {name: Found(str(folder / name), _digest(folder / name)) for name in found}


def _listed(folder: Path, endings: tuple[str, ...]) -> list[str]:
    files = sorted(folder.iterdir()) if folder.is_dir() else []
    pictures = (f for f in files if f.suffix.lower() in endings)
    return [f.name for f in pictures if f.is_file() and not f.name.startswith(".")]


def _digest(picture: Path) -> str:
    """The digest, or the size of what is too large to be a picture: that is not read through."""
    size = picture.stat().st_size
    return f"{size} bytes" if size > MAX_FILE_BYTES else digest_of(picture)


def names_of_pictures(programs: Path, code: str = "") -> frozenset[str]:
    """What the pictures in a folder of programs show, by file name as `slug_of` writes it: those
    that all clients share, and of the client `code` the own."""
    folders = [programs / PICTURES, *([programs / code] if code else [])]
    files = [file for folder in folders if folder.is_dir() for file in folder.iterdir()]
    return frozenset(slug_of(f.stem) for f in files if f.suffix.lower() in PICTURE_ENDINGS)


def is_pictured(word: str, own: frozenset[str]) -> bool:
    """Whether there is a drawing of a word, or a picture among those named."""
    return slug_of(word) in own or drawings.find(word) is not None


def drawings_of(client: Client) -> dict[str, str]:
    """The drawings there are, by text; a syllable (`pea` of a list of syllables) shows none."""
    steps = [step for program in client.programs for step in program.steps]
    spoken = (step for step in steps if step.level not in ("isolation", "syllable"))
    texts = dict.fromkeys(text for step in spoken for item in step.said for text in texts_of(item))
    found = {text: drawings.find(text) for text in texts}
    return {text: drawing.code for text, drawing in found.items() if drawing}


def emblem_of(client: Client) -> tuple[str, str]:
    """Code points and name of the drawing of the client's code; ("", "") without one."""
    drawing = drawings.emblem(client.code)
    return (drawing.code, drawing.name) if drawing else ("", "")


def animal_of(client: Client) -> Found | None:
    """Our own drawing of the animal of the client's code, where the set has none."""
    file = None if drawings.emblem(client.code) else drawings.ours(client.code)
    return Found(str(file), digest_of(file)) if file else None


def undrawn(code: str, pictured: Iterable[str]) -> bool:
    """Whether no drawing shows the animal of a code, nor a picture among those `pictured`, each
    named as `slug_of` writes it."""
    return not (code.partition("-")[0] in pictured or drawings.emblem(code) or drawings.ours(code))


def alike(programs: Path, code: str, others: Iterable[str]) -> tuple[str, ...]:
    """The codes of other clients in a folder who have the same animal, or the same drawing."""
    own = _animal(code)
    same = [other for other in others if _animal(other) == own]
    if not same or _has_own_animal(programs, code):
        return ()
    return tuple(sorted(other for other in same if not _has_own_animal(programs, other)))


def _animal(code: str) -> str:
    """What tells animals apart: the drawing's code points, else the name."""
    drawing = drawings.emblem(code)
    return drawing.code if drawing else code.partition("-")[0]


def _has_own_animal(home: Path, code: str) -> bool:
    """Whether the client's own folder holds a picture of the code's animal."""
    names = {slug_of(Path(name).stem) for name in _listed(home / code, PICTURE_ENDINGS)}
    return code.partition("-")[0] in names


def published_steps(site: Path | None) -> tuple[str, ...]:
    """The ids of all steps that a site has ever shown; () without a site of ours."""
    if site is None or not (site / SITE_MARK).is_file():
        return ()
    try:
        steps = json.loads((site / SITE_MARK).read_text("utf-8"))["steps"]
        return tuple(sorted(str(step) for step in steps))
    except (ValueError, KeyError, TypeError):
        return ()


def store_of(client: Client) -> Store | None:
    """Where measured facts are kept; None outside a practice folder, and in one in which nothing
    was made yet: a look at programs leaves no trace there."""
    try:
        workspace = find(Path(client.folder))
    except UsageError:
        return None
    return Store(workspace.store) if workspace.begun else None


def index_folder_of(client: Client) -> Path | None:
    """The folder of the workspace's index of words; None when there is none, and none is made."""
    try:
        folder = find(Path(client.folder)).index
    except UsageError:
        return None
    return folder if folder.is_dir() else None
