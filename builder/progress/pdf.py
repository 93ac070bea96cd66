"""Progress as PDF, by Typst as the sheets are made: tagged (PDF/UA-1), one page for a usual month.

The same progress gives the same bytes.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

from builder.make.sheet.text import Data
from builder.make.sheets import typeset
from builder.progress import texts
from builder.progress.charts.chart import chart
from builder.progress.gather import Progress, Section
from builder.text.templates import folder

PARTS = ("base.typ",)  # that the template asks for, beside it
MOST_WORDS = 8  # that fail, on paper; the page has all


def progress_pdf(progress: Progress, paper: str) -> bytes:
    """The PDF. paper: "letter" or "a4". Imports matplotlib where there is a chart to draw."""
    template = folder() / "sheets" / "progress.typ"
    with tempfile.TemporaryDirectory(prefix="charts-") as place:
        files = {name: template.with_name(name) for name in PARTS}
        sections = []
        for at, one in enumerate(progress.sections, 1):
            name, drawn = f"chart-{at}.svg", chart(one, f"chart-{at}")
            if drawn:
                files[name] = Path(place, name)
                files[name].write_text(drawn, "utf-8")
            sections.append(_section(one, name if drawn else None))
        return typeset(template, _data(progress, sections, paper), files)


def _data(progress: Progress, sections: list[Data], paper: str) -> Data:
    return {
        "paper": "us-letter" if paper == "letter" else "a4",
        "client": progress.code,
        "title": f"Progress of {progress.code}",
        "from": f"{progress.first} to {progress.last}",
        "copied": texts.copied(progress),
        "weeks": list(map(str, progress.practice.weeks)),
        "in_all": texts.in_all(progress),
        "besides": texts.besides(progress),
        "sections": sections,
        "notes": [[str(one.day), texts.who_wrote(one), one.text] for one in progress.notes],
        "apart": texts.apart_told(progress),
    }


def _section(section: Section, chart_file: str | None) -> Data:
    return {
        **texts.of_section(section),
        "chart": {"file": chart_file, "alt": texts.of_chart(section)} if chart_file else None,
        "weeks": texts.by_week(section),
        "words": [
            f"{text} ({step}): {texts.brief(rate)}"
            for step, text, rate in section.words[:MOST_WORDS]
        ],
    }
