"""What is known before a visit, from records that a reader can count by hand."""

from __future__ import annotations

import datetime
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from builder.model.program import Program
from builder.practice.figures.client_log import ClientLog
from builder.practice.figures.planned import timetable
from builder.practice.log.paper import PaperCount
from builder.practice.log.rows import Apart
from builder.practice.log.scores import VisitNote, VisitScore
from builder.practice.visit.asked import asked_of, schedule_of
from builder.practice.visit.speak import against, further, known, proposals, uncounted
from builder.practice.visit.told import Told, told, with_heard
from builder.program_file.load import program_of
from builder.progress.weeks import practice_of
from tests.support.clinics import PROGRAM, clinic
from tests.support.from_home import SITE, VIEW, sitting, trials

TODAY = datetime.date(2026, 12, 14)  # a Monday


def december(number: int) -> datetime.date:
    return datetime.date(2026, 12, number)


@pytest.fixture
def program(tmp_path: Path) -> Program:
    folder = clinic(tmp_path, PROGRAM.replace("from: 2026-12-07", "from: 2026-12-04"))
    return program_of(folder / "finch-10.yaml", None)


def day(number: int, clear: int, missed: int, **changes: Any) -> Any:
    """A sitting with so many tries of a word without a model."""
    said = [*trials(clear, mark="clear"), *trials(missed, mark="missed")]
    made = [one | {"support": "spontaneous"} | changes for one in said]
    start = f"2026-12-{number:02}T08:15:04-06:00"
    return sitting(1, id=f"{number:032x}", start=start, trials=made, tallies=[])


def log(*sittings: Any, scores: tuple[VisitScore, ...] = (), **more: Any) -> ClientLog:
    empty = ClientLog(SITE, tuple(sittings), (), scores, (), (), lambda site, plan: VIEW)
    return replace(empty, **more)


def score(number: int, correct: int, of: int = 20, **changes: Any) -> VisitScore:
    one = VisitScore(SITE, december(number), "K", "k-words", "spontaneous", correct, of)
    return replace(one, **changes)


def at_visit(program: Program, of: ClientLog, today: datetime.date = TODAY) -> Told:
    return told(program, of, timetable([program], ()), today)


GOOD_AT_TWO_WORDS = log(scores=tuple(score(n, 19, step="k-two-words") for n in (7, 9, 11)))
WEEK = tuple(day(number, 9, 1) for number in (8, 9, 10, 11))


def test_what_home_did_is_told_since_the_last_visit(program: Program) -> None:
    # The baseline is of the 3rd; a score of the 7th is a later visit. Planned: Tue to Fri.
    found = at_visit(program, log(day(4, 1, 9), *WEEK, scores=(score(7, 17),)))
    assert found.since == december(7)
    assert list(known(found)) == [
        "at home since 2026-12-07 practiced on 4 of 4 planned days; 40 tries in 4 sittings, "
        "about 10 in each",
        "'words': clear 36 of 40 (90 %) without a model",
        "'words': home marked 37 of 50 (74 %) clear where you heard 17 of 20 (85 %): too few tries "
        "to call that a difference (without a model, 2026-12-07)",
    ]
    (sentence,) = proposals(found)
    assert sentence.startswith("'words': Propose moving on: home marked 27 of 30 (90 %)")


def test_a_further_sound_has_the_days_since_the_last_visit(tmp_path: Path) -> None:
    text = PROGRAM.replace("from: 2026-12-07, ", "")
    further_sound = program_of(clinic(tmp_path, text) / "finch-10.yaml", None)
    found = at_visit(further_sound, log(*WEEK, scores=(score(7, 17),)))
    assert str(found.days) == "practiced on 4 of 4 planned days"


