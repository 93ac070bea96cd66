"""A message's bytes -> what each sitting holds, as plain values. pack.js writes them and states the
format; squeeze.js puts one byte before, which says whether the rest is deflated.

What comes in is a stranger's: every count is held against what is left of the bytes.
"""

from __future__ import annotations

import datetime
import zlib
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from builder.problems import UsageError

MOST_BYTES = 2_000_000  # of a message, unpacked
MOST_BYTES_OF_ALL = 4_000_000  # of those handed over together: a mail that quotes former ones
MOST_TRIALS = 150_000  # four years of 100 a day
MOST_SITTINGS = 20_000

FORMS = ("long", "natural")
SUPPORTS = ("imitation", "delayed", "spontaneous")
MARKS = ("clear", "almost", "missed", "not_tried")
TIMES = ("morning", "midday", "afternoon", "evening")
ROLES = ("home", "other home", "school", "self")
ENDS = ("", "done", "time", "enough", "hard")
REPEATS = (None, True, False)
EPOCH = datetime.datetime(1970, 1, 1)


def unpack_all(messages: Iterable[bytes]) -> Iterator[dict[str, Any]]:
    """Every sitting of all messages as the model takes it. Raises UsageError for what is no
    message, and for more than one hands over together."""
    room = MOST_BYTES_OF_ALL
    for message in messages:
        data = _inflated(message)
        room -= len(data)
        if room < 0:
            raise _too_long()
        yield from _unpack(data)


def site_of(beginning: bytes) -> str:
    """Whose a message says it is, by its beginning alone; "" where that does not hold so much. A
    hint: nothing of it was checked."""
    data = beginning[1:]
    try:
        if beginning[:1] == b"\x01":
            data = zlib.decompressobj(-15).decompress(data, MOST_BYTES)
        read = _Reader(data)
        read.number()  # the version
        return read.text() if read.number() else ""
    except (UsageError, zlib.error):
        return ""


def _unpack(data: bytes) -> list[dict[str, Any]]:
    read = _Reader(data)
    version = read.number()
    if version != 1:
        raise UsageError(
            f"The practice record has the form {version}, which this version does not know. "
            "Install the newest one."
        )
    texts = [read.text() for _ in range(read.count())]
    questions = [
        (*(read.of(texts) for _ in range(3)), read.of(FORMS)) for _ in range(read.count(4))
    ]
    sittings, sizes = _sittings(read, texts)
    trials = _trials(read, texts, questions, sum(trials for trials, _ in sizes))
    for sitting, (_, tallies) in zip(sittings, sizes, strict=True):
        sitting["tallies"] = [_tally(read, texts) for _ in range(tallies)]
    for sitting in sittings:
        sitting["id"] = read.take(16).hex()
    rest = iter(trials)
    for sitting, (size, _) in zip(sittings, sizes, strict=True):
        ms, sitting["trials"] = 0, [next(rest) for _ in range(size)]
        for trial in sitting["trials"]:
            ms += trial["ms"] + read.take(1)[0]
            trial["ms"] = ms
    if read.left:
        raise _no_record()
    return sittings


def _no_record() -> UsageError:
    return UsageError("The practice record holds something that no tablet writes.")


def _too_long() -> UsageError:
    return UsageError("This is far too long for a practice record.")


def _inflated(message: bytes) -> bytes:
    kind, rest = message[:1], message[1:]
    if kind == b"\x01":
        stream = zlib.decompressobj(-15)
        try:
            even = stream.decompress(rest, MOST_BYTES)
        except zlib.error:
            raise _no_record() from None
        if not stream.eof:
            raise _too_long() if stream.unconsumed_tail else _no_record()
        rest = even + stream.unused_data
    elif kind != b"\x00":
        raise _no_record()
    if len(rest) > MOST_BYTES:
        raise _too_long()
    return rest


