"""Asks for the counts of a client's paper sheet, a box at a time, and keeps each at once."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from typing import Literal

from builder.checks.pause import pauses_of
from builder.commands.clock import day_typed, today
from builder.commands.paths import files_of
from builder.model.clinic import DAYS, Time
from builder.model.pause import practice_days
from builder.model.practice_view import PracticeView
from builder.model.program import Client, Role
from builder.practice import kept_views
from builder.practice.figures.listeners import are, named
from builder.practice.log.counts import counted
from builder.practice.log.paper import (
    DONE,
    REMOVED,
    PaperCount,
    boxes,
    has_text,
    has_words,
    read_box,
    step_told_of,
)
from builder.practice.log.rows import opened
from builder.problems import UsageError
from builder.program_file.load import clients
from builder.text.several import several
from builder.workspace.addresses import secret, slug
from builder.workspace.folder import Workspace, find

END = "end"
A_DAY, A_WEEK = datetime.timedelta(days=1), datetime.timedelta(days=7)
COUNT, SLIPS = "as in `17 of 20`", "as in `3 slips`"
HOW = f"`{DONE}`: ticked, not counted; Enter: nothing; `{END}`: no more"
SLIPS_TOO = "; of texts and talks the slips, as in `3 slips` or `17 of 20, 3 slips`"

Ask = Callable[[str], str]
Tell = Callable[[str], None]
Box = tuple[datetime.date, Time]
Listener = Role | Literal[""]


def enter(name: str, first: str, ask: Ask, tell: Tell, helper: Listener = "") -> None:
    """Ask for the counts of the sheet of a client, each kept at once, also where it is broken off.
    A box is of all that is practiced in a sitting, so a file stands for its client. first: the
    sheet's first day in ISO form, "" for the program's; helper: whose sheet it is, "" where there
    is one alone. Raises UsageError where there is no such sheet."""
    files = files_of([name])
    (client,) = clients(files)
    workspace = find(files[0])
    site = slug(secret(workspace), client.code)
    _say_whose(client, helper)
    if client.helpers == ("self",):
        helper = "self"  # else it would be told as home's
    asked = list(_boxes(client, first, helper))
    with opened(workspace.hidden) as log:
        own = (one for one in log.papers(site) if one.helper == helper)
        papers = {(one.day, one.time): _told(one) for one in own}
        tries = Counter[Box]()
        for one in counted(log.sittings(site), ()):
            if helper in ("", one.helper):
                tries[one.day, one.time] += one.tries
    whose = f", the sheet of {named([helper])}" if helper and helper != "self" else ""
    whose += ", all sounds together" if len(client.programs) > 1 else ""
    views = {box: kept_views.of_day(workspace, site, box[0]) for box in asked}
    tell(f"{client.code}{whose}, what stands in each box ({_how(views.values())}):")
    kept = 0
    try:
        for box in asked:
            if tries[box]:
                tell(f"{_named(box)}: {tries[box]} tries are in the log, counted on a tablet")
                continue
            answer = _answer(box, papers.get(box, ""), views[box], ask, tell)
            if answer == END:
                break
            kept += bool(answer) and _keep(workspace, client.code, site, box, answer, helper)
    except KeyboardInterrupt:
        tell(f"\n{client.code}: stopped; {_boxes_entered(kept)} until then, which the log keeps")
        raise
    tell(f"{client.code}: {_boxes_entered(kept)}")


def _boxes_entered(number: int) -> str:
    return f"{several(number, 'box', 'boxes')} entered"


def _how(views: Iterable[PracticeView | None]) -> str:
    """What may be typed, by what is practiced by these plans."""
    every = list(views)
    if not any(map(has_words, every)):
        return f"{SLIPS}; {HOW}"
    return f"{COUNT}; {HOW}{SLIPS_TOO if any(map(has_text, every)) else ''}"


def _say_whose(client: Client, helper: Listener) -> None:
    """Where several listen, each has a sheet of its own, and a count is one of them."""
    if helper and helper not in client.helpers:
        raise UsageError(
            f"{client.code}: `helper:` in the program does not name {named([helper])}, so there is "
            f"no such sheet; {named(client.helpers)} {are(client.helpers)} named there."
        )
    if helper or len(client.helpers) == 1:
        return
    options = " or ".join(f"`--helper {one.replace(' ', '-')}`" for one in client.helpers)
    raise UsageError(
        f"{client.code}: {named(client.helpers)} each have a sheet of their own. Say whose it "
        f"is: {options}."
    )


def _boxes(client: Client, first: str, helper: Listener) -> Iterator[Box]:
    """Those of the sheet of the client's program, or of one that began earlier, up to today."""
    written = [program.written.practice for program in client.programs]
    starts = [one.start for one in written if one.start]
    visit = min((one.visit for one in written if one.visit), default=today() + A_DAY)
    begin = _date(first) if first else min(starts, default=visit - A_WEEK)
    past_last = min(visit if visit > begin else today() + A_DAY, today() + A_DAY)
    weekdays = {DAYS.index(day) for day in client.days_of(helper)}
    days = list(practice_days(begin, past_last, weekdays, pauses_of(client)))
    if not days:
        raise UsageError(
            f"{client.code}: no day of this program's sheet is past. For an earlier sheet name its "
            "first day, as in `--from 2026-12-07`."
        )
    return boxes(days, client.times_of(helper))


def _date(text: str) -> datetime.date:
    day = day_typed(text)
    if not today() - 26 * A_WEEK <= day <= today():  # as many weeks as a sheet may have
        raise UsageError(f"{day} is still to come, or more than half a year ago.")
    return day


def _named(box: Box) -> str:
    day, time = box
    return f"    {day:%a} {day} {time}"


def _answer(box: Box, before: str, view: PracticeView | None, ask: Ask, tell: Tell) -> str:
    """What was typed for a box and can be read; "" for nothing, END for no more. view: what was
    practiced then."""
    known = f" (in the log: {before}; `{REMOVED}` takes it out)" if before else ""
    while True:
        try:
            answer = ask(f"{_named(box)}{known}: ").strip().lower()
            if answer not in ("", REMOVED, END):
                read_box(answer, has_text(view), has_words(view))
        except EOFError:
            return END
        except ValueError as problem:
            tell(f"        {problem}")
        else:
            return answer


def _told(one: PaperCount) -> str:
    counted = f"{one.clear} of {one.tries}" if one.tries else ""
    slips = "" if one.slips is None else several(one.slips, "slip")
    return ", ".join(filter(None, (counted, slips))) or "ticked"


def _keep(
    workspace: Workspace, code: str, site: str, box: Box, answer: str, helper: Listener
) -> bool:
    """Keep the answer for a box; whether something was entered."""
    view = kept_views.of_day(workspace, site, box[0])
    if view is None:
        raise UsageError(f"{code}: no plan was published yet. Type `practice-site build {code}`.")
    with opened(workspace.hidden) as log, log.writing():
        if answer == REMOVED:
            log.remove_paper(site, *box, helper)
            return False
        clear, tries, slips = read_box(answer, has_text(view), has_words(view))
        step = step_told_of(view)
        count = PaperCount(site, *box, view.digest, step, clear, tries, helper, slips)
        log.add_client(site, code)
        log.put_paper(count, today().isoformat())
    return True