def test_of_two_sounds_the_dose_is_the_client_s_and_paper_is_counted_once(
    program: Program, tmp_path: Path
) -> None:
    (of_k,) = VIEW.programs
    of_s = replace(of_k, sound="S", steps=(replace(of_k.steps[0], id="s-words"),))
    both = replace(VIEW, programs=(of_k, of_s))
    said = [*trials(9, mark="clear"), *trials(4, step="s-words", mark="clear")]
    tried = sitting(1, start="2026-12-08T08:15:04-06:00", trials=said, tallies=[])
    at_school = PaperCount(SITE, december(9), "morning", both.digest, "", 27, 30, "school")
    ticked = replace(at_school, day=december(10), clear=0, tries=0)
    records = log(tried, papers=(at_school, ticked), view=lambda site, plan: both)
    text = PROGRAM.replace("sound: k", "sound: s").replace("key, cow, cup, comb, coin", "sun, sea")
    (folder := tmp_path / "s").mkdir()
    other = program_of(clinic(folder, text) / "finch-10.yaml", None)
    found = [told(one, records, timetable([one], ()), TODAY) for one in (program, other)]
    for one, own in zip(found, ("; /k/ alone 9 tries", "; /s/ alone 4 tries"), strict=True):
        first, paper, *_ = known(one)
        assert "43 tries in 2 sittings, about 22 in each; 1 sitting more without a count" in first
        assert first.endswith(own)
        assert paper == "clear 27 of 30 (90 %) on paper, both sounds together, by school"
    whole = practice_of(records, [], december(1), TODAY)
    assert whole.dose == found[0].dose == found[1].dose


def test_a_note_and_a_baseline_are_visits_too_and_what_is_of_today_is_not(program: Program) -> None:
    assert at_visit(program, log()).since == december(3)
    noted = log(visit_notes=(VisitNote(SITE, december(9), "tired"),), scores=(score(14, 9),))
    assert at_visit(program, noted).since == december(9)


def test_words_that_fail_are_named_as_written(program: Program) -> None:
    one = day(8, 0, 4, item="comb")
    found = at_visit(program, log(one, day(9, 4, 0, item="key")))
    assert "'words': clear in less than half of the tries: comb 0 of 4" in known(found)
    several = at_visit(program, log(one, day(9, 0, 4, item="key")))
    assert any(line.endswith("tries: comb 0 of 4; key 0 of 4") for line in known(several))


def test_without_a_record(program: Program) -> None:
    first, *rest = known(at_visit(program, log()))
    assert (first, rest) == ("nothing from home in the log since 2026-12-03", [])


def test_paper_and_what_was_kept_apart_are_told(program: Program) -> None:
    box = PaperCount(SITE, december(8), "evening", VIEW.digest, "k-words", 17, 20)
    paper = replace(box, slips=2)
    apart = (
        Apart(day(9, 1, 1), "its plan is unknown"),
        Apart(day(10, 1, 1), "its plan is unknown"),
    )
    lines = list(known(at_visit(program, log(papers=(paper,), apart=apart))))
    assert "'words': clear 17 of 20 (85 %) on paper" in lines
    assert "slips in texts and talks, on paper: 2 on 2026-12-08" in lines
    assert "kept apart by `receive`, counted nowhere: 2 sittings: its plan is unknown" in lines


def test_slips_of_what_was_told_or_talked_are_told_without_a_rate(program: Program) -> None:
    talk = {"step": "k-words", "targets": None, "later": True, "ms": 90_000}
    talks = [talk | {"slipped": number} for number in (3, None, 0)]
    box = PaperCount(SITE, december(9), "evening", VIEW.digest, "", 0, 0, slips=2)
    talked = sitting(1, id="8" * 32, start="2026-12-08T08:15:04-06:00", trials=[], tallies=talks)
    lines = list(known(at_visit(program, log(talked, papers=(box,)))))
    where = "on a tablet: 3 on 2026-12-08, 0 on 2026-12-08; on paper: 2 on 2026-12-09"
    assert f"slips in texts and talks, {where}" in lines


