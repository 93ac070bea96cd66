"""What stands in the terminal, on the page and on paper, in words. Pure."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from builder.model.criteria import Criteria
from builder.practice.figures.intervals import Rate
from builder.practice.figures.listeners import named
from builder.practice.figures.own_judgment import Judged
from builder.practice.figures.pairs import Told
from builder.practice.figures.rates import Thirds
from builder.practice.visit.speak import slips_told
from builder.progress.gather import Drawn, Progress, Section
from builder.progress.notes import Note
from builder.progress.sentence import direction, figures
from builder.progress.series import HOWS, By, How, Line, Point, how_scored
from builder.progress.stretches import Move, Whose

PROPOSED = "A proposal, for you to decide"
CLEAR = "clear tries (95 % interval)"
WHOSE: dict[Whose, str] = {
    "session": "session of that day",
    "practice": "first practiced on that day",
    "program": "by the program as it is now",
}


@dataclass(frozen=True)
class Row:
    """A clear-rate of a table: when, what, how it was said, who heard it, its figures."""

    when: str
    step: str
    how: str
    who: str
    rate: Rate


def copied(progress: Progress) -> tuple[str, ...]:
    """The sentences for the therapist's notes: one for each program that has any, then home."""
    told = [section.sentence for section in progress.sections if section.sentence]
    return (*told, at_home(progress))


def at_home(progress: Progress) -> str:
    """As in "Between sessions, 2026-11-09 to 2026-12-13: practiced on 20 of 25 planned days; 812
    tries in 40 sittings, about 20 in each."."""
    return f"Between sessions, {progress.first} to {progress.last}: {_practiced(progress)}."


def of_section(section: Section) -> dict[str, object]:
    """What page and PDF tell of a section alike, as their templates take it."""
    return {
        "heading": section.heading,
        "proposed": PROPOSED,
        "criteria": criteria_told(section.criteria),
        "proposals": proposals_told(section),
        "pairs": [pair_told(one, section) for one in section.pairs],
        "thirds": thirds_told(section.thirds) if section.thirds else "",
        "beside": beside_rows(section),
        "listeners": listeners_told(section),
        "judged": judged_told(section.judged),
        "moves": [move_told(one, section) for one in section.moves],
    }


def criteria_told(criteria: Criteria) -> str:
    """Both criteria, as in "Move on: 80 % or more on 3 days in a row. Step back: below 50 % on 2
    days in a row."."""
    advance, back = criteria.advance, criteria.step_back
    return (
        f"Move on: {advance.percent} % or more on {_in_a_row(advance.days)}. "
        f"Step back: below {back.percent} % on {_in_a_row(back.days)}."
    )


def proposals_told(section: Section) -> list[str]:
    """Under PROPOSED, a sentence for each step."""
    return [f"'{name}': {one.sentence}" for name, one in section.proposals]


def _in_a_row(days: int) -> str:
    return "one day" if days == 1 else f"{days} days in a row"


def over_time(section: Section) -> tuple[Row, ...]:
    """The points of the chart, in the order of time."""
    by, who = section.by, {"home": section.who, "you": "you"}
    rows = [
        (point.day, Row(_when(line, point, by), one.step.name, line.how, who[line.who], point.rate))
        for lane in section.lanes
        for one in lane
        for line in one.lines
        for point in line.points
    ]
    return tuple(row for _, row in sorted(rows, key=lambda one: one[0]))


def _when(line: Line, point: Point, by: By) -> str:
    """The day, or the week of home's."""
    return f"week of {point.day}" if by == "week" and line.who == "home" else f"{point.day}"


def brief(rate: Rate) -> str:
    """As in "17 of 20, 85 % (64 to 95 %)", under a heading that says what stands in brackets."""
    return f"{rate.clear} of {rate.tries}, {rate.percent} ({rate.surely})"


def by_week(section: Section) -> tuple[tuple[str, ...], list[list[str]]]:
    """Headings and rows: for each week of a step its Monday, the step's name and the clear-rates of
    practice by how tries were made, "" for none."""
    lines = [(one, line) for one in section.weekly for line in one.lines if line.who == "home"]
    hows = tuple(how for how in HOWS if any(line.how == how for _, line in lines))
    found: dict[tuple[datetime.date, int], dict[How, Rate]] = {}
    names = [one.step.name for one in section.weekly]
    for at, one in enumerate(section.weekly):
        for line in one.lines:
            for point in line.points if line.who == "home" else ():
                found.setdefault((point.day, at), {})[line.how] = point.rate
    rows = [
        [str(day), names[at], *(brief(rates[how]) if how in rates else "" for how in hows)]
        for (day, at), rates in sorted(found.items())
    ]
    return ("Week of", "Step", *(how.capitalize() for how in hows)), rows


def of_chart(section: Section) -> str:
    """What the chart shows, for who does not see it: each step with its first and last point."""
    drawn = [one for lane in section.lanes for one in lane]
    lines = [line for one in drawn for line in _told(one, section)]
    return f"{criteria_told(section.criteria)} {' '.join(lines)}".strip()


