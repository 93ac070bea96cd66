"""Text and pictures as a sheet takes them: on one line, without control signs, breakable."""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from builder.model.plan import Picture

LONG_TOKEN = re.compile(r"\S{24,}")  # a token that may be broken, without a hyphen
WIDE_TOKEN = re.compile(r"\S{15,}")  # the same in half a page, where signs may be wide
BEFORE_SIGN = re.compile(r" (?=[^\w·\u2068])")  # a blank before a sign that begins no line
TOKEN_PIECE = re.compile(r"\S{1,12}")  # what stands between its breaks
BETWEEN = "\u00a0· "  # items in one line: a line may hold a comma itself, as in "hi, cow"
MAX_UNBROKEN_CHARS = 40  # characters of 12 pt, half the width of the page

Words = Mapping[str, str]
Data = dict[str, Any]


@dataclass(frozen=True)
class Shelf:
    """The made pictures by key, and the files that a sheet shows, by their names in its folder."""

    pictures: Mapping[str, Path]
    files: dict[str, Path] = field(default_factory=dict)

    def show(self, picture: Picture | None) -> Data | None:
        """The picture's file in the folder and its text; None without one."""
        if picture is None or picture.key not in self.pictures:
            return None
        file = self.pictures[picture.key]
        name = f"picture-{picture.key}{file.suffix}"
        self.files[name] = file
        return {"file": name, "alt": clean(picture.alt) or picture.key}


def clean(text: str) -> str:
    """Text on one line: blanks for line ends, and no control signs."""
    flat = " ".join(text.split())
    return "".join(sign for sign in flat if sign.isprintable() or sign in "\u200c\u200d")


def whole(text: str) -> str:
    """A short text that stays on one line; a long one breaks where it must."""
    return text.replace(" ", "\u00a0") if len(text) <= MAX_UNBROKEN_CHARS else breakable(text)


def item_text(text: str) -> str:
    """An item, which may be broken at every blank, also before a sign that begins no line."""
    return BEFORE_SIGN.sub(" \u200b", breakable(text, WIDE_TOKEN))


def breakable(text: str, long: re.Pattern[str] = LONG_TOKEN) -> str:
    """Text whose very long words may be broken (by signs of no width)."""
    return long.sub(lambda found: "\u200b".join(TOKEN_PIECE.findall(found[0])), text)


def long_date(iso: str, words: Words) -> str:
    """A date in ISO form as the sheet writes it in a sentence; "" for none."""
    if not iso:
        return ""
    date = datetime.date.fromisoformat(iso)
    month = words[f"month_{date.month}"]
    return words["date"].format(day=date.day, month=month, year=date.year)


def short_date(date: datetime.date, words: Words) -> str:
    """A date at the head of a box, which stands under its weekday."""
    return words["short_date"].format(month=words[f"short_{date.month}"], day=date.day)
