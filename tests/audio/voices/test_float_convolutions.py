"""A network's convolutions in floating point give what they give in whole numbers: held against
numpy and against onnxruntime, with a model written by hand in onnx.proto's fields."""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.voices.float_convolutions import with_float_convolutions

onnxruntime = pytest.importorskip("onnxruntime")
UINT8, INT32 = 2, 6  # onnx.proto, TensorProto.DataType
RNG = np.random.default_rng(5)
SAMPLES = RNG.integers(0, 256, (1, 3, 40), np.uint8)
WEIGHTS = RNG.integers(0, 256, (2, 3, 5), np.uint8)
ZERO, WEIGHT_ZERO = 117, 131


def sized(field: int, content: bytes | str) -> bytes:
    """A field of bytes; every length here is below 16,384."""
    data = content.encode() if isinstance(content, str) else content
    size = len(data)
    length = bytes([size]) if size < 128 else bytes([size & 127 | 128, size >> 7])
    return bytes([field << 3 | 2]) + length + data


def number(field: int, value: int) -> bytes:
    key = field << 3
    return (bytes([key]) if key < 128 else bytes([key & 127 | 128, key >> 7])) + bytes([value])


def tensor(name: str, values: np.ndarray) -> bytes:
    dims = b"".join(number(1, size) for size in values.shape)
    return dims + number(2, UINT8) + sized(8, name) + sized(9, values.tobytes())


def value(name: str, kind: int, *sizes: int) -> bytes:
    shape = b"".join(sized(1, number(1, size)) for size in sizes)
    return sized(1, name) + sized(2, sized(1, number(1, kind) + sized(2, shape)))


def model() -> bytes:
    """One convolution of whole numbers with two samples of padding and every second one kept."""
    inputs = b"".join(sized(1, name) for name in ("x", "w", "x0", "w0"))
    pads = sized(5, sized(1, "pads") + number(8, 2) + number(8, 2) + number(20, 7))
    strides = sized(5, sized(1, "strides") + number(8, 2) + number(20, 7))
    node = inputs + sized(2, "y") + sized(3, "the convolution") + sized(4, "ConvInteger")
    zeros = {"x0": ZERO, "w0": WEIGHT_ZERO}
    constants = [tensor("w", WEIGHTS)]
    constants += [tensor(name, np.array(at, np.uint8)) for name, at in zeros.items()]
    graph = (
        sized(1, node + pads + strides)
        + sized(2, "graph")
        + b"".join(sized(5, constant) for constant in constants)
        + sized(11, value("x", UINT8, 1, 3, 40))
        + sized(12, value("y", INT32, 1, 2, 20))
    )
    return number(1, 9) + sized(7, graph) + sized(8, sized(1, "") + number(2, 20))


def run(data: bytes) -> np.ndarray:
    session = onnxruntime.InferenceSession(data, providers=["CPUExecutionProvider"])
    (found,) = session.run(None, {"x": SAMPLES})
    return np.asarray(found)


def test_the_sums_are_the_same() -> None:
    whole, floats = run(model()), run(with_float_convolutions(model()))
    padded = np.pad(SAMPLES.astype(int) - ZERO, ((0, 0), (0, 0), (2, 2)))
    windows = np.lib.stride_tricks.sliding_window_view(padded, 5, axis=2)[:, :, ::2]
    expected = np.einsum("bctk,ock->bot", windows, WEIGHTS.astype(int) - WEIGHT_ZERO)
    assert np.array_equal(whole, expected)
    assert floats.dtype == np.int32
    assert np.array_equal(floats, expected)


def test_no_whole_numbers_are_left_and_all_else_stays() -> None:
    changed = with_float_convolutions(model())
    assert b"ConvInteger" not in changed
    assert changed.startswith(number(1, 9))
    assert changed.endswith(sized(8, sized(1, "") + number(2, 20)))
    assert with_float_convolutions(changed) == changed


@pytest.mark.parametrize(
    "data",
    [
        pytest.param(model()[:-1], id="cut off"),
        pytest.param(b"\x0b\x0c", id="a group"),
        pytest.param(b"\xff", id="a number without an end"),
    ],
)
def test_what_is_no_model_is_refused(data: bytes) -> None:
    with pytest.raises(ValueError, match="Protocol Buffers"):
        with_float_convolutions(data)