class _Reader:
    """Takes values from the front of bytes."""

    def __init__(self, data: bytes) -> None:
        self._data = data
        self._at = 0

    @property
    def left(self) -> int:
        """How many bytes are left."""
        return len(self._data) - self._at

    def take(self, size: int) -> bytes:
        """The next bytes, as they are."""
        if size > self.left:
            raise _no_record()
        self._at += size
        return self._data[self._at - size : self._at]

    def number(self) -> int:
        """A number that is not negative."""
        value = 0
        for place in range(8):  # 56 bits, more than a tablet can count exactly
            (byte,) = self.take(1)
            value |= (byte & 127) << (7 * place)
            if byte < 128:
                return value
        raise _no_record()

    def signed(self) -> int:
        """A number of either sign."""
        value = self.number()
        return -(value + 1) // 2 if value % 2 else value // 2

    def count(self, size: int = 1, most: int = MOST_BYTES) -> int:
        """How many things follow, each of which takes `size` bytes and more."""
        value = self.number()
        if value > most:
            raise _too_long()
        if value * size > self.left:
            raise _no_record()
        return value

    def of(self, choices: Sequence[Any]) -> Any:
        """One of these, by its place."""
        return _one_of(choices, self.number())

    def text(self) -> str:
        """A text after its length."""
        try:
            return self.take(self.count()).decode()
        except UnicodeDecodeError:
            raise _no_record() from None


def _one_of(choices: Sequence[Any], place: int) -> Any:
    if not 0 <= place < len(choices):
        raise _no_record()
    return choices[place]


def _sittings(
    read: _Reader, texts: list[str]
) -> tuple[list[dict[str, Any]], list[tuple[int, int]]]:
    """The sittings without ids, trials and tallies, and how many each has of both."""
    sittings, sizes, second, all_trials = [], [], 0, 0
    for _ in range(read.count(12, MOST_SITTINGS)):
        site, plan, practice, note, zone = (read.of(texts) for _ in range(5))
        second += read.signed()
        time, helper, end = read.of(TIMES), read.of(ROLES), read.of(ENDS)
        began, done = read.number(), read.number()
        sizes.append((read.count(), read.count()))
        all_trials += sizes[-1][0]
        if all_trials > MOST_TRIALS:
            raise _too_long()
        sittings.append(
            {
                "record": 1,
                "site": site,
                "plan": plan,
                "practice": practice,
                "start": _local(second) + zone,
                "time": time,
                "helper": helper,
                "note": note,
                "began": began,
                "done": done,
                "end": end,
            }
        )
    return sittings, sizes


def _local(second: int) -> str:
    try:
        return (EPOCH + datetime.timedelta(seconds=second)).isoformat()
    except OverflowError:
        raise _no_record() from None


def _trials(
    read: _Reader, texts: list[str], questions: list[Any], size: int
) -> list[dict[str, Any]]:
    """The trials of all sittings, from their columns; of `ms` the 256s since the one before."""
    last = -1
    trials: list[dict[str, Any]] = []
    for _ in range(size):
        last += 1 + read.signed()
        step, round_, item, form = _one_of(questions, last)
        trials.append({"step": step, "round": round_, "item": item, "form": form})
    rare = []
    for trial in trials:
        bits = read.number()
        if bits >> 11:
            raise _no_record()
        trial["mark"] = MARKS[bits & 3]
        trial["support"] = _one_of(SUPPORTS, bits >> 2 & 3)
        trial["repeat"] = _one_of(REPEATS, bits >> 4 & 3)
        trial["own"] = _one_of((None, *MARKS), bits >> 6 & 7)
        rare.append((bits & 512, bits & 1024))
    for trial, (chosen, heard) in zip(trials, rare, strict=True):
        trial["chosen"] = read.of(texts) if chosen else None
        trial["heard"] = read.of(texts) if heard else None
    for trial in trials:
        trial["ms"] = 256 * read.signed()
    return trials


def _tally(read: _Reader, texts: list[str]) -> dict[str, Any]:
    step = read.of(texts)
    words, targets, slipped = (read.number() - 1 for _ in range(3))
    return {
        "step": step,
        "words": None if words < 0 else words,
        "targets": None if targets < 0 else targets,
        "slipped": None if slipped < 0 else slipped,
        "later": read.of((False, True)),
        "ms": read.number(),
    }
