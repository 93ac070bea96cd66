"""A recording as a picture: waveform above, spectrogram below, the target marked in both."""

from __future__ import annotations

from io import BytesIO

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from builder.audio.speech import Samples, count

WIDTH, LEFT, RIGHT, TOP = 960, 58, 14, 30  # pixels
WAVE, GAP, SPECTRUM, FOOT = 110, 8, 250, 44  # pixels, from above to below
TOPMOST = 12_000.0  # Hz
WINDOW = 0.006  # seconds: two periods of a voice are told apart, formants seen as bars
BINS = 1024  # points of each transform
APART, PERIOD = 0.0015, 0.012  # seconds; a low voice has periods of 12 ms
RANGE = 55.0  # dB from white to black
PAPER, INK, FAINT, MARK = (255, 255, 255), (45, 45, 45), (205, 205, 205), (196, 61, 0)
STEPS = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0)  # seconds between marks
MARKS = 12  # at most, along the time
Image8 = NDArray[np.uint8]


def png(samples: Samples, rate: int, target: tuple[int, int] | None) -> bytes:
    """The bytes of a PNG file, 960 pixels wide; `target` in samples."""
    plot = WIDTH - LEFT - RIGHT
    if len(samples) < 2:
        samples = np.zeros(count(0.1, rate))
    image = Image.new("RGB", (WIDTH, TOP + WAVE + GAP + SPECTRUM + FOOT), PAPER)
    image.paste(Image.fromarray(_spectrogram(samples, rate, plot)), (LEFT, TOP + WAVE + GAP))
    draw = ImageDraw.Draw(image, "RGBA")
    seconds = len(samples) / rate
    _time(draw, seconds, plot)
    _frequency(draw, min(TOPMOST, rate / 2))
    if target:
        _target(draw, target[0] / rate, target[1] / rate, plot / seconds)
    _wave(draw, samples, rate, plot)
    stream = BytesIO()
    image.quantize(64).save(stream, "PNG", optimize=True)
    return stream.getvalue()


def _spectrogram(samples: Samples, rate: int, columns: int) -> Image8:
    """Grey values, shape (SPECTRUM, columns), low tones below.

    Each column is the mean of the windows that fall on it, raised by 6 dB an octave: friction
    would be hardly seen beside a vowel.
    """
    size = count(WINDOW, rate)
    centres = np.linspace(0, len(samples) - 1, 2 * columns).astype(int)
    padded = np.pad(samples, size // 2 + 1)
    windows = np.lib.stride_tricks.sliding_window_view(padded, size)[centres]
    power = np.abs(np.fft.rfft(windows * np.hanning(size), max(BINS, size))) ** 2
    power = power.reshape(columns, 2, -1).mean(axis=1)
    hertz = np.linspace(0, rate / 2, power.shape[1])
    log = 10 * np.log10(power * (hertz / 1000) ** 2 + 1e-20)
    rows = (np.arange(SPECTRUM)[::-1] + 0.5) / SPECTRUM * min(TOPMOST, rate / 2)
    seen = log[:, np.clip(np.searchsorted(hertz, rows), 0, len(hertz) - 1)].T
    white = np.percentile(seen, 99.8) - RANGE
    return np.asarray(255 * (1 - np.clip((seen - white) / RANGE, 0, 1)), np.uint8)


def _wave(draw: ImageDraw.ImageDraw, samples: Samples, rate: int, plot: int) -> None:
    """The range of the samples of every column, the greatest one as high as the band.

    Where columns are too wide to tell periods apart and narrower than one, they would beat with
    the voice: then each shows the range of a period around it.
    """
    around = count(PERIOD, rate) // 2 if len(samples) / plot > count(APART, rate) else 0
    peak = float(np.abs(samples).max()) or 1.0
    edges = np.linspace(0, len(samples), plot + 1).astype(int)
    middle, half = TOP + WAVE / 2, WAVE / 2 - 3
    for x, (start, stop) in enumerate(zip(edges[:-1], edges[1:], strict=True)):
        part = samples[max(0, start - around) : max(stop, start + 1) + around] / peak
        high, low = middle - half * float(part.max()), middle - half * float(part.min())
        draw.line([(LEFT + x, high), (LEFT + x, max(low, high + 1))], INK)
    draw.rectangle((LEFT, TOP, WIDTH - RIGHT, TOP + WAVE), outline=FAINT)


def _time(draw: ImageDraw.ImageDraw, seconds: float, plot: int) -> None:
    step = next((s for s in STEPS if seconds / s <= MARKS), STEPS[-1])
    below = TOP + WAVE + GAP + SPECTRUM
    for k in range(int(seconds / step + 1e-6) + 1):
        x = LEFT + plot * k * step / seconds
        draw.line([(x, below), (x, below + 5)], INK)
        _text(draw, x, below + 7, f"{k * step:.{2 if step < 0.1 else 1}f}", "ma")
    _text(draw, LEFT + plot, below + 25, "seconds", "ra")


def _frequency(draw: ImageDraw.ImageDraw, highest: float) -> None:
    top, below = TOP + WAVE + GAP, TOP + WAVE + GAP + SPECTRUM
    step = 2000 if highest > 6000 else 1000
    for hertz in range(0, int(highest) + 1, step):
        y = below - SPECTRUM * hertz / highest
        draw.line([(LEFT - 5, y), (LEFT, y)], INK)
        draw.line([(LEFT, y), (WIDTH - RIGHT, y)], (0, 90, 160, 45))
        _text(draw, LEFT - 9, y, f"{hertz // 1000}", "rm")
    _text(draw, 6, top + SPECTRUM / 2, "kHz", "lm")
    draw.rectangle((LEFT, top, WIDTH - RIGHT, below), outline=FAINT)


def _target(draw: ImageDraw.ImageDraw, start: float, stop: float, scale: float) -> None:
    """A tint over the waveform, lines through both parts and a bar with the figures on top."""
    left, right = LEFT + start * scale, LEFT + stop * scale
    below = TOP + WAVE + GAP + SPECTRUM
    draw.rectangle((left, TOP, right, TOP + WAVE), fill=(*MARK, 40))
    draw.rectangle((left, TOP - 5, right, TOP - 1), fill=MARK)
    for x in (left, right):
        draw.line([(x, TOP - 5), (x, below)], MARK, 2)
    text = f"target {start:.2f} to {stop:.2f} s ({1000 * (stop - start):.0f} ms)"
    half = draw.textlength(text, _font()) / 2
    middle = min(max((left + right) / 2, LEFT + half), WIDTH - RIGHT - half)
    _text(draw, middle, TOP - 8, text, "md", MARK)


def _text(
    draw: ImageDraw.ImageDraw,
    x: float,
    y: float,
    text: str,
    anchor: str,
    colour: tuple[int, int, int] = INK,
) -> None:
    draw.text((x, y), text, colour, _font(), anchor)


def _font() -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    return ImageFont.load_default(14)
