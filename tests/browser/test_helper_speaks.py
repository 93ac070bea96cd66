"""A step without clips: the helper says each word, and the round goes on all the same."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import expect

from builder.model.plan import PlannedProgram
from tests.browser.conftest import Watched, serving
from tests.browser.sitting import kept, press
from tests.support import plans
from tests.support.building import built_once

pytestmark = pytest.mark.browser


def silent() -> PlannedProgram:
    """The program for /k/ with nothing spoken."""
    program = plans.program_k()
    steps = (
        replace(step, items=tuple(replace(item, natural=None, long=None) for item in step.items))
        for step in program.steps
    )
    return replace(program, steps=tuple(steps))


@pytest.fixture(scope="module")
def base(run_folder: Path, stock: Path) -> Iterator[str]:
    """The address of a site without a clip."""
    folder = built_once(plans.plan(silent(), gone=()), run_folder / "silent", stock)
    with serving(folder) as address:
        yield address


def test_the_helper_says_the_word_and_marks_the_try(watched: Watched) -> None:
    page = watched.open("k-words/")
    expect(page.get_by_role("button", name="Can you hear this?")).to_have_count(0)
    press(page, "Start")
    status = page.get_by_role("status")
    expect(status).to_have_text(
        "1 of 15: key. Helper: say it once, slowly. Then the child says it."
    )
    press(page, "Helper said it")
    expect(status).to_have_text("Now you say it. Back of the tongue")
    expect(page.get_by_role("button", name="Helper said it again")).to_be_visible()
    press(page, "clear")
    expect(page.get_by_role("button", name="Hear it")).to_have_count(0)
    (sitting,) = kept(page)
    assert [(t.item, t.support, t.mark) for t in sitting.trials] == [("key", "imitation", "clear")]
    assert watched.errors == []
