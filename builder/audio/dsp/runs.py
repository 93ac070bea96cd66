"""Runs of pieces or samples for which something holds."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Mask = NDArray[np.bool_]


def runs(mask: Mask) -> list[tuple[int, int]]:
    """[first, past) of every run of True, in order."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], mask.astype(int), [0]]))).tolist()
    return list(zip(edges[::2], edges[1::2], strict=True))


def leading_length(mask: Mask) -> int:
    """How many are True from the first on."""
    return int(np.argmin(mask)) if not mask.all() else len(mask)