def _told(one: Drawn, section: Section) -> Iterator[str]:
    by = section.by
    for line in one.lines:
        who = section.who if line.who == "home" else "you"
        first, last = line.points[0], line.points[-1]
        told = f"{one.step.name}, {line.how}, {who}: {_when(line, first, by)} {first.rate}"
        if len(line.points) > 1:
            told += f" to {_when(line, last, by)} {last.rate}, {len(line.points)} points"
        yield f"{told}."


def move_told(move: Move, section: Section) -> str:
    """As in "2026-12-14: moved to 'words' from 'with a vowel' (session of that day)"."""
    before, after = _names(move.before, section), _names(move.after, section)
    way = direction(move.before, move.after, section.steps)
    return f"{move.day}: {way} {after} from {before} ({WHOSE[move.whose]})"


def _names(ids: Iterable[str], section: Section) -> str:
    return " and ".join(f"'{section.step(one).name}'" for one in ids)


def pair_told(told: Told, section: Section) -> str:
    """As in "key / tea: heard as chosen 12 of 20 (60 %, 95 % interval 39 to 78 %), no better than
    guessing; key heard as tea 5 times"."""
    texts = section.step(told.step).texts
    words = " / ".join(texts.get(word, word) for word in told.words)
    guess = "" if told.apart else ", not surely better than guessing"
    confused = "".join(
        f"; {texts.get(chosen, chosen)} heard as {texts.get(heard, heard)} {_times(number)}"
        for chosen, heard, number in told.confused
    )
    return f"{words}: heard as chosen {figures(told.kept)}{guess}{confused}"


def _times(number: int) -> str:
    return "once" if number == 1 else f"{number} times"


def thirds_told(found: Thirds) -> str:
    """Whether a sitting's end is weaker, as in "Within a sitting: first third …"."""
    return f"Within a sitting, {found}."


def judged_told(found: Judged) -> str:
    """How the client judged, as in "Judged right by the client: where the helper heard clear 12 of
    15, where not 4 of 9."; "" where no program asks."""
    heard = (("clear", found.clear), ("not clear", found.other))
    each = [
        f"where the helper heard {how} {rate.clear} of {rate.tries}" for how, rate in heard if rate
    ]
    return f"Judged right by the client: {', '.join(each)}." if each else ""


def beside_rows(section: Section) -> tuple[tuple[str, ...], list[list[str]]]:
    """Headings and rows: her scores, each once for every one who listened near it, with what that
    comes to in words. Who it was stands there where there are several."""
    several = len(section.listeners) > 1
    rows = []
    for score, near in section.beside:
        hers = [f"{score.date}", f"{section.step(score.step).name}, {how_scored(score)}"]
        hers.append(brief(score.rate))
        for one in near:
            _, _, words = str(one).partition(": ")
            rows.append([*hers, brief(one.home), *([named([one.role])] * several), words])
        if not near:
            why = "words not practiced" if score.probe else "no marks within two weeks"
            rows.append([*hers, "-", *(["-"] * several), why])
    theirs = ("Practice", "Marked by") if several else (section.who.capitalize(),)
    return ("Session", "Step", "You", *theirs, "Compared"), rows


def listeners_told(section: Section) -> str:
    """What each who listened marked, as in "home marked 40 of 60, … clear, school …"; "" where only
    one did. Their days may differ, so that this compares nobody."""
    if len(section.listeners) < 2:
        return ""
    each = [f"{named([role])} {brief(rate)}" for role, rate in section.listeners]
    return f"Marked clear, days and steps together (95 % interval): {'; '.join(each)}."


def who_wrote(note: Note) -> str:
    """As in "home", "you" for the therapist."""
    return "you" if note.who == "you" else named([note.who])


def in_all(progress: Progress) -> str:
    """What all weeks come to."""
    return f"In all: {_practiced(progress)}."


def besides(progress: Progress) -> tuple[str, ...]:
    """What is known of practice and is in no clear-rate of a step: sentences."""
    found = progress.together
    counted = found.told(figures(found.rate)) if found else ""
    slips = slips_told(progress.slips) if progress.slips else ""
    each = (f"{one}." for one in (counted, slips) if one)
    return tuple(one[:1].upper() + one[1:] for one in each)


def _practiced(progress: Progress) -> str:
    """Days and tries. Where no record came, nothing is known of either."""
    practice = progress.practice
    if not any(week.sittings for week in practice.weeks):
        return "no record of practice"
    return f"{practice.days}; {practice.dose}"


def apart_told(progress: Progress) -> str:
    """What counts nowhere; "" where there is nothing."""
    if not progress.apart:
        return ""
    kept = "sitting is" if progress.apart == 1 else "sittings are"
    return f"{progress.apart} {kept} kept apart in the log and counted nowhere."
