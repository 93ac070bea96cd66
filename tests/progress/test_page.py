"""The page: all of it there, nothing of a text as HTML, no name, no other host."""

from __future__ import annotations

import base64
import hashlib
import re
from dataclasses import replace
from functools import cache
from html import unescape

import pytest

from builder.progress import texts
from builder.progress.gather import Progress, progress_of
from builder.progress.page import COLORS, progress_page
from tests.support.invented import BADGER, HERON, OTTER, TODAY, Invented, day

pytestmark = pytest.mark.slow


def progress(who: Invented) -> Progress:
    found = progress_of(who.client, who.log(), TODAY)
    assert found
    return found


@cache
def page(who: Invented) -> str:
    return progress_page(progress(who))


def test_the_numbers_of_the_chart_stand_in_a_table() -> None:
    for who in (HERON, OTTER):
        cells = re.sub(r"</?span[^>]*>", "", page(who))
        for section in progress(who).sections:
            for row in texts.over_time(section):
                assert f"<td>{texts.brief(row.rate)}</td>" in cells


def test_a_proposal_stands_there_as_one() -> None:
    shown = unescape(page(OTTER))
    for section in progress(OTTER).sections:
        (proposal,) = texts.proposals_told(section)
        assert f'{texts.PROPOSED}</h3>\n<ul class="plain"><li>{proposal}</li></ul>' in shown


def test_a_text_is_text() -> None:
    odd = replace(HERON, notes={day(11, 12): "<script>alert(1)</script>"})
    html = progress_page(progress(odd))
    assert "&lt;script&gt;alert(1)" in html
    assert html.count("<script>") == 1


def test_a_step_is_text_in_the_drawing_too() -> None:
    (name, text), *_ = HERON.programs.items()
    odd = replace(
        HERON,
        programs={name: text.replace("name: with a vowel", 'name: "<b>$x^2$ & co"')},
        weeks=(replace(HERON.weeks[0], current=("<b>$x^2$ & co",)),),
        scores=(),
    )
    html = progress_page(progress(odd))
    assert "&lt;b&gt;$x^2$ &amp; co" in html
    assert "<b>" not in html


def test_the_policy_allows_the_one_script_and_nothing_is_fetched() -> None:
    # By hand after https://www.w3.org/TR/CSP3/#match-element-to-source-list.
    html = page(OTTER)
    script = html.split("<script>")[1].split("</script>")[0]
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    assert f"script-src 'sha256-{digest}'" in html
    assert "default-src 'none'" in html
    for sign in ("src=", 'href="http', "@import", "<link"):
        assert sign not in html


def test_charts_take_the_colors_of_the_page() -> None:
    for who in (HERON, OTTER, BADGER):
        drawings = page(who).split("<svg ")[1:]
        assert len(drawings) == len(progress(who).sections)
        for drawing in drawings:
            svg = drawing.split("</svg>")[0]
            assert "var(--ink)" in svg
            assert not any(color in svg for color in COLORS)


def test_no_name_stands_on_it() -> None:
    assert "Anna" not in page(HERON)
    assert "Rare names pass" in page(HERON)
