"""Kill a process 100 times while it takes records into the log: is one lost that it said it kept?

Run as `python -m tests.benchmarks.log_kills`; with a folder it is the process that is killed.
"""

from __future__ import annotations

import datetime
import random
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

from builder.practice.log.file import connected
from builder.practice.log.receive import receive
from builder.practice.log.rows import Log
from builder.practice.log.understand import Known
from tests.support.from_home import CODE, SITE, VIEW, sitting, trials

KILLS = 100
TRIALS = 60
KNOWN = Known({SITE: CODE}, lambda site, plan: VIEW, datetime.date(2026, 12, 4))


@dataclass(frozen=True)
class Found:
    """After a kill: sittings that were told as kept and are not, are not whole, or are there
    though they were not told; whether SQLite finds the file sound."""

    lost: int
    torn: int
    untold: int
    sound: bool


def writer(folder: Path, run: int, shared: bool) -> None:
    """Take in one record after the other without end; tell each when it is kept."""
    many = trials(TRIALS)
    number = 0
    while True:
        number += 1
        one = sitting(1, id=f"{run:08x}{number:024x}", trials=many)
        with connected(folder, lambda _: shared) as connection:
            receive(Log(connection), [one], KNOWN)
        print(one.id, flush=True)


def kill_one(folder: Path, run: int, rng: random.Random, shared: bool = False) -> Found:
    """Start a writer, kill it somewhere in its work, and look."""
    way = "shared" if shared else "local"
    command = [sys.executable, "-m", "tests.benchmarks.log_kills", str(folder), str(run), way]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    assert process.stdout
    told = [process.stdout.readline().strip() for _ in range(rng.randint(1, 4))]
    time.sleep(rng.uniform(0, 0.02))
    process.kill()
    told += process.stdout.read().split()
    process.wait()
    process.stdout.close()
    return look(folder, run, told, shared)


def look(folder: Path, run: int, told: list[str], shared: bool) -> Found:
    """What is in the log of a killed writer."""
    with connected(folder, lambda _: shared) as connection:
        (sound,) = connection.execute("PRAGMA integrity_check").fetchone()
        loose = connection.execute("PRAGMA foreign_key_check").fetchall()
        there = {
            one.id: one for one in Log(connection).sittings() if one.id.startswith(f"{run:08x}")
        }
    torn = sum(len(one.trials) != TRIALS or len(one.tallies) != 2 for one in there.values())
    lost = len({*told} - {*there})
    return Found(lost, torn, len({*there} - {*told}), sound == "ok" and not loose)


def main() -> None:
    """Print what 100 kills did, of each way."""
    rng = random.Random(7)
    for shared in (False, True):
        with tempfile.TemporaryDirectory() as folder:
            found = [kill_one(Path(folder), run, rng, shared) for run in range(KILLS)]
        print(
            f"{'share' if shared else 'local'}: {KILLS} kills: "
            f"{sum(one.lost for one in found)} lost, {sum(one.torn for one in found)} torn, "
            f"{sum(one.untold for one in found)} kept but not told (at most "
            f"{max(one.untold for one in found)} a kill), "
            f"{sum(one.sound for one in found)} of {KILLS} files sound"
        )


if __name__ == "__main__":
    if len(sys.argv) == 4:
        writer(Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3] == "shared")
    main()
