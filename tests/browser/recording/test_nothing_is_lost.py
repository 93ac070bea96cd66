"""What was recorded outlives the server, the window and the microphone until it is kept."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import soundfile
from playwright.sync_api import Locator, Page, Playwright, ViewportSize, expect

from builder.audio.speech import Samples
from builder.audio.voices.natural import RATE
from builder.recordings.page.recorder import Recorder
from builder.recordings.takes import find_takes
from tests.browser.axe import found
from tests.browser.conftest import PHONE, TABLET
from tests.browser.recording.conftest import WORD
from tests.support.recording_browser import (
    AFTER,
    BEFORE,
    Room,
    begin,
    button,
    choose,
    chromium,
    hear_all,
    record_well,
    room_with,
    said,
    write,
)

STORED = """() => new Promise((resolve) => {
  const open = indexedDB.open("recordings", 1);
  open.onsuccess = () => {
    const all = open.result.transaction("waiting").objectStore("waiting").getAll();
    all.onsuccess = () => (open.result.close(), resolve(all.result.length));
  };
})"""
UNPLUGGED = """navigator.mediaDevices.enumerateDevices = async () => [];"""
PLUGGED = """delete navigator.mediaDevices.enumerateDevices;
navigator.mediaDevices.dispatchEvent(new Event("devicechange"));"""


def waiting(page: Page) -> Locator:
    return page.get_by_role("region", name="Recording that is not kept yet")


def stored(page: Page, number: int) -> None:
    """So many recordings lie in the browser, soon."""
    for _ in range(50):
        if (count := page.evaluate(STORED)) == number:
            return
        page.wait_for_timeout(100)
    assert count == number


def judged(room: Room, size: ViewportSize = TABLET) -> Page:
    """A window with a recording that was judged good."""
    page = room.enter(size).page
    record_well(page, room, WORD)
    stored(page, 1)
    return page


def keeps(page: Page, room: Room, file: str = f"{WORD}.wav") -> None:
    """Enter keeps the recording; then the browser has it no more."""
    page.keyboard.press("Enter")
    expect(page.locator(".progress")).to_have_text(f"Kept “{WORD}” as {file}.")
    assert file in room.takes
    stored(page, 0)


def test_the_server_stops_before_a_good_recording_is_kept(room: Room) -> None:
    page = judged(room, {"width": 1180, "height": 746})
    room.stop()
    page.keyboard.press("Enter")
    expect(waiting(page)).to_contain_text("The recording is still here")
    expect(waiting(page)).to_be_in_viewport(ratio=0.95)
    expect(waiting(page)).to_contain_text("Start practice-site record again. Then press Keep.")
    page.keyboard.press("ArrowRight")
    page.locator('[data-key="to-house"]').click()
    expect(page.get_by_role("heading", level=1)).to_have_text(WORD)
    assert room.takes == []
    room.start()
    expect(page.locator(".progress")).to_have_text("The recording page is there again.")
    keeps(page, room)
    expect(waiting(page)).to_have_count(0)


def test_the_server_stops_before_a_recording_is_judged(room: Room) -> None:
    page = room.enter().page
    choose(page, WORD)
    begin(page)
    hear_all(page, room)
    room.stop()
    page.keyboard.press("Space")
    expect(waiting(page)).to_contain_text("The recording is still here")
    page.keyboard.press("Enter")  # checking it fails once more
    expect(waiting(page)).to_contain_text("Then the recording is checked.")
    room.start()
    expect(page.locator(".verdict h2")).to_have_text("Good")
    keeps(page, room)


def test_a_server_that_wrote_and_died_before_it_answered_writes_no_second_file(
    room: Room, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = judged(room)
    write_it = Recorder.keep

    def written_and_gone(*asked: Any, **how: Any) -> None:
        write_it(*asked, **how)
        raise ConnectionAbortedError  # to the browser: a connection that ends without an answer

    monkeypatch.setattr(Recorder, "keep", written_and_gone)
    page.keyboard.press("Enter")
    expect(waiting(page)).to_be_visible()
    assert room.takes == [f"{WORD}.wav"]
    monkeypatch.undo()
    keeps(page, room)
    assert room.takes == [f"{WORD}.wav"]


@pytest.mark.parametrize("how", ["reloaded", "closed"])
def test_a_window_that_is_gone_leaves_its_recording_to_the_next(room: Room, how: str) -> None:
    page = judged(room)
    if how == "reloaded":
        page.reload()
    else:
        before = page
        page = before.context.new_page()
        before.close()
        room.stop()
        room.start()
        page.goto(room.server.access.origin)
    expect(page.get_by_role("heading", level=1)).to_have_text(WORD)
    expect(waiting(page)).to_contain_text("It was not kept yet")
    expect(page.locator(".verdict h2")).to_have_text("Good")
    keeps(page, room)
    heard, rate = soundfile.read(room.server.recorder.folder / f"{WORD}.wav")
    assert len(heard) > rate * (soundfile.info(room.sound).duration - BEFORE - AFTER)
    page.reload()
    expect(page.get_by_role("heading", level=1)).not_to_have_text(WORD)
    expect(waiting(page)).to_have_count(0)


def test_a_window_that_is_closed_before_the_verdict_is_judged_later(room: Room) -> None:
    page = room.enter().page
    choose(page, WORD)
    begin(page)
    hear_all(page, room)
    room.stop()
    page.keyboard.press("Space")
    stored(page, 1)
    room.start()
    page.reload()
    expect(page.locator(".verdict h2")).to_have_text("Good")
    keeps(page, room)


def test_what_is_thrown_away_is_nowhere(room: Room) -> None:
    page = judged(room)
    page.keyboard.press("ArrowRight")  # with nothing amiss this is enough
    stored(page, 0)
    button(page, "Record").click()
    expect(page.locator(".progress")).to_have_text("Speak now")
    page.wait_for_timeout(500)
    button(page, "Stop").click()
    expect(page.locator(".verdict h2")).to_have_text("Record it again")  # the word was over
    stored(page, 0)
    assert room.takes == []


def test_after_a_reload_it_can_be_discarded(room: Room) -> None:
    page = judged(room)
    page.reload()
    button(page, "Discard").click()
    expect(waiting(page)).to_have_count(0)
    stored(page, 0)
    page.reload()
    expect(page.get_by_role("heading", level=1)).not_to_have_text(WORD)
    assert room.takes == []


def test_saved_as_a_file_it_is_found_in_the_folder(room: Room, tmp_path: Path) -> None:
    """For a restart at another address, to which this window cannot go."""
    page = judged(room)
    room.stop()
    page.keyboard.press("Enter")
    expect(waiting(page)).to_contain_text(f"put {WORD}.wav into {room.server.recorder.folder}")
    with page.expect_download() as download:
        button(page, f"Save as {WORD}.wav").click()
    assert download.value.suggested_filename == f"{WORD}.wav"
    folder = tmp_path / "by hand"
    download.value.save_as(folder / download.value.suggested_filename)
    utterance = room.server.recorder.prompts[WORD].utterance
    (take,) = find_takes([utterance], [folder], None)[utterance]
    assert take.verdict == "good"
    stored(page, 1)
    room.start()


def test_what_no_prompt_asks_for_any_more_can_be_saved(room: Room) -> None:
    page = judged(room)
    room.stop()
    page.keyboard.press("Enter")
    room.start("heron-07")
    left = page.get_by_role("region", name="Not kept earlier")
    expect(left).to_contain_text(WORD)
    page.reload()
    expect(left).to_contain_text(WORD)
    with page.expect_download() as download:
        left.get_by_role("button", name=f"Save as {WORD}.wav").click()
    assert download.value.suggested_filename == f"{WORD}.wav"
    left.get_by_role("button", name="Discard").click()
    expect(left).to_be_hidden()
    stored(page, 0)


def unplug(page: Page) -> None:
    """The browser ends the microphone's track, as it does when the cable is pulled."""
    page.evaluate(UNPLUGGED)
    page.context.clear_permissions()


