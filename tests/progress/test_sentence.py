"""The sentence for the notes: what is true of the step, with its interval, and no name."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import replace

import pytest

from builder.model.program import Level
from builder.practice.figures.intervals import Rate
from builder.practice.figures.score import Score
from builder.practice.figures.tries import Tries
from builder.progress.notes import discreet
from builder.progress.sentence import figures, manner, of_home, of_session
from builder.progress.series import How
from builder.progress.steps import KnownStep, Shown
from builder.progress.stretches import Move, Whose

DAY = datetime.date(2026, 12, 14)
SYLLABLES = KnownStep("k-vowels", "with a vowel", "syllable", "k", "initial")
WORDS = KnownStep("k-words", "words", "word", "k", "initial", "picture")
FINAL = KnownStep("k-final", "final words", "word", "k", "final", "picture")
PHRASES = KnownStep("k-two-words", "two words", "phrase", "k", "initial")
STEPS = (SYLLABLES, WORDS, FINAL, PHRASES)
SCORE = Score(DAY, "k-words", "spontaneous", 17, 20)


def told(
    scores: Sequence[Score] = (SCORE,), moves: Sequence[Move] = (), now: tuple[str, ...] = ()
) -> str:
    return of_session(scores, STEPS, moves, now)


def test_the_whole_sentence() -> None:
    move = Move(DAY, ("k-words",), ("k-two-words",), "session")
    assert told(moves=[move]) == (
        "/k/ initial in words, picture naming without a model: 17 of 20 (85 %, 95 % interval 64 to "
        "95 %) on 2026-12-14; moved to phrases."
    )


@pytest.mark.parametrize(("clear", "tries"), [(17, 20), (0, 20), (10, 10), (79, 99), (1, 3)])
def test_its_interval_is_that_of_scipy(clear: int, tries: int) -> None:
    from scipy.stats import binomtest  # type: ignore[import-untyped]

    interval = binomtest(clear, tries).proportion_ci(0.95, method="wilson")
    ends = f"{100 * interval.low:.0f} to {100 * interval.high:.0f} %"
    assert figures(Rate(clear, tries)).endswith(f", 95 % interval {ends})")


@pytest.mark.parametrize(
    ("now", "end"),
    [
        (("k-two-words",), "moved to phrases."),
        (("k-vowels",), "back to syllables."),
        (("k-words",), "continues in words."),
        # One level, another place: only the name tells.
        (("k-final",), "moved to 'final words'."),
        (("k-final", "k-two-words"), "moved to 'final words' and 'two words'."),
        (("k-words", "k-two-words"), "continues in words and phrases."),
        ((), "on 2026-12-14."),
    ],
)
def test_what_came_of_it_by_the_program_where_no_record_tells(
    now: tuple[str, ...], end: str
) -> None:
    assert told(now=now).endswith(end)


def test_an_earlier_step_that_was_scored_again_is_no_move() -> None:
    found = of_session([SCORE], STEPS, [], ("k-two-words",), practiced=True)
    assert found.endswith("on 2026-12-14; continues in phrases.")


@pytest.mark.parametrize(
    ("whose", "end"),
    [
        ("session", "moved to phrases on 2026-12-21."),
        ("practice", "moved to phrases, first practiced on 2026-12-21."),
        ("program", "moved to phrases."),
    ],
)
def test_a_later_move_has_its_own_day(whose: Whose, end: str) -> None:
    later = DAY + datetime.timedelta(days=7)
    assert told(moves=[Move(later, ("k-words",), ("k-two-words",), whose)]).endswith(end)


def test_a_move_before_the_session_is_not_what_came_of_it() -> None:
    before = Move(DAY - datetime.timedelta(days=7), ("k-vowels",), ("k-words",), "session")
    assert told(moves=[before], now=("k-words",)).endswith("continues in words.")


def test_all_scores_of_the_last_session_and_no_others() -> None:
    older = replace(SCORE, date=DAY - datetime.timedelta(days=7), correct=3)
    tried = Score(DAY, "k-two-words", "imitation", 8, 10)
    probe = replace(SCORE, correct=5, of=10, probe=True)
    assert told([tried, older, probe, SCORE], now=("k-two-words",)) == (
        "/k/ initial in words, picture naming without a model: 17 of 20 (85 %, 95 % interval 64 to "
        "95 %); in words, probe words without a model: 5 of 10 (50 %, 95 % interval 24 to 76 %); "
        "in phrases, after a model: 8 of 10 (80 %, 95 % interval 49 to 94 %) on 2026-12-14; moved "
        "to phrases."
    )
    assert told([]) == ""


@pytest.mark.parametrize(
    ("level", "shown", "how", "words"),
    [
        ("word", "picture", "without a model", "picture naming without a model"),
        ("word", "print", "without a model", "read aloud without a model"),
        ("word", "", "without a model", "without a model"),
        ("phrase", "picture", "without a model", "from pictures without a model"),
        ("sentence", "print", "without a model", "read aloud without a model"),
        ("syllable", "print", "without a model", "without a model"),
        ("reading", "", "without a model", ""),
        ("talk", "", "without a model", ""),
        ("word", "picture", "after a model", "after a model"),
    ],
)
def test_how_it_was_said_is_told_as_the_step_has_it(
    level: Level, shown: Shown, how: How, words: str
) -> None:
    assert manner(replace(WORDS, level=level, shown=shown), how) == words


def test_without_a_score_the_last_days_at_home_speak() -> None:
    def tries(number: int, clear: int, **changes: object) -> Tries:
        on = datetime.date(2026, 12, number)
        one = Tries(on, f"{number}", "k-words", "word", "spontaneous", "key", clear, 20, "school")
        return replace(one, **changes)  # type: ignore[arg-type]

    every = [
        tries(1, 0),
        tries(7, 17),
        tries(8, 18),
        tries(9, 19),
        tries(9, 0, support="imitation"),
    ]
    assert of_home(WORDS, every, 3) == (
        "/k/ initial in words, picture naming without a model, as school marked it: 54 of 60 "
        "(90 %, 95 % interval 80 to 95 %) on the last 3 days of practice, up to 2026-12-09."
    )
    assert of_home(PHRASES, every, 3) == ""


@pytest.mark.parametrize(
    ("note", "shown"),
    [
        ("went well", "went well"),
        ("Anna helped today.\nTired.", "[…] helped today. Tired."),
        ("\x1b[2Jwell\u202e\x07", "[2Jwell"),  # a family's note reaches a terminal
        ("call 555-867-5309", "call […]"),
        ("comb is still hard since Monday", "comb is still hard since Monday"),
    ],
)
def test_no_name_stands_in_a_note(note: str, shown: str) -> None:
    assert discreet(note) == shown
