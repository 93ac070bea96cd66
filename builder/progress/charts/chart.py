"""A section's clear-rates over time as SVG, for a page or for paper."""

from __future__ import annotations

import re
from html import escape

from builder.progress.charts.draw import drawn
from builder.progress.gather import Section
from builder.progress.texts import of_chart

JOINED = "stroke-linejoin: round; stroke-linecap: butt"  # as matplotlib asks of all its lines


def chart(section: Section, name: str) -> str:
    """The SVG, with a title and a description for who does not see it. name: what its ids begin
    with, so that several stand in one page. "" where there is no point to draw."""
    if not any(one.lines for lane in section.lanes for one in lane):
        return ""
    title = f"Clear-rate of {section.heading} by {section.by}"
    return _described(drawn(section), name, title, of_chart(section))


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
