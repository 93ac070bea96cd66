"""What `make quality` prints: Lighthouse's marks for the demo sites' pages, and how long a family
waits for the first word on slow 4G. Ends with 1 where a mark is below 95."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import sync_playwright

from builder.model.plan import Plan
from tests.browser.conftest import CHROMIUM, PLAIN
from tests.quality.first_word import NETWORKS, median_seconds
from tests.quality.lighthouse import audits
from tests.support.compressed import Host
from tests.support.demos import DEMOS, build_demos, plans_of
from tests.support.running import running

LEAST = 95  # of 100, in each category
FIRST_WORD_S = 2.0


def main() -> int:
    """Build the demos, serve them packed, measure."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        build_demos(folder)
        with running(Host(folder / "public")) as host:
            plans = plans_of(folder)
            enough = marks(host.base, [page for code in DEMOS for page in pages(plans[code])])
            first_words(host.base, plans)
    return 0 if enough else 1


def pages(plan: Plan) -> Iterator[str]:
    """Of the first client a page of each kind, of the others where a sitting is."""
    step = next(s.id for program in plan.programs for s in program.steps if s.current)
    kinds = ("", f"{step}/", "sound/", "helper/", "print/", "about/")
    yield from (f"{plan.slug}/{kind}" for kind in kinds[: 6 if plan.client == DEMOS[0] else 2])


def marks(base: str, asked: list[str]) -> bool:
    """A line for each page, and what cost it marks; whether all are good enough."""
    print(f"Lighthouse, a telephone on slow 4G (bound: {LEAST} in each category)")
    least = 100
    for audit in audits(CHROMIUM, [base + page for page in asked]):
        least = min(least, *audit.scores.values())
        told = ", ".join(f"{name} {score}" for name, score in audit.scores.items())
        print(f"  {audit.address.removeprefix(base)}: {told}", flush=True)
        if min(audit.scores.values()) < LEAST:
            print("".join(f"    {what}\n" for what in audit.lost), end="")
    print(f"  least: {least}, {verdict(least >= LEAST)}")
    return least >= LEAST


def first_words(base: str, plans: dict[str, Plan]) -> None:
    """A line for each client and connection. Seconds on the clock: the machine should be free."""
    print(f"From the code to the first word that can be heard (bound: {FIRST_WORD_S} s)")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=str(CHROMIUM), args=PLAIN)
        for network in NETWORKS:
            for code in DEMOS:
                took = median_seconds(browser, f"{base}{plans[code].slug}/", network)
                holds = verdict(took <= FIRST_WORD_S)
                print(f"  {code}, {network.name}: {took:.2f} s, {holds}", flush=True)
        browser.close()


def verdict(holds: bool) -> str:
    """In a word."""
    return "holds" if holds else "DOES NOT HOLD"


if __name__ == "__main__":
    sys.exit(main())
