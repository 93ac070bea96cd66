"""The command without a word: how the practice folder stands, and what is next."""

from __future__ import annotations

import json
import time
from pathlib import Path

import pytest

from builder.__main__ import main
from builder.practice.log.rows import Apart, opened
from builder.workspace.addresses import secret, slug
from builder.workspace.desk import Sheet, keep
from builder.workspace.folder import Workspace
from builder.workspace.stamps import VIEWS, Stamps
from tests.support.clinics import PROGRAM, clinic
from tests.support.from_home import OTHER_SITE, sitting

DRAFT = "client: {code}\nerror: fill-in   # what is said\nbaseline: fill-in\n"


@pytest.fixture
def programs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A clinic's folder with one program, as the current folder."""
    monkeypatch.chdir(tmp_path)
    return clinic(tmp_path, "client: finch-10\n")


def publish(program: Path, code: str) -> None:
    """What a build remembers of a client."""
    out = program.parent.parent / "public"
    site = out / f"site-of-{code}"
    site.mkdir(parents=True, exist_ok=True)
    (site / "practice.json").write_text(json.dumps({"plan": "p"}))
    views = program.parent.parent / ".practice" / VIEWS / site.name
    views.mkdir(parents=True, exist_ok=True)
    (views / "p.json").write_text("{}")
    stamps = Stamps([str(program)], str(out), "")
    before = stamps.before(str(program.parent), code, str(program.parent / "takes"))
    stamps.record(str(program.parent), code, before, site.name, "p")
    stamps.save()


def report(capsys: pytest.CaptureFixture[str]) -> list[str]:
    assert main([]) == 0
    return capsys.readouterr().out.splitlines()


def test_outside_a_practice_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    (said,) = report(capsys)
    assert "`practice-site start my-clinic`" in said


def test_without_a_clinic_file(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (programs / "clinic.yaml").unlink()
    assert report(capsys)[-1] == "There is no clinic file. Next: `practice-site start`"


def test_a_clinic_file_with_blanks(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (programs / "clinic.yaml").write_text("clinic: 1\ncontact:\n  clinic: fill-in\n")
    said = report(capsys)
    assert any("`clinic` is still to be filled in" in line for line in said)
    assert said[-1] == "Next: open programs/clinic.yaml in a text editor and mend that"


def test_without_a_client(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (programs / "finch-10.yaml").unlink()
    *_, clients, following = report(capsys)
    assert clients == "Clients: none yet"
    assert following.startswith("Next: `practice-site new ")


def test_from_a_draft_to_a_site(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = programs / "finch-10.yaml"
    file.write_text(DRAFT.format(code="finch-10"))
    *_, client, following = report(capsys)
    assert client == "    finch-10: 2 still to be filled in (programs/finch-10.yaml)"
    assert following.startswith("Next: open programs/finch-10.yaml in a text editor")
    file.write_text("client: finch-10\n")
    *_, client, following = report(capsys)
    assert client == "    finch-10: not published yet"
    assert following.startswith("Next: `practice-site check finch-10`")
    publish(file, "finch-10")
    *_, clients, following = report(capsys)
    assert clients == "Clients: 1, 1 of them published as they stand"
    assert following.startswith("Next: `practice-site print`")
    folder = programs.parent / "desk"
    folder.mkdir()
    (folder / "finch-10.pdf").touch()
    sheet = Sheet("finch-10.pdf", "", "2026-12-04", time.time_ns(), False)
    keep(Workspace(programs.parent), folder, {"finch-10": sheet})
    assert report(capsys)[-1] == "Next: copy the folder `public` to your web host"
    file.write_text("client: finch-10\nage: 7\n")
    changed = "its files, the pictures or the recordings changed since it was published"
    assert report(capsys)[-2] == f"    finch-10: {changed}"


def test_of_many_clients_a_dozen_are_named(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for number in range(11, 31):
        (programs / f"finch-{number}.yaml").write_text(f"client: finch-{number}\n")
    publish(programs / "finch-10.yaml", "finch-10")
    said = report(capsys)
    assert "Clients: 21, 1 of them published as they stand" in said
    assert sum(": not published yet" in line for line in said) == 12
    assert "    and 8 more" in said


def test_nothing_is_made(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = sorted(programs.parent.rglob("*"))
    report(capsys)
    assert sorted(programs.parent.rglob("*")) == before


def test_what_receive_kept_apart_is_told(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (programs / "finch-10.yaml").write_text(PROGRAM)
    space = Workspace(programs.parent)
    own = slug(secret(space), "finch-10")
    with opened(space.hidden) as log, log.writing():
        for number, site in enumerate((own, own, OTHER_SITE), 1):
            log.put_apart(Apart(sitting(number, site=site), "its plan is unknown"), "2026-12-04")
    main([])
    said = capsys.readouterr().out
    assert "counted nowhere: 2 sittings of finch-10: its plan is unknown" in said
    assert "counted nowhere: 1 sitting of a client unknown here: its plan" in said


def test_a_visit_that_is_over_comes_before_sheets(
    programs: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1797249600")  # 2026-12-14
    file = programs / "finch-10.yaml"
    written = "client: finch-10\npractice: {{from: 2026-12-07, visit: 2026-12-{day}}}\n"
    for day in (11, 14):
        file.write_text(written.format(day=day))
        publish(file, "finch-10")
        *_, clients, client, following = report(capsys)
        assert clients == "Clients: 1, 1 of them published as they stand"
        assert f"the visit of 2026-12-{day} is over" in client
        assert following.startswith("Next: `practice-site visit finch-10 --next DAY`")
    file.write_text(written.format(day=15))
    publish(file, "finch-10")
    assert report(capsys)[-1].startswith("Next: `practice-site print`")
