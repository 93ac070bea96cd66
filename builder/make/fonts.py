"""The faces: subsets for the site (woff2, in the store) and whole files for paper.

Words for children stand in ABeeZee, whose a and g have the shapes that beginning readers know; all
else in Noto Sans. Its signs of IPA are a file of their own, which a browser asks for only where a
page shows one: they are two thirds of the whole, and on no page of a sitting. Both faces are under
the SIL Open Font License 1.1, which asks that a changed file carries another name than a reserved
one, and its license text beside it.
"""

from __future__ import annotations

import io
from collections.abc import Iterable
from dataclasses import dataclass, replace
from importlib import import_module
from importlib.metadata import version
from pathlib import Path
from typing import Any

from builder.packages import needed
from builder.workspace.store import Store, key_of

SUBSET_VERSION = 1  # part of the key; raise it when the result changes
WOFF2 = ".woff2"
LATIN = "".join(map(chr, range(0x20, 0x7F)))
LINE_ENDS = frozenset("\n\r\t")  # have no sign, so that texts of one line share a file with others
PUNCTUATION = "\u00a0·–—‘’“”…×©\ufffd"
# All signs by which the tool can write a sound: the block of IPA, its marks, length and stress.
IPA = "".join(map(chr, (*range(0x250, 0x2B0), *range(0x300, 0x330), 0x35C, 0x361))) + (
    "æçðøħŋœβθχˈˌːˑʰʲʷˠˤˡⁿᵊᵻ‿‖|"
)
# Letters like ç and ŋ, which languages are written with as well, are text.
ONLY_PHONETIC = frozenset(sign for sign in IPA if ord(sign) >= 0x250)


@dataclass(frozen=True)
class Face:
    """One face. `always`: characters in every subset, so that most clients share one file."""

    package: str
    file: str
    name: str
    always: str
    weights: tuple[int, int] | None = None


LETTERS = Face("fontpkg_abeezee", "ABeeZee-Regular.ttf", "Practice Letters", LATIN + PUNCTUATION)
TEXT = Face(
    "fontpkg_noto_sans",
    "NotoSans[wdth,wght].ttf",
    "Practice Text",
    LATIN + PUNCTUATION,
    weights=(400, 700),
)
# With Latin letters too: a mark, such as an affricate's tie bar, must be in one file with its base.
PHONETIC = replace(TEXT, name="Practice Phonetic", always=LATIN + PUNCTUATION + IPA)
FACES = (LETTERS, TEXT)


def letters(text: Iterable[str], store: Store) -> bytes:
    """The face for words as woff2, with all characters of `text` that it has."""
    return _stored(LETTERS, text, store)


def text_face(text: Iterable[str], store: Store) -> bytes:
    """The face for all text but IPA as woff2; its weight runs from 400 to 700."""
    return _stored(TEXT, ["".join(set().union(*text) - ONLY_PHONETIC)], store)


def phonetic_face(text: Iterable[str], store: Store) -> bytes:
    """The face for IPA as woff2; it has all of the text's characters, and weights as the other."""
    return _stored(PHONETIC, text, store)


def licence(face: Face) -> str:
    """The license text that must lie beside the face."""
    return (needed(face.package) / "LICENSE").read_text(encoding="utf-8")


def folder_of_faces() -> list[Path]:
    """The folders of the whole files, for Typst."""
    return [needed(face.package) / "files" for face in FACES]


def file_of(face: Face) -> Path:
    """The whole file of a face."""
    return needed(face.package) / "files" / face.file


def files_of_faces() -> list[Path]:
    """The whole files themselves."""
    return [file_of(face) for face in FACES]


def without_sign(text: str) -> str:
    """The characters of `text` that neither face can show, sorted. Reads both faces: slow."""
    known: set[int] = set()
    for face in FACES:
        with _tool("ttLib").TTFont(file_of(face), lazy=True) as font:
            known |= set(font.getBestCmap())
    return "".join(sorted(sign for sign in set(text) if ord(sign) not in known))


def _stored(face: Face, text: Iterable[str], store: Store) -> bytes:
    wanted = "".join(sorted(set(face.always).union(*text) - LINE_ENDS))
    versions = [version(p) for p in ("fonttools", "brotli", face.package.replace("_", "-"))]
    key = key_of(recipe=SUBSET_VERSION, face=face.name, versions=versions, characters=wanted)
    return store.bytes_of(key, WOFF2, lambda: _subset(face, wanted))


def _subset(face: Face, wanted: str) -> bytes:
    """The subset. Nothing of the day of its making is in it: same input, same bytes."""
    subset = _tool("subset")
    options = subset.Options(name_IDs=["*"], notdef_outline=True, hinting=False)
    subsetter = subset.Subsetter(options)
    subsetter.populate(text=wanted)
    with _tool("ttLib").TTFont(file_of(face), recalcTimestamp=False) as font:
        subsetter.subset(font)
        _narrow(font, face)
        _rename(font, face.name)
        font.flavor = "woff2"
        stream = io.BytesIO()
        font.save(stream)
    return stream.getvalue()


def _narrow(font: Any, face: Face) -> None:
    """Limit the weights of a variable face and fix its width; leave another as it is."""
    if face.weights is not None:
        limits = {"wdth": 100, "wght": face.weights}
        _tool("varLib.instancer").instantiateVariableFont(font, limits, inplace=True)


def _tool(name: str) -> Any:
    """A module of fonttools, which has no types; imported only when a subset is missing."""
    return import_module(f"fontTools.{name}")


def _rename(font: Any, name: str) -> None:
    """Put `name` for the family in every place that presents it; the notices stay."""
    table = font["name"]
    style = "Regular"
    fresh = {1: name, 2: style, 3: f"{name} {style}", 4: name, 6: name.replace(" ", "")}
    for number in (16, 17, 18, 21, 22, 25):
        table.removeNames(nameID=number)
    for number, value in fresh.items():
        table.removeNames(nameID=number)
        table.setName(value, number, 3, 1, 0x409)
