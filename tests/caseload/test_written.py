"""What a caseload knows of a client from the program files alone."""

from __future__ import annotations

import datetime
from dataclasses import replace
from pathlib import Path

import pytest

from builder.caseload.facts import NO_DAYS, Written
from builder.caseload.written import _of, _sounds, keep, kept
from builder.model.clinic import Clinic
from builder.model.program import Client
from builder.practice.former_sheets import FormerSheet
from builder.program_file.resolve import program_in
from builder.program_file.yaml_tree import parse

FAMILY = """\
program: 1
client: finch-10
age: 8
reads: yes
sound: er
position: final
current: {current}
steps:
  - {{name: er words, level: word, items: [dollar, letter]}}
  - {{name: ar words, level: word, sound: ar, items: [car, star]}}
"""


@pytest.mark.parametrize(
    ("current", "sounds"),
    [("er words", ("er",)), ("ar words", ("ar",)), ("[er words, ar words]", ("er", "ar"))],
)
def test_of_several_vowels_with_r_the_caseload_shows_those_practiced_now(
    current: str, sounds: tuple[str, ...]
) -> None:
    clinic = Clinic.model_validate({"clinic": 1, "contact": {"clinic": "-"}})
    program = program_in(parse(FAMILY.format(current=current).encode(), "finch-10.yaml"), clinic)
    assert _sounds([program]) == sounds


def test_practice_begins_on_a_day_of_practice() -> None:
    """Else nobody would be due in the week of the first box where the start is a weekend's day."""
    clinic = Clinic.model_validate({"clinic": 1, "contact": {"clinic": "-"}})
    # By a printed calendar: 5 December 2026 is a Saturday.
    text = f"practice: {{from: 2026-12-05, visit: 2026-12-21}}\n{FAMILY.format(current='er words')}"
    program = program_in(parse(text.encode(), "finch-10.yaml"), clinic)
    written = _of(Client("finch-10", (program,), clinic, "nowhere"), 0, "", {})
    assert written.days.start == datetime.date(2026, 12, 7)


def test_former_sheets_are_kept_with_what_was_read(tmp_path: Path) -> None:
    visit, begin = datetime.date(2026, 12, 14), datetime.date(2026, 12, 16)
    sheets = frozenset([FormerSheet(visit), FormerSheet(visit, begin)])
    days = replace(NO_DAYS, over=sheets)
    known = {"state": Written(code="finch-10", days=days, since=begin)}
    keep(tmp_path, known)
    assert kept(tmp_path) == known
