"""The client's own try, heard after the model and gone with the next word; and no microphone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import repeat
from pathlib import Path

import numpy as np
import pytest
from playwright.sync_api import Browser, Playwright, expect

from builder.model.plan import PlannedProgram
from builder.model.practice_view import view_of
from builder.model.record import Sitting
from builder.site.generate import MICROPHONE_FILES
from tests.browser.axe import found
from tests.browser.conftest import TABLET, Watched, serving, watch
from tests.browser.sitting import kept, practise, press, skip_time, until
from tests.support import plans
from tests.support.building import built_once
from tests.support.recording_browser import chromium, context, write

pytestmark = pytest.mark.browser
RATE = 24000  # Hz, of what the microphone hears
PLAYED = """
window.played = [];
const start = AudioBufferSourceNode.prototype.start;
AudioBufferSourceNode.prototype.start = function (...when) {
  const sizes = this.buffer.getChannelData(0).map(Math.abs);
  played.push([this.buffer.duration, sizes.reduce((most, one) => Math.max(most, one), 0)]);
  return start.apply(this, when);
};
"""
HIDDEN = """
Object.defineProperty(document, "hidden", { get: () => true });
document.dispatchEvent(new Event("visibilitychange"));
"""


def hearing() -> PlannedProgram:
    """The program for /k/ whose client may hear the own try."""
    program = plans.program_k()
    return replace(program, steps=tuple(replace(step, hears=True) for step in program.steps))


@pytest.fixture(scope="module")
def own(run_folder: Path, stock: Path) -> Iterator[str]:
    """The address of its site."""
    with serving(built_once(plans.plan(hearing()), run_folder / "own", stock)) as address:
        yield address


@pytest.fixture(scope="module")
def microphone(
    playwright: Playwright, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Browser]:
    """A browser whose microphone hears five seconds of a soft tone."""
    tone = 0.25 * np.sin(2 * np.pi * 440 * np.arange(5 * RATE) / RATE)
    browser = chromium(
        playwright.chromium, write(tmp_path_factory.mktemp("tone") / "tone.wav", tone)
    )
    yield browser
    browser.close()


def test_a_try_is_heard_after_the_model_and_gone_with_the_next_word(
    microphone: Browser, own: str, axe: str
) -> None:
    window = context(microphone, TABLET)
    watched = watch(window, own)
    page = watched.page
    page.add_init_script(PLAYED)
    watched.open("k-words/")
    press(page, "Start")
    press(page, "Hear it")
    expect(page.get_by_role("button", name="Record me")).to_be_visible()
    page.set_viewport_size({"width": 844, "height": 340})
    marks = page.locator(".marks").bounding_box()
    press(page, "Record me")
    status = page.get_by_role("status")
    expect(status).to_have_text("Recording. Say it now.")
    assert found(page, axe) == []
    page.wait_for_timeout(600)  # in real time: the microphone plays its file
    press(page, "Done")
    expect(page.get_by_role("button", name="Hear the model, then you")).to_be_focused()
    expect(status).to_contain_text("Helper: now mark that try.")
    assert page.locator(".marks").bounding_box() == marks, "they stay under the finger"
    page.set_viewport_size(TABLET)
    page.evaluate("played.length = 0")
    page.keyboard.press("Enter")
    until(page, "played.length === 2")
    (model, _), (recorded, peak) = page.evaluate("played")
    assert model == pytest.approx(0.25, abs=0.1)  # as tests/support/building.py makes clips
    assert 0.5 < recorded < 6
    assert peak == pytest.approx(0.7, abs=0.01)  # as loud as a clip
    assert found(page, axe) == []
    press(page, "clear")
    expect(status).to_contain_text("2 of 15: cow.")
    press(page, "Hear it")
    expect(page.get_by_role("button", name="Record me")).to_be_visible()
    expect(page.get_by_role("button", name="Hear the model, then you")).to_have_count(0)
    (sitting,) = kept(page)
    assert [(t.item, t.support, t.mark) for t in sitting.trials] == [("key", "imitation", "clear")]
    press(page, "Record me")
    expect(status).to_have_text("Recording. Say it now.")
    page.wait_for_timeout(100)  # in real time, as above
    press(page, "Done")
    expect(page.get_by_role("button", name="Hear the model, then you")).to_be_visible()
    page.evaluate(HIDDEN)
    expect(page.get_by_role("button", name="Record me")).to_be_visible()
    expect(page.get_by_role("button", name="Hear the model, then you")).to_have_count(0)
    assert watched.errors == []
    window.close()


def test_only_a_site_whose_program_asks_holds_what_opens_a_microphone(
    site: Path, run_folder: Path, stock: Path
) -> None:
    """And nothing else there names one: no page can forbid it, since a policy is a header."""
    with_key = built_once(plans.plan(hearing()), run_folder / "own", stock)
    files = {*MICROPHONE_FILES, "assets/worklets/tap.js"}
    assert {name for name in files if (with_key / name).exists()} == files
    assert {name for name in files if (site / name).exists()} == set()
    calls = [f.name for f in site.rglob("*.js") if "getUserMedia" in f.read_text("utf-8")]
    assert calls == []
    assert "Record me" in (with_key / "about" / "index.html").read_text("utf-8")
    assert "Record me" not in (site / "about" / "index.html").read_text("utf-8")


def trials(page_of: Watched, axe: str = "") -> Sitting:
    """The record of a step gone through to its end, each try clear."""
    page = page_of.open("k-words/")
    press(page, "Start")
    if axe:
        press(page, "Hear it")
        press(page, "Record me")
        expect(page.locator(".note")).to_contain_text("The microphone can’t be used here.")
        expect(page.get_by_role("button", name="Record me")).to_have_count(0)
        note, word = (page.locator(name).bounding_box() for name in (".notes", ".word-area"))
        assert note
        assert word
        assert note["y"] + note["height"] <= word["y"], "it lies on nothing"
        assert found(page, axe) == []
    skip_time(page)
    practise(page, repeat("clear"))
    expect(page.locator(".summary")).to_be_visible()
    (sitting,) = kept(page)
    return sitting


def test_without_a_microphone_practice_goes_on_to_the_end_and_the_record_is_the_same(
    browser: Browser, watched: Watched, own: str, axe: str
) -> None:
    window = browser.new_context(viewport=TABLET)
    with_key, without = trials(watch(window, own), axe), trials(watched)
    window.close()
    assert len(with_key.trials) == len(without.trials) == 15
    same = {"ms", "support"}  # of the first one the model was heard
    assert [t.model_dump(exclude=same) for t in with_key.trials] == [
        t.model_dump(exclude=same) for t in without.trials
    ]
    assert [t.support for t in with_key.trials[1:]] == [t.support for t in without.trials[1:]]
    assert view_of(plans.plan(hearing())) == view_of(plans.plan())
