"""Sound files as phones, browsers and recorders write them, made here by FFmpeg."""

from __future__ import annotations

from io import BytesIO

import av
import numpy as np
from numpy.typing import NDArray


def made(kind: str, codec: str, samples: NDArray[np.float64], rate: int, **options: str) -> bytes:
    """A file of container `kind`; samples of shape (n,) or (2, n); options of the container."""
    stream = BytesIO()
    channels = np.atleast_2d(samples).astype(np.float32)
    layout = "mono" if len(channels) == 1 else "stereo"
    with av.open(stream, "w", format=kind, options=options) as file:
        track = file.add_stream(codec, rate=rate, layout=layout)
        assert isinstance(track, av.AudioStream)
        formats = track.codec_context.codec.audio_formats
        frame = av.AudioFrame.from_ndarray(np.ascontiguousarray(channels), "fltp", layout)
        frame.sample_rate, frame.pts = rate, 0
        fitting = av.AudioResampler(formats[0].name if formats else "s16", layout, rate)
        for part in [*fitting.resample(frame), *fitting.resample(None)]:
            file.mux(track.encode(part))
        file.mux(track.encode(None))
    return stream.getvalue()


def ahead(data: bytes, path: str) -> bytes:
    """An MPEG-4 file with its index at the front, as servers give it; `path` is written to."""
    with (
        av.open(BytesIO(data), "r") as old,
        av.open(path, "w", format="mp4", options={"movflags": "faststart"}) as new,
    ):
        track = new.add_stream_from_template(old.streams.audio[0])
        for packet in old.demux(old.streams.audio[0]):
            if packet.dts is not None:
                packet.stream = track
                new.mux(packet)
    with open(path, "rb") as file:
        return file.read()


def filmed(samples: NDArray[np.float64], rate: int) -> bytes:
    """A film of black pictures with a sound track."""
    stream = BytesIO()
    with av.open(stream, "w", format="mp4") as file:
        pictures = file.add_stream("mpeg4", rate=10)
        pictures.width = pictures.height = 64
        pictures.pix_fmt = "yuv420p"
        track = file.add_stream("aac", rate=rate, layout="mono")
        frame = av.AudioFrame.from_ndarray(samples.astype(np.float32)[None, :], "fltp", "mono")
        frame.sample_rate, frame.pts = rate, 0
        for number in range(int(10 * len(samples) / rate)):
            black = av.VideoFrame.from_ndarray(np.zeros((64, 64, 3), np.uint8), "rgb24")
            black.pts = number
            file.mux(pictures.encode(black))
        file.mux(track.encode(frame))
        file.mux([*track.encode(None), *pictures.encode(None)])
    return stream.getvalue()
