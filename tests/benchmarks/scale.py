"""How a build of a whole clinic grows with its clients: python -m tests.benchmarks.scale [N ...].

Seconds are of the processor (user and system, of the build and all that it starts), since other
work on the machine moves those on the clock. The exponent of growth is the slope of log(seconds)
over log(clients): 1 is in proportion.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np

from tests.benchmarks.build import TEN, workspace
from tests.support.places import ROOT

CLIENTS = (1, 10, 100, 300, 1000)


def seconds(folder: Path) -> float:
    """Processor seconds of `practice-site build` for all clients of a folder."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    line = [sys.executable, "-m", "builder", "build"]
    env = os.environ | {"PYTHONPATH": str(ROOT)}
    subprocess.run(line, check=True, capture_output=True, cwd=folder, env=env)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime


def measured(clients: int) -> tuple[float, float, float]:
    """Seconds of a cold build, of one with nothing changed, of one with one client changed."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        files = workspace(folder, clients)
        cold, unchanged = seconds(folder), seconds(folder)
        files[0].write_text(TEN.format(number=10) + "# changed\n")
        return cold, unchanged, seconds(folder)


def main(counts: tuple[int, ...] = CLIENTS) -> None:
    """Print a line for each number of clients, then the exponents from 10 clients on."""
    print("| clients | cold | nothing changed | one changed |\n|---|---|---|---|")
    found = []
    for clients in counts:
        found.append(measured(clients))
        print(f"| {clients} | " + " | ".join(f"{s:.2f} s" for s in found[-1]) + " |", flush=True)
    many = [at for at, clients in enumerate(counts) if clients >= 10]
    if len(many) > 1:
        logs = np.log([counts[at] for at in many])
        slopes = [np.polyfit(logs, np.log([found[at][n] for at in many]), 1)[0] for n in range(3)]
        print("| exponent | " + " | ".join(f"{slope:.2f}" for slope in slopes) + " |")


if __name__ == "__main__":
    main(tuple(map(int, sys.argv[1:])) or CLIENTS)
