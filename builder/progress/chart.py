"""A section's clear-rates over time as SVG, drawn by matplotlib.

What a point means is said by its marker and what a line means by its dashes, never by color alone.
Bars are 95 % intervals (Wilson). A vertical line stands where the step changed, as in the graphs of
single-case research (Kazdin 1982, Single-Case Research Designs). The same section gives the same
bytes: fixed ids, no date, letters of our own face.
"""

from __future__ import annotations

import datetime
import io
import re
import textwrap
import warnings
from collections.abc import Sequence
from html import escape
from typing import Any

from builder.make.fonts import TEXT, file_of
from builder.model.criteria import Criteria
from builder.progress.gather import Drawn, Section
from builder.progress.series import By, How, Line, Who
from builder.progress.texts import of_chart

INK, SOFT, HOME, YOU, GROUND = "#22302f", "#51605f", "#1d5c63", "#5d3a8a", "#ffffff"
WIDE, HIGH, AROUND = 7.4, 1.9, 0.9  # inches: of the chart, of a lane, of dates and key together
SIZE = 9  # points
EDGE = 0.012  # of the days shown, beyond the first and the last
LEFT, RIGHT = 0.08, 0.81  # of the width: where the axes begin and end
NAME_LINES = 2  # of a step's name above its stretch
ROOM = 0.85  # of the room above a stretch for its name: a reader's own face may be wider
LEAST_LETTERS = 5  # of a name that is cut
INCH = 72  # points
KEY_COLUMNS = 3
MOST_DATES = 7  # on the axis
ASIDE: dict[How, float] = {"without a model": 0.12, "after a model": -0.12, "on paper": 0.3}
"""Days, so that points of one day stand beside one another; of weeks seven times as much."""

# Marker, filled or not, dashes of the line that joins the points.
LOOKS: dict[tuple[Who, How], tuple[str, bool, Any]] = {
    ("home", "without a model"): ("o", True, "-"),
    ("home", "after a model"): ("s", False, (0, (4, 2))),
    ("home", "on paper"): ("x", True, (0, (1, 2))),
    ("you", "without a model"): ("D", True, ""),
    ("you", "after a model"): ("D", False, ""),
    ("you", "probe words"): ("^", True, ""),
}
YOURS = "your score"
SETTINGS: Any = {
    "svg.fonttype": "none",
    "svg.hashsalt": "progress",
    "font.family": ["Noto Sans"],
    "font.size": SIZE,
    "text.parse_math": False,
    "text.color": INK,
    "axes.edgecolor": SOFT,
    "axes.labelcolor": INK,
    "xtick.color": INK,
    "ytick.color": INK,
}
JOINED = "stroke-linejoin: round; stroke-linecap: butt"  # as matplotlib asks of all its lines
NO_METADATA = dict.fromkeys(("Date", "Creator", "Format", "Type"))


def chart(section: Section, name: str) -> str:
    """The SVG, with a title and a description for who does not see it. name: what its ids begin
    with, so that several stand in one page. "" where there is no point to draw."""
    if not any(one.lines for lane in section.lanes for one in lane):
        return ""
    title = f"Clear-rate of {section.heading} by {section.by}"
    return _described(_drawn(section), name, title, of_chart(section))


def _drawn(section: Section) -> str:
    from matplotlib import font_manager, rc_context
    from matplotlib.backends.backend_svg import FigureCanvasSVG
    from matplotlib.figure import Figure

    font_manager.fontManager.addfont(str(file_of(TEXT)))
    stream, high = io.BytesIO(), HIGH * len(section.lanes) + AROUND
    with rc_context(SETTINGS), warnings.catch_warnings():
        warnings.filterwarnings("ignore", message="Glyph")  # the reader's own face has it
        figure = Figure(figsize=(WIDE, high), facecolor="none")
        FigureCanvasSVG(figure)
        every = figure.subplots(len(section.lanes), sharex=True, squeeze=False)[:, 0]
        _dates(every[-1], section)
        for axes, lane in zip(every, section.lanes, strict=True):
            _lane(axes, lane, section.by, section.criteria)
        _key(figure, section, high)
        figure.subplots_adjust(
            left=LEFT, right=RIGHT, top=1 - 0.36 / high, bottom=0.78 / high, hspace=0.42
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
        _name(axes, one, lane[at + 1].stretch.first if at + 1 < len(lane) else None)


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
    middle = (
        3 if by == "week" and line.who == "home" else 0
    )  # a week's point stands on its Thursday
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


def _name(axes: Any, one: Drawn, until: datetime.date | None) -> None:
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
    if len(lines) <= NAME_LINES and all(len(line) <= wide for line in lines):
        return lines
    return [f"{name[: wide - 1].rstrip()}…"] if wide >= LEAST_LETTERS else []


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


def _key(figure: Any, section: Section, high: float) -> None:
    """What each marker means, of those that are there."""
    from matplotlib.lines import Line2D

    used = {(n.who, n.how) for lane in section.lanes for one in lane for n in one.lines}
    shown = [look for look in LOOKS if look in used]
    handles = [
        Line2D(
            [],
            [],
            color=HOME if who == "home" else YOU,
            marker=LOOKS[who, how][0],
            markerfacecolor=(HOME if who == "home" else YOU) if LOOKS[who, how][1] else GROUND,
            linestyle=LOOKS[who, how][2] or "none",
            linewidth=0.9,
            markersize=6,
        )
        for who, how in shown
    ]
    names = [f"{section.who if who == 'home' else YOURS}, {how}" for who, how in shown]
    figure.legend(
        handles,
        names,
        loc="lower left",
        bbox_to_anchor=(0.04, 0.0),
        ncols=KEY_COLUMNS,
        frameon=False,
        handlelength=2.6,
        columnspacing=1.4,
    )


def _described(svg: str, name: str, title: str, told: str) -> str:
    """Only the drawing, with a title and a description, as one image: its ids with `name` before
    them, no style that would reach beyond it in a page, a face where ours is not there."""
    body = svg[svg.index("<svg") :]
    body = re.sub(r'\b(id="|href="#|url\(#)', rf"\g<1>{name}-", body)
    body = re.sub(r"<defs>\s*<style.*?</style>\s*</defs>", "", body, count=1, flags=re.DOTALL)
    body = body.replace("'Noto Sans'", "'Noto Sans', system-ui, sans-serif")
    own = f'role="img" aria-labelledby="{name}-title {name}-told" style="{JOINED}" '
    begin, end = len("<svg "), body.index(">") + 1
    said = (
        f'<title id="{name}-title">{escape(title)}</title>'
        f'<desc id="{name}-told">{escape(told)}</desc>'
    )
    return body[:begin] + own + body[begin:end] + said + body[end:]
