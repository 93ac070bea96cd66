"""The PDF, read back by another program."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pypdfium2 as pdfium
import pytest

from builder.practice.figures.intervals import Rate
from builder.practice.figures.rates import Together
from builder.practice.figures.tries import Slips
from builder.progress import texts
from builder.progress.gather import Progress, progress_of
from builder.progress.lines import lines
from builder.progress.page import progress_page
from builder.progress.pdf import progress_pdf
from tests.support.invented import BADGER, HERON, OTTER, TODAY, Invented, day

pytestmark = pytest.mark.slow
OPENED: Any = pdfium.PdfDocument  # it has no types
SIZES = {"letter": (612, 792), "a4": (595.3, 841.9)}  # points


def progress(who: Invented) -> Progress:
    found = progress_of(who.client, who.log(), TODAY)
    assert found
    return found


def told(data: bytes) -> tuple[int, str]:
    """How many pages, and their text in one line."""
    pdf = OPENED(data)
    text = " ".join(page.get_textpage().get_text_range() for page in pdf)
    return len(pdf), " ".join(text.split())


def test_slips_and_what_paper_cannot_split_stand_in_terminal_page_and_pdf() -> None:
    school = Together(Rate(52, 60), 2, (("school", Rate(52, 60)),))
    found = replace(
        progress(HERON), sections=(), slips=(Slips("paper", day(12, 9), 3),), together=school
    )
    both, slips = sentences = texts.besides(found)
    # Wilson's interval of 52 of 60 by scipy's binomtest(...).proportion_ci: 0.7583 to 0.9309.
    assert both == (
        "Clear 52 of 60 (86.7 %, 95 % interval 76 to 93 %) on paper, both sounds together, by "
        "school."
    )
    assert slips == "Slips in texts and talks, on paper: 3 on 2026-12-09."
    _, on_paper = told(progress_pdf(found, "letter"))
    for sentence in sentences:
        assert f"  {sentence}" in lines(found)
        assert f"<p>{sentence}</p>" in progress_page(found)
        assert sentence in on_paper


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_a_usual_month_is_one_page(paper: str) -> None:
    found = progress(HERON)
    data = progress_pdf(found, paper)
    pages, text = told(data)
    assert pages == 1
    assert OPENED(data)[0].get_size() == pytest.approx(SIZES[paper], abs=0.5)
    for sentence in (*texts.copied(found), *map(str, found.practice.weeks)):
        assert sentence in text
    (section,) = found.sections
    assert f"{texts.PROPOSED}: {' '.join(texts.proposals_told(section))}" in text
    _, weeks = texts.by_week(section)
    for row in weeks:
        assert all(cell in text for cell in row)
    # The chart is text too, not a picture of it.
    assert "80 %: move on" in text
    assert "Anna" not in text


def test_it_is_tagged_for_screen_readers() -> None:
    # PDF/UA-1 (ISO 14289-1) names itself in the metadata; Typst refuses an image without words.
    data = progress_pdf(progress(BADGER), "letter")
    assert b"pdfuaid" in data
    assert OPENED(data).is_tagged()


def test_two_sounds_run_on_and_the_same_input_gives_the_same_bytes() -> None:
    found = progress(OTTER)
    data = progress_pdf(found, "letter")
    assert data == progress_pdf(found, "letter")
    _, text = told(data)
    for section in found.sections:
        assert section.sentence in text
        assert section.heading in text
