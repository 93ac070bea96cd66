"""A client's whole progress, from an invented client's weeks."""

from __future__ import annotations

import datetime
import re
from dataclasses import replace
from functools import cache

import pytest

from builder.checks.pause import pauses_of
from builder.practice.figures.intervals import Rate
from builder.practice.figures.own_judgment import Judged
from builder.practice.figures.pairs import Told
from builder.practice.figures.planned import timetable
from builder.practice.visit.told import told
from builder.progress import texts
from builder.progress.gather import Progress, progress_of
from builder.progress.lines import lines
from builder.progress.series import MOST_DAYS
from tests.support.invented import BADGER, EVERYONE, HERON, OTTER, TODAY, Invented, day


@cache
def progress(who: Invented, since: datetime.date | None = None) -> Progress:
    found = progress_of(who.client, who.log(), TODAY, since, lambda _item: True)
    assert found
    return found


def test_moves_and_the_sentence() -> None:
    (section,) = progress(HERON).sections
    assert [texts.move_told(move, section) for move in section.moves] == [
        "2026-11-23: moved to 'words' from 'with a vowel' (session of that day)",
        "2026-12-14: moved to 'two words' from 'words' (session of that day)",
    ]
    assert section.sentence == (
        "/k/ initial in words, picture naming without a model: 17 of 20 (85 %, 95 % interval 64 to "
        "95 %); in phrases, after a model: 8 of 10 (80 %, 95 % interval 49 to 94 %) on 2026-12-14; "
        "moved to phrases."
    )


def test_every_try_of_the_log_is_in_one_step_and_one_week() -> None:
    for who in EVERYONE:
        found, log = progress(who), who.log()
        tries = sum(one.tries for one in log.tries)
        assert sum(rate.tries for s in found.sections for _, _, rate in s.totals) == tries
        assert sum(week.tries for week in found.practice.weeks) == tries
        assert sum(week.sittings for week in found.practice.weeks) == found.practice.dose.sittings


def test_two_sounds_are_a_section_each_with_their_own_criteria() -> None:
    first, second = progress(OTTER).sections
    assert (first.heading, second.heading) == ("/s/ medial and final", "/ʃ/ initial")
    assert texts.criteria_told(second.criteria).startswith("Move on: 90 % or more on 2 days")
    assert [move.after for move in first.moves] == [("s-two-words",), ("s-words",)]
    assert "back to 'words'" in texts.move_told(first.moves[1], first)


def test_many_days_become_weeks() -> None:
    days = {one.day for one in OTTER.log().tries}
    assert len(days) > MOST_DAYS
    assert [section.by for section in progress(OTTER).sections] == ["week", "day"]
    rows = texts.over_time(progress(OTTER).sections[0])
    assert rows[0].when == "week of 2026-10-19"
    assert rows[0].rate.tries == 84


def test_the_proposal_is_that_of_a_visit_whatever_is_shown() -> None:
    for who in EVERYONE:
        client, log = who.client, who.log()
        days = timetable(client.programs, pauses_of(client))
        for since in (None, TODAY - datetime.timedelta(1)):
            found = progress_of(client, log, TODAY, since)
            sections = found.sections if found else ()
            for program, section in zip(client.programs, sections, strict=not since):
                steps = told(program, log, days, TODAY).steps
                assert section.proposals == tuple((one.name, one.proposal) for one in steps)
    lines_ = list(lines(progress(HERON)))
    at = lines_.index(f"  {texts.PROPOSED}")
    assert lines_[at + 1].startswith("    'two words': Too little to say: ")


def test_a_step_of_pairs_alone_has_no_proposal() -> None:
    text = HERON.programs["heron-07.yaml"].replace(
        "items: [my key, my cow, my cup, a comb, a coin, some corn]}", "items: [my key]}"
    )
    pairs = "{name: words, level: word, contrast: [[key, tea], [cape, tape]]}"
    text = re.sub(r"\{name: words, .*", pairs, text).replace("current: two words", "current: words")
    paired = replace(HERON, programs={"heron-07.yaml": text}).client
    found = progress_of(paired, HERON.log(), TODAY)
    assert found
    assert [section.proposals for section in found.sections] == [()]


