"""What stands beside the side view of the mouth, and when there is none."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from builder.make.mouth.posture import posture
from builder.make.mouth.told import MouthDrawing, mouth_drawing
from builder.model.clinic import Shape
from builder.model.plan import PlannedProgram
from builder.phonetics.inventory import parse_sound
from builder.text.readability import counts, grade
from builder.text.wording import wording
from tests.make.test_mouth import DRAWN
from tests.support import plans


def told(ipa: str, shape: Shape | None = None) -> MouthDrawing:
    found = mouth_drawing(program(ipa, shape), wording())
    assert found
    return found


def program(ipa: str, shape: Shape | None = None) -> PlannedProgram:
    symbol = parse_sound(f"/{ipa}/").symbol
    return replace(plans.program_k(), symbol=symbol, shape=shape)


def test_place_manner_air_and_voice_are_told() -> None:
    assert told("k").told == (
        "Side view of the mouth, the face to the left. The back of the tongue touches far back on "
        "the roof of the mouth. The tip stays down. The air is held back. Then it goes out in a "
        "short puff. The voice is off."
    )
    assert "through the nose. The voice is on." in told("ŋ").told


@pytest.mark.parametrize(("ipa", "shape"), DRAWN)
def test_every_number_has_its_name_and_the_drawing_its_words(ipa: str, shape: Shape | None) -> None:
    found = told(ipa, shape)
    root = ElementTree.fromstring(found.svg)
    assert (root.get("role"), root.get("aria-label")) == ("img", found.told)
    numbers = [one.text for one in root.iter() if one.tag.endswith("}text")]
    assert numbers == [str(at) for at in range(1, len(found.parts) + 1)]
    assert grade(counts(found.told)) <= 6  # Flesch-Kincaid, for the family


@pytest.mark.parametrize(
    ("ipa", "seen"),
    [("p", True), ("f", True), ("θ", True), ("t", True), ("k", False), ("ʃ", False)],
)
def test_a_mirror_is_named_where_it_shows_lips_teeth_or_tip(ipa: str, seen: bool) -> None:
    assert told(ipa).mirror == seen


def test_none_where_none_is_wanted() -> None:
    assert mouth_drawing(replace(program("k"), drawing=False), wording()) is None


def test_a_vowel_with_r_has_the_drawing_of_its_shape() -> None:
    er = parse_sound("er")
    assert posture(er, "bunched") == posture(parse_sound("r"), "bunched")
    assert posture(er) is None
