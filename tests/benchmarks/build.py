"""How fast sites are built and how small they are, against the figures to hold (DEVELOPERS.md).

Every ratio comes from one run on one machine; absolute seconds say little elsewhere. Beside MkDocs
in the same process it is processor time that counts, by turns: it does not ask what else runs here.
"""

from __future__ import annotations

import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from builder import pipeline
from builder.program_file.load import clients
from builder.site import assemble
from builder.workspace.folder import find
from builder.workspace.store import Store
from tests.support.places import EXAMPLES, ROOT

TIMES = 7

# A ten-word step, natural and held, every word with a picture: what the figure for bytes counts.
TEN = """\
program: 1
client: finch-{number:02}
age: 7
reads: yes
sound: sh
mastered: {{isolation: 2026-09-02, syllable: 2026-09-23}}
baseline: {{date: 2026-12-04, correct: 26, of: 30}}
current: words
words: [shell, ship, sheep, shark, shoe, shirt, shovel, shower, shore, shadow]
steps:
  - {{name: words, level: word, rounds: [long imitation, natural imitation, natural spontaneous]}}
"""


def workspace(folder: Path, programs: int) -> list[Path]:
    """A clinic with so many clients; their program files."""
    shutil.copy(ROOT / "mkdocs.yml", folder)
    inner = folder / "programs"
    inner.mkdir()
    shutil.copy(EXAMPLES / "clinic.yaml", inner)
    files = [inner / f"finch-{n:02}.yaml" for n in range(10, 10 + programs)]
    for file in files:
        file.write_text(TEN.format(number=int(file.stem.partition("-")[2])))
    return files


def timed(work: Callable[[], object]) -> float:
    """Seconds of one call, wall clock."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def busy(work: Callable[[], object]) -> float:
    """Seconds of processor time of one call in this process."""
    start = time.process_time()
    work()
    return time.process_time() - start


def command(files: list[Path], out: Path) -> float:
    """Seconds of `practice-site build` as a process of its own."""
    line = [sys.executable, "-m", "builder", "build", *map(str, files), "--out", str(out)]
    return timed(lambda: subprocess.run(line, check=True, capture_output=True, cwd=ROOT))


def bare(project: Path, site: Path) -> None:
    """MkDocs in this process, as it comes, over a finished project."""
    from mkdocs.commands.build import build
    from mkdocs.config import load_config

    config = load_config(str(project / "mkdocs.yml"), site_dir=str(site))
    build(config)


def our_share(folder: Path) -> tuple[float, float, float]:
    """Medians of the whole way with everything in the store, of bare MkDocs on its project, and of
    the ratio of the two next to each other."""
    (file,) = workspace(folder, 1)
    out = folder / "public"

    def ours() -> None:
        pipeline.build(clients([file]), out)

    ours()
    space = find(file)
    (checked,) = map(pipeline.check_client, clients([file]))
    store = Store(space.store)

    def quiet(what: str, done: int, total: int) -> None:
        pass

    plan, facts = pipeline.spoken_plan(checked, space, quiet)
    files = pipeline.files_of(plan, store)
    made = folder / "made"
    made.mkdir()
    assemble.write_project(plan, files, facts, store, space, made)
    pairs = [
        (busy(ours), busy(lambda: bare(made / "project", made / "bare"))) for _ in range(TIMES)
    ]
    whole, mkdocs = (statistics.median(each) for each in zip(*pairs, strict=True))
    return whole, mkdocs, statistics.median(one / other for one, other in pairs)


def commands(folder: Path, programs: int) -> dict[str, float]:
    """Seconds of a cold build, of one with nothing changed, of one with one program changed."""
    files, out = workspace(folder, programs), folder / "public"
    found = {"cold": command(files, out)}
    found["nothing changed"] = statistics.median(command(files, out) for _ in range(TIMES))
    changes = []
    for at in range(TIMES):
        files[0].write_text(TEN.format(number=10) + f"# {at}\n")
        changes.append(command(files, out))
    found["one changed"] = statistics.median(changes)
    return found


def size(site: Path) -> int:
    """Bytes of all files of a site."""
    return sum(file.stat().st_size for file in site.rglob("*") if file.is_file())


def row(what: str, figure: str, bound: str, holds: bool) -> None:
    """One line of the table."""
    print(f"| {what} | {figure} | {bound} | {'holds' if holds else 'MISSED'} |")


def main() -> None:
    """Print the table."""
    print("| what | measured | bound | |\n|---|---|---|---|")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        ours, mkdocs, ratio = our_share(folder)
        row(
            "warm build, all in the store",
            f"{ours * 1000:.0f} ms = {ratio:.2f} × bare MkDocs ({mkdocs * 1000:.0f} ms)",
            "≤ 1.25 ×",
            ratio <= 1.25,
        )
        (site,) = [p for p in (folder / "public").iterdir() if p.is_dir()]
        total = size(site)
        row(
            "site of a ten-word step, natural and held",
            f"{total / 1e6:.2f} MB",
            "≤ 1.0 MB",
            total <= 1e6,
        )
    for programs in (1, 10):
        with tempfile.TemporaryDirectory() as name:
            found = commands(Path(name), programs)
        plural = "program" if programs == 1 else "programs"
        share = found["nothing changed"] / found["cold"]
        row(
            f"{programs} {plural}, nothing changed",
            f"{found['nothing changed'] * 1000:.0f} ms = "
            f"{share:.1%} of cold ({found['cold']:.2f} s)",
            "≤ 5 %",
            share <= 0.05,
        )
        if programs > 1:
            part = found["one changed"] / found["cold"]
            row(
                f"{programs} {plural}, one changed",
                f"{found['one changed']:.2f} s = {part:.0%} of cold",
                "that client alone",
                part < 0.5,
            )


if __name__ == "__main__":
    main()
