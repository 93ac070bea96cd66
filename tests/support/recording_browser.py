"""The recording page in a real Chromium, with a WAV file in place of its microphone."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from threading import Thread

import numpy as np
import soundfile
from playwright.sync_api import (
    Browser,
    BrowserContext,
    BrowserType,
    Locator,
    Page,
    ViewportSize,
    expect,
)

from builder.audio.speech import Samples
from builder.audio.voices.natural import RATE, speak
from builder.phonetics.position import Words
from builder.program_file.load import clients
from builder.recordings.page.cards import by_id
from builder.recordings.page.page_files import page_files
from builder.recordings.page.recorder import Recorder
from builder.recordings.page.restart import session_secret
from builder.recordings.page.server import RecordingServer
from builder.recordings.prompts import Prompt, prompts
from builder.workspace.store import Store
from tests.browser.conftest import CHROMIUM, PLAIN, SHELL, TABLET, Watched, watch
from tests.support.places import EXAMPLES

BEFORE, AFTER = 2.0, 0.8  # seconds of room around the word: the page needs a moment to begin


@dataclass
class Room:
    """A served page, a browser whose microphone hears one word each time, and the folder."""

    space: Path
    names: tuple[str, ...]
    server: RecordingServer
    browser: Browser
    sound: Path

    @property
    def takes(self) -> list[str]:
        """The recordings in the folder."""
        return sorted(f.name for f in self.server.recorder.folder.glob("*.wav"))

    def enter(self, size: ViewportSize = TABLET) -> Watched:
        """A window that comes in by the address, which opens only once."""
        watched = watch(context(self.browser, size), self.server.access.origin)
        watched.page.goto(self.server.access.address)
        watched.page.locator("practice-recorder h1").wait_for()
        return watched

    def stop(self) -> None:
        """The page's server is gone, as when its terminal is closed."""
        self.server.shutdown()
        self.server.server_close()

    def start(self, *names: str) -> None:
        """It is started again at the same address, perhaps for other programs."""
        port = self.server.server_port
        self.server = serving(self.space, names or self.names, port)


def serving(space: Path, names: tuple[str, ...], port: int = 0) -> RecordingServer:
    """A served recording page over the demo programs of those names, its takes in `space`."""
    asked, store = _asked(names), Store(space / "store")
    files = page_files((p.text + p.sound.ipa for p in asked.values()), store)
    recorder = Recorder(asked, space / "takes", store)
    server = RecordingServer(recorder, files, port, session_secret(space))
    Thread(target=server.serve_forever, kwargs={"poll_interval": 0.05}, daemon=True).start()
    return server


@contextmanager
def room_with(
    space: Path, stock: Path, browser: Browser, sound: Path, name: str = "otter-12"
) -> Iterator[Room]:
    """A room over one demo program; sound: what the browser's microphone hears."""
    shutil.copytree(stock, space / "store")
    room = Room(space, (name,), serving(space, (name,)), browser, sound)
    try:
        yield room
    finally:
        for each in browser.contexts:
            each.close()
        room.stop()


@cache
def _asked(names: tuple[str, ...]) -> dict[str, Prompt]:
    return by_id(prompts(clients([EXAMPLES / f"{name}.yaml" for name in names])))


def choose(page: Page, name: str) -> None:
    """Go to a prompt by the list."""
    page.locator(f'[data-key="to-{name}"]').click()
    expect(page.get_by_role("heading", level=1)).to_have_text(name)
    expect(page.get_by_role("heading", level=1)).to_be_in_viewport()


def button(page: Page, name: str) -> Locator:
    """A button by its whole name."""
    return page.get_by_role("button", name=name, exact=True)


def begin(page: Page) -> None:
    """By keys: open the microphone, record."""
    page.keyboard.press("Space")
    button(page, "Record").wait_for()
    page.keyboard.press("Space")
    expect(page.locator(".progress")).to_have_text("Speak now")


def hear_all(page: Page, room: Room) -> None:
    """In real time: the microphone plays its file."""
    page.wait_for_timeout(1000 * (soundfile.info(room.sound).duration - 0.5))


def record(page: Page, room: Room) -> None:
    """By keys: open the microphone, record all that it hears, stop."""
    begin(page)
    hear_all(page, room)
    page.keyboard.press("Space")
    page.locator(".verdict").wait_for()


def record_well(page: Page, room: Room, name: str) -> None:
    """Record a prompt until it is judged good: to a busy machine a microphone in real time may lose
    part of the word."""
    verdict = page.locator(".verdict h2")
    for _ in range(3):
        choose(page, name)
        record(page, room)
        if verdict.inner_text() == "Good":
            return
        page.reload()
    expect(verdict).to_have_text("Good")


def said(name: str, program: str = "otter-12") -> Samples:
    """A prompt of a demo program as the natural voice says it, at RATE, in a quiet room."""
    prompt = _asked((program,))[name]
    voice = _spoken(prompt.utterance.words, prompt.text)
    room = 1e-4 * np.random.default_rng(7).standard_normal(
        len(voice) + round((BEFORE + AFTER) * RATE)
    )
    room[round(BEFORE * RATE) :][: len(voice)] += 0.5 * voice / np.abs(voice).max()
    return room


@cache
def _spoken(words: Words, text: str) -> Samples:
    return speak(words, text).samples


def write(file: Path, samples: Samples, zeros: int = 0) -> Path:
    """A WAV file for the fake microphone, 48 kHz and 16 bits.

    zeros: seconds of exact zeros after the samples: resampled ones would ring.
    """
    import soxr

    heard = np.concatenate([soxr.resample(samples, RATE, 48000), np.zeros(zeros * 48000)])
    soundfile.write(file, heard, 48000, subtype="PCM_16")
    return file


def chromium(kind: BrowserType, sound: Path | None) -> Browser:
    """A browser that hears `sound` once whenever a microphone is opened; None: it has none."""
    args = [*PLAIN]
    if sound:
        args.append("--use-fake-device-for-media-stream")
        if CHROMIUM == SHELL:  # which has no way to ask; the other would never take it back
            args.append("--use-fake-ui-for-media-stream")
        args.append(f"--use-file-for-fake-audio-capture={sound}%noloop")
    return kind.launch(executable_path=str(CHROMIUM), args=args)


def context(browser: Browser, size: ViewportSize) -> BrowserContext:
    """A window of that size, which may use the microphone."""
    return browser.new_context(viewport=size, permissions=["microphone"])
