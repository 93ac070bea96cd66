"""A recording as a picture: waveform above, spectrogram below, the target marked in both."""

from __future__ import annotations

from io import BytesIO

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from builder.audio.speech import Samples, count

WIDTH_PX, LEFT_PX, RIGHT_PX, TOP_PX = 960, 58, 14, 30  # pixels
WAVE_PX, GAP_PX, SPECTRUM_PX, FOOT_PX = 110, 8, 250, 44  # pixels, from above to below
HIGHEST_HZ = 12_000.0
WINDOW_S = 0.006  # two periods of a voice are told apart, formants seen as bars
FFT_SIZE = 1024  # points of each transform
COLUMN_MAX_S, PERIOD_S = 0.0015, 0.012  # seconds; a low voice has periods of 12 ms
RANGE_DB = 55.0  # dB from white to black
PAPER_COLOUR, INK_COLOUR, FRAME_COLOUR, TARGET_COLOUR = (
    (255, 255, 255),
    (45, 45, 45),
    (205, 205, 205),
    (196, 61, 0),
)
TICK_STEPS_S = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0)  # between marks
TICKS_MAX = 12  # at most, along the time
Image8 = NDArray[np.uint8]


def spectrogram_png(samples: Samples, rate: int, target: tuple[int, int] | None) -> bytes:
    """The bytes of a PNG file, 960 pixels wide; `target` in samples."""
    plot = WIDTH_PX - LEFT_PX - RIGHT_PX
    if len(samples) < 2:
        samples = np.zeros(count(0.1, rate))
    image = Image.new(
        "RGB", (WIDTH_PX, TOP_PX + WAVE_PX + GAP_PX + SPECTRUM_PX + FOOT_PX), PAPER_COLOUR
    )
    image.paste(
        Image.fromarray(_spectrogram(samples, rate, plot)), (LEFT_PX, TOP_PX + WAVE_PX + GAP_PX)
    )
    draw = ImageDraw.Draw(image, "RGBA")
    seconds = len(samples) / rate
    _time(draw, seconds, plot)
    _frequency(draw, min(HIGHEST_HZ, rate / 2))
    if target:
        _target(draw, target[0] / rate, target[1] / rate, plot / seconds)
    _wave(draw, samples, rate, plot)
    stream = BytesIO()
    image.quantize(64).save(stream, "PNG", optimize=True)
    return stream.getvalue()


