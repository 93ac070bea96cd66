"""The recording page in a real Chromium: what the microphone hears arrives on the disk."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import soundfile
from numpy.typing import NDArray
from playwright.sync_api import Page, expect

from tests.browser.axe import found
from tests.browser.conftest import LYING, PHONE, TABLET
from tests.browser.recording.conftest import WORD
from tests.support.recording_browser import (
    Room,
    button,
    choose,
    chromium,
    context,
    record,
    record_well,
    said,
    write,
)

pytestmark = pytest.mark.browser
OTHER = "house"
Spectrum = NDArray[np.float64]


def test_a_word_is_recorded_assessed_kept_and_the_page_goes_on(room: Room) -> None:
    watched = room.enter()
    page = watched.page
    record_well(page, room, WORD)
    assert room.takes == []
    page.keyboard.press("Enter")
    expect(page.locator(".progress")).to_have_text(f"Kept “{WORD}” as {WORD}.wav.")
    assert room.takes == [f"{WORD}.wav"]
    assert_like(room.server.recorder.folder / f"{WORD}.wav", room.sound)
    expect(page.get_by_role("heading", level=1)).not_to_have_text(WORD)
    page.reload()
    expect(page.get_by_text(re.compile("^1 of .* recorded$"))).to_be_visible()
    expect(page.locator(f'[data-key="to-{WORD}"] .entry-state')).to_have_text("/s/ · good")
    first = next(c.text for c in room.server.recorder.cards() if c.state == "missing")
    expect(page.get_by_role("heading", level=1)).to_have_text(first)
    assert watched.errors == []
    assert watched.hosts == {room.server.access.host}


def assert_like(file: Path, source: Path) -> None:
    """A recording is its source in level and spectrum, whatever its rate and beginning."""
    heard, rate = soundfile.read(file)
    sound, own = soundfile.read(source)
    assert soundfile.info(file).subtype == "PCM_24"
    assert rate in (44100, 48000)
    assert abs(20 * np.log10(np.abs(heard).max() / np.abs(sound).max())) < 1  # dB
    one, two = spectrum(heard, rate), spectrum(sound, own)
    loud = two > two.max() - 40
    assert np.abs(one - two)[loud].max() < 1  # dB


def spectrum(samples: NDArray[Any], rate: int) -> Spectrum:
    """Energy in bands of 500 Hz up to 12 kHz, in dB."""
    power = np.abs(np.fft.rfft(samples)) ** 2 / rate**2
    hertz = np.fft.rfftfreq(len(samples), 1 / rate)
    bands = [power[(hertz >= low) & (hertz < low + 500)] for low in range(0, 12000, 500)]
    return np.array([10 * np.log10(band.sum() * hertz[1]) for band in bands])


def test_a_second_recording_by_mouse_and_one_instead(room: Room) -> None:
    page = room.enter(LYING).page
    record_well(page, room, WORD)
    button(page, "Keep").click()
    kept = re.compile(rf"Kept “{WORD}” as ({WORD}(-\d)?\.wav)\.")
    for name in ("Keep", "Keep instead"):
        expect(page.locator(".progress")).to_have_text(kept)
        page.reload()
        record_well(page, room, WORD)
        button(page, name).click()
        expect(page.locator(".progress")).to_have_text(kept)
        # The microphone plays one file over and over: what is the same to the last sample is not
        # written twice, so the name may be one that is there.
        told = kept.search(page.locator(".progress").inner_text())
        assert told
        file = told[1]
        assert file in room.takes
    assert room.takes == [file]
    choose(page, WORD)
    button(page, "Hear it").click()
    expect(page.locator(".problem")).to_have_count(0)


def test_another_word_than_asked_is_told_and_what_is_not_kept_is_nowhere(room: Room) -> None:
    page = room.enter().page
    choose(page, "yellow-bus" if "yellow-bus" in room.server.recorder.prompts else "dinosaur")
    record(page, room)
    expect(page.locator(".verdict")).to_contain_text("This does not sound like the word")
    page.keyboard.press("r")
    expect(page.locator(".progress")).to_have_text("Speak now")
    expect(page.locator(".verdict")).to_have_count(0)
    page.wait_for_timeout(300)  # sound takes its time: of nothing there is no verdict
    page.keyboard.press("Space")
    page.locator(".verdict").wait_for()
    expect(page.locator(".verdict h2")).to_have_text("Record it again")
    keep = button(page, "Keep")
    expect(keep).to_have_attribute("aria-disabled", "true")
    keep.click(force=True)
    page.keyboard.press("Enter")
    expect(page.locator(".verdict h2")).to_have_text("Record it again")
    assert not room.server.recorder.folder.exists()


def test_a_doubtful_file_is_used_once_it_was_heard_and_called_right(room: Room) -> None:
    voice = said(WORD)
    noise = np.random.default_rng(9).standard_normal(len(voice)) * np.sqrt(np.mean(voice**2))
    room.server.recorder.folder.mkdir()
    write(room.server.recorder.folder / f"{WORD}.wav", voice + noise * 10 ** (-35 / 20))
    page = room.enter().page
    choose(page, WORD)
    entry = page.locator(f'[data-key="to-{WORD}"] .entry-state')
    expect(entry).to_have_text("/s/ · doubtful, not used yet")
    right = button(page, "It is right: use it")
    expect(right).to_have_attribute("aria-disabled", "true")
    button(page, "Hear it").click()
    expect(right).not_to_have_attribute("aria-disabled", "true")
    right.click()
    expect(page.locator(".progress")).to_have_text(f"“{WORD}” is used from now on.")
    expect(entry).to_have_text("/s/ · doubtful, called right")


def test_keys_move_and_can_be_switched_off(room: Room) -> None:
    page = room.enter().page
    names = [card.text for card in room.server.recorder.cards()]
    heading = page.get_by_role("heading", level=1)
    page.keyboard.press("ArrowRight")
    expect(heading).to_have_text(names[1])
    page.keyboard.press("ArrowLeft")
    expect(heading).to_have_text(names[0])
    keys = page.get_by_role("checkbox")
    keys.uncheck()
    heading.focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Space")
    expect(heading).to_have_text(names[0])
    expect(button(page, "Open the microphone")).to_be_visible()
    page.get_by_role("button", name="Next").focus()
    page.keyboard.press("Enter")  # of the button itself
    expect(heading).to_have_text(names[1])


def test_every_state_is_sound(room: Room, axe: str) -> None:
    watched = room.enter(PHONE)
    page = watched.page
    # axe-core comes in by the debugger, which the page's policy does not bind.
    states = {"closed": found(page, axe)}
    choose(page, OTHER)
    page.keyboard.press("Space")
    button(page, "Record").wait_for()
    states["idle"] = found(page, axe)
    page.keyboard.press("Space")
    expect(page.locator(".progress")).to_have_text("Speak now")
    states["recording"] = found(page, axe)
    assert small(page) == []
    page.wait_for_timeout(300)  # as above
    page.keyboard.press("Space")
    page.locator(".verdict").wait_for()
    states["judged"] = found(page, axe)
    assert small(page) == []
    assert {name: list_ for name, list_ in states.items() if list_} == {}
    assert watched.errors == []


def small(page: Page) -> list[str]:
    """What can be pressed and is smaller than 44 px; a box counts with its label."""
    found: list[str] = page.evaluate(
        """[...document.querySelectorAll("button, select, summary, label")]
          .filter((e) => e.checkVisibility())
          .map((e) => [e.getBoundingClientRect(), e.outerHTML])
          .filter(([box]) => box.height < 44 || box.width < 44)
          .map(([, html]) => html)"""
    )
    return found


def test_it_reflows_at_320_px(room: Room) -> None:
    page = room.enter({"width": 320, "height": 640}).page
    assert page.evaluate("document.documentElement.scrollWidth") <= 320


def test_without_a_microphone_it_says_what_to_do(room: Room) -> None:
    deaf = chromium(room.browser.browser_type, None)
    page = replace(room, browser=deaf).enter().page
    page.keyboard.press("Space")
    expect(page.locator(".problem")).to_contain_text("No microphone was found")
    expect(button(page, "Open the microphone")).to_be_visible()
    deaf.close()


def test_a_second_window_by_the_same_address_is_told(room: Room) -> None:
    room.enter()
    page = context(room.browser, TABLET).new_page()
    page.goto(room.server.access.address)
    expect(page.get_by_role("alert")).to_contain_text("This address was opened before")
