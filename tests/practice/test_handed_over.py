"""What the modules write, Python reads: nothing is lost on the way, and nothing is believed."""

from __future__ import annotations

import base64
import contextlib
import json
import zlib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.model.record import ENDS, MARKS, Sitting, Tally, Trial
from builder.practice import unpack as form
from builder.practice.handed_over import read_codes, read_file, read_text
from builder.practice.parts import beginning
from builder.practice.unpack import site_of
from builder.problems import UsageError
from tests.support.handed_over import part, written
from tests.support.places import TESTS

EXAMPLE: dict[str, Any] = json.loads((TESTS / "js" / "sitting.json").read_text("utf-8"))


NAMES = st.sampled_from(["k-words", "key", "1-long-imitation", "7", "a" * 80, "cow"])
MOMENTS = st.integers(0, 2**45)
HEX = st.integers(0, 2**128 - 1).map(lambda number: f"{number:032x}")
ZONES = st.sampled_from(["-06:00", "+00:00", "-00:00", "+05:30", "+14:00"])
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=40)
TRIALS = st.fixed_dictionaries(
    {
        "step": NAMES,
        "round": NAMES,
        "item": NAMES,
        "form": st.sampled_from(["long", "natural"]),
        "support": st.sampled_from(["imitation", "delayed", "spontaneous"]),
        "mark": st.sampled_from(MARKS),
        "ms": MOMENTS,
    },
    optional={
        "chosen": NAMES,
        "heard": NAMES,
        "repeat": st.booleans(),
        "own": st.sampled_from(MARKS),
    },
)


def _possible(tally: dict[str, Any]) -> bool:
    return tally["targets"] is None or (tally["slipped"] or 0) <= tally["targets"]


COUNTS = st.none() | st.integers(0, 400)
TALLIES: st.SearchStrategy[dict[str, Any]] = st.fixed_dictionaries(
    {
        "step": NAMES,
        "words": COUNTS,
        "targets": COUNTS,
        "slipped": COUNTS,
        "later": st.booleans(),
        "ms": MOMENTS,
    }
).filter(_possible)
STARTS = st.builds(
    lambda moment, zone: moment.isoformat(timespec="seconds") + zone,
    st.datetimes().map(lambda moment: moment.replace(microsecond=0)),
    ZONES,
)
SITTINGS = st.fixed_dictionaries(
    {
        "record": st.just(1),
        "id": HEX,
        "site": st.sampled_from(["7k2mz9qd4wthc", "0000000000000"]),
        "plan": HEX,
        "practice": HEX | st.just(""),
        "start": STARTS,
        "time": st.sampled_from(["morning", "midday", "afternoon", "evening"]),
        "helper": st.sampled_from(["home", "other home", "school", "self"]),
        "trials": st.lists(TRIALS, max_size=6),
        "tallies": st.lists(TALLIES, max_size=3),
        "note": TEXTS,
        "began": st.integers(0, 5000),
        "done": st.integers(0, 5000),
        "end": st.sampled_from(ENDS),
    }
)


def test_every_field_of_the_record_is_tried() -> None:
    """A field that is added to the record must be packed as well."""
    assert {*EXAMPLE} == {*Sitting.model_fields}
    trial = {"chosen", "heard", "repeat", "own", *EXAMPLE["trials"][1]}
    assert trial == {*Trial.model_fields}
    assert {*EXAMPLE["tallies"][0]} == {*Tally.model_fields}


@pytest.mark.slow
@settings(max_examples=80, deadline=None, derandomize=True)
@given(st.lists(SITTINGS, max_size=3, unique_by=lambda sitting: sitting["id"]))
def test_what_any_tablet_holds_arrives_unchanged(case: list[dict[str, Any]]) -> None:
    made = written(case)
    assert made["left"] == 0
    for read in (
        read_text("\n".join(made["lines"])),
        read_codes(made["codes"]),
        read_codes([made["plain"]]),
    ):
        back = [sitting.model_dump(mode="json") for sitting in read]
        assert sorted(back, key=by_id) == sorted(case, key=by_id)


def by_id(sitting: dict[str, Any]) -> str:
    return str(sitting["id"])


