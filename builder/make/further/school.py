"""A sheet for a teacher or a second home: one side, the sound, the words of now, do and do not."""

from __future__ import annotations

from builder.make.further.guide import contact
from builder.make.sheet.text import Data, Shelf, Words, breakable, clean
from builder.make.sheet.words import groups, sound_line
from builder.model.plan import Plan
from builder.text.wording import spoken

NAMES = "lead rest do dont stop stop_text week who ask private home"
DO = ("quiet", "first", "praise", "miss", "listen")
DO_NOT = ("class", "again", "play", "other", "copy")
PICTURED_STEPS = 2  # with more of them words alone have room on one side
PAIRS = ("pair", "told")


def school(plan: Plan, shelf: Shelf, words: Words) -> Data:
    """All of the sheet. Nothing on it says who the client is or why the sound is practiced."""
    steps = [step for program in plan.programs for step in program.steps if step.current]
    has_rounds = any(not step.passage for step in steps)
    has_passages = any(step.passage for step in steps)
    is_one = len(plan.programs) == 1
    quiet, *rest = DO
    do = [quiet, *(rest if has_rounds else ["praise", "listen"])]
    return {
        "emblem": shelf.show(plan.emblem),
        "names": {name: words[f"school.{name}"] for name in NAMES.split()},
        "sound": [
            {
                "name": sound_line(program, words),
                "reminder": _reminder(program.reminder, words),
                "lines": [
                    {"name": words[f"cue.{name}"], "text": breakable(clean(text))}
                    for name, text in program.cues
                ],
            }
            for program in plan.programs[: 1 if is_one else 0]
        ],
        "do": [
            *(words[f"school.do_lines.{name}"] for name in do),
            *([words["school.do_text"]] if has_passages else []),
        ],
        "dont": [words[f"school.dont_lines.{name}"] for name in DO_NOT],
        "groups": _groups(plan, shelf, words),
        "days": [words[day] for day in plan.days_of("school")],
        "done": _done(plan, words),
        "contact": contact(plan),
    }


def _done(plan: Plan, words: Words) -> list[str]:
    """The rows of ticks: one a day, or one for each time where a school has its own."""
    done = words["school.done"]
    times = plan.times_of("school") if plan.times_by_role else ()
    return [f"{done}: {words[time].lower()}" for time in times] or [done]


def _groups(plan: Plan, shelf: Shelf, words: Words) -> list[Data]:
    """The steps of now but talks, since where and with whom is the family's own."""
    steps = [step for program in plan.programs for step in program.steps if step.current]
    shown = shelf if len(steps) <= PICTURED_STEPS else Shelf({})
    found = zip(steps, groups(plan, shown, words), strict=True)
    is_one = len(plan.programs) == 1
    return [_plain(group, is_one, words) for step, group in found if step.level != "talk"]


def _reminder(text: str, words: Words) -> str:
    told = words["school.reminder"]
    return told.format(reminder=spoken(breakable(clean(text)))) if text else ""


def _plain(group: Data, is_one: bool, words: Words) -> Data:
    """A group of the sheet for home without what is asked for there. A sole sound stands above."""
    asked, pairs = {"lead": "", "rounds": [], "tail": ""}, words["school.pairs"]
    sound = words["school.words"] if is_one else group["sound"]
    reminder = "" if is_one else group["reminder"]
    items = [item for item in group["items"] if item["kind"] not in PAIRS] or group["items"]
    return {
        **group,
        "items": items,
        "sound": sound,
        "reminder": reminder,
        "doing": asked,
        "game": pairs,
        "told": pairs,
    }
