"""Which step was practiced when, told by the plans that records name."""

from __future__ import annotations

import datetime
from dataclasses import replace

import pytest

from builder.model.practice_view import PracticeView
from builder.practice.figures.client_log import ClientLog
from builder.practice.log.paper import PaperCount
from builder.progress.stretches import Move, Run, Stretch, lanes, moves, runs, stretches
from tests.support.from_home import SITE, VIEW, sitting, step, trials

STEPS = ("k-vowels", "k-words", "k-lines")


def day(number: int) -> datetime.date:
    return datetime.date(2026, 12, number)


def view(*current: str) -> PracticeView:
    (program,) = VIEW.programs
    made = (replace(step(id_, ("key",)), current=id_ in current) for id_ in STEPS)
    return replace(VIEW, programs=(replace(program, steps=tuple(made)),))


def log(practiced: dict[int, tuple[str, ...]], papers: tuple[PaperCount, ...] = ()) -> ClientLog:
    """One sitting on each of these days of December, by a plan with these current steps."""
    views = {one.digest: one for one in (view(*steps) for steps in practiced.values())}
    sittings = (
        sitting(number, plan=view(*steps).digest, trials=trials(1, step=steps[0]), tallies=[])
        for number, steps in practiced.items()
    )
    return ClientLog(SITE, tuple(sittings), papers, (), (), (), lambda _, digest: views.get(digest))


VOWELS, WORDS, LINES = (("k-vowels",), ("k-words",), ("k-lines",))


def test_days_in_a_row_with_the_same_steps_are_one_run() -> None:
    found = runs(log({1: VOWELS, 2: VOWELS, 4: WORDS, 5: WORDS}), STEPS)
    assert found == (Run(VOWELS, day(1), day(2)), Run(WORDS, day(4), day(5)))


def test_a_tablet_that_has_not_got_the_new_plan_moves_nobody_back() -> None:
    found = runs(log({1: VOWELS, 2: WORDS, 3: VOWELS, 4: WORDS}), STEPS)
    assert found == (Run(VOWELS, day(1), day(1)), Run(WORDS, day(2), day(4)))
    # Two days in a row are a step back.
    there = runs(log({1: WORDS, 2: VOWELS, 3: VOWELS, 4: WORDS}), STEPS)
    assert [one.steps for one in there] == [WORDS, VOWELS, WORDS]


def test_what_was_only_opened_and_other_programs_tell_nothing() -> None:
    empty = log({1: VOWELS, 2: WORDS})
    opened = replace(
        empty, sittings=(empty.sittings[0], empty.sittings[1].model_copy(update={"trials": ()}))
    )
    assert runs(opened, STEPS) == (Run(VOWELS, day(1), day(1)),)
    assert runs(empty, ("s-words",)) == ()
    assert runs(replace(empty, view=lambda *_: None), STEPS) == ()


def test_a_box_on_paper_tells_too() -> None:
    box = PaperCount(SITE, day(3), "morning", view(*WORDS).digest, "k-words", 0, 0)
    found = runs(log({1: VOWELS, 2: WORDS}, (box,)), STEPS)
    assert found[-1] == Run(WORDS, day(2), day(3))


RUNS = (Run(VOWELS, day(1), day(3)), Run(WORDS, day(7), day(9)))


@pytest.mark.parametrize(
    ("sessions", "move"),
    [
        pytest.param({day(4)}, Move(day(4), VOWELS, WORDS, "session"), id="a session between"),
        pytest.param({day(3), day(5)}, Move(day(5), VOWELS, WORDS, "session"), id="the last one"),
        pytest.param({day(2), day(8)}, Move(day(7), VOWELS, WORDS, "practice"), id="none between"),
    ],
)
def test_a_move_has_the_day_of_the_session_or_of_the_first_practice(
    sessions: set[datetime.date], move: Move
) -> None:
    assert moves(RUNS, sessions) == (move,)


def test_what_the_program_has_now_and_nobody_has_practiced_is_a_move_too() -> None:
    *_, last = moves(RUNS, {day(14)}, LINES, (), day(15))
    assert last == Move(day(14), WORDS, LINES, "session")
    *_, last = moves(RUNS, set(), LINES, (day(8), day(10)), day(15))
    assert last == Move(day(10), WORDS, LINES, "program")
    *_, last = moves(RUNS, set(), LINES, (day(20),), day(15))
    assert last == Move(day(15), WORDS, LINES, "program")
    assert len(moves(RUNS, set(), WORDS, (), day(15))) == 1
    assert moves((), {day(1)}, WORDS) == ()


def test_scores_draw_a_stretch_out_to_their_session() -> None:
    scored = [("k-words", day(5)), ("k-words", day(14)), ("k-lines", day(14))]
    assert stretches(RUNS, scored) == (
        Stretch("k-vowels", day(1), day(3)),
        Stretch("k-words", day(5), day(14)),
        Stretch("k-lines", day(14), day(14)),
    )


def test_a_step_that_came_back_has_two_stretches_one_that_went_on_has_one() -> None:
    both = ("k-vowels", "k-words")
    found = (Run(VOWELS, day(1), day(1)), Run(both, day(2), day(3)), Run(WORDS, day(4), day(5)))
    again = (*found, Run(VOWELS, day(7), day(8)))
    assert stretches(again, ()) == (
        Stretch("k-vowels", day(1), day(3)),
        Stretch("k-words", day(2), day(5)),
        Stretch("k-vowels", day(7), day(8)),
    )


def test_lanes_hold_what_does_not_overlap() -> None:
    one, two, three = (
        Stretch("a", day(1), day(5)),
        Stretch("b", day(3), day(4)),
        Stretch("c", day(5), day(9)),
    )
    assert lanes((one, two, three)) == ((one, three), (two,))
