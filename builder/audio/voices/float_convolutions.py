"""A network whose convolutions reckon in whole numbers, told to reckon the same in floating point:
onnxruntime 1.26 then takes half the time, and the samples are the same. With 1.32 both take as
long: once the lock is there, this can go.

An ONNX file is one message of Protocol Buffers: fields, each a key (number and wire type), and for
the types here a length and as many bytes (https://protobuf.dev/programming-guides/encoding). Only
what is needed of onnx.proto (https://github.com/onnx/onnx/blob/main/onnx/onnx.proto) is read; all
else is passed on as it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

GRAPH, NODE = 7, 1  # fields of a model, of a graph
INPUT, OUTPUT, OPERATION, ATTRIBUTE = 1, 2, 4, 5  # fields of a node
ATTRIBUTE_NAME, ATTRIBUTE_INT, ATTRIBUTE_TYPE = 1, 3, 20
TYPE_INT = 2  # of an attribute
FLOAT, INT32 = 1, 6  # of a tensor's elements
VARINT, EIGHT_BYTES, SIZED, FOUR_BYTES = 0, 1, 2, 5  # wire types
WHOLE_NUMBERS = b"ConvInteger"


@dataclass(frozen=True)
class _Field:
    """Where in the data a field is, with its key: [start, stop); of a sized one its bytes."""

    number: int
    start: int
    stop: int
    content: memoryview


def with_float_convolutions(model: bytes) -> bytes:
    """The model with each `ConvInteger` (x - x0) * (w - w0) made a `Conv` of the same numbers.

    Sums are at most 255 * 255 for each weight of a channel, so float32 may round the last digit of
    the greatest: one part in 2**24. ValueError where the data is no such message.
    """
    parts: list[bytes | memoryview] = []
    view = memoryview(model)
    for field in _fields(view):
        if field.number == GRAPH:
            parts.append(_sized(GRAPH, b"".join(_graph(field.content))))
        else:
            parts.append(view[field.start : field.stop])
    return b"".join(parts)


def _graph(graph: memoryview) -> Iterator[bytes | memoryview]:
    at = 0
    for field in _fields(graph):
        if field.number == NODE and WHOLE_NUMBERS in (node := bytes(field.content)):
            yield from (_sized(NODE, one) for one in _in_floats(node, f"floats {at}"))
            at += 1
        else:
            yield graph[field.start : field.stop]


def _in_floats(node: bytes, name: str) -> Iterator[bytes]:
    """The nodes instead of one; name: where their results are kept."""
    fields = list(_fields(memoryview(node)))
    names = [bytes(f.content).decode() for f in fields if f.number == INPUT]
    (out,) = (bytes(f.content).decode() for f in fields if f.number == OUTPUT)
    samples, weights, *zeros = names
    if len(zeros) != 2:
        raise ValueError("a convolution does not tell both of its zeros")
    differences: list[str] = []
    for numbers, zero in ((samples, zeros[0]), (weights, zeros[1])):
        here = f"{name}, {len(differences)}"
        yield _cast(numbers, f"{here}, numbers", FLOAT)
        yield _cast(zero, f"{here}, zero", FLOAT)
        yield _node("Sub", (f"{here}, numbers", f"{here}, zero"), here)
        differences.append(here)
    attributes = b"".join(node[f.start : f.stop] for f in fields if f.number == ATTRIBUTE)
    yield _node("Conv", differences, f"{name}, sums", attributes)
    yield _cast(f"{name}, sums", out, INT32)


def _cast(source: str, result: str, element: int) -> bytes:
    attribute = (
        _sized(ATTRIBUTE_NAME, b"to")
        + _number(ATTRIBUTE_INT, element)
        + _number(ATTRIBUTE_TYPE, TYPE_INT)
    )
    return _node("Cast", (source,), result, _sized(ATTRIBUTE, attribute))


def _node(operation: str, inputs: Iterable[str], output: str, attributes: bytes = b"") -> bytes:
    told = b"".join(_sized(INPUT, name.encode()) for name in inputs)
    said = _sized(OUTPUT, output.encode()) + _sized(OPERATION, operation.encode())
    return told + said + attributes


def _fields(data: memoryview) -> Iterator[_Field]:
    """ValueError where it is no message, or has groups (unused since 2008)."""
    start = 0
    while start < len(data):
        key, at = _read(data, start)
        kind, size = key & 7, 0
        if kind == VARINT:
            _, at = _read(data, at)
        elif kind == SIZED:
            size, at = _read(data, at)
        elif kind in (EIGHT_BYTES, FOUR_BYTES):
            size = 8 if kind == EIGHT_BYTES else 4
        else:
            raise ValueError("this is no message of Protocol Buffers")
        stop = at + size
        if stop > len(data):
            raise ValueError("this message of Protocol Buffers ends early")
        yield _Field(key >> 3, start, stop, data[at:stop])
        start = stop


def _read(data: memoryview, at: int) -> tuple[int, int]:
    """A number, seven bits a byte, the lowest first; and where the next begins."""
    found = shift = 0
    while at < len(data):
        found |= (data[at] & 0x7F) << shift
        at += 1
        if data[at - 1] < 0x80:
            return found, at
        shift += 7
    raise ValueError("this message of Protocol Buffers ends early")


def _written(number: int) -> bytes:
    found = bytearray()
    while number > 0x7F:
        found.append(number & 0x7F | 0x80)
        number >>= 7
    return bytes((*found, number))


def _number(field: int, value: int) -> bytes:
    return _written(field << 3 | VARINT) + _written(value)


def _sized(field: int, content: bytes) -> bytes:
    return _written(field << 3 | SIZED) + _written(len(content)) + content
