"""Whether a sitting takes as long as today's page says: python -m tests.benchmarks.sittings.

Whole sittings in Chromium in real time, by a child and a helper by script (`child.py`): the three
demos and four drafted clients, words by hand and by themselves. With `--at-once 14` they take about
ten minutes.
"""

from __future__ import annotations

import argparse
import asyncio
import re
import shutil
import tempfile
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.async_api import Browser, async_playwright

from builder import pipeline
from builder.__main__ import main as practice_site
from builder.model.dose import planned_minutes, sitting_seconds, sitting_tries
from builder.model.program import Client
from builder.program_file.load import clients
from builder.site.serve import server
from tests.benchmarks.child import HAND, child
from tests.browser.conftest import CHROMIUM, PLAIN, TABLET
from tests.support.demos import DEMOS
from tests.support.places import EXAMPLES, ROOT
from tests.support.running import running

SEED = "2026-12-07"
BOUND = 0.2  # of the estimate
OF_TRIES = 16  # for so many tries the taps are told; the bound is 27
# A client, what the draft is told, the step that is current in it.
DRAFTED = (
    ("wren-01", ("--sound", "f", "--age", "3"), "with a vowel"),
    ("kestrel-06", ("--sound", "sh", "--age", "4"), "the sound alone"),
    ("lark-02", ("--sound", "g", "--age", "5"), "phrases"),
    ("stoat-05", ("--sound", "s", "--age", "8", "--reads"), "sentences"),
)
FILLED_IN = {
    r"^error: fill-in.*\n": "",
    r"^baseline: .*": "baseline: {date: 2026-12-03, correct: 18, of: 20}",
}


@dataclass(frozen=True)
class One:
    """A client whose sitting is practised, and where."""

    client: Client
    address: str
    paced: bool

    @property
    def age(self) -> int:
        return self.client.programs[0].written.age or 0


@dataclass(frozen=True)
class Sat:
    """A sitting that was practised: what the card said, seconds, taps by key, the record."""

    card: str
    seconds: float
    taps: dict[str, int]
    record: dict[str, Any]


def drafted(folder: Path) -> None:
    """Programs as the tool drafts them, with what a therapist fills in."""
    for code, asked, current in DRAFTED:
        practice_site(["new", code, *asked, "--in", str(folder)])
        file = folder / f"{code}.yaml"
        text = file.read_text("utf-8")
        for found, written in {**FILLED_IN, r"^current: .*": f"current: {current}"}.items():
            text = re.sub(found, written, text, flags=re.MULTILINE)
        file.write_text(text, "utf-8")


def built(folder: Path) -> dict[str, tuple[Client, str]]:
    """All sites in `public`: of each code its client and the folder of its site."""
    shutil.copy(ROOT / "mkdocs.yml", folder)
    shutil.copytree(EXAMPLES, folder / "programs")
    if (kept := ROOT / ".practice" / "store").is_dir():  # clips that were made before
        shutil.copytree(kept, folder / ".practice" / "store")
    drafted(folder / "programs")
    files = [folder / "programs" / f"{code}.yaml" for code in codes()]
    loaded = clients(files)
    slugs = {one.plan.client: one.plan.slug for one in pipeline.build(loaded, folder / "public")}
    return {one.code: (one, slugs[one.code]) for one in loaded}


def codes() -> tuple[str, ...]:
    """Of all clients."""
    return (*DEMOS, *(code for code, _, _ in DRAFTED))


async def sat(browser: Browser, one: One, turn: asyncio.Semaphore) -> Sat:
    """One sitting on a fresh tablet."""
    async with turn:
        context = await browser.new_context(viewport=TABLET, has_touch=True)
        page = await context.new_page()
        page.set_default_timeout(60_000)
        slug = one.address.rstrip("/").rpartition("/")[2]
        paced = f'{{"paced": {str(one.paced).lower()}}}'
        await page.add_init_script(f"localStorage['practice:{slug}:settings'] = '{paced}';")
        await page.goto(one.address)
        await page.wait_for_load_state("networkidle")
        card = await page.locator("[data-key=start]").inner_text()
        await page.locator("[data-key=start]").tap()
        await page.locator(".task").wait_for()
        told = child(one.age, one.paced, f"{SEED} {one.client.code}")
        done = await page.evaluate(HAND, told)
        await context.close()
        return Sat(card, done["seconds"], {"start": 1, **done["taps"]}, done["record"])