def week() -> list[dict[str, Any]]:
    """Sittings that fill several codes."""
    marks = ("clear", "almost", "missed", "clear", "clear")
    return [
        EXAMPLE
        | {
            "id": f"{day:032x}",
            "start": f"2026-12-{day:02}T08:15:04-06:00",
            "trials": [
                EXAMPLE["trials"][0]
                | {
                    "item": f"word-{n % 10}",
                    "mark": marks[n * day % 5],
                    "ms": 8000 * n + 977 * n * day % 4001,
                }
                for n in range(60)
            ],
        }
        for day in range(1, 11)
    ]


@pytest.fixture(scope="module")
def sent() -> dict[str, Any]:
    """A week as a page hands it over."""
    return written(week())


@pytest.fixture(scope="module")
def kept() -> tuple[Sitting, ...]:
    """The same week as Python holds it."""
    return tuple(map(Sitting.model_validate, week()))


LETTER = "Practice record of heron-07\n\nDecember 1: “Tired”\n\n"
ROADS = {
    "as it was sent": lambda lines: LETTER + "\n".join(lines),
    "quoted": lambda lines: "\n".join(f"> > {line}" for line in lines),
    "quoted with bars": lambda lines: "\r\n".join(f"| {line}" for line in lines),
    "lines joined": lambda lines: LETTER + " ".join(lines) + " Kind regards",
    "lines broken": lambda lines: "\n".join("".join(lines)[n : n + 23] for n in range(0, 9999, 23)),
    "indented by blanks that do not break": lambda lines: "\n".join("\u00a0" + x for x in lines),
    "invisible characters": lambda lines: "\ufeff" + "\u200b\n".join(lines),
    "soft ends of line": lambda lines: "=\r\n".join(lines),
    "small letters": lambda lines: "\n".join(lines).lower(),
    "twice": lambda lines: "\n".join(lines) + "\n\n> " + "\n> ".join(lines),
    "whole, and cut where it is quoted": lambda lines: "\n".join([*lines, *lines[:5]]),
}


@pytest.mark.parametrize("road", ROADS)
def test_what_mail_programs_do_does_no_harm(
    road: str, sent: dict[str, Any], kept: tuple[Sitting, ...]
) -> None:
    text = ROADS[road](sent["lines"])
    assert read_text(text) == kept
    assert read_file(text.encode()) == kept
    assert read_file(text.encode("utf-16")) == kept


def test_codes_come_in_any_order_and_twice(sent: dict[str, Any], kept: tuple[Sitting, ...]) -> None:
    codes = sent["codes"]
    assert len(codes) > 2
    assert read_codes([*reversed(codes), codes[1] + "\n", codes[0].lower()]) == kept


def test_two_messages_are_told_apart(sent: dict[str, Any], kept: tuple[Sitting, ...]) -> None:
    later = EXAMPLE | {"id": "f" * 32, "start": "2026-12-20T08:15:04-06:00"}
    both = [*sent["codes"], *written([*week()[8:], later])["codes"]]
    assert read_codes(both[::-1]) == (*kept, Sitting.model_validate(later))


@pytest.mark.parametrize(
    ("take", "message"),
    [
        pytest.param((0, 2), r"part 2 of 3 is missing", id="one"),
        pytest.param((1,), r"parts 1 and 3 of 3 are missing", id="several"),
    ],
)
def test_a_missing_part_is_named(sent: dict[str, Any], take: tuple[int, ...], message: str) -> None:
    codes = sent["codes"]
    with pytest.raises(UsageError, match=message):
        read_codes([codes[n] for n in take])


def test_the_first_part_tells_whose_it_is(sent: dict[str, Any]) -> None:
    codes = sent["codes"]
    assert {site_of(beginning(codes[:n])) for n in (1, 2, 3)} == {EXAMPLE["site"]}
    assert site_of(beginning(codes[1:])) == ""
    plain_one = written(week()[:1])["plain"]
    assert site_of(beginning([plain_one])) == EXAMPLE["site"]
    for forged in (b"", b"\x01abc", b"\x00\x01\x01\xff\xff", b"\x00\x01\x00"):
        assert site_of(forged) == ""


def plain(edit: dict[str, Any] | None = None) -> bytes:
    """The example's message, not deflated, with some values forged: same length, same place."""
    data = written([EXAMPLE])["plain"].split("/")[4]
    message = base64.b32decode(data + "=" * (-len(data) % 8))
    for old, new in (edit or {}).items():
        assert message.count(old.encode()) == 1
        message = message.replace(old.encode(), new.encode())
    return message


