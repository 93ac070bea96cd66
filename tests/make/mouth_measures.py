"""What a drawn posture is, measured from its curves: where the tongue is nearest to the roof of the
mouth and how near, how far lips and teeth are apart, what crosses what. Units: 2 are about 1 mm."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from builder.make.mouth import anatomy
from builder.make.mouth.curves import Contour, Part, Point, along
from builder.make.mouth.posture import Posture

TOUCHES = 0.6  # units: less than a quarter of the tongue's line, so that no gap is seen
NARROW = (1.0, 6.5)  # where air hisses: 0.5 to about 3 mm
OPEN = (6.0, 16.0)  # where it does not, and the tongue is still near
SINKS = 0.8  # units by which a line may lie inside another, seen as one line

# Where each place lies along the roof of this drawing, from x to x.
PLACES = {
    "alveolar": (74, 90),
    "postalveolar": (86, 104),
    "palatal": (104, 150),
    "velar": (150, 180),
}


def faults(shown: Posture, place: str, manner: str) -> list[str]:
    """What in the curves of a posture contradicts its place and manner; [] when nothing does."""
    return [*_place_and_manner(shown, place, manner), *_velum(shown, manner), *_crossings(shown)]


def _place_and_manner(shown: Posture, place: str, manner: str) -> Iterator[str]:
    lips = _between(shown.upper_lip, shown.lower_lip)
    if (lips < TOUCHES) != (place == "bilabial"):
        yield f"the lips are {lips:.1f} apart"
    at, near = nearest(shown)
    if place == "labiodental":
        gap = _between((anatomy.TEETH_EDGE,), shown.lower_lip)
        if not NARROW[0] <= gap <= NARROW[1] / 2:
            yield f"lower lip and top teeth are {gap:.1f} apart"
    if place == "dental":
        yield from _between_the_teeth(shown)
    if place in ("bilabial", "labiodental") and near < OPEN[0]:
        yield f"the tongue does not rest: it is {near:.1f} from the roof"
    if place in PLACES:
        low, high = PLACES[place]
        high += 26 if (place, manner) == ("postalveolar", "liquid") else 0  # bunched: from there on
        if not low <= at <= high:
            yield f"the tongue is nearest to the roof at {at:.0f}"
    if place in PLACES or place == "labiovelar":
        yield from _narrowing(near, place, manner)
    if place == "labiovelar":
        if not 140 <= at <= 180:
            yield f"the tongue is nearest to the roof at {at:.0f}"
        if not 3 <= lips <= 8 or shown.rounded < 8:
            yield f"lips {lips:.1f} apart and pushed out by {shown.rounded} are not round and small"


def _narrowing(near: float, place: str, manner: str) -> Iterator[str]:
    lateral = (place, manner) == ("alveolar", "liquid")
    if manner in ("stop", "nasal", "affricate") or lateral:
        fits = near < TOUCHES
    elif manner == "fricative":
        fits = NARROW[0] <= near <= NARROW[1]
    else:
        fits = OPEN[0] <= near <= OPEN[1]
    if not fits:
        yield f"the tongue comes as near as {near:.1f}, which is no {manner}"


def _between_the_teeth(shown: Posture) -> Iterator[str]:
    tip = shown.surface[0]
    edge, lower = anatomy.TEETH_EDGE[0], shown.lower_teeth[1][0]
    if not (tip[0] < edge[0] and edge[1] < tip[1] < lower[1]):
        yield "the tip is not between the teeth"
    gap = _between((anatomy.TEETH_EDGE,), shown.tongue)
    if not NARROW[0] <= gap <= NARROW[1]:
        yield f"tongue and top teeth are {gap:.1f} apart"


def _velum(shown: Posture, manner: str) -> Iterator[str]:
    """Down for a nasal and for nothing else."""
    gap = _between(shown.nose_side, (anatomy.WALL,))
    if (gap > OPEN[0]) != (manner == "nasal") or OPEN[0] >= gap > 2:
        yield f"the velum is {gap:.1f} from the wall"


def _crossings(shown: Posture) -> Iterator[str]:
    tongue = along(shown.tongue)
    upper_teeth: Contour = (anatomy.TEETH_FRONT, anatomy.TEETH_EDGE, anatomy.TEETH_BACK)
    solid: dict[str, Contour] = {
        "the upper jaw": (*shown.upper_lip, *shown.roof[1:], *shown.nose_side),
        "the top teeth": upper_teeth,
        "the bottom teeth": shown.lower_teeth,
        "the wall of the throat": (anatomy.WALL, ((230, 286), (230, 82))),
    }
    for name, contour in solid.items():
        outline = along(contour)
        sunk = [distance(p, outline) for p in tongue if inside(p, outline)]
        if max(sunk, default=0) > SINKS:
            yield f"the tongue lies {max(sunk):.1f} inside {name}"
    lip, teeth = along(shown.lower_lip), along(upper_teeth)
    if any(inside(p, teeth) for p in lip):
        yield "the lower lip lies inside the top teeth"


def nearest(shown: Posture) -> tuple[float, float]:
    """Where along the roof, from the ridge back, the tongue is nearest to it, and how near."""
    roof = along(shown.roof[1:])
    near, at = min((distance(p, roof), p[0]) for p in along(shown.tongue))
    return at, near


def touching(shown: Posture) -> Part:
    """The points of the tongue that touch the roof."""
    roof = along(shown.roof[1:])
    return tuple(p for p in along(shown.tongue) if distance(p, roof) < TOUCHES)


def _between(one: Contour, other: Contour) -> float:
    line = along(other)
    return min(distance(p, line) for p in along(one))


def distance(point: Point, line: tuple[Point, ...]) -> float:
    """From a point to the nearest place on a line through points."""
    return min(_to_piece(point, a, b) for a, b in pairwise(line))


def _to_piece(point: Point, a: Point, b: Point) -> float:
    length = math.dist(a, b) ** 2
    if length == 0:
        return math.dist(point, a)
    share = sum((p - q) * (r - q) for p, q, r in zip(point, a, b, strict=True)) / length
    share = min(1.0, max(0.0, share))
    return math.dist(point, (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))


def inside(point: Point, outline: tuple[Point, ...]) -> bool:
    """Whether a point lies inside a closed outline (even-odd rule)."""
    x, y = point
    odd = False
    for (x1, y1), (x2, y2) in pairwise((*outline, outline[0])):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) / (y2 - y1) * (x2 - x1):
            odd = not odd
    return odd
