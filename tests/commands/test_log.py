"""The log as a therapist handles it: what stood on paper goes in, tables come out."""

from __future__ import annotations

import csv
import datetime
import io
import json
import stat
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from builder.__main__ import main
from builder.practice import kept_views
from builder.practice.log.rows import opened
from builder.workspace.folder import Workspace
from tests.commands.test_receive import saved, site
from tests.support.from_home import VIEW, as_written, trials

__all__ = ["site"]  # a fixture
WORDS = next(step for step in VIEW.programs[0].steps if step.current and not step.passage)


@pytest.fixture
def past(site: str, monkeypatch: pytest.MonkeyPatch) -> str:
    """A week later: of the program's sheet Monday to Thursday are past, the rest is not."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1796904000")  # Thursday, December 10, 2026
    return site


def typed(monkeypatch: pytest.MonkeyPatch, *lines: str) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{line}\n" for line in lines)))


def test_paper_is_asked_for_box_by_box(
    past: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    tablet = as_written(1, site=past, start="2026-12-07T08:00:00-06:00", trials=trials(9))
    assert main(["receive", saved("m.txt", tablet)]) == 0
    capsys.readouterr()
    typed(monkeypatch, "17 of 20", "21 of 20", "12/20", "", "x", "end")
    assert main(["receive", "--paper", "finch-10"]) == 0
    said = capsys.readouterr().out
    assert "    Mon 2026-12-07 morning: 31 tries are in the log, counted on a tablet\n" in said
    assert "    Mon 2026-12-07 evening: " in said
    assert "21 right of 20 cannot be." in said
    assert said.endswith("finch-10: 3 boxes entered\n")
    assert "of texts and talks the slips" in said
    typed(monkeypatch, "-", "18 of 20, 2 slips")
    assert main(["receive", "--paper", "finch-10"]) == 0
    assert "evening (in the log: 17 of 20; `-` takes it out): " in capsys.readouterr().out
    assert main(["log", "export", "--counts"]) == 0
    table = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert [(r["day"], r["time"], r["source"], r["clear"], r["tries"]) for r in table] == [
        ("2026-12-07", "morning", "tablet", "19", "22"),
        ("2026-12-07", "morning", "tablet", "9", "9"),
        ("2026-12-08", "morning", "paper", "18", "20"),
    ]
    assert main(["log", "export", "--json"]) == 0
    (client,) = json.loads(capsys.readouterr().out)["clients"]
    assert [box["slips"] for box in client["paper"]] == [2, None]


def test_paper_of_a_client_who_practices_alone_is_told_as_the_clients(
    past: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    file = Path("programs/finch-10.yaml")
    file.write_text(file.read_text().replace("age: 7", "age: 34\nhelper: self"))
    typed(monkeypatch, "17 of 20", "18 of 20", "end")
    assert main(["receive", "--paper", "finch-10"]) == 0
    assert capsys.readouterr().out.startswith("finch-10, what stands in each box")
    assert main(["progress", "finch-10"]) == 0
    said = capsys.readouterr().out
    assert "the client marked 40 tries in the last 14 days, all on paper" in said
    assert "home" not in said


def test_an_earlier_sheet_is_named_by_its_first_day(
    site: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert main(["receive", "--paper", "finch-10"]) == 2
    assert "no day of this program's sheet is past" in capsys.readouterr().err
    typed(monkeypatch, "1 of 2")
    assert main(["receive", "--paper", "finch-10", "--from", "2026-11-30"]) == 0
    assert "Mon 2026-11-30 morning: " in capsys.readouterr().out
    for day in ("2026-12-05", "yesterday", "2020-01-01"):
        assert main(["receive", "--paper", "finch-10", "--from", day]) == 2
    assert main(["receive", "--paper", "finch-10", "m.txt"]) == 2
    assert main(["receive", "--paper", "owl-99"]) == 2


def test_paper_of_a_client_without_a_published_plan_is_not_taken(
    past: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    for file in (Path(".practice") / kept_views.FOLDER / past).iterdir():
        file.unlink()
    typed(monkeypatch, "17 of 20")
    assert main(["receive", "--paper", "finch-10"]) == 2
    assert "no plan was published yet" in capsys.readouterr().err


def test_an_export_is_private_and_never_published(
    site: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["log", "export"]) == 2
    assert "no log yet" in capsys.readouterr().err
    assert main(["receive", saved("m.txt", as_written(1, site=site))]) == 0
    assert main(["log", "export", "--json", "--to", "log.json"]) == 0
    assert stat.S_IMODE(Path("log.json").stat().st_mode) == 0o600
    assert json.loads(Path("log.json").read_text("utf-8"))["clients"][0]["client"] == "finch-10"
    Path("public/sub").mkdir(parents=True)
    Path("public/practice-site.json").write_text("{}")
    assert main(["log", "export", "--to", "public/sub/log.csv"]) == 2
    assert main(["log", "export", "--to", "nowhere/log.csv"]) == 2
    assert main(["log", "export", "owl-99"]) == 2
    said = capsys.readouterr().err
    assert "this folder is published" in said
    assert "owl-99: no client has this code" in said
    assert not [*Path("public/sub").iterdir()]


def test_a_client_may_be_named(site: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["receive", saved("m.txt", as_written(1, site=site))]) == 0
    capsys.readouterr()
    assert main(["log", "export", "finch-10"]) == 0
    (head, *rows) = capsys.readouterr().out.splitlines()
    assert head.startswith("client,sitting,plan,day,start,time,helper,trial,sound,level,step,item")
    assert len(rows) == 2


def test_where_two_listen_the_sheet_is_named(
    past: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    file = Path("programs/finch-10.yaml")
    file.write_text(file.read_text() + "helper: [home, other home]\n")
    tablet = as_written(1, site=past, start="2026-12-07T18:00:00-06:00", time="evening")
    assert main(["receive", saved("m.txt", tablet)]) == 0
    assert main(["receive", "--paper", "finch-10"]) == 2
    said = capsys.readouterr().err
    assert "Say whose it is: `--helper home` or `--helper other-home`." in said
    typed(monkeypatch, "5 of 10", "17 of 20", "end")
    assert main(["receive", "--paper", "finch-10", "--helper", "other-home"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("finch-10, the sheet of the other home, what stands in each box")
    assert "Mon 2026-12-07 evening: tries" not in said, "another home's tablet is another sitting"
    typed(monkeypatch, "8 of 10", "end")
    assert main(["receive", "--paper", "finch-10", "--helper", "home"]) == 0
    assert "evening: 23 tries are in the log, counted on a tablet" in capsys.readouterr().out
    assert main(["log", "export", "--counts"]) == 0
    table = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    rows = [(r["time"], r["source"], r["helper"], r["clear"], r["tries"]) for r in table]
    assert [row for row in rows if row[1] == "paper"] == [
        ("morning", "paper", "home", "8", "10"),
        ("morning", "paper", "other home", "5", "10"),
        ("evening", "paper", "other home", "17", "20"),
    ]
    assert {row[2] for row in rows if row[1] == "tablet"} == {"home"}
    assert main(["receive", "--helper", "home", "m.txt"]) == 2
    with pytest.raises(SystemExit):
        main(["receive", "--paper", "finch-10", "--helper", "grandma"])
    assert "write home, other-home or school" in capsys.readouterr().err


def school_too(own: str) -> None:
    """At school somebody listens as well, on days or at times of its own."""
    file = Path("programs/finch-10.yaml")
    text = file.read_text().replace("practice: {", f"practice: {{school: {own}, ")
    file.write_text(text + "helper: [home, school]\n")


def test_a_sheet_s_boxes_are_on_the_days_of_who_listens_there(
    past: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    # By a printed calendar: 7 December 2026 is a Monday.
    school_too("{days: [wed]}")
    typed(monkeypatch, "5 of 10", "end")
    assert main(["receive", "--paper", "finch-10", "--helper", "school"]) == 0
    asked = capsys.readouterr().out
    assert "Wed 2026-12-09 morning: " in asked
    assert "2026-12-07" not in asked
    typed(monkeypatch, "5 of 10", "end")
    assert main(["receive", "--paper", "finch-10", "--helper", "home"]) == 0
    assert "Mon 2026-12-07 morning: " in capsys.readouterr().out


def test_a_sheet_s_boxes_are_at_the_times_of_who_listens_there(
    past: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    school_too("{times: [midday]}")
    typed(monkeypatch, "5 of 10", "6 of 10", "end")
    assert main(["receive", "--paper", "finch-10", "--helper", "school"]) == 0
    asked = capsys.readouterr().out
    assert "Mon 2026-12-07 midday: " in asked
    assert "Tue 2026-12-08 midday: " in asked
    assert "morning" not in asked
    typed(monkeypatch, "end")
    assert main(["receive", "--paper", "finch-10", "--helper", "home"]) == 0
    assert "Mon 2026-12-07 morning: " in capsys.readouterr().out
    assert main(["check", "finch-10"]) == 0
    assert "    times: home morning, evening; school midday\n" in capsys.readouterr().out


def test_paper_of_two_sounds_is_asked_for_once_and_is_of_both(
    past: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    further = replace(VIEW.programs[0], sound="S", steps=(replace(WORDS, id="s-words"),))
    both = replace(VIEW, programs=(replace(VIEW.programs[0], steps=(WORDS,)), further))
    kept_views.keep(Workspace(Path.cwd()), past, both, datetime.date(2026, 12, 7))
    other = Path("programs/finch-10.yaml").read_text().replace("sound: k", "sound: s")
    for old, new in (("[key, cow, cup, comb, coin]", "[sun, sea]"), ("my key", "my sun")):
        other = other.replace(old, new)
    Path("programs/finch-10-s.yaml").write_text(other)
    typed(monkeypatch, "27 of 30", "end")
    assert main(["receive", "--paper", "finch-10"]) == 0
    for name in ("finch-10.yaml", "finch-10-s.yaml"):
        typed(monkeypatch, "end")
        assert main(["receive", "--paper", f"programs/{name}"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("finch-10, all sounds together, what stands in each box (as in")
    assert said.count("Mon 2026-12-07 morning (in the log: 27 of 30; `-` takes it out)") == 2
    with opened(Path(".practice")) as log:
        (box,) = log.papers(past)
    assert (box.plan, box.step, box.clear, box.tries) == (both.digest, "", 27, 30)


def test_what_was_typed_before_it_is_broken_off_is_kept_and_told(
    past: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    answers = iter(["17 of 20", "x"])

    def asked(_box: str) -> str:
        if (answer := next(answers, None)) is None:
            raise KeyboardInterrupt
        return answer

    monkeypatch.setattr("builtins.input", asked)
    assert main(["receive", "--paper", "finch-10"]) == 130
    said = capsys.readouterr().out
    assert "finch-10: stopped; 2 boxes entered until then, which the log keeps" in said
    with opened(Path(".practice")) as log:
        assert [(box.clear, box.tries) for box in log.papers(past)] == [(17, 20), (0, 0)]


def test_who_does_not_listen_has_no_sheet(past: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["receive", "--paper", "finch-10", "--helper", "school"]) == 2
    assert "does not name school, so there is no such sheet" in capsys.readouterr().err


def test_where_texts_alone_are_practiced_slips_are_asked_for(
    past: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    steps = tuple(step for step in VIEW.programs[0].steps if step.passage)
    texts = replace(VIEW, programs=(replace(VIEW.programs[0], steps=steps),))
    kept_views.keep(Workspace(Path.cwd()), past, texts, datetime.date(2026, 12, 7))
    typed(monkeypatch, "17 of 20", "2 slips", "end")
    assert main(["receive", "--paper", "finch-10"]) == 0
    said = capsys.readouterr().out
    assert "what stands in each box (as in `3 slips`; `x`: ticked" in said
    assert "Texts and talks alone were practiced then. Type it as in `3 slips`." in said
    with opened(Path(".practice")) as log:
        (box,) = log.papers(past)
    assert (box.step, box.tries, box.slips) == ("", 0, 2)


def test_paper_of_a_group_is_asked_for_one_after_another(
    past: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    clinic = Path("programs/clinic.yaml")
    clinic.write_text(clinic.read_text() + "groups: {tuesday: [wren-01, finch-10]}\n")
    other = Path("programs/finch-10.yaml").read_text().replace("finch-10", "wren-01")
    Path("programs/wren-01.yaml").write_text(other)
    typed(monkeypatch, "17 of 20", "18 of 20", "end")
    assert main(["receive", "--paper", "tuesday"]) == 2
    said = capsys.readouterr()
    assert "wren-01: no plan was published yet" in said.err
    assert "finch-10: 1 box entered" in said.out
    assert main(["log", "export", "tuesday", "--counts"]) == 0
    assert "finch-10,2026-12-07,morning,paper" in capsys.readouterr().out
