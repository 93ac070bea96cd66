"""Our own texts to read, stories and topics to tell of, and usual talks, by the client's age."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Literal

import yaml

from builder.model.dose import is_young
from builder.phonetics.inventory import Sound, parse_sound
from builder.text.wording import ENGLISH, wording

Age = Literal["small", "school", "adult"]
Past = Literal["reading", "telling", "talk"]
ADULT_FROM_YEARS = 13  # who no longer reads what children read; common practice, no source

# Name of the step, and the names of place and company in the wording: those of every day; common
# practice, no source.
TALKS: dict[Age, tuple[tuple[str, str, str], ...]] = {
    "small": (("bath time", "bath", "parent"), ("the walk", "walk", "grandma")),
    "school": (
        ("dinner", "dinner", "family"),
        ("the way home", "way_home", "friend"),
    ),
    "adult": (
        ("the telephone", "telephone", "friend"),
        ("the shop", "shop", "desk"),
    ),
}


@dataclass(frozen=True)
class BankText:
    """A text to read, or a story or topic to tell of."""

    sound: Sound
    age: Age
    level: Past
    name: str
    text: str


@cache
def bank(language: str = "en") -> tuple[BankText, ...]:
    """All texts."""
    file = resources.files("builder.drafting") / "data" / f"{language}_texts.yaml"
    rows = yaml.safe_load(file.read_text("utf-8"))
    return tuple(
        BankText(parse_sound(r["sound"]), r["age"], r["level"], r["name"], r["text"]) for r in rows
    )


def talks(age: Age) -> tuple[tuple[str, str, str], ...]:
    """Name of the step, place and company of every talk for an age, in English."""
    words = wording(ENGLISH)
    return tuple(
        (name, words[f"talk.where.{place}"], words[f"talk.company.{people}"])
        for name, place, people in TALKS[age]
    )


def age_of(years: int | None) -> Age:
    """For whom a text should be; a client of unknown age is at school."""
    if is_young(years):
        return "small"
    return "adult" if years is not None and years >= ADULT_FROM_YEARS else "school"