def _spectrogram(samples: Samples, rate: int, columns: int) -> Image8:
    """Gray values, shape (SPECTRUM_PX, columns), low tones below.

    Each column is the mean of the windows that fall on it, raised by 6 dB an octave: friction
    would be hardly seen beside a vowel.
    """
    size = count(WINDOW_S, rate)
    centres = np.linspace(0, len(samples) - 1, 2 * columns).astype(int)
    padded = np.pad(samples, size // 2 + 1)
    windows = np.lib.stride_tricks.sliding_window_view(padded, size)[centres]
    power = np.abs(np.fft.rfft(windows * np.hanning(size), max(FFT_SIZE, size))) ** 2
    power = power.reshape(columns, 2, -1).mean(axis=1)
    hertz = np.linspace(0, rate / 2, power.shape[1])
    log = 10 * np.log10(power * (hertz / 1000) ** 2 + 1e-20)
    rows = (np.arange(SPECTRUM_PX)[::-1] + 0.5) / SPECTRUM_PX * min(HIGHEST_HZ, rate / 2)
    seen = log[:, np.clip(np.searchsorted(hertz, rows), 0, len(hertz) - 1)].T
    white = np.percentile(seen, 99.8) - RANGE_DB
    return np.asarray(255 * (1 - np.clip((seen - white) / RANGE_DB, 0, 1)), np.uint8)


def _wave(draw: ImageDraw.ImageDraw, samples: Samples, rate: int, plot: int) -> None:
    """The range of the samples of every column, the greatest one as high as the band.

    Where columns are too wide to tell periods apart and narrower than one, they would beat with
    the voice: then each shows the range of a period around it.
    """
    around = count(PERIOD_S, rate) // 2 if len(samples) / plot > count(COLUMN_MAX_S, rate) else 0
    peak = float(np.abs(samples).max()) or 1.0
    edges = np.linspace(0, len(samples), plot + 1).astype(int)
    middle, half = TOP_PX + WAVE_PX / 2, WAVE_PX / 2 - 3
    for x, (start, stop) in enumerate(zip(edges[:-1], edges[1:], strict=True)):
        part = samples[max(0, start - around) : max(stop, start + 1) + around] / peak
        high, low = middle - half * float(part.max()), middle - half * float(part.min())
        draw.line([(LEFT_PX + x, high), (LEFT_PX + x, max(low, high + 1))], INK_COLOUR)
    draw.rectangle((LEFT_PX, TOP_PX, WIDTH_PX - RIGHT_PX, TOP_PX + WAVE_PX), outline=FRAME_COLOUR)


def _time(draw: ImageDraw.ImageDraw, seconds: float, plot: int) -> None:
    step = next((s for s in TICK_STEPS_S if seconds / s <= TICKS_MAX), TICK_STEPS_S[-1])
    below = TOP_PX + WAVE_PX + GAP_PX + SPECTRUM_PX
    for k in range(int(seconds / step + 1e-6) + 1):
        x = LEFT_PX + plot * k * step / seconds
        draw.line([(x, below), (x, below + 5)], INK_COLOUR)
        _text(draw, x, below + 7, f"{k * step:.{2 if step < 0.1 else 1}f}", "ma")
    _text(draw, LEFT_PX + plot, below + 25, "seconds", "ra")


def _frequency(draw: ImageDraw.ImageDraw, highest: float) -> None:
    top, below = TOP_PX + WAVE_PX + GAP_PX, TOP_PX + WAVE_PX + GAP_PX + SPECTRUM_PX
    step = 2000 if highest > 6000 else 1000
    for hertz in range(0, int(highest) + 1, step):
        y = below - SPECTRUM_PX * hertz / highest
        draw.line([(LEFT_PX - 5, y), (LEFT_PX, y)], INK_COLOUR)
        draw.line([(LEFT_PX, y), (WIDTH_PX - RIGHT_PX, y)], (0, 90, 160, 45))
        _text(draw, LEFT_PX - 9, y, f"{hertz // 1000}", "rm")
    _text(draw, 6, top + SPECTRUM_PX / 2, "kHz", "lm")
    draw.rectangle((LEFT_PX, top, WIDTH_PX - RIGHT_PX, below), outline=FRAME_COLOUR)


def _target(draw: ImageDraw.ImageDraw, start: float, stop: float, scale: float) -> None:
    """A tint over the waveform, lines through both parts and a bar with the figures on top."""
    left, right = LEFT_PX + start * scale, LEFT_PX + stop * scale
    below = TOP_PX + WAVE_PX + GAP_PX + SPECTRUM_PX
    draw.rectangle((left, TOP_PX, right, TOP_PX + WAVE_PX), fill=(*TARGET_COLOUR, 40))
    draw.rectangle((left, TOP_PX - 5, right, TOP_PX - 1), fill=TARGET_COLOUR)
    for x in (left, right):
        draw.line([(x, TOP_PX - 5), (x, below)], TARGET_COLOUR, 2)
    text = f"target {start:.2f} to {stop:.2f} s ({1000 * (stop - start):.0f} ms)"
    half = draw.textlength(text, _font()) / 2
    middle = min(max((left + right) / 2, LEFT_PX + half), WIDTH_PX - RIGHT_PX - half)
    _text(draw, middle, TOP_PX - 8, text, "md", TARGET_COLOUR)


def _text(
    draw: ImageDraw.ImageDraw,
    x: float,
    y: float,
    text: str,
    anchor: str,
    colour: tuple[int, int, int] = INK_COLOUR,
) -> None:
    draw.text((x, y), text, colour, _font(), anchor)


def _font() -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    return ImageFont.load_default(14)
