"""Work shared out over the cores of this computer: the halves of a piece of work overlap in two
threads, where the second half needs no lock of Python's, and helpers in processes of their own take
whole pieces, where there is so much that starting them pays."""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import suppress
from typing import TypeVar

A = TypeVar("A")
B = TypeVar("B")
CHUNK_MAX = 8  # pieces handed to a helper at once; fewer toward the end, so that all end together
AHEAD = 2  # chunks that a helper has: one under way, one waiting


def cores() -> int:
    """How many this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def overlapped(items: Iterable[A], begin: Callable[[A], Callable[[], B]]) -> Iterator[B]:
    """`begin(item)()` of each in order: what `begin` leaves to do is done in a thread while the
    next item is begun."""
    if cores() < 2:
        yield from (begin(item)() for item in items)
        return
    from concurrent.futures import Future, ThreadPoolExecutor

    with ThreadPoolExecutor(1) as other:
        before: Future[B] | None = None
        for item in items:
            rest = begin(item)
            if before:
                yield before.result()
            before = other.submit(rest)
        if before:
            yield before.result()


def with_helpers(items: Sequence[A], work: Callable[[A], B], helpers: int) -> Iterator[B]:
    """`work(item)` of each, as they are ready, by this process and so many others.

    What a helper cannot do, because none can be started (from an open prompt), is left out; nothing
    is done without one.
    """
    if helpers < 1:
        return
    from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
    from concurrent.futures.process import BrokenProcessPool
    from multiprocessing import get_context

    left, given = deque(items), set[Future[list[B]]]()
    with suppress(BrokenProcessPool), ProcessPoolExecutor(helpers, get_context("spawn")) as pool:
        while left or given:
            while left and len(given) < AHEAD * helpers:
                size = max(1, min(CHUNK_MAX, len(left) // (AHEAD * (helpers + 1))))
                given.add(pool.submit(_all, work, [left.pop() for _ in range(size)]))
            if left:
                yield work(left.popleft())
            else:
                wait(given, return_when=FIRST_COMPLETED)
            for done in {future for future in given if future.done()}:
                given.remove(done)
                yield from done.result()


def _all(work: Callable[[A], B], items: list[A]) -> list[B]:
    return [work(item) for item in items]
