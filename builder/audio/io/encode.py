"""Samples to the bytes of an MP3 file."""

from __future__ import annotations

from io import BytesIO

import av
import numpy as np

from builder.audio.speech import Samples

# LAME's variable bit rate, 0 (best) to 9, in FFmpeg's units of 118: white noise loses at most 1 dB
# up to min(15 kHz, 0.45 x rate).
VBR_QUALITY = 2 * 118
# LAME's search, 0 (slowest) to 9, 5 as it comes. At 7 a clip takes a quarter less time and is a
# fifth smaller: 55 to 70 kbit/s. Of two voices' clips every band up to 11 kHz keeps its level
# within 0.6 dB; what coding adds lies 10 dB below friction, as at 5, and 20 to 26 dB below vowels,
# 4 to 6 dB nearer than at 5 (medians over critical bands). 9 is no faster.
COMPRESSION_LEVEL = 7
OPTIONS = {
    "flags": "+qscale",
    "global_quality": str(VBR_QUALITY),
    "compression_level": str(COMPRESSION_LEVEL),
}


def mp3(samples: Samples, rate: int) -> bytes:
    """One channel at its own rate (a rate of MP3: 22.05, 24, 32, 44.1 or 48 kHz).

    The file tells decoders how much to cut at both ends: sample n comes back as sample n. It
    carries no tags.
    """
    stream = BytesIO()
    with av.open(stream, "w", format="mp3", options={"id3v2_version": "0"}) as file:
        track = file.add_stream("libmp3lame", rate=rate, layout="mono")
        track.codec_context.options = OPTIONS
        planes = np.ascontiguousarray(samples, np.float32)[None, :]
        frame = av.AudioFrame.from_ndarray(planes, format="fltp", layout="mono")
        frame.sample_rate, frame.pts = rate, 0
        file.mux(track.encode(frame))
        file.mux(track.encode(None))
    return stream.getvalue()
