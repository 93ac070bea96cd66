"""A tablet after a month: two sittings a day, 2,000 trials, kept by the store of its page."""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import cycle, islice
from typing import Any

from builder.model.record import MARKS, Sitting, Trial
from tests.support import plans

DAYS = 30
TRIALS = 2000
ITEMS = ("key", "cow", "cup", "coin", "cave")

# Each third of the sittings stands in one memory alone, as where the other was cleared; of each
# fifth the data base lacks the last trial, as where the page died before it was written.
FILL = """
const [base, site, sittings] = arguments;
return (async () => {
  const { browserApis, makeStore } = await import(base + "assets/js/store.js");
  const store = makeStore(browserApis(window), site);
  for (const [at, sitting] of sittings.entries()) {
    const late = { ...sitting, trials: sitting.trials.slice(0, -1) };
    await store.save(at % 5 ? sitting : late);
    const key = `practice:${site}:sitting:${sitting.id}`;
    localStorage.setItem(key, JSON.stringify(sitting));
    if (at % 3 === 0 && at % 5) localStorage.removeItem(key);
  }
  const database = await new Promise(resolve => {
    const asked = indexedDB.open(`practice-${site}`);
    asked.onsuccess = () => resolve(asked.result);
  });
  const change = database.transaction("sittings", "readwrite");
  sittings.forEach(({ id }, at) => at % 3 === 1 && change.objectStore("sittings").delete(id));
  await new Promise(resolve => { change.oncomplete = resolve; });
  database.close();
})();
"""
ALL = """
const [base, site] = arguments;
return (async () => {
  const { browserApis, makeStore } = await import(base + "assets/js/store.js");
  return makeStore(browserApis(window), site).all();
})();
"""


def thirty_days(until: datetime) -> list[dict[str, Any]]:
    """Sittings as they are kept, oldest first; the last one the day before `until`."""
    count = 2 * DAYS
    first = until - timedelta(days=DAYS)
    return [
        sitting(at, first + timedelta(hours=12 * at), TRIALS // count + (at < TRIALS % count))
        for at in range(count)
    ]


def sitting(number: int, start: datetime, trials: int) -> dict[str, Any]:
    """One of so many trials, one each eight seconds."""
    made = (
        Trial(
            step="k-words",
            round="1-natural-imitation",
            item=item,
            form="natural",
            support="imitation",
            mark=mark,
            ms=8000 * at,
        )
        for at, (item, mark) in enumerate(zip(cycle(ITEMS), islice(cycle(MARKS), trials)))
    )
    return Sitting(
        record=1,
        id=f"{number:032x}",
        site=plans.SLUG,
        plan="0123456789abcdef",
        start=start.isoformat(timespec="seconds"),
        time="evening" if number % 2 else "morning",
        helper="home",
        trials=tuple(made),
        note="went well" if number % 7 == 0 else "",
    ).model_dump(mode="json")
