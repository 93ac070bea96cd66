"""Monday morning: every client on a line, read once and kept."""

from __future__ import annotations

import datetime
import json
import stat
from pathlib import Path
from typing import Any

import pytest

from builder.__main__ import main
from builder.caseload import written
from builder.caseload.facts import Written
from builder.practice.log.rows import opened
from builder.practice.log.scores import VisitNote, VisitScore
from tests.commands.test_folder_report import programs, publish
from tests.commands.test_receive import saved, site
from tests.support.clinics import PROGRAM
from tests.support.from_home import as_written, trials

__all__ = ["programs", "site"]  # fixtures


@pytest.fixture(autouse=True)
def _thursday(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1796904000")  # December 10, 2026


def lines(capsys: pytest.CaptureFixture[str], *options: str) -> list[str]:
    capsys.readouterr()
    assert main(["caseload", *options]) == 0
    return capsys.readouterr().out.splitlines()


def records(capsys: pytest.CaptureFixture[str], *options: str) -> list[dict[str, Any]]:
    found = json.loads("\n".join(lines(capsys, *options, "--json")))
    assert isinstance(found, list)
    return found


def test_practice_comes_from_the_log(site: str, capsys: pytest.CaptureFixture[str]) -> None:
    start = "2026-12-08T08:00:00-06:00"
    nothing = as_written(1, site=site, start=start, trials=[], tallies=[])
    tried = as_written(2, site=site, start="2026-12-07T08:00:00-06:00", trials=trials(9))
    assert main(["receive", saved("m.txt", tried, nothing)]) == 0
    assert lines(capsys) == [
        "client    sounds  step   since  last   next        practiced    proposal  waits",
        "finch-10  k       words  Dec 3  Dec 3  Mon Dec 14  1 of 3 days  -         not published",
        "1 client; something waits for 1. Practiced: the last 14 days.",
    ]
    (row,) = records(capsys)
    assert row["practiced"] == {"days": 1, "planned": 3, "other_days": 0}
    assert row["last_practiced"] == "2026-12-08"


def test_the_last_visit_comes_from_the_log_too(
    site: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with opened(Path(".practice")) as log, log.writing():
        log.add_client(site, "finch-10")
        for day in (8, 9):
            date = datetime.date(2026, 12, day)
            log.put_score(VisitScore(site, date, "k", "k-words", "imitation", 17, 20), "2026-12-09")
    (row,) = records(capsys)
    assert (row["last_visit"], row["since"]) == ("2026-12-09", "2026-12-03")
    with opened(Path(".practice")) as log, log.writing():
        log.put_visit_note(VisitNote(site, datetime.date(2026, 12, 10), "tired"), "2026-12-10")
    assert records(capsys)[0]["last_visit"] == "2026-12-10"


def test_a_proposal_comes_from_the_log(site: str, capsys: pytest.CaptureFixture[str]) -> None:
    with opened(Path(".practice")) as log, log.writing():
        log.add_client(site, "finch-10")
        for day in (6, 8, 9):
            date = datetime.date(2026, 12, day)
            score = VisitScore(site, date, "K", "k-words", "spontaneous", 18, 20)
            log.put_score(score, "2026-12-09")
    (row,) = records(capsys)
    (found,) = row["proposals"]
    assert (found["step"], found["move"], found["ready"]) == ("words", "on", False)
    assert found["sentence"].startswith("Propose moving on: you heard 18 of 20 (90 %)")
    assert " on  " in lines(capsys)[1]


def test_one_that_cannot_be_read_stops_nobody(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (programs / "finch-10.yaml").write_text(PROGRAM.replace("sound: k", "sound: fill-in"))
    (programs / "crow-11.yaml").write_text("client: crow-11\nprogram: {")
    (programs / "lark-12.yaml").write_text(
        PROGRAM.replace("finch-10", "lark-12").replace("age: 7", "age: fill-in")
    )
    found = {row["client"]: row for row in records(capsys)}
    assert found["lark-12"]["waits"][0] == "1 fill-in"
    assert found["lark-12"]["sounds"] == ["k"]
    assert found["finch-10"]["waits"] == ["cannot be read", "1 fill-in"]
    assert found["crow-11"]["waits"] == ["cannot be read"]
    assert "crow-11.yaml" in found["crow-11"]["trouble"]


def test_what_lies_around_a_program(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = programs / "finch-10.yaml"
    file.write_text(PROGRAM.replace("reads: yes", "reads: no").replace("coin]", "kindness]"))
    (programs / "takes").mkdir()
    for name in ("key.wav", "cow-2.m4a"):
        (programs / "takes" / name).touch()
    publish(file, "finch-10")
    (row,) = records(capsys)
    assert row["without_picture"] == ["comb", "kindness"]
    assert row["waits"] == ["no sheet", "2 pictures missing", "3 recordings missing"]
    file.write_text(file.read_text().replace("kindness", "coin"))
    (row,) = records(capsys)
    assert row["waits"] == ["site to build", "1 picture missing", "3 recordings missing"]


def test_what_was_read_is_kept_and_is_private(
    programs: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    file = programs / "finch-10.yaml"
    file.write_text(PROGRAM)
    once = records(capsys)
    kept = programs.parent / ".practice" / written.KEPT
    assert stat.S_IMODE(kept.stat().st_mode) == 0o600
    read: list[str] = []
    real = written._read

    def counted(code: str, *rest: Any) -> Written:
        read.append(code)
        return real(code, *rest)

    monkeypatch.setattr(written, "_read", counted)
    assert records(capsys) == once
    assert read == []
    file.write_text(PROGRAM.replace("2026-12-14", "2026-12-15"))
    assert records(capsys)[0]["next_visit"] == "2026-12-15"
    kept.write_text('{"a": [1]}')  # damaged: read again
    assert records(capsys)[0]["next_visit"] == "2026-12-15"
    assert read == ["finch-10", "finch-10"]


def test_filters_and_what_they_do_not_take(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (programs / "finch-10.yaml").write_text(PROGRAM)
    assert len(records(capsys, "--due", "4", "--sound", "/k/", "--waits")) == 1
    assert records(capsys, "--due", "3") == []
    assert records(capsys, "--sound", "sh") == []
    for options, told in (
        (("--sound", "sh"), "There is no client who practices sh (1 client in all)."),
        (("--due", "1"), "There is no client whose next visit is within 1 day (1 client in all)."),
        (
            ("--due", "0", "--waits"),
            "There is no client whose next visit is today and for whom something waits (1 client "
            "in all).",
        ),
    ):
        assert lines(capsys, *options) == [told]
    assert main(["caseload", "--sound", "qq"]) == 2


def test_the_page_is_private_and_goes_with_a_client_who_is_forgotten(
    site: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    (page,) = lines(capsys, "--page", "--quiet")
    file = Path(page)
    assert file.parent.name == ".practice"
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert ">finch-10</th>" in file.read_text("utf-8")
    monkeypatch.setattr("builtins.input", lambda _asked: "finch-10")
    assert main(["log", "forget", "finch-10"]) == 0
    assert not file.exists()


def test_without_a_client(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (programs / "finch-10.yaml").unlink()
    assert lines(capsys) == ["Clients: none yet"]
    assert records(capsys) == []


def test_a_group_alone(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    clinic = programs / "clinic.yaml"
    for code in ("wren-01", "owl-03"):
        (programs / f"{code}.yaml").write_text(f"client: {code}\n")
    clinic.write_text(clinic.read_text() + "groups: {tuesday: [wren-01, finch-10]}\n")
    found = [one["client"] for one in records(capsys, "--group", "tuesday")]
    assert found == ["wren-01", "finch-10"]  # as the clinic file has them
    assert [one["client"] for one in records(capsys)] == ["finch-10", "owl-03", "wren-01"]
    assert lines(capsys, "--group", "tuesday")[-1].startswith("2 of 3 clients")
    assert lines(capsys, "--group", "tuesday", "--due", "3") == [
        "There is no client in the group tuesday whose next visit is within 3 days (3 clients in "
        "all)."
    ]
    assert main(["caseload", "--group", "friday"]) == 2
    assert "friday: there is no such group" in capsys.readouterr().err
