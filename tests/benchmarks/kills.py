"""Kill a publishing process 300 times while a reader looks on: is a site ever torn or missing?

A site is torn when two of its files, read through one open folder, come from two builds.
Both ways of swapping are tried; after each kill of the second way the next run completes it, and
a site counts as missing only when it is missing then.
"""

from __future__ import annotations

import os
import random
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from pathlib import Path

from builder.site import swap

KILLS = 300
FILES = 40  # of a site; as many as a small client's


def publisher(out: Path, exchange: bool) -> None:
    """Publish new sites without end."""
    if not exchange:
        swap._exchanged = lambda made, target: False
    build = 0
    while True:
        build += 1
        with swap.exclusive(out):
            made = swap.new_folder(out) / "site"
            made.mkdir()
            for at in range(FILES):
                (made / f"{at}.html").write_text(f"{os.getpid()} {build}")
            swap.publish(made, out / "site", "0.html")


def state(site: Path) -> str:
    """whole, torn or missing, as one reader sees it."""
    try:
        folder = os.open(site, os.O_RDONLY)
    except FileNotFoundError:
        return "missing"
    try:
        seen = set()
        for at in (0, FILES - 1):
            file = os.open(f"{at}.html", os.O_RDONLY, dir_fd=folder)
            seen.add(os.read(file, 100))
            os.close(file)
        return "whole" if len(seen) == 1 else "torn"
    except FileNotFoundError:
        return "gone while read"  # the reader came upon a site just replaced; it asks again
    finally:
        os.close(folder)


def watch(site: Path, counts: dict[str, int], stop: threading.Event) -> None:
    """Count what a reader sees until told to stop."""
    while not stop.is_set():
        seen = state(site)
        counts[seen] = counts.get(seen, 0) + 1


def trial(exchange: bool, kills: int, tell: Callable[[str], None]) -> dict[str, int]:
    """Kill `kills` publishers at random moments; what readers saw, and what was left after each."""
    rng = random.Random(7)
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "public"
        way = "exchange" if exchange else "steps"
        command = [sys.executable, "-m", "tests.benchmarks.kills", str(out), way]
        counts: dict[str, int] = {}
        after: dict[str, int] = {}
        _kill_one(command, out, rng)  # the first site is there before anybody reads
        stop = threading.Event()
        reader = threading.Thread(target=watch, args=(out / "site", counts, stop))
        reader.start()
        for _ in range(kills):
            _kill_one(command, out, rng)
            with swap.exclusive(out):
                seen = state(out / "site")
            after[seen] = after.get(seen, 0) + 1
        stop.set()
        reader.join()
        tell(f"{way}: {kills} kills; sites after the next run: {after}; reads meanwhile: {counts}")
        return after if not exchange else {**counts, **{f"after: {k}": v for k, v in after.items()}}


def _kill_one(command: list[str], out: Path, rng: random.Random) -> None:
    process = subprocess.Popen(command, stdout=subprocess.PIPE)
    assert process.stdout
    process.stdout.readline()  # it has begun
    while not (out / "site").exists():
        time.sleep(0.002)
    time.sleep(rng.uniform(0, 0.03))
    process.kill()
    process.wait()
    process.stdout.close()


def main() -> None:
    """Print both ways' results."""
    for exchange in (True, False):
        trial(exchange, KILLS, print)


if __name__ == "__main__":
    if len(sys.argv) == 3:
        print("ready", flush=True)
        publisher(Path(sys.argv[1]), sys.argv[2] == "exchange")
    main()
