"""The side view of the mouth against what the chart says of each sound."""

from __future__ import annotations

import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from builder.make.mouth.curves import along, beziers
from builder.make.mouth.draw import mouth_svg
from builder.make.mouth.marks import spots
from builder.make.mouth.posture import Posture, posture
from builder.model.clinic import Shape
from builder.phonetics.inventory import parse_sound, sounds
from tests.make.mouth_measures import distance, faults, inside, nearest, touching

# Place, manner and voice by the chart of the International Phonetic Alphabet (revised to 2020),
# https://www.internationalphoneticassociation.org/content/full-ipa-chart; /tʃ dʒ/ by the places of
# their signs, /w/ from its other symbols; liquid and glide are the trade's names of approximants.
CHART: dict[str, tuple[str, str, bool]] = {
    "p": ("bilabial", "stop", False),
    "b": ("bilabial", "stop", True),
    "m": ("bilabial", "nasal", True),
    "f": ("labiodental", "fricative", False),
    "v": ("labiodental", "fricative", True),
    "θ": ("dental", "fricative", False),
    "ð": ("dental", "fricative", True),
    "t": ("alveolar", "stop", False),
    "d": ("alveolar", "stop", True),
    "n": ("alveolar", "nasal", True),
    "s": ("alveolar", "fricative", False),
    "z": ("alveolar", "fricative", True),
    "l": ("alveolar", "liquid", True),
    "ɹ": ("postalveolar", "liquid", True),
    "ʃ": ("postalveolar", "fricative", False),
    "ʒ": ("postalveolar", "fricative", True),
    "tʃ": ("postalveolar", "affricate", False),
    "dʒ": ("postalveolar", "affricate", True),
    "j": ("palatal", "glide", True),
    "k": ("velar", "stop", False),
    "ɡ": ("velar", "stop", True),
    "ŋ": ("velar", "nasal", True),
    "w": ("labiovelar", "glide", True),
}
SHAPED: dict[str, tuple[Shape, ...]] = {
    "s": ("tip up", "tip down"),
    "z": ("tip up", "tip down"),
    "ɹ": ("bunched", "retroflex"),
}
DRAWN = [(ipa, shape) for ipa in CHART for shape in SHAPED.get(ipa, (None,))]


def drawn(ipa: str, shape: Shape | None = None) -> Posture:
    found = posture(parse_sound(f"/{ipa}/"), shape)
    assert found
    return found


@pytest.mark.parametrize(("ipa", "shape"), DRAWN)
def test_the_curves_are_place_and_manner(ipa: str, shape: Shape | None) -> None:
    place, manner, voiced = CHART[ipa]
    sound = parse_sound(f"/{ipa}/")
    assert (sound.place, sound.manner, sound.voiced) == (place, manner, voiced)
    assert faults(drawn(ipa, shape), place, manner) == []


@pytest.mark.parametrize(("ipa", "shape"), DRAWN)
def test_the_voice_is_drawn_where_there_is_one(ipa: str, shape: Shape | None) -> None:
    shown = drawn(ipa, shape)
    svg = mouth_svg(shown, spots(shown), "")
    groups = [g.get("class") for g in ElementTree.fromstring(svg).iter() if g.get("class")]
    assert groups == ["air", "voice"] if CHART[ipa][2] else ["air"]


def moved(shown: Posture, at: int, x: float, y: float) -> Posture:
    """With one point of the tongue's surface elsewhere: 0 is the tip, 4 the back."""
    points = [*shown.surface]
    points[at] = (points[at][0] + x, points[at][1] + y)
    return replace(shown, surface=tuple(points))


