"""What `receive` says of what came: a line for each client, and what is kept apart or odd."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from builder.model.record import Sitting, counts_by_step
from builder.practice.figures.listeners import named
from builder.practice.log.receive import Received
from builder.practice.log.understand import FOREIGN, NO_PLAN, UNKNOWN_PLAN, Known, before_its_plan
from builder.text.several import several

OF_NOBODY = (
    "If it is from a client of yours, type this in the practice folder in which the program is"
)
OF_NO_PLAN = (
    "If you removed this client on purpose, leave it so: `practice-site log forget {code}` removes "
    "this as well. Else `practice-site build {code}` keeps the plan of now, and the next `receive` "
    "takes in what was practiced by it; what was practiced by an older plan can be read only with "
    "`.practice/views` from a backup"
)
OF_ANOTHER_PLAN = (
    "It was published from another computer, or removed with `practice-site log forget`. Type this "
    "on that computer, or bring `.practice/views` back from a backup; it is taken in by the next "
    "`receive` that knows the plan"
)
COUNTED_SO = (
    "They count on the days that the tablet told; ask the family, and look at the tablet's clock"
)
OF_NO_USE = "It counts nowhere. Ask the family, and look at the tablet's clock"
REMEDIES = {FOREIGN: OF_NOBODY, NO_PLAN: OF_NO_PLAN, UNKNOWN_PLAN: OF_ANOTHER_PLAN}


def lines(came: Iterable[Received], codes: Mapping[str, str]) -> Iterator[str]:
    """A line for each client of whom something was taken in, or was there already."""
    taken = sorted(
        (one for one in came if one.became != "apart"), key=lambda one: codes[one.sitting.site]
    )
    for code, group in groupby(taken, key=lambda one: codes[one.sitting.site]):
        yield f"{code}: {_told(tuple(group))}"


def tell_too_early(came: Iterable[Received], against: Known) -> None:
    """Say which new sittings have a day on which their plan was not there yet."""
    fresh = [one.sitting for one in came if one.became in ("new", "newer")]
    early = sorted((s for s in fresh if before_its_plan(s, against)), key=lambda one: one.site)
    for site, group in groupby(early, key=lambda one: one.site):
        own = tuple(group)
        print(
            f"practice-site: {against.codes[site]}: dated before their plan was built: "
            f"{several(len(own), 'sitting')}, {_days(own)}. {COUNTED_SO}.",
            file=sys.stderr,
        )


def _told(every: Sequence[Received]) -> str:
    """As in "3 new sittings, 1 in a later state, 78 tries, 2026-12-07 to 2026-12-11". One that was
    kept apart and came once more is told once."""
    taken = {one.sitting.id for one in every if one.again}
    came = [one for one in every if one.became != "known" or one.sitting.id not in taken]
    number = {became: sum(one.became == became for one in came) for became in ("new", "newer")}
    known_before = len(came) - sum(number.values())
    again = sum(one.again for one in came)
    fresh = [one.sitting for one in came if one.became != "known"]
    roles = {one.helper for one in fresh}
    parts = [
        several(number["new"], "new sitting") if number["new"] else "nothing new",
        f"{number['newer']} in a later state" if number["newer"] else "",
        f"{again} of them kept apart until now" if again else "",
        f"{_tries(fresh)} tries, {_days(fresh)}" if fresh else "",
        f"heard by {named(roles)}" if len(roles) > 1 else "",
        f"{known_before} in the log already" if known_before else "",
    ]
    return ", ".join(filter(None, parts))


def _tries(sittings: Iterable[Sitting]) -> int:
    return sum(count.tries for one in sittings for count in counts_by_step(one).values())


def _days(sittings: Iterable[Sitting]) -> str:
    days = sorted(one.start[:10] for one in sittings)
    return days[0] if days[0] == days[-1] else f"{days[0]} to {days[-1]}"


def tell_apart(came: Iterable[Received], codes: Mapping[str, str]) -> int:
    """Say what was kept apart and why, by code, or by address where that is nobody's; 1 when there
    was something."""
    apart = sorted(
        (one for one in came if one.became == "apart"), key=lambda one: (one.sitting.site, one.why)
    )
    for (site, why), group in groupby(apart, key=lambda one: (one.sitting.site, one.why)):
        code = codes.get(site, site)
        remedy = REMEDIES.get(why, OF_NO_USE).format(code=code)
        kept = several(len(tuple(group)), "sitting")
        print(f"practice-site: kept apart: {kept} of {code}: {why}. {remedy}.", file=sys.stderr)
    return 1 if apart else 0
