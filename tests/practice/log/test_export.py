"""The log as tables and as JSON, read back by Python's own readers (RFC 4180, RFC 8259)."""

from __future__ import annotations

import csv
import datetime
import io
import json
from dataclasses import replace

import pytest
from pydantic import TypeAdapter

from builder.model.practice_view import PracticeView
from builder.model.record import Sitting
from builder.phonetics.inventory import parse_sound, sounds
from builder.practice.log.export import Holdings, as_json, counts_csv, scores_csv, trials_csv
from builder.practice.log.paper import PaperCount
from builder.practice.log.rows import Apart
from builder.practice.log.scores import VisitNote, VisitScore
from tests.support.from_home import CODE, EXAMPLE, OTHER_SITE, SITE, VIEW, sitting

SITTINGS = (
    sitting(1, note='=HYPERLINK("x"), “tired”\nand 𝄞'),
    sitting(2, trials=[EXAMPLE["trials"][0] | {"repeat": True, "chosen": "key", "heard": "cow"}]),
)
PAPER = PaperCount(SITE, datetime.date(2026, 12, 3), "evening", VIEW.digest, "k-words", 17, 20)
APART = Apart(sitting(3, site=OTHER_SITE), "no client, “nobody”")
HELD = Holdings(
    {SITE: CODE},
    SITTINGS,
    (PAPER,),
    (APART,),
    lambda site, plan: VIEW if (site, plan) == (SITE, VIEW.digest) else None,
)


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def test_a_trial_is_a_row_with_all_that_the_record_and_its_plan_say() -> None:
    found = rows(trials_csv(HELD))
    trials = [(one, n, trial) for one in SITTINGS for n, trial in enumerate(one.trials, 1)]
    assert len(found) == len(trials)
    for row, (one, number, trial) in zip(found, trials, strict=True):
        own = trial.model_dump(mode="json") | {"repeat": trial.repeat}
        for name, value in own.items():
            assert row[name] == ("" if value is None else str(value).lower()), name
        assert (row["client"], row["sitting"], row["trial"]) == (CODE, one.id, str(number))
        assert (row["day"], row["start"], row["plan"]) == (one.start[:10], one.start, one.plan)
        assert (row["sound"], row["level"], row["text"]) == ("k", "word", trial.item)
        assert (row["time"], row["helper"]) == (one.time, one.helper)
    assert "HYPERLINK" not in trials_csv(HELD)


def test_a_trial_whose_plan_is_lost_is_a_row_all_the_same() -> None:
    lost = Holdings({SITE: CODE}, SITTINGS, (), (), lambda site, plan: None)
    (first, *_) = rows(trials_csv(lost))
    assert (first["step"], first["item"], first["text"], first["sound"]) == (
        "k-words",
        "key",
        "",
        "",
    )


def test_counts_are_a_row_a_step_with_texts_and_paper() -> None:
    found = [
        (row["day"], row["source"], row["step"], row["level"], row["clear"], row["tries"])
        for row in rows(counts_csv(HELD))
    ]
    assert found == [
        ("2026-12-01", "tablet", "k-a-text", "reading", "19", "22"),
        ("2026-12-01", "tablet", "k-words", "word", "1", "1"),
        ("2026-12-02", "tablet", "k-a-text", "reading", "19", "22"),
        ("2026-12-03", "paper", "k-words", "word", "17", "20"),
    ]


def test_tables_go_client_by_client_each_in_the_order_of_time() -> None:
    """Addresses are random: the first client's may come last."""
    last = "z" * len(SITE)
    days = [datetime.date(2026, 12, day) for day in (4, 3)]
    papers = tuple(replace(PAPER, site=one, day=day) for one in (SITE, last) for day in days)
    scores = tuple(
        VisitScore(one, day, "K", "k-words", "imitation", 17, 20)
        for one in (SITE, last)
        for day in days
    )
    codes = {SITE: "wren-01", last: "badger-02"}
    held = replace(HELD, codes=codes, sittings=(), papers=papers, scores=scores)
    order = [(code, f"2026-12-0{day}") for code in ("badger-02", "wren-01") for day in (3, 4)]
    assert [(row["client"], row["day"]) for row in rows(counts_csv(held))] == order
    assert [(row["client"], row["date"]) for row in rows(scores_csv(held))] == order


def test_the_json_holds_everything_as_it_was() -> None:
    whole = json.loads(as_json(HELD))
    (client,) = whole["clients"]
    assert (whole["log"], client["client"], client["site"]) == (1, CODE, SITE)
    assert tuple(map(Sitting.model_validate, client["sittings"])) == SITTINGS
    (paper,) = client["paper"]
    assert PaperCount(SITE, **paper | {"day": datetime.date.fromisoformat(paper["day"])}) == PAPER
    plans = TypeAdapter(dict[str, PracticeView]).validate_python(whole["plans"])
    assert plans == {VIEW.digest: VIEW}
    (apart,) = whole["apart"]
    assert Sitting.model_validate(apart["sitting"]) == APART.sitting
    assert apart["why"] == APART.why


def test_scores_of_visits_stand_in_the_json() -> None:
    score = VisitScore(SITE, datetime.date(2026, 12, 3), "K", "k-words", "imitation", 17, 20)
    held = replace(HELD, scores=(score, replace(score, site=OTHER_SITE)))
    (client,) = json.loads(as_json(held))["clients"]
    (found,) = client["scores"]
    assert (found["date"], found["step"], found["correct"], found["of"], found["probe"]) == (
        *("2026-12-03", "k-words", 17, 20, False),
    )


@pytest.mark.parametrize(
    ("symbol", "written"), [("SH", "sh"), ("TH", "/θ/"), ("DH", "/ð/"), ("AAR", "ar"), ("Q", "Q")]
)
def test_a_sound_is_written_as_a_program_names_it(symbol: str, written: str) -> None:
    score = VisitScore(SITE, datetime.date(2026, 12, 3), symbol, "a-step", "imitation", 1, 2)
    (row,) = rows(scores_csv(replace(HELD, scores=(score,))))
    (program,) = VIEW.programs
    view = replace(VIEW, programs=(replace(program, sound=symbol),))
    seen = replace(HELD, view=lambda _site, _plan: view)
    told = {row["sound"], *(one["sound"] for one in rows(counts_csv(seen)) if one["level"])}
    told |= {one["sound"] for one in rows(trials_csv(seen))}
    assert told == {written}
    if symbol != "Q":
        assert parse_sound(written) == sounds()[symbol]


def test_notes_of_visits_stand_in_the_json_alone_and_scores_in_a_table() -> None:
    day = datetime.date(2026, 12, 3)
    score = VisitScore(SITE, day, "K", "k-words", "spontaneous", 7, 10, probe=True, note="=1+1")
    held = replace(HELD, scores=(score,), notes=(VisitNote(SITE, day, "=2+2"),))
    (client,) = json.loads(as_json(held))["clients"]
    assert client["visit_notes"] == [{"date": "2026-12-03", "note": "=2+2"}]
    assert rows(scores_csv(held)) == [
        {
            "client": CODE,
            "date": "2026-12-03",
            "sound": "k",
            "step": "k-words",
            "support": "spontaneous",
            "probe": "true",
            "correct": "7",
            "of": "10",
        }
    ]
