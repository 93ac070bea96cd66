"""The PDF, read back by another program."""

from __future__ import annotations

from typing import Any

import pypdfium2 as pdfium
import pytest

from builder.progress import texts
from builder.progress.gather import Progress, progress_of
from builder.progress.pdf import progress_pdf
from tests.support.invented import BADGER, HERON, OTTER, TODAY, Invented

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
