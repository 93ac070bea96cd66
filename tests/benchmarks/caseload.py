"""1,000 clients with a year of records on one line each: python -m tests.benchmarks.caseload.

A year: a sitting on every weekday, 260,000 sittings with 20 trials each, in the log. Every client
does not read, has a program of ten words, a sheet, and a site of one file (no site is opened, so
more makes no difference); nobody has recordings. Measured is the whole command as a process of its
own, start of Python included, by clock and processor: the first one (all programs are read), the
next ones (nothing changed), and one after ten programs changed. The log's pages are in the system's
memory, since they were just written.
"""

from __future__ import annotations

import datetime
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from builder.practice.log.file import connected, transaction
from builder.workspace import desk
from builder.workspace.addresses import secret, slug
from builder.workspace.folder import SITE_MARK, Workspace
from builder.workspace.stamps import Stamps
from tests.benchmarks.build import workspace
from tests.support.places import ROOT

CLIENTS, TRIALS, DAYS = 1000, 20, 365
TODAY = datetime.date(2026, 12, 14)
EPOCH = "1797249600"  # noon of that day
LIMIT = 2.0  # seconds


def days() -> Iterator[datetime.date]:
    """The weekdays of a year, up to yesterday."""
    year = (TODAY - datetime.timedelta(back) for back in range(DAYS, 0, -1))
    return (day for day in year if day.weekday() < 5)


def fill(folder: Path, codes: list[str]) -> int:
    """Write a year of records into the log of a practice folder; how many sittings."""
    space, number = Workspace(folder), 0
    key = secret(space)
    with connected(space.hidden) as sql, transaction(sql):
        for code in codes:
            site = slug(key, code)
            sql.execute("INSERT INTO client VALUES (?, ?)", (site, code))
            for day in days():
                number += 1
                # Ids are random in life; here they are spread alike.
                id_ = f"{number * 0x9E3779B97F4A7C15 % (1 << 64):016x}" * 2
                start = f"{day}T08:00:00-06:00"
                sql.execute(
                    "INSERT INTO sitting VALUES (?, ?, 1, ?, ?, ?, 'morning', 'home', '', 0, ?, "
                    "'done', ?)",
                    (id_, site, "a" * 16, "a" * 16, start, TRIALS, day.isoformat()),
                )
                sql.executemany(
                    "INSERT INTO trial VALUES (?, ?, 'sh-words', '1-natural-imitation', 'shell', "
                    "'natural', 'imitation', 'clear', ?, NULL, NULL, NULL, NULL)",
                    ((id_, trial, 8000 * trial) for trial in range(1, TRIALS + 1)),
                )
    return number


def publish(folder: Path, files: list[Path]) -> None:
    """What a build and a print leave that the command looks at: stamps, sites of one small file,
    sheets."""
    stamps = Stamps([str(file) for file in files], str(folder / "public"), "")
    sheets = {}
    (folder / desk.FOLDER).mkdir()
    for file in files:
        code, site = file.stem, folder / "public" / f"site-of-{file.stem}"
        site.mkdir(parents=True)
        (site / SITE_MARK).write_text("{}")
        before = stamps.before(str(file.parent), code, str(file.parent / "takes"))
        stamps.record(str(file.parent), code, before, site.name, "p")
        (folder / desk.FOLDER / f"{code}.pdf").touch()
        sheets[code] = desk.Sheet(f"{code}.pdf", "", "2026-12-07", time.time_ns(), False)
    stamps.save()
    desk.keep(Workspace(folder), folder / desk.FOLDER, sheets)


def seconds(folder: Path, *options: str) -> tuple[float, float]:
    """By clock and of the processor, of the command as a process."""
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    line = [sys.executable, "-m", "builder", "caseload", *options]
    env = os.environ | {"PYTHONPATH": str(ROOT), "SOURCE_DATE_EPOCH": EPOCH}
    said = subprocess.run(line, check=True, capture_output=True, cwd=folder, env=env).stdout
    clock, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
    assert said.count(b"finch-") == CLIENTS or options, "not every client has a line"
    return clock, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> int:
    """Print what was measured; 1 when a look at unchanged programs takes longer than LIMIT."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        files = workspace(folder, CLIENTS)
        for file in files:  # who does not read needs a picture for every word
            file.write_text(file.read_text().replace("reads: yes", "reads: no"))
        sittings = fill(folder, [file.stem for file in files])
        publish(folder, files)
        size = sum(file.stat().st_size for file in (folder / ".practice").glob("log.sqlite*"))
        print(f"{CLIENTS} clients, {sittings} sittings, a log of {size / 1e6:.0f} MB")
        told = {"first look": seconds(folder)}
        told["nothing changed"] = min(seconds(folder) for _ in range(3))
        for file in files[:10]:
            file.write_text(file.read_text() + "# changed\n")
        told["ten programs changed"] = seconds(folder)
        told["as JSON"] = seconds(folder, "--json")
        for what, (clock, busy) in told.items():
            print(f"{what}: {clock:.2f} s, {busy:.2f} s of the processor", flush=True)
        return int(told["nothing changed"][0] > LIMIT)


if __name__ == "__main__":
    sys.exit(main())
