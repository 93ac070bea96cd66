"""Runs of True in a mask."""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.dsp.runs import leading_length, runs


@pytest.mark.parametrize(
    ("mask", "wanted"),
    [
        ("", []),
        ("...", []),
        ("xxx", [(0, 3)]),
        ("x..xx.x", [(0, 1), (3, 5), (6, 7)]),
        (".xx.", [(1, 3)]),
    ],
)
def test_runs(mask: str, wanted: list[tuple[int, int]]) -> None:
    assert runs(np.array([sign == "x" for sign in mask], bool)) == wanted


@pytest.mark.parametrize(("mask", "wanted"), [("", 0), (".xx", 0), ("xx.x", 2), ("xxx", 3)])
def test_the_leading_run(mask: str, wanted: int) -> None:
    assert leading_length(np.array([sign == "x" for sign in mask], bool)) == wanted
