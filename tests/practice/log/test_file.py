"""The log's file: private, whole whatever happens, brought to new versions after a copy."""

from __future__ import annotations

import datetime
import random
import sqlite3
import stat
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

import pytest

from builder.practice.log.file import COPIES, FILE, IN_USE, connected
from builder.practice.log.paper import PaperCount
from builder.practice.log.receive import receive
from builder.practice.log.rows import LISTS, SITTING, TABLES, Log, opened
from builder.practice.log.schema import MIGRATIONS
from builder.problems import UsageError
from tests.benchmarks.log_at_once import AtOnce, at_once
from tests.benchmarks.log_kills import KNOWN, Found, kill_one
from tests.support.from_home import SITE, sitting

WAYS = pytest.mark.parametrize("shared", [False, True], ids=["local", "share"])


def modes(folder: Path) -> dict[str, int]:
    return {f.name: stat.S_IMODE(f.stat().st_mode) for f in folder.glob(f"{FILE}*")}


@WAYS
def test_it_is_private_while_it_is_open_and_after(tmp_path: Path, shared: bool) -> None:
    with opened(tmp_path, lambda _: shared) as log, log.writing():
        log.add_client("0000000000000", "finch-10")
        names = modes(tmp_path)
    assert {*names.values()} == {0o600}
    assert {*names} == {FILE, f"{FILE}-journal"} if shared else {FILE, f"{FILE}-wal", f"{FILE}-shm"}
    assert modes(tmp_path) == {FILE: 0o600}


def test_one_that_others_could_read_is_made_private(tmp_path: Path) -> None:
    with opened(tmp_path):
        pass
    (tmp_path / FILE).chmod(0o644)
    with opened(tmp_path):
        assert {*modes(tmp_path).values()} == {0o600}


def test_every_field_of_the_record_has_a_column(tmp_path: Path) -> None:
    with connected(tmp_path) as sql:
        tables = {
            name: {row[1] for row in sql.execute(f"PRAGMA table_info({name})")}
            for name in ("sitting", *TABLES.values())
        }
    assert tables["sitting"] == {*SITTING, "received"}
    for name, model in LISTS.items():
        assert tables[TABLES[name]] == {*model.model_fields, "sitting", "number"}


@WAYS
def test_what_was_kept_is_read_back_field_by_field(tmp_path: Path, shared: bool) -> None:
    kept = (sitting(1), sitting(2, note="“Tired”, 𝄞"), sitting(3, trials=[], tallies=[]))
    with opened(tmp_path, lambda _: shared) as log:
        receive(log, kept, KNOWN)
    with opened(tmp_path, lambda _: shared) as log:
        assert log.sittings() == kept
        assert log.sitting(kept[1].id) == kept[1]
        assert log.clients() == {kept[0].site: "finch-10"}


@pytest.mark.parametrize("seed", [1, 2])
def test_killed_while_it_writes_it_loses_nothing_that_it_told(tmp_path: Path, seed: int) -> None:
    found = kill_one(tmp_path, 1, random.Random(seed))
    assert found in (Found(0, 0, 0, True), Found(0, 0, 1, True))


def test_killed_on_a_share_the_lock_is_taken_over(tmp_path: Path) -> None:
    found = kill_one(tmp_path, 1, random.Random(3), shared=True)
    assert found in (Found(0, 0, 0, True), Found(0, 0, 1, True))
    assert not (tmp_path / IN_USE).exists()


@WAYS
def test_two_at_once_lose_nothing(tmp_path: Path, shared: bool) -> None:
    def take(number: int) -> None:
        with opened(tmp_path, lambda _: shared) as log:
            receive(log, [sitting(1, id=f"{number:032x}")], KNOWN)

    with ThreadPoolExecutor(4) as pool:
        list(pool.map(take, range(12)))
    with opened(tmp_path, lambda _: shared) as log:
        assert [one.id for one in log.sittings()] == [f"{n:032x}" for n in range(12)]


@WAYS
def test_two_processes_at_once_keep_each_sitting_once_in_its_latest_state(
    tmp_path: Path, shared: bool
) -> None:
    assert at_once(tmp_path, 5, shared) == AtOnce(lost=0, earlier=0, sound=True)


NEXT = (*MIGRATIONS, ("ALTER TABLE client ADD COLUMN seen TEXT",))


@WAYS
def test_a_copy_is_made_before_a_migration(tmp_path: Path, shared: bool) -> None:
    with opened(tmp_path, lambda _: shared) as log:
        receive(log, [sitting(1)], KNOWN)
    for _ in range(2):  # once migrated, nothing is copied
        with connected(tmp_path, lambda _: shared, NEXT) as sql:
            assert "seen" in {row[1] for row in sql.execute("PRAGMA table_info(client)")}
            assert Log(sql).sittings() == (sitting(1),)
    (copy,) = (tmp_path / COPIES).iterdir()
    assert stat.S_IMODE(copy.stat().st_mode) == 0o600
    with closing(sqlite3.connect(copy)) as former:
        assert former.execute("PRAGMA user_version").fetchone() == (len(MIGRATIONS),)
        assert Log(former).sittings() == (sitting(1),)