async def all_sat(ones: Sequence[One], at_once: int) -> list[Sat]:
    """All sittings, some at once: people are waited for most of the time."""
    turn = asyncio.Semaphore(at_once)
    async with async_playwright() as driver:
        browser = await driver.chromium.launch(executable_path=str(CHROMIUM), args=PLAIN)
        done = await asyncio.gather(*(sat(browser, one, turn) for one in ones))
        await browser.close()
    return done


HEAD = (
    "client",
    "words come",
    "card, min",
    "taken, min",
    "estimated",
    "for all tries",
    "ratio",
    "tries planned + out of turn + once more",
    "taps",
    "per 16 planned tries",
    "per 16 tries",
    "steps",
)


def row(one: One, done: Sat) -> tuple[str, ...]:
    """One line of the table. Where time ended the sitting, the seconds for all tries are those of
    the tries that were made, in proportion."""
    programs, record = one.client.programs, done.record
    planned = {step.id: step.tries for p in programs for step in p.current_steps}
    trials = record["trials"]
    tried = Counter(t["step"] for t in trials if not t.get("repeat"))
    again = sum(bool(t.get("repeat")) for t in trials)
    besides = sum(tried.values()) - record["done"]
    told, all_tries = sitting_seconds(programs), sitting_tries(programs)
    whole = done.seconds * (1 + (all_tries - record["done"]) / len(trials))
    verdict = "holds" if abs(whole / told - 1) <= BOUND else f"off by more than {BOUND:.0%}"
    taps = sum(done.taps.values())
    minutes = (re.findall(r"\d+", done.card) or ["?"])[0]
    return (
        f"{one.client.code}, {one.age} y",
        "by themselves" if one.paced else "by hand",
        f"{minutes} of {planned_minutes(programs)}",
        f"{done.seconds / 60:.1f}, {record['end']}",
        f"{told / 60:.1f}",
        f"{whole / 60:.1f}",
        f"{whole / told:.2f}, {verdict}",
        f"{record['done']} of {all_tries} + {besides} + {again}",
        str(taps),
        f"{taps / record['done'] * OF_TRIES:.1f}",
        f"{taps / len(trials) * OF_TRIES:.1f}",
        ", ".join(f"{step} {tried[step]}/{n}" for step, n in planned.items()),
    )


def line(cells: Sequence[str]) -> str:
    """Of a table."""
    return f"| {' | '.join(cells)} |"


def main() -> None:
    """Print a table, and where the taps go."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--at-once", type=int, default=7)
    asked.add_argument("codes", nargs="*", default=codes())
    args = asked.parse_args()
    with tempfile.TemporaryDirectory() as name:
        sites = built(Path(name))
        with running(server(Path(name) / "public", 0)) as host:
            base = f"http://127.0.0.1:{host.server_address[1]}/"
            wanted = [sites[code] for code in args.codes]
            ones = [
                One(c, f"{base}{slug}/", paced) for paced in (False, True) for c, slug in wanted
            ]
            done = asyncio.run(all_sat(ones, args.at_once))
    print(line(HEAD), line(["---"] * len(HEAD)), sep="\n")
    for one, practised in zip(ones, done, strict=True):
        print(line(row(one, practised)))
    for paced in (False, True):
        keys = Counter[str]()
        for one, practised in zip(ones, done, strict=True):
            keys.update(practised.taps if one.paced is paced else {})
        told = ", ".join(f"{key} {n}" for key, n in keys.most_common())
        print(f"\nTaps where words come {'by themselves' if paced else 'by hand'}: {told}")


if __name__ == "__main__":
    main()
