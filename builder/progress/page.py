"""Progress as one local page; never published. It loads nothing: style, script and charts stand in
it, and its own policy allows that one script and no other."""

from __future__ import annotations

from builder.progress import texts
from builder.progress.charts.chart import chart
from builder.progress.charts.looks import GROUND, HOME, INK, SOFT, YOU
from builder.progress.gather import Progress, Section
from builder.text.templates import environment, policy_digest

COLORS = {
    GROUND: "var(--card)",
    HOME: "var(--mark)",
    INK: "var(--ink)",
    SOFT: "var(--soft)",
    YOU: "var(--stop-line)",
}
"""Of the charts, by the page's style, which has others where the screen is dark."""


def progress_page(progress: Progress) -> str:
    """The HTML. Imports matplotlib where there is a chart to draw."""
    from markupsafe import Markup

    shown = environment("proof")
    assert shown.loader is not None
    script, _, _ = shown.loader.get_source(shown, "progress.js")
    return shown.get_template("progress.html").render(
        progress=progress,
        copied=texts.copied(progress),
        weeks=[(week.monday, week.told) for week in progress.practice.weeks],
        in_all=texts.in_all(progress),
        besides=texts.besides(progress),
        apart=texts.apart_told(progress),
        sections=[
            _section(one, Markup(_colored(chart(one, f"chart-{at}"))))  # our own drawing
            for at, one in enumerate(progress.sections, 1)
        ],
        notes=[(one.day, texts.who_wrote(one), one.text) for one in progress.notes],
        script=Markup(script),  # our own file
        digest=policy_digest(script),
    )


def _section(section: Section, drawing: str) -> dict[str, object]:
    return {
        **texts.of_section(section),
        "by": section.by,
        "chart": drawing,
        "points": [
            (row.when, row.step, row.how, row.who, texts.brief(row.rate))
            for row in texts.over_time(section)
        ],
        "totals": [(step.name, how, texts.brief(rate)) for step, how, rate in section.totals],
        "words": [(text, step, texts.brief(rate)) for step, text, rate in section.words],
    }


def _colored(svg: str) -> str:
    for color, name in COLORS.items():
        svg = svg.replace(color, name)
    return svg
