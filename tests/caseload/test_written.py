"""What a caseload knows of a client from the program files alone."""

from __future__ import annotations

import pytest

from builder.caseload.written import _sounds
from builder.model.clinic import Clinic
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
