"""How a chart looks: sizes, colors, markers, dashes."""

from __future__ import annotations

from typing import Any

from builder.progress.series import How, Who

INK, SOFT, HOME, YOU, GROUND = "#22302f", "#51605f", "#1d5c63", "#5d3a8a", "#ffffff"
INCH = 72  # points
SIZE = 9  # points
WIDE, HIGH, ABOVE = 7.4, 1.9, 0.36  # inches: of the chart, of a lane, above the first one
DATES, KEY_LINE = 0.36, 0.22  # inches: below the last lane, and for each line of the key
LEFT, RIGHT = 0.08, 0.81  # of the width: where the axes begin and end
EDGE = 0.012  # of the days shown, beyond the first and the last
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
