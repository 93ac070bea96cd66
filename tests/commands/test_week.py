"""The week's work in one command: whoever is due, and nobody stopped by another one's faults."""

from __future__ import annotations

import argparse
from pathlib import Path

import pytest

from builder.__main__ import main
from builder.commands import print_command, week_command
from builder.problems import UsageError
from tests.commands.test_folder_report import programs
from tests.support.clinics import PROGRAM
from tests.support.stock import copy_stock

__all__ = ["programs"]  # a fixture


@pytest.fixture(autouse=True)
def _monday(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1796644800")  # December 7, 2026


def add(programs: Path, code: str, *changes: tuple[str, str]) -> None:
    text = PROGRAM.replace("finch-10", code).replace("visit: 2026-12-14", "visit: 2026-12-11")
    for old, new in changes:
        text = text.replace(old, new)
    (programs / f"{code}.yaml").write_text(text)


def test_one_faulty_client_stops_only_itself(
    programs: Path, stock: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    copy_stock(stock, programs.parent)
    (programs / "finch-10.yaml").unlink()
    helper = ("age: 7", "age: 7\nvoice: helper")
    add(programs, "wren-11", helper)
    add(programs, "lark-12", ("cow, cup", "tea, cup"))  # without the sound
    add(programs, "crow-13", ("current: words\n", ""))
    add(programs, "owl-14", ("from: 2026-12-07, visit: 2026-12-11", "visit: 2026-12-14"))
    assert main(["week"]) == 1
    said = capsys.readouterr()
    assert said.out.startswith("Due until Friday, December 11: lark-12, wren-11\n")
    assert "lark-12: left as it was" in said.err
    assert "'tea' is pronounced" in said.err
    assert "crow-13: it cannot be read, so whether it is due is not known. crow-13.yaml" in said.err
    desk = sorted(file.name for file in (programs.parent / "desk").iterdir())
    assert desk == ["list for the desk.pdf", "sheets to print.pdf", "wren-11 2026-12-07.pdf"]
    assert len(list((programs.parent / "public").glob("*/practice.json"))) == 1


def test_a_build_that_fails_is_told_and_the_next_one_is_made(
    programs: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    (programs / "finch-10.yaml").unlink()
    for code in ("wren-11", "lark-12"):
        add(programs, code)
    printed: list[str] = []

    def build(files: list[Path], *_: object) -> tuple[tuple[str, ...], int]:
        if "lark" in files[0].name:
            raise UsageError("the disk is away.")
        return ("public/site",), 0

    def sheets(args: argparse.Namespace) -> int:
        printed.extend(args.files)
        return 0

    monkeypatch.setattr(week_command, "build_changed", build)
    monkeypatch.setattr(print_command, "run", sheets)
    assert main(["week"]) == 1
    said = capsys.readouterr()
    assert "the disk is away.\nlark-12: left as it was\n" in said.err
    assert printed == ["programs/wren-11.yaml"]


def test_nobody_is_due(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (programs / "finch-10.yaml").write_text(PROGRAM.replace("from: 2026-12-07, ", ""))
    assert main(["week"]) == 0
    assert capsys.readouterr().out == "Due until Friday, December 11: nobody\n"
    assert not (programs.parent / "desk").exists()


def test_whose_visit_is_past_is_left_out_calmly(
    programs: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    (programs / "finch-10.yaml").unlink()
    helper = ("age: 7", "age: 7\nvoice: helper")
    add(programs, "wren-11", helper)
    add(programs, "lark-12", helper, ("visit: 2026-12-11", "visit: 2026-12-16"))
    assert main(["week"]) == 0
    assert "Visit past" not in capsys.readouterr().out
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1797249600")  # December 14, 2026
    capsys.readouterr()
    assert main(["week"]) == 0
    said = capsys.readouterr()
    assert said.out.startswith("Due until Friday, December 18: lark-12\n")
    assert said.out.endswith(
        "Visit past, so left out: wren-11 (Dec 11). `practice-site visit wren-11 --next DAY` "
        "writes the next one.\n"
    )
    assert "visit-past" not in said.err
    assert "remedy" not in said.err
    desk = {file.name for file in (programs.parent / "desk").iterdir()}
    assert desk == {"list for the desk.pdf", "sheets to print.pdf", "lark-12 2026-12-07.pdf"}
    add(programs, "crow-13", helper, ("visit: 2026-12-11", "visit: 2025-12-09"))
    add(programs, "lark-12", ("cow, cup", "tea, cup"), ("visit: 2026-12-11", "visit: 2026-12-16"))
    assert main(["week"]) == 1  # one who is due has a fault
    told = "crow-13 (Dec 9, 2025), wren-11 (Dec 11). `practice-site visit CODE --next DAY`"
    assert told in capsys.readouterr().out.splitlines()[-1]
