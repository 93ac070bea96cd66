"""A section's chart, drawn by matplotlib: what a point means is said by its marker and what a line
means by its dashes, never by color alone.

Bars are 95 % intervals (Wilson). A vertical line stands where the step changed, as in the graphs of
single-case research (Kazdin 1982, Single-Case Research Designs).
"""

from __future__ import annotations

import datetime
import io
import warnings
from collections.abc import Sequence
from typing import Any

from builder.make.fonts import TEXT, file_of
from builder.model.criteria import Criteria
from builder.progress.charts.looks import (
    ABOVE,
    ASIDE,
    DATES,
    EDGE,
    GROUND,
    HIGH,
    HOME,
    INK,
    KEY_LINE,
    LEFT,
    LOOKS,
    MOST_DATES,
    RIGHT,
    SETTINGS,
    WIDE,
    YOU,
)
from builder.progress.charts.step_names import write_name
from builder.progress.gather import Drawn, Section
from builder.progress.series import By, How, Line, Who

KEY_COLUMNS = ((30, 3), (42, 2))  # of the key: where no name has more letters, so many columns
NO_METADATA = dict.fromkeys(("Date", "Creator", "Format", "Type"))


def drawn(section: Section) -> str:
    """The SVG as matplotlib writes it. The same section gives the same bytes: fixed ids, no date,
    letters of our own face."""
    from matplotlib import font_manager, rc_context
    from matplotlib.backends.backend_svg import FigureCanvasSVG
    from matplotlib.figure import Figure

    font_manager.fontManager.addfont(str(file_of(TEXT)))
    names = _key_names(section)
    longest = max(map(len, names.values()))
    columns = next((number for letters, number in KEY_COLUMNS if longest <= letters), 1)
    below = DATES + KEY_LINE * -(-len(names) // columns)
    stream, high = io.BytesIO(), ABOVE + HIGH * len(section.lanes) + below
    with rc_context(SETTINGS), warnings.catch_warnings():
        warnings.filterwarnings("ignore", message="Glyph")  # the reader's own face has it
        figure = Figure(figsize=(WIDE, high), facecolor="none")
        FigureCanvasSVG(figure)
        every = figure.subplots(len(section.lanes), sharex=True, squeeze=False)[:, 0]
        _dates(every[-1], section)
        for axes, lane in zip(every, section.lanes, strict=True):
            _lane(axes, lane, section.by, section.criteria)
        _key(figure, names, columns)
        figure.subplots_adjust(
            left=LEFT, right=RIGHT, top=1 - ABOVE / high, bottom=below / high, hspace=0.42
        )
        figure.savefig(stream, format="svg", metadata=NO_METADATA)
    return stream.getvalue().decode()


def _lane(axes: Any, lane: Sequence[Drawn], by: By, criteria: Criteria) -> None:
    axes.set_facecolor("none")
    axes.set_ylim(-3, 103)
    axes.set_yticks([0, 20, 40, 60, 80, 100], [f"{n} %" for n in (0, 20, 40, 60, 80, 100)])
    axes.spines[["top", "right"]].set_visible(False)
    for percent, dashes, what in (
        (criteria.advance.percent, (0, (7, 3)), "move on"),
        (criteria.step_back.percent, (0, (1, 2)), "step back"),
    ):
        axes.axhline(percent, color=INK, linewidth=1, linestyle=dashes, gid=f"criterion {what}")
        axes.annotate(
            f"{percent} %: {what}",
            (1.01, percent),
            xycoords=("axes fraction", "data"),
            va="center",
            annotation_clip=False,
        )
    for at, one in enumerate(lane):
        if at:
            axes.axvline(_border(lane[at - 1], one), color=INK, linewidth=1.4, gid="step changed")
        for line in one.lines:
            _points(axes, line, by, _nudge(lane, at, line))
        write_name(axes, one, lane[at + 1].stretch.first if at + 1 < len(lane) else None)


def _border(before: Drawn, after: Drawn) -> float:
    """Where one step gives way to the next: the day of the session that both share, else the
    morning of the new one's first day."""
    shared = before.stretch.last == after.stretch.first
    return after.stretch.first.toordinal() - (0.0 if shared else 0.5)


def _nudge(lane: Sequence[Drawn], at: int, line: Line) -> dict[datetime.date, float]:
    """By how much points of a shared day are moved to their step's own side."""
    moved = {}
    if at and lane[at - 1].stretch.last == lane[at].stretch.first:
        moved[lane[at].stretch.first] = 0.4
    if at + 1 < len(lane) and lane[at + 1].stretch.first == lane[at].stretch.last:
        moved[lane[at].stretch.last] = -0.4
    return moved if line.who == "you" else {}


def _points(axes: Any, line: Line, by: By, nudged: dict[datetime.date, float]) -> None:
    marker, filled, dashes = LOOKS[line.who, line.how]
    color = HOME if line.who == "home" else YOU
    wide = 7 if by == "week" else 1
    middle = 3 if by == "week" and line.who == "home" else 0  # a week's point: its Thursday
    aside = ASIDE.get(line.how, 0.0) * wide if line.who == "home" else 0.0
    days = [p.day.toordinal() + middle + aside + nudged.get(p.day, 0.0) for p in line.points]
    shares = [100 * point.rate.share for point in line.points]
    ends = [[100 * end for end in point.rate.interval] for point in line.points]
    axes.errorbar(
        days,
        shares,
        [
            [share - low for share, (low, _) in zip(shares, ends, strict=True)],
            [high - share for share, (_, high) in zip(shares, ends, strict=True)],
        ],
        color=color,
        marker=marker,
        markersize=6.5 if line.who == "you" else 4.5,
        markerfacecolor=color if filled else GROUND,
        markeredgewidth=1.2,
        linestyle=dashes or "none",
        linewidth=0.9,
        elinewidth=0.9,
        capsize=1.8,
        clip_on=False,
        zorder=4 if line.who == "you" else 3,
        gid=f"{line.who} {line.how}",
    )


def _dates(axes: Any, section: Section) -> None:
    days = [d for lane in section.lanes for one in lane for d in _days(one)]
    first, last = min(days), max(days)
    monday = first - datetime.timedelta(days=first.weekday())
    weeks = (last - monday).days // 7 + 1
    each = -(-weeks // MOST_DATES)
    ticks = [monday + datetime.timedelta(weeks=n) for n in range(0, weeks, each)]
    axes.set_xticks([day.toordinal() for day in ticks], [day.isoformat() for day in ticks])
    edge = 0.6 + EDGE * (last - monday).days
    axes.set_xlim(monday.toordinal() - edge, last.toordinal() + edge)


def _days(one: Drawn) -> tuple[datetime.date, datetime.date]:
    return one.stretch.first, one.stretch.last


def _key_names(section: Section) -> dict[tuple[Who, How], str]:
    """What stands beside each marker that is there."""
    used = {(n.who, n.how) for lane in section.lanes for one in lane for n in one.lines}
    who = {"home": section.who, "you": "your score"}
    return {look: f"{who[look[0]]}, {look[1]}" for look in LOOKS if look in used}


def _key(figure: Any, names: dict[tuple[Who, How], str], columns: int) -> None:
    from matplotlib.lines import Line2D

    handles = []
    for who, how in names:
        marker, filled, dashes = LOOKS[who, how]
        color = HOME if who == "home" else YOU
        look: dict[str, Any] = {
            "color": color,
            "marker": marker,
            "markerfacecolor": color if filled else GROUND,
            "linestyle": dashes or "none",
            "linewidth": 0.9,
            "markersize": 6,
        }
        handles.append(Line2D([], [], **look))
    figure.legend(
        handles,
        list(names.values()),
        loc="lower left",
        bbox_to_anchor=(0.04, 0.0),
        ncols=columns,
        frameon=False,
        handlelength=2.6,
        columnspacing=1.4,
    )
