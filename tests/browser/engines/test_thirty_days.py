"""A month on one tablet loses nothing, whatever memory held it, and takes one more trial."""

from __future__ import annotations

from datetime import datetime

from tests.browser.engines.devices import Device
from tests.browser.engines.family import begin, by_touch, mark
from tests.browser.engines.test_sittings import STEP
from tests.support import plans
from tests.support.thirty_days import ALL, FILL, TRIALS, thirty_days


def test_2000_trials_are_all_there_and_one_more(device: Device, base: str) -> None:
    kept = thirty_days(datetime.now().astimezone())
    assert sum(len(sitting["trials"]) for sitting in kept) == TRIALS
    device.open(base + STEP)
    device.js(FILL, base, plans.SLUG, kept)
    device.open(base)
    assert device.js(ALL, base, plans.SLUG) == kept
    device.open(base + STEP)
    begin(device, by_touch)
    mark(device, by_touch, "almost")
    *before, last = device.js(ALL, base, plans.SLUG)
    assert before == kept
    assert [trial["mark"] for trial in last["trials"]] == ["almost"]
