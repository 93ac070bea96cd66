"""Work is shared out over cores, and none of it is lost or done twice."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from concurrent.futures.process import BrokenProcessPool
from pathlib import Path

import pytest

from builder.make import cores
from builder.make.cores import overlapped, with_helpers


@pytest.mark.parametrize("here", [1, 2])
def test_halves_overlap_where_there_are_two_cores_and_keep_their_order(
    monkeypatch: pytest.MonkeyPatch, here: int
) -> None:
    monkeypatch.setattr(cores, "cores", lambda: here)
    begun: list[int] = []
    second_begun = threading.Event()

    def begin(item: int) -> Callable[[], tuple[int, bool]]:
        begun.append(item)
        if item == 1:
            second_begun.set()
        # the first item's second half ends once the second item has been begun
        return lambda: (item, second_begun.wait(5 if here > 1 else 0))

    found = list(overlapped(range(4), begin))
    assert [item for item, _ in found] == begun == [0, 1, 2, 3]
    assert found[0][1] == (here > 1)


def test_a_fault_in_either_half_is_the_callers() -> None:
    def begin(item: int) -> Callable[[], float]:
        return lambda: 1 / item

    with pytest.raises(ZeroDivisionError):
        list(overlapped([1, 0, 2], begin))


def process_of(item: int) -> tuple[int, int]:
    return item, os.getpid()


@pytest.mark.slow
def test_helpers_and_this_process_do_everything_once() -> None:
    found = list(with_helpers(range(200), process_of, 1))
    assert sorted(item for item, _ in found) == list(range(200))
    assert os.getpid() in {process for _, process in found}


def test_without_helpers_nothing_is_done() -> None:
    assert list(with_helpers([1, 2], process_of, 0)) == []


def test_what_a_helper_took_and_did_not_do_is_left_out(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """As where no process can be started: from an open prompt."""

    class Broken:
        def __init__(self, *_: object) -> None: ...
        def __enter__(self) -> Broken:
            return self

        def __exit__(self, *_: object) -> None: ...
        def submit(self, *_: object) -> None:
            raise BrokenProcessPool

    monkeypatch.setattr("concurrent.futures.ProcessPoolExecutor", Broken)
    assert list(with_helpers([1, 2, 3], process_of, 1)) == []
