"""How likely each phone is in each frame: the acoustic model of American English of CMU Sphinx that
comes in the SpeechRecognition package, read as files.

A phone has three states; each state is a mixture of 128 Gaussians with diagonal covariance in
each of three streams (cepstra, first and second differences), the Gaussians shared by all states
of the phone (phonetically tied). The decoder it was made for, PocketSphinx, ships the same files,
but is compiled and has no wheels for the newest Pythons; it keeps state between recordings and
cancels the noise that it hears, which moves the borders of soft sounds.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from builder import packages

PACKAGE, FOLDER = "speech_recognition", "pocketsphinx-data/en-US/acoustic-model"
STATES = 3
SILENCE = "SIL"
FILLERS = ("+NSN+", "+SPN+")  # noises, which fit anything
VARIANCE_MIN = 1e-4  # the least
WEIGHT_NEPERS = -np.log(1.0001) * 1024  # a unit of the mixtures' weights
# Frames that are multiplied at once: what is worked on stays in a core's cache, and the products
# are so small that the library of matrices starts no threads, which would wait for one another.
FRAMES_AT_ONCE = 32
HEADER_END = b"endhdr\n"
BYTE_ORDER = 0x11223344

Table = NDArray[np.float32]


@dataclass(frozen=True)
class Model:
    """phones: their names, in order. terms, constants: of the Gaussians of each stream, (streams,
    phones, 2 * width, densities) and (streams, phones, densities). weights: (streams, phones,
    densities, STATES). stay: how likely (log) each state lasts another frame, (phones, STATES).
    """

    phones: tuple[str, ...]
    terms: Table
    constants: Table
    weights: Table
    stay: Table


def likelihoods(features: Table) -> Table:
    """Log likelihood of every state, shape (frames, phones, STATES), of features (frames, 39)."""
    starts = range(0, len(features), FRAMES_AT_ONCE)
    parts = [_likelihoods(features[at : at + FRAMES_AT_ONCE]) for at in starts]
    return np.concatenate(parts) if parts else np.zeros((0, len(load().phones), STATES), np.float32)


def _likelihoods(features: Table) -> Table:
    model = load()
    found = np.zeros((len(model.phones), len(features), STATES), np.float32)
    for stream, part in enumerate(np.split(features, len(model.terms), axis=1)):
        both = np.concatenate([part * part, part], axis=1)
        each = both @ model.terms[stream]
        each += model.constants[stream][:, None]
        most = each.max(axis=2, keepdims=True)
        each -= most
        near = np.exp(each, out=each) @ model.weights[stream]
        found += np.log(near + np.float32(1e-30)) + most
    return found.transpose(1, 0, 2)


@cache
def load() -> Model:
    """Raises FileNotFoundError when the package is not there."""
    means, variances = _gaussians("means"), np.maximum(_gaussians("variances"), VARIANCE_MIN)
    phones, streams, densities, _ = means.shape
    terms = np.concatenate([-0.5 / variances, means / variances], axis=3)
    constants = -0.5 * (means**2 / variances + np.log(2 * np.pi * variances)).sum(axis=3)
    return Model(
        _names(),
        np.ascontiguousarray(terms.transpose(1, 0, 3, 2), np.float32),
        np.ascontiguousarray(constants.transpose(1, 0, 2), np.float32),
        _weights(streams, densities, phones),
        _stay(phones),
    )


def _folder() -> Path:
    if place := packages.place(PACKAGE):
        return place / FOLDER
    raise FileNotFoundError(2, "the acoustic model is not installed", PACKAGE)


def _numbers(name: str) -> NDArray[np.uint32]:
    """What follows the header of a file of 4-byte numbers."""
    data = (_folder() / name).read_bytes()
    start = data.index(HEADER_END) + len(HEADER_END)
    numbers = np.frombuffer(data, "<u4", (len(data) - start) // 4, start)
    if numbers[0] != BYTE_ORDER:
        raise ValueError(f"{name}: not in the byte order of this machine")
    return numbers[1:]


def _gaussians(name: str) -> NDArray[np.float64]:
    """Shape (phones, streams, densities, width)."""
    numbers = _numbers(name)
    phones, streams, densities = (int(n) for n in numbers[:3])
    values = numbers[4 + streams :].view("<f4")[: int(numbers[3 + streams])]
    return values.astype(np.float64).reshape(phones, streams, densities, -1)


def _weights(streams: int, densities: int, phones: int) -> Table:
    """Of the states without context, which come first."""
    data = (_folder() / "sendump").read_bytes()
    senones = _header()[4]
    ids = np.frombuffer(data[-streams * densities * senones :], np.uint8)
    plain = ids.reshape(streams, densities, senones)[:, :, : phones * STATES]
    weights = np.exp(plain * WEIGHT_NEPERS).reshape(streams, densities, phones, STATES)
    return np.ascontiguousarray(weights.transpose(0, 2, 1, 3), np.float32)


def _stay(phones: int) -> Table:
    numbers = _numbers("transition_matrices")
    values = numbers[4:].view("<f4")[: int(numbers[3])].astype(np.float64)
    table = values.reshape(phones, STATES, STATES + 1)
    alike = np.diagonal(table, axis1=1, axis2=2) / table.sum(axis=2)
    return np.asarray(np.log(np.clip(alike, 1e-3, 1 - 1e-3)), np.float32)


def _header() -> NDArray[np.int32]:
    """Numbers of phones, phones in context, states, plain states, all states, and others."""
    data = (_folder() / "mdef").read_bytes()
    return np.frombuffer(data, "<i4", 10, _described(data))


def _described(data: bytes) -> int:
    """Where the description ends: a magic word, a version, its length, itself."""
    return 12 + int(np.frombuffer(data, "<i4", 1, 8)[0])


def _names() -> tuple[str, ...]:
    data = (_folder() / "mdef").read_bytes()
    names = data[_described(data) + 40 :].split(b"\0", int(_header()[0]))
    return tuple(name.decode("ascii") for name in names[: int(_header()[0])])