def test_steps_at_the_same_time_have_each_a_sentence_where_there_is_no_score() -> None:
    (section,) = progress(BADGER).sections
    assert len(section.lanes) == 2
    assert section.sentence.count("as the client marked it") == 2
    assert section.who == "the client"


def test_since_leaves_out_what_is_older_and_keeps_where_it_came_from() -> None:
    found = progress(HERON, day(11, 23))
    (section,) = found.sections
    assert found.practice.weeks[0].monday == day(11, 23)
    assert next(move.before for move in section.moves) == ("k-with-a-vowel",)
    assert {step.name for step, _, _ in section.totals} == {"words"}
    assert progress_of(HERON.client, HERON.log(), TODAY, TODAY + datetime.timedelta(1)) is None


def test_a_program_that_is_gone_still_has_its_section() -> None:
    first, _ = OTTER.programs
    left = replace(OTTER, programs={first: OTTER.programs[first]})
    found = progress_of(left.client, OTTER.log(), TODAY)
    assert found
    gone = found.sections[-1]
    assert gone.heading == "/ʃ/ (no program now)"
    assert gone.criteria.advance.percent == 90
    assert [step.name for step in gone.steps] == ["sh words with sh"]


def test_two_who_listened_have_a_row_each() -> None:
    log = HERON.log()
    at_school = tuple(
        one.model_copy(update={"helper": "school"}) if one.time == "evening" else one
        for one in log.sittings
    )
    found = progress_of(HERON.client, replace(log, sittings=at_school), TODAY)
    assert found
    (section,) = found.sections
    heads, rows = texts.beside_rows(section)
    assert heads[4] == "Marked by"
    assert {row[4] for row in rows} == {"home", "school", "-"}
    assert texts.listeners_told(section).startswith("Marked clear")
    assert section.who == "home and school"


def test_no_name_stands_anywhere() -> None:
    assert any("Anna" in note for note in HERON.notes.values())
    assert "Anna" not in "\n".join(lines(progress(HERON)))
    assert "[…] helped" in "\n".join(lines(progress(HERON)))


def test_without_a_record_nothing_is_said_of_practice() -> None:
    seen = replace(HERON.log(), sittings=(), papers=())
    found = progress_of(HERON.client, seen, TODAY)
    assert found
    assert texts.in_all(found) == "In all: no record of practice."
    assert "no record; 4 days planned" in str(found.practice.weeks[0])
    assert found.sections[0].sentence.endswith("moved to phrases.")


@pytest.mark.parametrize(
    ("told", "sentence"),
    [
        (
            Told("k-words", ("key", "cow"), Rate(12, 20), (("key", "cow", 7), ("cow", "key", 1))),
            "key / cow: heard as chosen 12 of 20 (60 %, 95 % interval 39 to 78 %), not surely "
            "better than guessing; key heard as cow 7 times; cow heard as key once",
        ),
        (
            Told("k-words", ("key", "cow"), Rate(20, 20), ()),
            "key / cow: heard as chosen 20 of 20 (100 %, 95 % interval 84 to 100 %)",
        ),
    ],
)
def test_a_pair_in_words(told: Told, sentence: str) -> None:
    (section,) = progress(HERON).sections
    assert texts.pair_told(told, section) == sentence


def test_what_the_client_judged_is_a_line() -> None:
    found = progress(HERON)
    (section,) = found.sections
    asked = replace(found, sections=(replace(section, judged=Judged(Rate(1, 2), None)),))
    line = "  Judged right by the client: where the helper heard clear 1 of 2."
    assert line in list(lines(asked))
    assert not any("Judged right" in line for line in lines(found))