def test_a_migration_that_fails_changes_nothing(tmp_path: Path) -> None:
    with opened(tmp_path) as log:
        receive(log, [sitting(1)], KNOWN)
    broken = (*NEXT, ("ALTER TABLE nothing ADD COLUMN seen",))
    with (
        pytest.raises(UsageError, match="nothing"),
        connected(tmp_path, migrations=broken),
    ):
        pass
    with opened(tmp_path) as log:
        assert log.sittings() == (sitting(1),)


def test_a_log_of_a_later_version_is_left_alone(tmp_path: Path) -> None:
    with connected(tmp_path, migrations=NEXT):
        pass
    before = (tmp_path / FILE).read_bytes()
    with pytest.raises(UsageError, match=r"newer version.*Install"), opened(tmp_path):
        pass
    assert (tmp_path / FILE).read_bytes() == before


def test_a_damaged_log_is_said_to_be(tmp_path: Path) -> None:
    (tmp_path / FILE).write_bytes(b"no database" * 500)
    with pytest.raises(UsageError, match=r"damaged.*backup"), opened(tmp_path):
        pass


SCRATCHED = {
    "a day that is none": "UPDATE sitting SET start = '202Q-12-01T08:15:04-06:00'",
    "no day of receipt": "UPDATE sitting SET received = 'x'",
    "nobody": "UPDATE sitting SET helper = 'hope'",
    "a mark that is none": "UPDATE trial SET mark = 'cleap'",
    "a number that is none": "INSERT INTO paper VALUES ('{site}', '2026-12-01', 'morning', '', "
    "'', 1, 'x', '', 'home', NULL)",
    "no text": "UPDATE trial SET step = x'ff00'",
    "no JSON": "INSERT INTO apart VALUES ('', '{site}', '', '', '{{', '')",
}


def read_all(folder: Path) -> None:
    """As commands do."""
    with opened(folder) as log:
        sum(one.tries for one in log.papers())
        log.sittings()
        log.apart()
        log.came(SITE)


@pytest.mark.parametrize("how", SCRATCHED)
def test_values_that_nobody_wrote_are_told_as_damage(tmp_path: Path, how: str) -> None:
    with opened(tmp_path) as log:
        receive(log, [sitting(1)], KNOWN)
    with closing(sqlite3.connect(tmp_path / FILE)) as sql:
        sql.execute(SCRATCHED[how].format(site=SITE))
        sql.commit()
    with pytest.raises(UsageError, match=r"damaged.*backup"):
        read_all(tmp_path)


def test_a_fault_of_ours_is_not_told_as_damage(tmp_path: Path) -> None:
    with opened(tmp_path) as log:
        receive(log, [sitting(1)], KNOWN)
    with pytest.raises(KeyError, match="ours"), opened(tmp_path):
        raise KeyError("ours")


def test_a_full_disk_is_no_damage(tmp_path: Path) -> None:
    with connected(tmp_path):
        pass
    with pytest.raises(UsageError, match="See whether the disk is full"):
        fill(tmp_path)


def fill(folder: Path) -> None:
    with connected(folder) as sql:
        sql.execute("PRAGMA max_page_count = 1")
        for number in range(100):
            sql.execute("INSERT INTO client VALUES (?, 'finch-10')", (f"{number:01000}",))


def test_a_log_that_was_moved_to_a_share_keeps_the_way_that_holds_there(tmp_path: Path) -> None:
    kill_one(tmp_path, 1, random.Random(5))  # what it wrote last is in the write-ahead log
    assert (tmp_path / f"{FILE}-wal").exists() or (tmp_path / FILE).read_bytes()[18] == 2
    with opened(tmp_path, lambda _: True) as log:
        moved = log.sittings()
        assert not (tmp_path / f"{FILE}-wal").exists()
    assert moved
    with opened(tmp_path, lambda _: False) as log:  # on the computer that holds the share
        assert (tmp_path / IN_USE).exists()
        assert log.sittings() == moved
    assert (tmp_path / FILE).read_bytes()[18] == 1


@pytest.mark.parametrize("version", range(1, len(MIGRATIONS)))
def test_a_log_of_each_former_version_is_brought_to_this_one(tmp_path: Path, version: int) -> None:
    with connected(tmp_path, migrations=MIGRATIONS[:version]) as sql:
        receive(Log(sql), [sitting(1), sitting(2)], KNOWN)
    with opened(tmp_path) as log:
        assert log.sittings() == (sitting(1), sitting(2))
        assert log.papers() == ()
    (copy,) = (tmp_path / COPIES).iterdir()
    assert copy.name.startswith(f"version {version}, ")


def test_counts_on_paper_of_a_former_version_are_of_nobody_known(tmp_path: Path) -> None:
    with connected(tmp_path, migrations=MIGRATIONS[:4]) as sql:
        Log(sql).add_client(SITE, "finch-10")
        sql.execute(
            "INSERT INTO paper VALUES (?, '2026-12-07', 'evening', 'abcdef01', 'k-words', 17, 20, "
            "'2026-12-08')",
            (SITE,),
        )
    day = datetime.date(2026, 12, 7)
    with opened(tmp_path) as log:
        assert log.papers() == (PaperCount(SITE, day, "evening", "abcdef01", "k-words", 17, 20),)