def test_a_score_that_is_not_in_the_log_yet_is_taken_in(program: Program) -> None:
    week = log(*WEEK, scores=(score(14, 10),))
    low = at_visit(program, with_heard(week, (score(14, 9),)))
    (sentence,) = proposals(low, with_score=True)
    assert "'words', with this score: Propose staying" in sentence
    assert "you heard 9 of 20 (45 %) correct on 2026-12-14" in sentence  # in the place of 10
    assert low.since == december(3)


def moved(program: Program, *current: int) -> Program:
    return replace(program, current=current)


@pytest.mark.parametrize(
    ("before", "after", "sittings", "sentence"),
    [
        (0, 1, (), "moves on to 'two words', though the figures of 'words' are too few to say"),
        (0, 1, WEEK[:1], "though the figures of 'words' are too few to say"),
        (0, 1, [day(n, 1, 9) for n in (10, 11)], "of 'words' speak for stepping back"),
        (0, 1, WEEK, "though the figures of 'words' speak for your hearing it first"),
        (0, 0, (), ""),
        (1, 0, (), ""),
    ],
)
def test_against_the_figures(
    program: Program, before: int, after: int, sittings: Any, sentence: str
) -> None:
    now = moved(program, before)
    lines = list(against(now, moved(program, after), at_visit(now, log(*sittings))))
    assert len(lines) == bool(sentence)
    assert sentence in "".join(lines)


def test_with_the_figures_nothing_is_said(program: Program) -> None:
    found = at_visit(program, log(*WEEK, scores=(score(7, 18),)))
    assert list(against(program, moved(program, 1), found)) == []


def test_back_against_the_figures(program: Program) -> None:
    now = moved(program, 1)
    found = at_visit(now, GOOD_AT_TWO_WORDS)
    (line,) = against(now, moved(program, 0), found)
    assert "goes back to 'words', though the figures of 'two words' speak for moving on" in line


def test_after_the_last_step_a_thinner_schedule_is_proposed(program: Program) -> None:
    now = moved(program, 1)
    found = at_visit(now, GOOD_AT_TWO_WORDS)
    assert schedules(found) == ["weekly"]
    lines = list(further(now, found))
    assert "`days: [sat]`" in lines[0]
    assert "`practice-site extend finch-10 --to sentence`" in lines[1]
    thin = replace(now, days=("sat",))
    assert [one.schedule for one in asked_of(thin)] == ["weekly"]
    assert "`pause: " in next(iter(further(thin, at_visit(thin, GOOD_AT_TWO_WORDS))))
    assert schedules(at_visit(thin, GOOD_AT_TWO_WORDS)) == ["monthly"]


def test_where_every_round_has_a_model_she_is_told_so(program: Program, tmp_path: Path) -> None:
    # The words of the program are imitated six times; two words have the usual rounds.
    copies = log(day(8, 9, 1, support="imitation"))
    found = at_visit(program, copies)
    (sentence,) = proposals(found)
    assert "home marked 10 tries in the last 14 days, all after a model, so" in sentence
    assert list(further(program, found)) == [
        "'words': all of its rounds have a model; `natural spontaneous` in `rounds:` adds one "
        "without"
    ]
    (folder := tmp_path / "both").mkdir()
    text = PROGRAM.replace("times: 6}", "times: 6}, natural spontaneous")
    both = program_of(clinic(folder, text) / "finch-10.yaml", None)
    assert list(further(both, at_visit(both, copies))) == []
    assert list(further(program, at_visit(program, log()))) == []


def schedules(found: Told) -> list[str]:
    return [step.proposal.schedule for step in found.steps if step.proposal]


def test_a_score_after_a_model_says_nothing_of_words(program: Program) -> None:
    assert list(uncounted(program, (score(14, 17),))) == []
    (line,) = uncounted(program, (score(14, 17, support="imitation"),))
    assert "Add `--no-model`" in line
    tried = score(14, 9, of=10, step="k-two-words", support="imitation")
    assert list(uncounted(program, (tried,))) == [], "the next step's baseline"