def test_a_part_of_our_own_making_is_read() -> None:
    """What the next tests change is right as it stands."""
    assert read_text(part(plain())) == (Sitting.model_validate(EXAMPLE),)


BOMB = zlib.compressobj(9, zlib.DEFLATED, -15)
BOMBED = BOMB.compress(b"\x01" + bytes(40_000_000)) + BOMB.flush()


@pytest.mark.parametrize(
    ("text", "message"),
    [
        pytest.param("Dear clinic, we practiced.", "no practice record", id="a mail without one"),
        pytest.param("", "no practice record", id="nothing"),
        pytest.param("x" * 4_000_001, "far too long", id="longer than any"),
        pytest.param(part(b"\x01" + BOMBED), "far too long", id="a bomb"),
        pytest.param(part(b"\x00\x02"), "has the form 2", id="a form of the future"),
        pytest.param(part(b""), "no tablet writes", id="an empty message"),
        pytest.param(part(b"\x07abc"), "no tablet writes", id="a squeeze of another kind"),
        pytest.param(part(b"\x01abc"), "no tablet writes", id="nothing that was deflated"),
        pytest.param(part(b"\x00\x01" + b"\xff" * 20), "no tablet writes", id="endless numbers"),
        pytest.param(part(b"\x00\x01\xff\xff\x7f"), "far too long|no tablet", id="endless texts"),
        pytest.param(part(b"\x00\x01\x01\x01\xff\x00\x00"), "no tablet writes", id="no UTF-8"),
        pytest.param(
            part(b"\x00\x01\x00\x00\x00more"), "no tablet writes", id="more than a record"
        ),
        pytest.param(part(b"ab", "2/1"), "contradict", id="a part beyond the last"),
        pytest.param(part(b"ab", "0/1"), "contradict", id="a part before the first"),
        pytest.param(part(b"ab", "1/0"), "contradict", id="no part at all"),
        pytest.param(part(b"ab") + part(b"ab", "1/2"), "contradict", id="one of one and of two"),
        pytest.param("PR1/" * 300_000, "is cut", id="nothing but beginnings"),
    ],
)
def test_what_no_tablet_wrote_is_refused(text: str, message: str) -> None:
    with pytest.raises(UsageError, match=message) as told:
        read_text(text)
    assert "\n" not in str(told.value)
    assert len(str(told.value)) < 200


@pytest.mark.parametrize(
    ("edit", "message"),
    [
        pytest.param({"k-words": "K words"}, r"2026-12-07.*trials\.0\.step", id="a step"),
        pytest.param({"7k2mz9qd4wthc": "7k2mz9qd4wthU"}, r"2026-12-07.*site", id="a slug"),
        pytest.param({"-06:00": "-06:0x"}, r"2026-12-07.*start", id="a zone"),
    ],
)
def test_forged_values_are_refused(edit: dict[str, Any], message: str) -> None:
    with pytest.raises(UsageError, match=message):
        read_text(part(plain(edit)))


def test_cut_short_or_changed_anywhere_it_is_refused() -> None:
    message = plain()
    for at in range(1, len(message)):
        with pytest.raises(UsageError):
            read_text(part(message[:at]))
    text = part(message)
    for at in range(0, len(text), 7):
        other = "A" if text[at] != "A" else "B"
        with pytest.raises(UsageError, match=r"changed|cut|no practice record"):
            read_text(text[:at] + other + text[at + 1 :])
        with pytest.raises(UsageError, match=r"changed|cut|no practice record"):
            read_text(text[:at] + "\n\nKind regards,\nthe Millers")


@pytest.fixture(scope="module")
def example() -> bytes:
    """The example's message."""
    return plain()


@settings(max_examples=100, deadline=None, derandomize=True)
@given(noise=st.binary(max_size=60), at=st.integers(0, 400))
def test_any_bytes_are_a_record_or_one_message(example: bytes, noise: bytes, at: int) -> None:
    with contextlib.suppress(UsageError):
        read_text(part(example[:at] + noise + example[at + len(noise) :]))


def test_the_bounds_leave_room_for_a_year() -> None:
    assert form.MOST_TRIALS > 365 * 2 * 60
    assert form.MOST_SITTINGS > 365 * 4
