"""Names of steps above their stretches, as long as there is room."""

from __future__ import annotations

import datetime
import textwrap
from typing import Any

from builder.progress.charts.looks import INCH, LEFT, RIGHT, SIZE, WIDE
from builder.progress.gather import Drawn

LINES = 2  # of a name
ROOM = 0.85  # of the room above a stretch: a reader's own face may be wider
LEAST_LETTERS = 5  # of a name that is cut


def write_name(axes: Any, one: Drawn, until: datetime.date | None) -> None:
    """The step's name above its stretch, cut where the next one begins; the tables have all of
    it."""
    begin, end = axes.get_xlim()
    first = one.stretch.first.toordinal() - 0.4
    share = ((until.toordinal() if until else end) - first) / (end - begin) * (RIGHT - LEFT)
    room = INCH * WIDE * (share + (0 if until else 1 - RIGHT))
    lines = _cut(one.step.name, int(ROOM * room / _letter(one.step.name)))
    axes.annotate(
        "\n".join(lines),
        (first, 1.03),
        xycoords=("data", "axes fraction"),
        va="bottom",
        fontsize=SIZE + 1,
        annotation_clip=False,
        gid="step",
    )


def _letter(name: str) -> float:
    """Points that a letter of a name takes, on average."""
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import text_to_path

    face = FontProperties(size=SIZE + 1)
    wide, _, _ = text_to_path.get_text_width_height_descent(name, face, False)
    return float(wide) / len(name)


def _cut(name: str, wide: int) -> list[str]:
    """A name in lines of so many letters, its end left out where need be; nothing where hardly a
    word has room."""
    lines = textwrap.wrap(name, max(wide, 1), break_long_words=False)
    if len(lines) <= LINES and all(len(line) <= wide for line in lines):
        return lines
    return [f"{name[: wide - 1].rstrip()}…"] if wide >= LEAST_LETTERS else []