def test_pairs_are_told_as_pairs_and_propose_nothing(tmp_path: Path) -> None:
    rounds = "rounds: [{support: imitation, times: 6}]"
    text = PROGRAM.replace(rounds, "contrast: [[key, tea]]")
    paired = program_of(clinic(tmp_path, text) / "finch-10.yaml", None)
    (of_k,) = VIEW.programs
    step = replace(of_k.steps[0], pairs=(("key", "tea"),))
    view = replace(VIEW, programs=(replace(of_k, steps=(step, *of_k.steps[1:])),))
    heard = [
        one | {"chosen": "key", "heard": "key" if n else "tea"} for n, one in enumerate(trials(4))
    ]
    chosen = sitting(1, start="2026-12-08T08:15:04-06:00", trials=heard, tallies=[])
    found = told(
        paired, replace(log(chosen), view=lambda site, plan: view), timetable([paired], ()), TODAY
    )
    assert list(known(found))[1:] == [
        "'words': heard as chosen (by chance: half): key or tea 3 of 4 (75 %)"
    ]
    assert list(proposals(found)) == []


def test_home_and_school_stand_apart_beside_her_score(program: Program) -> None:
    at_school = day(11, 12, 8).model_copy(update={"helper": "school", "id": "f" * 32})
    lines = list(known(at_visit(program, log(*WEEK, at_school, scores=(score(7, 13),)))))
    found = [line for line in lines if "where you heard" in line]
    assert [line.split(":")[1].split(" marked")[0] for line in found] == [" home", " school"]
    (apart,) = (line for line in lines if "of these" in line)
    assert apart == (
        "'words': of these without a model: home 36 of 40 (90 %), school 12 of 20 (60 %)"
    )
    assert not any("of these" in line for line in known(at_visit(program, log(*WEEK))))


PAUSE = "}\npause: [2027-01-10.."  # the bracket is closed below


@pytest.mark.parametrize(
    ("practice", "schedule"),
    [
        ("from: 2026-12-07, visit: 2026-12-14", ""),
        ("days: [sat]", "weekly"),
        ("days: [sat], from: 2027-01-09, visit: 2027-02-06", "weekly"),
        ("days: [sat], from: 2027-01-09, visit: 2027-02-06" + PAUSE + "2027-02-05", "monthly"),
        ("days: [sat], from: 2027-01-09, visit: 2027-02-06" + PAUSE + "2027-01-16", "weekly"),
        ("from: 2027-01-09, visit: 2027-02-06" + PAUSE + "2027-02-05", ""),
    ],
)
def test_how_often_a_program_is_practiced(tmp_path: Path, practice: str, schedule: str) -> None:
    text = PROGRAM.replace("from: 2026-12-07, visit: 2026-12-14", practice)
    text = text.replace("-05}", "-05]").replace("-16}", "-16]")
    program = program_of(clinic(tmp_path, text) / "finch-10.yaml", None)
    assert schedule_of(program, program.written.pause) == schedule


def test_sittings_that_ended_as_too_hard_are_told(program: Program) -> None:
    ended = [one.model_copy(update={"end": "hard"}) for one in WEEK[:2]]
    (line,) = [one for one in known(at_visit(program, log(*ended, *WEEK[2:]))) if "too hard" in one]
    assert line.endswith(", ".join(str(one.started.date()) for one in ended))
    assert not any("too hard" in one for one in known(at_visit(program, log(*WEEK))))


def test_few_clear_tries_on_two_days_are_told_as_a_reason_to_talk(program: Program) -> None:
    low = (day(8, 2, 6), day(9, 3, 5))
    told_ = " ".join(known(at_visit(program, log(*low))))
    assert "hard at home: 5 of 16 (31.2 %) clear on the last two days" in told_