def plug_in(page: Page) -> None:
    page.context.grant_permissions(["microphone"])
    page.evaluate(PLUGGED)


def test_unplugged_after_the_verdict_it_can_still_be_kept(room: Room) -> None:
    page = judged(room)
    unplug(page)
    expect(page.locator(".problem")).to_contain_text("The microphone was unplugged. Plug it in")
    expect(page.locator(".verdict h2")).to_have_text("Good")
    expect(button(page, "Redo")).to_have_attribute("aria-disabled", "true")
    keeps(page, room)
    expect(page.locator(".problem")).to_contain_text("unplugged")
    plug_in(page)
    expect(page.locator(".hint")).to_contain_text("There is one now: open it")
    page.keyboard.press("Space")
    expect(button(page, "Record")).to_be_visible()
    expect(page.locator(".hint, .problem")).to_have_count(0)


def test_unplugged_after_the_word_it_is_judged_as_it_is(room: Room) -> None:
    page = room.enter().page
    choose(page, WORD)
    begin(page)
    hear_all(page, room)
    unplug(page)
    expect(page.locator(".verdict h2")).to_have_text("Good")
    expect(page.locator(".verdict")).to_contain_text("unplugged before you pressed Stop")
    expect(page.locator(".problem")).to_contain_text("Plug it in again")
    keeps(page, room)


@pytest.fixture
def broken_off(tmp_path: Path, stock: Path, playwright: Playwright) -> Iterator[Room]:
    """The microphone hears a voice that goes on and on, then gives zeros."""
    sound = write(tmp_path / "microphone.wav", endless_voice()[:-RATE], zeros=10)
    browser = chromium(playwright.chromium, sound)
    with room_with(tmp_path, stock, browser, sound) as one:
        yield one
    browser.close()


def endless_voice() -> Samples:
    whole = said(WORD)
    loudest = int(np.abs(whole).argmax())
    voice = whole[loudest - RATE // 10 : loudest + RATE // 10]
    return np.concatenate([whole[: round(BEFORE * RATE)], *[voice] * 25])


def test_unplugged_in_the_middle_of_the_voice_it_is_refused_as_cut_off(broken_off: Room) -> None:
    page = broken_off.enter().page
    choose(page, WORD)
    begin(page)
    page.wait_for_timeout(1000 * (BEFORE + 4.5))  # until it gives zeros
    unplug(page)
    expect(page.locator(".verdict h2")).to_have_text("Record it again")
    expect(page.locator(".verdict")).to_contain_text("The last sound is cut off")
    stored(page, 0)


def test_what_is_seen_meanwhile_is_sound(room: Room, axe: str) -> None:
    page = room.enter(PHONE).page
    record_well(page, room, WORD)
    states: dict[str, Any] = {}
    unplug(page)
    expect(page.locator(".problem")).to_be_visible()
    states["unplugged"] = found(page, axe)
    plug_in(page)
    expect(page.locator(".hint")).to_be_visible()
    states["there again"] = found(page, axe)
    room.stop()
    page.keyboard.press("Enter")
    expect(waiting(page)).to_be_visible()
    states["away"] = found(page, axe)
    room.start("heron-07")
    expect(page.get_by_role("region", name="Not kept earlier")).to_be_visible()
    states["left over"] = found(page, axe)
    assert {name: faults for name, faults in states.items() if faults} == {}
