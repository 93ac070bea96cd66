"""A table of cases: what figures of home and of the therapist speak for."""

from __future__ import annotations

import datetime
import re
from dataclasses import replace
from typing import Any

import pytest

from builder.model.criteria import Criteria, Criterion
from builder.model.program import Level, Role, Support
from builder.practice.figures.intervals import Rate
from builder.practice.figures.proposal.counting import Asked
from builder.practice.figures.proposal.move import TALK, Proposal, propose
from builder.practice.figures.score import Score
from builder.practice.figures.tries import Tries

TODAY = datetime.date(2026, 12, 21)
ASKED = Asked("k-words", "word", Criteria.model_validate({}))


def ago(days: int) -> datetime.date:
    return TODAY - datetime.timedelta(days=days)


def home(*days: tuple[int, int], support: Support = "spontaneous", last: int = 1) -> list[Tries]:
    """So many clear of so many on days in a row, the last one so many days ago."""
    return [
        Tries(ago(last + back), f"{n}", "k-words", "word", support, "key", clear, tries)
        for n, (back, (clear, tries)) in enumerate(zip(range(len(days))[::-1], days, strict=True))
    ]


def percents(*days: int, tries: int = 100) -> list[Tries]:
    return home(*((percent * tries // 100, tries) for percent in days))


def hers(*scores: tuple[int, int], days_ago: int = 3, **changes: Any) -> list[Score]:
    """Scores of sessions a week apart, the last one so many days ago."""
    return [
        replace(Score(ago(days_ago + 7 * back), "k-words", "spontaneous", *score), **changes)
        for back, score in zip(range(len(scores))[::-1], scores, strict=True)
    ]


def proposed(
    tries: list[Tries], scores: list[Score] | None = None, asked: Asked = ASKED
) -> Proposal:
    return propose(asked, tries, scores or [], TODAY)


GOOD = hers((17, 20))
POOR = hers((13, 20))
THREE = hers((16, 20), (18, 20), (17, 20))

# The examples of percentages by session of the trade handbook, constructed from its default rule
# (80 % in three; below 50 % in two; usual clinic criteria, no published rule), with her score.
HANDBOOK = [
    ((80, 80, 80), "on"),
    ((85, 79, 90, 85), "stay"),
    ((85, 79, 90, 85, 80), "on"),
    ((49, 49), "back"),
    ((49, 50), "stay"),
    ((40, 85, 45), "stay"),
    ((100,), "stay"),
]


@pytest.mark.parametrize(("days", "move"), HANDBOOK)
def test_days_by_the_default_criteria(days: tuple[int, ...], move: str) -> None:
    scores = [] if move == "back" else GOOD
    assert proposed(percents(*days), scores).move == move


CASES = [
    # Few tries: 100, 80 and 100 % of five each are 15 tries.
    ("too few tries", percents(100, 80, 100, tries=5), [], "too little", False),
    ("nothing at all", [], [], "too little", False),
    ("20 tries are enough", home((6, 7), (6, 7), (6, 6)), GOOD, "on", False),
    ("19 are not", home((6, 7), (6, 6), (6, 6)), GOOD, "stay", False),
    # Home and her.
    ("home alone", percents(95, 95, 95), [], "stay", True),
    ("she heard less", percents(95, 95, 95), POOR, "stay", False),
    ("16 of 20 are 80 %", percents(95, 95, 95), hers((16, 20)), "on", False),
    ("39 of 49 are not", percents(95, 95, 95), hers((39, 49)), "stay", False),
    ("14 days old", percents(95, 95, 95), hers((17, 20), days_ago=14), "on", False),
    ("15 days old", percents(95, 95, 95), hers((17, 20), days_ago=15), "stay", True),
    ("her latest counts", percents(95, 95, 95), hers((17, 20), (13, 20)), "stay", False),
    ("a probe of that day too", percents(95, 95, 95), GOOD + hers((5, 20), probe=True), "stay", 0),
    ("still to come", percents(95, 95, 95), hers((17, 20), days_ago=-1), "stay", True),
    ("of another step", percents(95, 95, 95), hers((17, 20), step="k-phrases"), "stay", True),
    ("her copies of a model", percents(95, 95, 95), hers((17, 20), support="delayed"), "stay", 1),
    ("hers alone, once", [], GOOD, "stay", False),
    ("hers alone, three times", [], THREE, "on", False),
    ("three times, home low in one", percents(40), THREE, "on", False),
    ("three times, one of them low", [], hers((16, 20), (15, 20), (17, 20)), "stay", False),
    ("three times, long ago", [], hers(*[(17, 20)] * 3, days_ago=30), "too little", False),
    ("three times, few tries", [], hers(*[(5, 5)] * 3), "too little", False),
    # Her own sessions.
    ("hers low, twice", [], hers((8, 20), (7, 20)), "back", False),
    ("and home in between", percents(60, 60), hers((8, 20), (7, 20)), "back", False),
    ("and home high", percents(95, 95, 95), hers((8, 20), (7, 20)), "stay", False),
    ("hers low, once", percents(60, 60), hers((15, 20), (7, 20)), "stay", False),
    ("hers half right", percents(60, 60), hers((8, 20), (10, 20)), "stay", False),
    ("hers low, few tries", percents(60, 60), hers((2, 5), (2, 5)), "stay", False),
    ("hers low, long ago", percents(60, 60), hers((8, 20), (7, 20), days_ago=15), "stay", False),
    # Support: from words up a try after a model speaks for nothing.
    ("home copies a model", home(*[(19, 20)] * 3, support="imitation"), [], "too little", False),
    ("and after a pause", home(*[(19, 20)] * 3, support="delayed"), GOOD, "stay", False),
    ("low copies", home(*[(2, 20)] * 3, support="imitation"), GOOD, "stay", False),
    # Days.
    ("one bad day", percents(90, 90, 10), [], "stay", False),
    ("two bad ones", percents(90, 90, 10, 20), [], "back", False),
    ("two bad ones, few tries", percents(0, 0, tries=5), [], "too little", False),
    ("she heard little too", percents(45, 40), POOR, "back", False),
    ("she heard more", percents(45, 40), GOOD, "stay", False),
    ("three times more", percents(45, 40), THREE, "stay", False),
    ("58 % in practice", percents(58, 58, 58, 58), [], "stay", False),
    ("long past", home(*[(19, 20)] * 3, last=15), [], "too little", False),
    ("two weeks past", home(*[(19, 20)] * 3, last=14), [], "stay", True),
    ("a day to come", home(*[(19, 20)] * 3, last=-1), [], "stay", False),
]


@pytest.mark.parametrize(
    ("tries", "scores", "move", "ready"),
    [pytest.param(*case[1:], id=str(case[0])) for case in CASES],
)
def test_what_is_proposed(tries: list[Tries], scores: list[Score], move: str, ready: bool) -> None:
    found = proposed(tries, scores)
    assert (found.move, found.ready) == (move, bool(ready))
    assert re.fullmatch(r"(Propose|Ready|Too little) .+\.", found.sentence)
    assert not re.search(r"[.;:,]{2}|  |\(\)|None", found.sentence)


def test_sittings_of_a_day_count_together() -> None:
    # Two sittings of one bad day are one bad day; 50 and 100 % of it are 80 %.
    low = home((5, 20), last=1) + home((5, 20), last=1)
    assert proposed(low).move == "stay"
    mixed = percents(90, 90) + home((5, 10), last=0) + home((15, 15), last=0)
    assert proposed(mixed, GOOD).move == "on"


@pytest.mark.parametrize(
    ("level", "move"), [("isolation", "on"), ("syllable", "on"), ("word", "stay"), ("talk", "stay")]
)
def test_copies_of_a_model_count_below_words(level: Level, move: str) -> None:
    asked = replace(ASKED, level=level)
    tries = home(*[(19, 20)] * 3, support="imitation")
    scores = GOOD + hers((17, 20), support="imitation")
    assert proposed(tries, scores, asked).move == move


@pytest.mark.parametrize(("level", "move"), [("syllable", "on"), ("word", "stay")])
def test_counts_on_paper_speak_where_any_support_does(level: Level, move: str) -> None:
    tries = [replace(one, support=None, sitting="") for one in percents(90, 90, 90)]
    assert proposed(tries, GOOD, replace(ASKED, level=level)).move == move


def criteria(advance: tuple[int, int], back: tuple[int, int]) -> Asked:
    made = [Criterion(percent=percent, days=days) for percent, days in (advance, back)]
    return replace(ASKED, criteria=Criteria(advance=made[0], step_back=made[1]))


@pytest.mark.parametrize(
    ("asked", "tries", "scores", "move"),
    [
        # 90 % over two; research protocols ask for 75 % over two, then 90 % over three sessions
        # (Gierut and colleagues, as told in Bauman-Waengler 2020).
        pytest.param(criteria((90, 2), (50, 2)), (90, 90), hers((18, 20)), "on", id="90 % x 2"),
        pytest.param(criteria((90, 2), (50, 2)), (90, 90), GOOD, "stay", id="she heard 85 %"),
        pytest.param(criteria((75, 2), (50, 2)), (75, 76), hers((15, 20)), "on", id="75 % x 2"),
        pytest.param(
            criteria((90, 2), (50, 2)), (), hers(*[(18, 20)] * 2), "stay", id="two of hers"
        ),
        pytest.param(
            criteria((90, 2), (50, 2)), (), hers(*[(18, 20)] * 3), "on", id="three of hers"
        ),
        pytest.param(criteria((80, 4), (50, 2)), (80, 80, 80), GOOD, "stay", id="four days"),
        pytest.param(criteria((80, 4), (50, 2)), (), THREE, "stay", id="and four sessions"),
        pytest.param(criteria((80, 3), (60, 3)), (59, 59), [], "stay", id="back after three"),
        pytest.param(criteria((80, 3), (60, 3)), (59, 59, 59), [], "back", id="below 60 %"),
        pytest.param(criteria((80, 3), (50, 1)), (10,), [], "stay", id="one day never moves"),
    ],
)
def test_the_program_has_its_own_criteria(
    asked: Asked, tries: tuple[int, ...], scores: list[Score], move: str
) -> None:
    assert proposed(percents(*tries), scores, asked).move == move


@pytest.mark.parametrize(
    ("before", "move", "after", "words"),
    [
        ("", "on", "weekly", "once a week, later once a month"),
        ("weekly", "on", "monthly", "once a month"),
        ("monthly", "stay", "monthly", "an end of practice"),
    ],
)
def test_after_the_last_step_practice_gets_thinner(
    before: Any, move: str, after: str, words: str
) -> None:
    asked = replace(ASKED, last=True, schedule=before)
    found = proposed(percents(90, 90, 90), GOOD, asked)
    assert (found.move, found.schedule) == (move, after)
    assert words in found.sentence


@pytest.mark.parametrize(
    ("schedule", "last", "move"),
    [("weekly", 15, "too little"), ("monthly", 35, "stay"), ("monthly", 36, "too little")],
)
def test_practice_once_a_month_stays_fresh_for_longer(schedule: Any, last: int, move: str) -> None:
    asked = replace(ASKED, last=True, schedule=schedule)
    assert proposed(home(*[(19, 20)] * 3, last=last), [], asked).move == move


def test_sentences_hold_the_figures_they_rest_on() -> None:
    on = proposed(home((18, 20), (17, 20), (19, 20)), GOOD)
    assert on.sentence == (
        "Propose moving on: home marked 54 of 60 (90 %) clear without a model on the last 3 days "
        "of practice, 80 % or more on each (95 % interval 80 to 95 %), and you heard 17 of 20 "
        "(85 %) correct on 2026-12-18."
    )
    lenient = proposed(home((20, 20), (20, 20), (20, 20)), hers((16, 20))).sentence
    assert lenient.endswith("than you, so one more score of yours is worth it.")
    ready = proposed(home((18, 20), (17, 20), (19, 20)))
    assert ready.sentence.startswith("Ready to be shown to you: home marked 54 of 60 (90 %)")
    assert proposed(home((9, 20), (8, 20))).sentence == (
        "Propose stepping back: home marked 9 of 20 (45 %) and 8 of 20 (40 %) clear without a "
        f"model on the last 2 days of practice, below 50 % on each; {TALK}."
    )
    assert proposed(home((13, 20)), hers((8, 20), (7, 20))).sentence == (
        "Propose stepping back: you heard 8 of 20 (40 %) and 7 of 20 (35 %) correct in your last 2 "
        "sessions, below 50 % in each, and home marked 13 of 20 (65 %) clear without a model on "
        f"the last day of practice; {TALK}."
    )
    assert ready.sentence.endswith(
        "; the log has no score of yours without a model of the last 14 days."
    )


WITHOUT = "in a row at 80 % or more without a model, with at least 20 tries together"


@pytest.mark.parametrize(
    ("tries", "scores", "sentence"),
    [
        (
            [],
            GOOD,
            "Propose staying: you heard 17 of 20 (85 %) correct on 2026-12-18, and home marked no "
            "tries without a model in the last 14 days; still needed to move on: 3 days of "
            f"practice {WITHOUT} (so far none), or 3 sessions of yours in a row at 80 % or more.",
        ),
        (
            home((10, 20), (9, 10)),
            [],
            "Propose staying: home marked 10 of 20 (50 %) and 9 of 10 (90 %) clear without a model "
            f"on the last 2 days of practice; still needed to move on: 3 days of practice {WITHOUT}"
            " (so far 1 day, 10 tries), and a score of yours without a model at 80 % or more.",
        ),
        (
            [],
            [],
            "Too little to say: home marked no tries without a model in the last 14 days; it takes "
            "20 tries without a model.",
        ),
        (
            home((19, 20), (20, 20), support="imitation") + home((5, 5), support="delayed"),
            [],
            "Too little to say: home marked 45 tries in the last 14 days, all after a model, so "
            "from words up none counts; it takes 20 tries without a model.",
        ),
    ],
)
def test_what_is_missing_is_said(tries: list[Tries], scores: list[Score], sentence: str) -> None:
    assert proposed(tries, scores).sentence == sentence


def test_paper_does_not_say_whether_a_model_was_heard() -> None:
    paper = [replace(one, support=None, sitting="") for one in home((18, 20))]
    assert ", all on paper, which does not say how, so" in proposed(paper).sentence
    both = proposed(paper + home((1, 1), support="imitation", last=14)).sentence
    assert "marked 21 tries in the last 14 days, 1 after a model and 20 on paper, which" in both
    old = proposed(home((19, 20), support="imitation", last=15)).sentence
    assert "home marked no tries without a model" in old


@pytest.mark.parametrize(
    ("asked", "needed"),
    [
        (replace(ASKED, last=True), "still needed to practice less often: 3 days"),
        (replace(ASKED, level="syllable"), "3 days of practice in a row at 80 % or more, with"),
        (
            criteria((90, 1), (50, 2)),
            ": a day of practice at 90 % or more without a model, with at",
        ),
        (criteria((80, 4), (50, 2)), "or 4 sessions of yours in a row at 80 % or more."),
    ],
)
def test_what_is_needed_goes_by_the_step_and_its_criteria(asked: Asked, needed: str) -> None:
    assert needed in proposed(home((12, 20)), hers((19, 20)), asked).sentence


def listened(helper: Role, tries: list[Tries]) -> list[Tries]:
    return [replace(one, helper=helper) for one in tries]


def test_where_two_listen_the_sentence_says_who_marked_what() -> None:
    at_home = listened("home", home((20, 20), (18, 20), (18, 20)))
    at_school = listened("school", home((14, 20), last=1))
    found = proposed([*at_home, *at_school], hers((17, 20)))
    assert (found.move, found.home) == ("on", Rate(70, 80))
    assert found.sentence.startswith(
        "Propose moving on: home and school marked 70 of 80 (87.5 %) clear without a model on the "
        "last 3 days of practice (home 56 of 60, school 14 of 20), 80 % or more on each"
    )


def test_one_who_is_not_home_is_named() -> None:
    tries = listened("other home", home((19, 20), (19, 20), (19, 20)))
    assert proposed(tries).sentence.startswith("Ready to be shown to you: the other home marked 57")
    alone = listened("self", home((19, 20), (19, 20), (19, 20)))
    assert proposed(alone).sentence.startswith("Ready to be shown to you: the client marked 57")


def test_the_caution_names_who_is_lenient() -> None:
    kind = listened("school", percents(99, 99, 99))
    even = listened("home", percents(82, 82, 82))
    found = proposed([*kind, *even], hers((80, 100)))
    assert found.move == "on"
    assert "; school is more lenient than you, so one more score of yours" in found.sentence
    both = proposed([*kind, *listened("home", percents(98, 98, 98))], hers((80, 100)))
    assert "; home and school are more lenient than you" in both.sentence


@pytest.mark.parametrize(
    ("tries", "scores", "hard"),
    [
        # As pages and sheet tell a family: fewer than half right on two days.
        (home((3, 10), (7, 14)), [], Rate(10, 24)),
        (home((3, 10), (7, 14), support="imitation"), [], Rate(10, 24)),
        (home((9, 10), (2, 6), (1, 4)), [], Rate(3, 10)),  # the last two
        (home((5, 10), (5, 10)), [], None),
        (home((0, 30)), [], None),  # one bad day
        (home((1, 4), (1, 5)), [], None),  # too few to tell
        (home((3, 10), (3, 10), last=13), [], None),  # long past: of the two days one is fresh
        (home((3, 10), (3, 10), last=12), [], Rate(6, 20)),
        (home((3, 10), (3, 10)), hers((9, 20), days_ago=2), None),  # she knows of one of them
        (home((3, 10), (3, 10)), hers((9, 20), days_ago=3), Rate(6, 20)),
    ],
)
def test_what_is_hard_at_home_is_flagged(
    tries: list[Tries], scores: list[Score], hard: Rate | None
) -> None:
    assert proposed(tries, scores).hard == hard
