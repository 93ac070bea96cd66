"""The recording page in a real Chromium, with a WAV file in place of its microphone."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path

import numpy as np
import soundfile
from playwright.sync_api import Browser, BrowserContext, BrowserType, ViewportSize

from builder.audio.speech import Samples
from builder.audio.voices.natural import RATE, speak
from builder.phonetics.position import Words
from builder.program_file.load import clients
from builder.recordings.page.cards import by_id
from builder.recordings.page.page_files import page_files
from builder.recordings.page.recorder import Recorder
from builder.recordings.page.server import RecordingServer
from builder.recordings.prompts import Prompt, prompts
from builder.workspace.store import Store
from tests.browser.conftest import CHROMIUM
from tests.support.places import EXAMPLES

BEFORE, AFTER = 2.0, 0.8  # seconds of room around the word: the page needs a moment to begin


@contextmanager
def recording_server(space: Path, *names: str) -> Iterator[RecordingServer]:
    """A served recording page over the demo programs of those names, its takes in `space`."""
    asked, store = _asked(names), Store(space / "store")
    files = page_files((p.text + p.sound.ipa for p in asked.values()), store)
    with RecordingServer(Recorder(asked, space / "takes", store), files) as server:
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        yield server
        server.shutdown()
        thread.join()


@cache
def _asked(names: tuple[str, ...]) -> dict[str, Prompt]:
    return by_id(prompts(clients([EXAMPLES / f"{name}.yaml" for name in names])))


def said(server: RecordingServer, name: str) -> Samples:
    """A prompt as the natural voice says it, at RATE, in a quiet room."""
    prompt = server.recorder.prompts[name]
    voice = _spoken(prompt.utterance.words, prompt.text)
    room = 1e-4 * np.random.default_rng(7).standard_normal(
        len(voice) + round((BEFORE + AFTER) * RATE)
    )
    room[round(BEFORE * RATE) :][: len(voice)] += 0.5 * voice / np.abs(voice).max()
    return room


@cache
def _spoken(words: Words, text: str) -> Samples:
    return speak(words, text).samples


def write(file: Path, samples: Samples) -> Path:
    """A WAV file for the fake microphone, 48 kHz and 16 bits."""
    import soxr

    soundfile.write(file, soxr.resample(samples, RATE, 48000), 48000, subtype="PCM_16")
    return file


def chromium(kind: BrowserType, sound: Path | None) -> Browser:
    """A browser that hears `sound` once whenever a microphone is opened; None: it has none."""
    args = ["--no-sandbox", "--mute-audio", "--use-fake-ui-for-media-stream"]
    if sound:
        args.append("--use-fake-device-for-media-stream")
        args.append(f"--use-file-for-fake-audio-capture={sound}%noloop")
    return kind.launch(executable_path=str(CHROMIUM), args=args)


def context(browser: Browser, size: ViewportSize, dark: bool = False) -> BrowserContext:
    """A window of that size."""
    return browser.new_context(viewport=size, color_scheme="dark" if dark else "light")