@pytest.mark.parametrize(
    ("ipa", "wrong", "said"),
    [
        ("k", lambda it: moved(moved(moved(it, 4, 0, 6), 5, 0, 6), 3, 0, 6), "is no stop"),
        ("k", lambda it: moved(it, 4, 0, -5), "inside the upper jaw"),
        ("k", lambda it: replace(it, velum="lowered"), "from the wall"),
        ("k", lambda it: moved(it, 6, 30, 0), "inside the wall of the throat"),
        ("t", lambda it: moved(moved(it, 1, 0, 5), 2, 0, 5), "is no stop"),
        ("t", lambda it: replace(drawn("k"), voiced=False), "nearest to the roof at"),
        ("t", lambda it: moved(it, 0, -10, 0), "inside the top teeth"),
        ("θ", lambda it: moved(it, 0, 20, 0), "not between the teeth"),
        ("θ", lambda it: replace(it, teeth=4), "inside the bottom teeth"),
        ("f", lambda it: replace(it, lips=9), "lower lip and top teeth"),
        ("f", lambda it: replace(it, lips=-4), "inside the top teeth"),
        ("m", lambda it: replace(it, velum="raised"), "from the wall"),
        ("p", lambda it: replace(it, lips=5), "the lips are"),
        ("p", lambda it: drawn("k"), "does not rest"),
        ("ʃ", lambda it: moved(it, 2, -3, -5), "is no fricative"),
        ("w", lambda it: replace(it, rounded=0), "not round"),
    ],
)
def test_a_wrong_number_is_told(ipa: str, wrong: object, said: str) -> None:
    assert callable(wrong)
    place, manner, _ = CHART[ipa]
    assert any(said in fault for fault in faults(wrong(drawn(ipa)), place, manner))


@pytest.mark.parametrize("ipa", ["k", "ɡ", "ŋ"])
def test_the_tip_stays_down_while_the_back_is_up(ipa: str) -> None:
    shown = drawn(ipa)
    touched = [x for x, _ in touching(shown)]
    assert touched
    assert min(touched) > 140  # behind the vault of the palate
    assert shown.surface[0][1] > shown.lower_teeth[1][0][1]  # behind the lower teeth


@pytest.mark.parametrize(("ipa", "lowest"), [("t", 74), ("d", 74), ("n", 74), ("l", 74)])
def test_only_the_front_touches_in_alveolars(ipa: str, lowest: int) -> None:
    touched = [x for x, _ in touching(drawn(ipa))]
    assert lowest <= min(touched)
    assert max(touched) < 92


@pytest.mark.parametrize("typed", ["s", "z", "r", "er", "ar", "h", "ee"])
def test_no_drawing_without_a_shape_or_of_what_a_side_view_cannot_show(typed: str) -> None:
    assert posture(parse_sound(typed)) is None


def test_the_shapes_differ_in_the_tip() -> None:
    up, down = drawn("s", "tip up"), drawn("s", "tip down")
    assert down.surface[0][1] > down.lower_teeth[1][0][1]  # behind the lower teeth
    assert up.surface[0][1] < up.lower_teeth[1][0][1]
    assert abs(nearest(up)[0] - nearest(down)[0]) < 10  # the narrow place is the same


def test_bunched_and_retroflex_are_two_shapes_of_one_sound() -> None:
    """Both narrow the mouth behind the ridge and the throat, and touch nothing in the middle; the
    tip is down, or up and behind the ridge: common practice, no source."""
    rest, bunched, retroflex = drawn("p"), drawn("ɹ", "bunched"), drawn("ɹ", "retroflex")
    for shown in (bunched, retroflex):
        assert touching(shown) == ()
        assert max(x for x, _ in along(shown.tongue)) > max(x for x, _ in along(rest.tongue)) + 3
    assert bunched.surface[0][1] > bunched.lower_teeth[1][0][1]
    assert 88 < retroflex.surface[0][0] < 104
    assert nearest(retroflex)[0] < nearest(bunched)[0]


def test_one_color_and_the_same_bytes() -> None:
    for ipa, shape in DRAWN:
        shown = drawn(ipa, shape)
        svg = mouth_svg(shown, spots(shown), "")
        assert set(re.findall(r'(?:fill|stroke)="([^"]*)"', svg)) == {"none", "currentColor"}
        assert svg == mouth_svg(shown, spots(shown), "")
        assert len(svg) < 9000  # bytes; a page holds one for each sound


def test_every_point_of_a_curve_is_on_it() -> None:
    part = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (30.0, 15.0))
    line = along((part,))
    assert set(part) <= set(line)
    ends = [(piece[0], piece[3]) for piece in beziers(part)]
    assert ends == [*zip(part, part[1:], strict=False)]


def test_distance_and_inside() -> None:
    square = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
    assert distance((5, -3), square) == 3
    assert inside((5, 5), square)
    assert not inside((15, 5), square)


def test_every_symbol_of_the_table_is_a_sound() -> None:
    from builder.make.mouth.posture import _rows

    assert {symbol for symbol, _ in _rows()} <= set(sounds())
