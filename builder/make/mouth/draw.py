"""A posture as an SVG drawing: one color, which is that of the text around it, in tints and lines;
what matters is told by forms, never by color. The same posture gives the same bytes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from itertools import chain

from builder.make.mouth import anatomy
from builder.make.mouth.curves import Contour, Part, Point, path_data
from builder.make.mouth.marks import Spot, air_in, air_out, buzz, puff
from builder.make.mouth.posture import Posture

BOX = (-36, 10, 264, 276)  # x, y, width, height
RIGHT, BOTTOM = 228, 286  # where the head is cut off
FLESH, TONGUE = 0.1, 0.28  # opacity
OUTLINE, ACTIVE, MARK, LEADER = 2.4, 3.4, 2.8, 1.4  # widths of lines
HEAD = 7.5  # units: the sides of an arrow's head
RADIUS = 10  # of the ring around a number

PICTURE = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" fill="none" stroke="currentColor" '
    'stroke-linecap="round" stroke-linejoin="round" {more}>{body}</svg>'
)


def mouth_svg(shown: Posture, marked: tuple[Spot, ...], more: str) -> str:
    """The drawing, as text of an SVG element. more: further attributes of it, escaped."""
    body = chain(
        _flesh(shown),
        [_filled(TONGUE, (*shown.tongue, *shown.tongue_bed))],
        _outlines(shown),
        _group("air", _air(shown)),
        _group("voice", _voice()) if shown.voiced else (),
        *(_number(at, spot) for at, spot in enumerate(marked, 1)),
    )
    return PICTURE.format(box=" ".join(map(str, BOX)), more=more, body="".join(body))


def _flesh(shown: Posture) -> list[str]:
    """Everything that is not air: head, upper jaw with velum, lower jaw, throat, epiglottis."""
    corner, above = (RIGHT, BOTTOM), (RIGHT, BOX[1])
    head: Contour = (
        *(anatomy.PROFILE, (*anatomy.NOSE_ROOF, *anatomy.WALL)),
        *((anatomy.WALL[-1], corner), (corner, above), (above, anatomy.PROFILE[0])),
    )
    gum = (anatomy.TEETH_FRONT[0], anatomy.RIDGE[0])
    upper: Contour = (*shown.upper_lip, gum, *shown.roof[1:], *shown.nose_side)
    lower: Contour = (
        *(*shown.lower_lip, *shown.chin, (anatomy.THROAT[-1], anatomy.LARYNX_FRONT[-1])),
        *(anatomy.LARYNX_FRONT[::-1], (anatomy.LARYNX_FRONT[0], anatomy.ROOT_END)),
        *(*shown.tongue_bed, *(part[::-1] for part in shown.mouth_floor)),
    )
    cut = (anatomy.LARYNX_BACK[-1], anatomy.WALL[-1])
    throat: Contour = (anatomy.LARYNX_BACK, cut, anatomy.WALL[:3:-1])
    return [_filled(FLESH, head, upper, lower, throat, (anatomy.EPIGLOTTIS,))]


def _outlines(shown: Posture) -> list[str]:
    neck = (anatomy.TEETH_BACK[-1], anatomy.TEETH_FRONT[0])
    lower_neck = (shown.lower_teeth[-1][-1], shown.lower_teeth[0][0])
    lines: tuple[Contour, ...] = (
        (anatomy.PROFILE, (*anatomy.NOSE_ROOF, *anatomy.WALL)),
        (*shown.roof[1:], *shown.nose_side),
        (anatomy.TEETH_FRONT, anatomy.TEETH_EDGE, anatomy.TEETH_BACK, neck),
        (*shown.lower_teeth, lower_neck),
        *(shown.mouth_floor, shown.chin),
        *((anatomy.EPIGLOTTIS, anatomy.LARYNX_FRONT), (anatomy.LARYNX_BACK,)),
    )
    return [_lines(OUTLINE, *lines), _lines(ACTIVE, shown.upper_lip, shown.lower_lip, shown.tongue)]


def _group(name: str, drawn: Iterable[str]) -> list[str]:
    return [f'<g class="{name}">', *drawn, "</g>"]


def _voice() -> Iterator[str]:
    """Voice on: the vocal folds meet, and the throat buzzes; else they are apart."""
    yield _lines(MARK, (anatomy.GLOTTIS,), *((wave,) for wave in buzz()))


def _air(shown: Posture) -> Iterator[str]:
    outside = air_out(shown)
    for inside in air_in(shown):
        yield f'<path stroke-width="{OUTLINE}" stroke-dasharray="1 6" d="{path_data((inside,))}"/>'
    spread = puff(shown) if shown.air == "puff" and not shown.voiced else ()
    yield _lines(MARK, *((line,) for line in (outside, _head(outside), *spread)))


def _head(line: Part) -> Part:
    """The two sides of an arrow's head at the end of a line."""
    (x1, y1), (x2, y2) = line[-2:]
    turn = math.atan2(y2 - y1, x2 - x1)
    one, other = (
        (x2 - HEAD * math.cos(turn + side), y2 - HEAD * math.sin(turn + side))
        for side in (-0.6, 0.6)
    )
    return one, (x2, y2), other


def _number(number: int, spot: Spot) -> Iterator[str]:
    """The number in its ring, and a line to what it numbers."""
    far = math.dist(spot.at, spot.number_at)
    share = RADIUS / far
    edge: Point = (
        spot.number_at[0] + share * (spot.at[0] - spot.number_at[0]),
        spot.number_at[1] + share * (spot.at[1] - spot.number_at[1]),
    )
    (x, y), (dot_x, dot_y) = spot.number_at, spot.at
    if spot.name != "air":
        yield _lines(LEADER, ((edge, spot.at),))
        yield (
            f'<circle cx="{dot_x:.1f}" cy="{dot_y:.1f}" r="2.2" stroke="none" fill="currentColor"/>'
        )
    yield f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{RADIUS}" stroke-width="{LEADER}"/>'
    yield (
        f'<text x="{x:.1f}" y="{y + 5.4:.1f}" font-size="15" text-anchor="middle" stroke="none" '
        f'fill="currentColor">{number}</text>'
    )


def _filled(opacity: float, *outlines: Contour) -> str:
    data = "".join(path_data(outline, closed=True) for outline in outlines)
    return f'<path stroke="none" fill="currentColor" fill-opacity="{opacity}" d="{data}"/>'


def _lines(width: float, *contours: Contour) -> str:
    return f'<path stroke-width="{width}" d="{"".join(map(path_data, contours))}"/>'
