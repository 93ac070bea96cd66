"""Nothing of a client is left in what the hidden folder keeps of records, and all of others."""

from __future__ import annotations

import datetime
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from builder.practice import kept_views
from builder.practice.log.file import COPIES, connected
from builder.practice.log.forget import Forgotten, forget
from builder.practice.log.paper import PaperCount
from builder.practice.log.receive import receive
from builder.practice.log.rows import Apart, Log, opened
from builder.practice.log.schema import MIGRATIONS
from builder.practice.log.scores import VisitNote, VisitScore
from builder.practice.log.understand import Known
from builder.workspace import former
from builder.workspace.folder import Workspace
from tests.support.from_home import OTHER_SITE, SITE, VIEW, sitting

KNOWN = Known(
    {SITE: "finch-10", OTHER_SITE: "wren-01"}, lambda site, plan: VIEW, datetime.date(2026, 12, 4)
)
OTHERS = sitting(3, site=OTHER_SITE, note="stays as it is")


@pytest.fixture
def hidden(tmp_path: Path) -> Path:
    """A hidden folder with two clients, in the log and in a former version of it."""
    space = Workspace(tmp_path)
    own = [sitting(n, note="Grandpa came by") for n in (1, 2)]
    with connected(space.hidden, lambda _: False, MIGRATIONS[:1]) as sql:
        receive(Log(sql), [*own, OTHERS], KNOWN)
    with opened(space.hidden, lambda _: False) as log, log.writing():
        log.put_apart(Apart(sitting(4, note="Grandpa came by"), "why"), "2026-12-04")
        day = datetime.date(2026, 12, 2)
        log.put_paper(PaperCount(SITE, day, "evening", VIEW.digest, "", 1, 2), "2026-12-04")
        for site in (SITE, OTHER_SITE):
            note = "Grandpa came by" if site == SITE else ""
            score = VisitScore(site, day, "K", "k-words", "imitation", 17, 20, note=note)
            log.put_score(score, "2026-12-04")
            log.put_visit_note(VisitNote(site, day, note or "slept well"), "2026-12-04")
    (space.hidden / former.FOLDER / SITE).mkdir(parents=True)
    (space.hidden / former.FOLDER / SITE / "finch-10.yaml 000001.json").write_text("Grandpa")
    for site in (SITE, OTHER_SITE):
        kept_views.keep(space, site, VIEW, datetime.date(2026, 12, 7))
    return space.hidden


def holding(folder: Path, text: str) -> list[str]:
    """The files in whose bytes a text stands, also in their free space."""
    files = (file for file in folder.rglob("*") if file.is_file())
    return sorted(file.name for file in files if text.encode() in file.read_bytes())


@pytest.mark.parametrize("shared", [False, True], ids=["local", "share"])
def test_all_of_a_client_goes_and_nothing_of_others(hidden: Path, shared: bool) -> None:
    assert len(holding(hidden, "Grandpa")) >= 2
    gone = forget(hidden, SITE, lambda _: shared)
    assert gone == Forgotten(sittings=2, papers=1, apart=1, plans=1, versions=1, scores=1, notes=1)
    for trace in ("Grandpa", SITE, "finch-10", f"{1:032x}"):
        assert holding(hidden, trace) == []
    assert not (hidden / kept_views.FOLDER / SITE).exists()
    with opened(hidden, lambda _: shared) as log:
        assert (log.clients(), log.sittings()) == ({OTHER_SITE: "wren-01"}, (OTHERS,))
        assert (log.papers(), log.apart()) == ((), ())
        assert [one.site for one in log.scores()] == [OTHER_SITE]
        assert [one.note for one in log.visit_notes()] == ["slept well"]
    (copy,) = (hidden / COPIES).iterdir()
    with closing(sqlite3.connect(copy)) as former:
        assert Log(former).sittings() == (OTHERS,)
    assert kept_views.find(Workspace(hidden.parent), OTHER_SITE, VIEW.digest) == VIEW
    assert forget(hidden, SITE, lambda _: shared) == Forgotten(0, 0, 0, 0, 0)


def test_a_former_version_that_nobody_can_read_goes_whole(hidden: Path) -> None:
    (copy,) = (hidden / COPIES).iterdir()
    copy.write_bytes(b"no database" * 500)
    assert forget(hidden, SITE).versions == 1
    assert not copy.exists()


@pytest.mark.parametrize("shares", [False, True], ids=["own", "also another's"])
def test_a_view_from_before_goes_where_it_is_nobody_elses(hidden: Path, shares: bool) -> None:
    flat = hidden / kept_views.FOLDER / f"{VIEW.digest}.json"
    flat.write_text(VIEW.as_json(), "utf-8")
    if not shares:
        forget(hidden, OTHER_SITE)
    forget(hidden, SITE)
    assert flat.exists() is shares
