"""What a therapist types when a family has sent something, and what is said."""

from __future__ import annotations

import datetime
import io
import os
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from builder.__main__ import main
from builder.practice import kept_views
from builder.practice.log.rows import opened
from builder.workspace.addresses import secret, slug
from builder.workspace.folder import Workspace
from tests.support.clinics import clinic
from tests.support.from_home import VIEW, as_written, trials
from tests.support.handed_over import of_empty_texts, part, written
from tests.support.photographs import drawn
from tests.support.places import ROOT

BUILT = datetime.datetime(2026, 12, 1, 12).timestamp()


@pytest.fixture
def site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """The site of finch-10, whose plan was published, in a folder that is the current one."""
    clinic(tmp_path)
    monkeypatch.chdir(tmp_path)
    space = Workspace(tmp_path)
    own = slug(secret(space), "finch-10")
    kept_views.keep(space, own, VIEW)
    os.utime(space.hidden / kept_views.FOLDER / own / f"{VIEW.digest}.json", (BUILT, BUILT))
    return own


def message(*sittings: dict[str, Any]) -> str:
    """The message of a tablet."""
    return "\n".join(written(list(sittings))["lines"])


def saved(name: str, *sittings: dict[str, Any]) -> str:
    Path(name).write_text(f"Practice record\n\n{message(*sittings)}\n", "utf-8")
    return name


def test_files_are_taken_in_and_twice_is_once(
    site: str, capsys: pytest.CaptureFixture[str]
) -> None:
    one = saved("monday.txt", as_written(1, site=site, trials=trials(9)))
    two = saved("week.txt", *(as_written(n, site=site, trials=trials(9)) for n in (1, 2, 3)))
    assert main(["receive", one, two, two]) == 0
    said = capsys.readouterr()
    # Nine tries, and the 22 targets of a text whose slips were confirmed.
    assert said.out.splitlines() == [
        "finch-10: 1 new sitting, 31 tries, 2026-12-01",
        "finch-10: 2 new sittings, 62 tries, 2026-12-02 to 2026-12-03, 1 in the log already",
        "finch-10: nothing new, 3 in the log already",
    ]
    assert said.err == ""


