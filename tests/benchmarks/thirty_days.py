"""Whether a tablet stays quick after a month: python -m tests.benchmarks.thirty_days.

2,000 trials in 60 sittings, in Chromium with a processor a quarter as fast, beside a new tablet.
"""

from __future__ import annotations

import tempfile
from datetime import datetime
from pathlib import Path
from statistics import median
from typing import Any

from playwright.sync_api import Page, sync_playwright

from tests.browser.conftest import CHROMIUM, PLAIN, serving
from tests.support import plans
from tests.support.building import built_once
from tests.support.stock import stocked
from tests.support.thirty_days import FILL, thirty_days

SLOW = 4  # times as slow is the processor
MARK_MS = 16  # one frame of a screen: nobody sees it
TIMES = 15
# In ms: one more trial written to both memories, then all sittings read and merged.
USE = """async ([base, site]) => {
  const { browserApis, makeStore } = await import(base + "assets/js/store.js");
  const store = makeStore(browserApis(window), site);
  const timed = async work => {
    const from = performance.now();
    await work();
    return performance.now() - from;
  };
  const last = (await store.all()).at(-1);
  const copy = { ...last, id: "f".repeat(32), trials: last.trials.slice(0, 33) };
  return [await timed(() => store.save(copy)), await timed(() => store.all())];
}"""
OPENED = """() => performance.getEntriesByType("navigation")[0].domContentLoadedEventEnd"""


def figures(page: Page, base: str) -> tuple[float, float, float]:
    """Medians in ms: today's page opens, a trial is written, all is read."""
    opened, used = [], []
    for _ in range(TIMES):
        page.goto(base, wait_until="load")
        opened.append(page.evaluate(OPENED))
        used.append(page.evaluate(USE, [base, plans.SLUG]))
    return median(opened), median(save for save, _ in used), median(read for _, read in used)


def main() -> None:
    """Print a table."""
    print("| a tablet | today's page opens | one more trial is kept | all is read |")
    print("|---|---|---|---|")
    month = thirty_days(datetime.now().astimezone())
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        plan = plans.plan(plans.program_k(), plans.program_sh())
        site = built_once(plan, folder / "site", stocked(folder))
        with serving(site) as base, sync_playwright() as driver:
            browser = driver.chromium.launch(executable_path=str(CHROMIUM), args=PLAIN)
            few: list[Any] = month[-1:]
            for called, sittings in (("new", few), ("after 30 days, 2,000 trials", month)):
                context = browser.new_context()
                page = context.new_page()
                page.goto(base)
                page.evaluate(
                    f"all => (function () {{ {FILL} }})(...all)", [base, plans.SLUG, sittings]
                )
                context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOW})
                opens, keeps, reads = figures(page, base)
                verdict = "holds" if keeps <= MARK_MS else f"more than {MARK_MS} ms"
                print(f"| {called} | {opens:.0f} ms | {keeps:.1f} ms, {verdict} | {reads:.1f} ms |")
                context.close()
            browser.close()


if __name__ == "__main__":
    main()
