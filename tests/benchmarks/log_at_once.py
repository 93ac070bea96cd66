"""Two processes take records into one log at the same moment, 100 times: is one lost or doubled?

Run as `python -m tests.benchmarks.log_at_once`; with a folder it is one of the two.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from builder.practice.log.file import connected
from builder.practice.log.receive import receive
from builder.practice.log.rows import Log
from tests.benchmarks.log_kills import KNOWN
from tests.support.from_home import sitting, trials

TIMES = 100
FEW, MANY = 10, 30  # tries of a sitting, and of a later copy of it


@dataclass(frozen=True)
class AtOnce:
    """What was lost, or stands in an earlier state though a later one came; whether the file is
    sound."""

    lost: int
    earlier: int
    sound: bool


def one_of_two(folder: Path, own: int, shared: bool) -> None:
    """Each time that a line comes: take in a sitting of one's own, and a copy of one that both
    have, of which the second holds more."""
    for line in sys.stdin:
        time = int(line)
        alone = sitting(1, id=f"{own + 1:08x}{time:024x}", trials=trials(FEW))
        both = sitting(1, id=f"{time:032x}", trials=trials(MANY if own else FEW))
        with connected(folder, lambda _: shared) as connection:
            receive(Log(connection), [alone, both], KNOWN)
        print(time, flush=True)


def at_once(folder: Path, times: int, shared: bool) -> AtOnce:
    """Let two processes go at it so many times, and look."""
    way = "shared" if shared else "local"
    command = [sys.executable, "-m", "tests.benchmarks.log_at_once", str(folder), way]
    two = [
        subprocess.Popen([*command, str(own)], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
        for own in (0, 1)
    ]
    for time in range(times):
        for process in two:
            assert process.stdin
            process.stdin.write(b"%d\n" % time)
            process.stdin.flush()
        for process in two:
            assert process.stdout
            assert int(process.stdout.readline()) == time
    for process in two:
        process.communicate()
        assert process.returncode == 0
    with connected(folder, lambda _: shared) as connection:
        (sound,) = connection.execute("PRAGMA integrity_check").fetchone()
        there = {one.id: len(one.trials) for one in Log(connection).sittings()}
    alone = [f"{own:08x}{time:024x}" for own in (1, 2) for time in range(times)]
    both = [there.get(f"{time:032x}", 0) for time in range(times)]
    lost = sum(id_ not in there for id_ in alone) + both.count(0)
    return AtOnce(lost, both.count(FEW), sound == "ok" and len(there) == 3 * times)


def main() -> None:
    """Print what became of it, of each way."""
    for shared in (False, True):
        with tempfile.TemporaryDirectory() as folder:
            found = at_once(Path(folder), TIMES, shared)
        print(
            f"{'share' if shared else 'local'}: {TIMES} times two at once: {found.lost} lost, "
            f"{found.earlier} in an earlier state, "
            f"the file is {'sound, each sitting once' if found.sound else 'NOT sound'}"
        )


if __name__ == "__main__":
    if len(sys.argv) == 4:
        one_of_two(Path(sys.argv[1]), int(sys.argv[3]), sys.argv[2] == "shared")
    else:
        main()