def test_a_pasted_message_is_taken_in(
    site: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    text = message(as_written(1, site=site)).encode()
    paste = SimpleNamespace(buffer=io.BytesIO(text), isatty=lambda: True)
    monkeypatch.setattr(sys, "stdin", paste)
    assert main(["receive"]) == 0
    said = capsys.readouterr()
    assert said.out == "finch-10: 1 new sitting, 23 tries, 2026-12-01\n"
    assert said.err.startswith("Paste the message, then press Enter and Ctrl+")


def test_without_an_input_nobody_can_paste(
    site: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdin", None)  # as it is where it was closed
    assert main(["receive"]) == 2
    assert capsys.readouterr().err == "practice-site: There is no practice record in this.\n"


def test_who_listened_is_told_where_they_are_several(
    site: str, capsys: pytest.CaptureFixture[str]
) -> None:
    both = [as_written(1, site=site), as_written(2, site=site, helper="other home")]
    assert main(["receive", saved("m.txt", *both)]) == 0
    assert capsys.readouterr().out == (
        "finch-10: 2 new sittings, 46 tries, 2026-12-01 to 2026-12-02, heard by home and the other "
        "home\n"
    )


def test_what_is_kept_apart_is_said_and_taken_in_later(
    site: str, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = Path(".practice/views") / site / f"{VIEW.digest}.json"
    away = kept.rename("away.json")
    kept.with_name(f"{'ab' * 16}.json").touch()  # of another week
    mixed = saved("m.txt", as_written(1, site=site), as_written(2, site="0" * 13))
    assert main(["receive", mixed]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    first, second = said.err.splitlines()
    assert first.startswith("practice-site: kept apart: 1 sitting of 0000000000000: no client of")
    assert "1 sitting of finch-10: its plan is not kept in this practice folder" in second
    assert second.endswith("that knows the plan.")
    away.rename(kept)
    came = saved("next.txt", *(as_written(n, site=site) for n in (1, 3)))
    assert main(["receive", came]) == 0
    assert capsys.readouterr().out == (
        "finch-10: 2 new sittings, 1 of them kept apart until now, 46 tries, "
        "2026-12-01 to 2026-12-03\n"
    )


def test_a_day_before_the_plan_is_told_and_counts(
    site: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """A tablet's clock that was set back; a day earlier is still that of another zone."""
    days = ("2026-11-20", "2026-11-23", "2026-11-30")
    early = [as_written(n, site=site, start=f"{d}T08:15:04-06:00") for n, d in enumerate(days, 1)]
    assert main(["receive", saved("m.txt", *early)]) == 0
    said = capsys.readouterr()
    assert said.out.startswith("finch-10: 3 new sittings")
    assert said.err == (
        "practice-site: finch-10: dated before their plan was built: 2 sittings, 2026-11-20 to "
        "2026-11-23. They count on the days that the tablet told; ask the family, and look at the "
        "tablet's clock.\n"
    )
    assert main(["receive", "m.txt"]) == 0
    assert capsys.readouterr().err == "", "once is enough"


def test_a_file_without_a_record_stops_no_other(
    site: str, capsys: pytest.CaptureFixture[str]
) -> None:
    Path("mail.txt").write_text("We practiced.")
    good = saved("good.txt", as_written(1, site=site))
    assert main(["receive", "mail.txt", "nowhere.txt", good]) == 2
    said = capsys.readouterr()
    assert said.out.startswith("finch-10: 1 new sitting")
    assert said.err.splitlines() == [
        "practice-site: mail.txt: There is no practice record in this.",
        "practice-site: nowhere.txt: No such file or directory.",
    ]


def test_what_no_tablet_sent_is_one_line_each_and_leaves_no_trace(
    site: str, capsys: pytest.CaptureFixture[str]
) -> None:
    Path("nested.json").write_bytes(b'{"a":' * 2_000_000)
    Path("bomb.txt").write_text(part(of_empty_texts(1_900_000)[:-40]), "ascii")
    whole = message(as_written(1, site=site))
    Path("cut.txt").write_text(whole[: len(whole) // 2], "ascii")
    assert main(["receive", "nested.json", "bomb.txt", "cut.txt"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.splitlines() == [
        "practice-site: nested.json: This is far too long for a practice record.",
        "practice-site: bomb.txt: The practice record holds something that no tablet writes.",
        "practice-site: cut.txt: The practice record is cut. Ask for it once more.",
    ]
    with opened(Path(".practice")) as log:
        assert (log.sittings(), log.apart()) == ((), ())


def test_outside_a_practice_folder_it_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["receive", "x.txt"]) == 2
    assert "this is not inside a practice folder" in capsys.readouterr().err


def test_two_commands_at_once_lose_nothing(site: str) -> None:
    """Two tablets of one client, each with ten sittings of which five are on both."""
    days = [as_written(1, site=site, id=f"{n:032x}") for n in range(15)]
    files = [saved("one.txt", *days[:10]), saved("other.txt", *days[5:])]
    command = [sys.executable, "-m", "builder", "receive"]
    path = {**os.environ, "PYTHONPATH": str(ROOT)}
    running = [
        subprocess.Popen([*command, file], env=path, stdout=subprocess.PIPE) for file in files
    ]
    assert [process.communicate()[1] for process in running] == [None, None]
    assert [process.returncode for process in running] == [0, 0]
    with opened(Path(".practice")) as log:
        assert [one.id for one in log.sittings()] == [f"{n:032x}" for n in range(15)]


def test_photographs_come_in_any_order_and_a_missing_one_is_named(
    site: str, capsys: pytest.CaptureFixture[str]
) -> None:
    days = [
        as_written(1, site=site, id=f"{n:032x}", trials=trials(60, ms=977 * n)) for n in range(20)
    ]
    codes = written(days)["codes"]
    names = [f"IMG_{n}.png" for n in range(len(codes))]
    for name, code in zip(names, codes, strict=True):
        drawn(code).save(name)
    assert len(names) >= 2
    assert main(["receive", *names[1:]]) == 2
    files = ", ".join(names[1:])
    assert capsys.readouterr().err == (
        f"practice-site: {files}: Of this practice record part 1 of {len(names)} is missing. "
        "Whose it is stands in part 1. Take what is missing, too, and name all of its pictures in "
        "one command.\n"
    )
    assert main(["receive", *names[:-1]]) == 2
    said = capsys.readouterr().err
    assert f"part {len(names)} of {len(names)} is missing. It is from finch-10. Take what" in said
    assert main(["receive", *reversed(names)]) == 0
    assert capsys.readouterr().out.startswith("finch-10: 20 new sittings")
