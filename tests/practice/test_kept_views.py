"""Each published view is kept by client, and read back as it was."""

from __future__ import annotations

import datetime
import os
from dataclasses import replace
from pathlib import Path

import pytest

from builder.practice import kept_views
from builder.workspace.folder import Workspace
from tests.support.from_home import OTHER_SITE, SITE, VIEW


def test_a_kept_view_is_read_back_whole(tmp_path: Path) -> None:
    space = Workspace(tmp_path)
    kept_views.keep(space, SITE, VIEW)
    found = kept_views.find(space, SITE, VIEW.digest)
    assert found == VIEW
    assert found.digest == VIEW.digest
    assert kept_views.find(space, OTHER_SITE, VIEW.digest) is None
    assert kept_views.find(space, SITE, "ab" * 16) is None


def test_one_from_before_they_were_kept_by_client_is_found(tmp_path: Path) -> None:
    folder = Workspace(tmp_path).hidden / kept_views.FOLDER
    folder.mkdir()
    (folder / f"{VIEW.digest}.json").write_text(VIEW.as_json(), "utf-8")
    assert kept_views.find(Workspace(tmp_path), SITE, VIEW.digest) == VIEW


def test_a_damaged_one_is_none(tmp_path: Path) -> None:
    space = Workspace(tmp_path)
    kept_views.keep(space, SITE, VIEW)
    file = space.hidden / kept_views.FOLDER / SITE / f"{VIEW.digest}.json"
    file.write_bytes(file.read_bytes()[:300])
    assert kept_views.find(space, SITE, VIEW.digest) is None


def test_a_day_has_the_last_view_that_was_kept_by_then(tmp_path: Path) -> None:
    space = Workspace(tmp_path)
    later = replace(VIEW, language="en-GB")
    assert kept_views.of_day(space, SITE, datetime.date(2026, 12, 4)) is None
    for view, kept in (
        (VIEW, datetime.datetime(2026, 12, 1)),
        (later, datetime.datetime(2026, 12, 8)),
    ):
        kept_views.keep(space, SITE, view)
        file = space.hidden / kept_views.FOLDER / SITE / f"{view.digest}.json"
        os.utime(file, (kept.timestamp(), kept.timestamp()))
    found = [kept_views.of_day(space, SITE, datetime.date(2026, 12, day)) for day in (7, 8, 20)]
    assert found == [VIEW, later, later]
    assert kept_views.of_day(space, SITE, datetime.date(2026, 11, 1)) == VIEW


def test_going_back_to_an_earlier_plan_makes_it_the_one_of_the_days_since(tmp_path: Path) -> None:
    space, later = Workspace(tmp_path), replace(VIEW, language="en-GB")
    for view, since in ((VIEW, 7), (later, 14), (VIEW, 21), (VIEW, 23)):
        kept_views.keep(space, SITE, view, datetime.date(2026, 12, since))
    days = [datetime.date(2026, 12, day) for day in (1, 7, 13, 14, 20, 21, 30)]
    found = [kept_views.of_day(space, SITE, day) for day in days]
    assert found == [VIEW, VIEW, VIEW, later, later, VIEW, VIEW]
    order = space.hidden / kept_views.FOLDER / SITE / kept_views.ORDER
    assert len(order.read_text().splitlines()) == 3


def test_a_plan_that_was_taken_back_before_it_began_is_of_no_day(tmp_path: Path) -> None:
    space, later = Workspace(tmp_path), replace(VIEW, language="en-GB")
    kept_views.keep(space, SITE, VIEW, datetime.date(2026, 12, 7))
    kept_views.keep(space, SITE, later, datetime.date(2026, 12, 15))
    kept_views.keep(space, SITE, VIEW, datetime.date(2026, 12, 14))
    assert kept_views.of_day(space, SITE, datetime.date(2026, 12, 16)) == VIEW


@pytest.mark.parametrize("kept", [None, b"", b"2026-12-08 ", b"2026-13-08 " + b"a" * 32])
def test_where_no_days_are_kept_the_times_of_the_files_tell(
    tmp_path: Path, kept: bytes | None
) -> None:
    space, later = Workspace(tmp_path), replace(VIEW, language="en-GB")
    folder = space.hidden / kept_views.FOLDER / SITE
    for view, at in (
        (VIEW, datetime.datetime(2026, 12, 1)),
        (later, datetime.datetime(2026, 12, 8)),
    ):
        kept_views.keep(space, SITE, view)
        os.utime(folder / f"{view.digest}.json", (at.timestamp(), at.timestamp()))
    if kept is not None:
        (folder / kept_views.ORDER).write_bytes(kept)
    assert kept_views.of_day(space, SITE, datetime.date(2026, 12, 9)) == later
    kept_views.keep(space, SITE, VIEW, datetime.date(2026, 12, 14))
    found = [kept_views.of_day(space, SITE, datetime.date(2026, 12, n)) for n in (7, 9, 13, 14)]
    assert found == [VIEW, later, later, VIEW]


@pytest.mark.parametrize(
    ("starts", "first"),
    [([7], 14), ([15], 15), ([7, 15], 15), ([22, 15], 15), ([14], 14), ([None], 14), ([], 14)],
)
def test_a_plan_is_practiced_from_its_next_sheet_on(starts: list[int | None], first: int) -> None:
    days = (datetime.date(2026, 12, day) if day else None for day in starts)
    found = kept_views.first_day(days, datetime.date(2026, 12, 14))
    assert found == datetime.date(2026, 12, first)
