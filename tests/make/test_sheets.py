"""The handout: one page whatever stands on it, its code readable, nothing on it that may not be."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any, cast

import pypdfium2 as pdfium
import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.make import drawings, pictures, sheets
from builder.model.clinic import DAYS, TIMES, Clinic, Contact
from builder.model.pause import Pause
from builder.model.plan import Code, Plan, PlannedItem
from builder.workspace.store import Store
from tests.support import plans

pytestmark = pytest.mark.slow

ADDRESS = f"https://practice.example.org/{plans.SLUG}/"
CODE = Code("c" * 32, "codes/site", ADDRESS, "site")
MM = 72 / 25.4  # points
WORDS = [
    "key",
    "cow",
    "cup",
    "comb",
    "cave",
    "cage",
    "coin",
    "car",
    "cake",
    "can",
    "corn",
    "cat",
    "kite",
    "kiwi",
    "koala",
    "kangaroo",
    "candle",
    "camel",
    "castle",
    "coat",
]
HARD = (
    '#set page(paper: "a5")',
    "$x^2$",
    "\"quoted\" 'text'",
    "*bold* _it_ `code`",
    "😀 key",
    "שלום עולם",
    "<script>alert(1)</script>",
    r"\u{1F600}",
    "a" * 40,
    "@ref <label>",
    "// gone",
    "W" * 120,
    "my " * 39 + "cow",
    "t\u0361ʃ",
    "\u0000x\u0007",
    "\u202eabc",
    "= Head",
    "漢字",
)


def items(words: list[str] | tuple[str, ...]) -> tuple[PlannedItem, ...]:
    found = [(word, drawings.find(word)) for word in words]
    return tuple(
        plans.item(f"i{n}", ((word, False),), plans.drawing(d.code, word) if d else None)
        for n, (word, d) in enumerate(found)
    )


def plan_of(words: list[str] | tuple[str, ...], **changes: Any) -> Plan:
    """A plan whose current step has these words, with a code."""
    program = plans.program_k()
    step = replace(program.steps[1], items=items(words))
    plan = plans.plan(replace(program, steps=(program.steps[0], step)))
    return replace(plan, **{"code": CODE, **changes})


def clinic(paper: str, contact: Contact | None = None) -> Clinic:
    chosen = contact or Contact(clinic="Riverside Speech Clinic", phone="555 0134")
    return Clinic.model_validate({"clinic": 1, "contact": chosen, "paper": paper})


def pdf(plan: Plan, store: Store, **options: Any) -> bytes:
    shown = {p.key: pictures.make(p, store) for p in plan.pictures}
    return sheets.handout(plan, shown, store, **options)


def opened(data: bytes) -> Any:
    """The document; pypdfium2 has no types."""
    library: Any = pdfium
    return library.PdfDocument(data)


def signs(page: Any) -> Iterator[tuple[float, float, float, float]]:
    """The box of every sign on the page that shows, in points."""
    text = page.get_textpage()
    for at in range(text.count_chars()):
        if text.get_text_range(at, 1).strip():
            yield text.get_charbox(at)


def read(data: bytes) -> str:
    with opened(data) as document:
        return str(document[0].get_textpage().get_text_bounded())


def on_one_page(data: bytes, paper: str = "letter") -> bool:
    """One page of that paper, and no sign nearer than 8 mm to its edge."""
    wide, high = {"letter": (612, 792), "a4": (595.3, 841.9)}[paper]
    with opened(data) as document:
        assert len(document) == 1
        assert document[0].get_size() == pytest.approx((wide, high), abs=0.1)
        near = 8 * MM
        return all(
            left >= near and low >= near and right <= wide - near and top <= high - near
            for left, low, right, top in signs(document[0])
        )


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("times", [1, 2, 3, 4])
def test_one_page_for_any_number_of_words(paper: str, times: int, store: Store) -> None:
    for number in (1, 5, 6, 7, 12, 13, 20):
        plan = plan_of(WORDS[:number], times=TIMES[:times], days=DAYS, clinic=clinic(paper))
        data = pdf(plan, store)
        assert on_one_page(data, paper), number
        text = read(data)
        assert all(word in text for word in WORDS[:number])


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_one_page_for_the_longest_of_all(paper: str, store: Store) -> None:
    contact = Contact(clinic="C" * 80, phone="9" * 40, email="e" * 80, hours="H " * 60)
    program = replace(plan_of(HARD).programs[0], reminder="R" * 60)
    long = replace(CODE, key="d" * 32, address=f"https://{'h' * 100}/{plans.SLUG}/")
    plan = plan_of(HARD, clinic=clinic(paper, contact), code=long, days=DAYS, times=TIMES)
    plan = replace(plan, programs=(program,) * 4, client="a" * 20 + "-1234")
    data = pdf(plan, store, dated=True)
    assert on_one_page(data, paper)
    assert '#set page(paper: "a5")' in read(data), "shown as text"


def test_what_finds_no_room_is_counted(store: Store) -> None:
    numbers = range(10, 50)
    sentences = [f"{n} is a sentence of a good length that a child says" for n in numbers]
    data = pdf(plan_of(sentences, days=DAYS, times=TIMES), store)
    assert on_one_page(data)
    text = read(data)
    shown = sum(f"{n} is a sentence" in text for n in numbers)
    assert 4 < shown < 40
    assert f"and {40 - shown} more" in text


@pytest.mark.parametrize("length", [14, 15, 23])
@pytest.mark.parametrize("before", [[], ["key"], ["key", "cow"]], ids=len)
def test_wide_signs_without_a_blank_stay_on_the_page(
    length: int, before: list[str], store: Store
) -> None:
    assert on_one_page(pdf(plan_of([*before, "W" * length, "@" * length]), store))


def test_a_blank_before_a_sign_that_ends_no_line_is_a_place_to_break(store: Store) -> None:
    assert on_one_page(pdf(plan_of(["0", "0000000000000@ :00000000"]), store))


@settings(max_examples=20, deadline=None)
@given(words=st.lists(st.text(min_size=1, max_size=60), min_size=1, max_size=8, unique=True))
def test_any_text_whatever_gives_one_page(words: list[str], store: Store) -> None:
    assert on_one_page(pdf(plan_of(words), store))


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("dpi", [150, 300])
def test_the_code_is_read_from_the_page(paper: str, dpi: int, store: Store) -> None:
    data = pdf(plan_of(WORDS, clinic=clinic(paper)), store)
    with opened(data) as document:
        image = document[0].render(scale=dpi / 72).to_pil()
    assert [code.text for code in zxingcpp.read_barcodes(image)] == [ADDRESS]


def test_a_box_for_every_planned_sitting(store: Store) -> None:
    data = pdf(plan_of(WORDS, times=TIMES[:3], days=DAYS[:5]), store)
    with opened(data) as document:
        bounds = [o.get_bounds() for o in document[0].get_objects(filter=[2])]  # 2: paths
    sides = [(right - left, top - low) for left, low, right, top in bounds]
    tick = 9 * MM + 2  # PDFium adds the whole stroke of 1 pt on either side
    boxes = [side for side in sides if side == pytest.approx((tick, tick), abs=0.05)]
    assert len(boxes) == 3 * 5


def test_what_the_page_says(store: Store) -> None:
    plan = plan_of(WORDS[:4])
    minutes = plan.minutes
    about = f"about {minutes} minutes" if minutes > 1 else "about one minute"
    text = " ".join(read(pdf(plan, store)).split())  # lines break where they must
    for part in (
        "otter-07",
        "For:",
        "practice.example.org / 7k2m z9qd 4wth c",
        "Back of the tongue",
        "Riverside",
        "+1\u00a0(555)\u00a0010\u00a07788",
        about,
        "Mon",
        "Morning",
        "Stop if there is pain, dizziness or a hoarse voice, and ask us.",
        "CC BY-SA 4.0",
        "as in kite",
    ):
        assert part.replace("\u00a0", " ") in text, part
    assert "Sat" not in text


def test_only_current_steps_and_each_text_once(store: Store) -> None:
    plan = plan_of(["cow", "key"])
    text = read(pdf(replace(plan, programs=plan.programs * 2), store))
    assert text.count("key") == 1
    assert "kee" not in text, "a refresher"


def test_dates_only_when_asked_for(store: Store) -> None:
    plan = plan_of(WORDS[:4], dates=("2026-12-09", "2026-12-16"))
    assert not any(part in read(pdf(plan, store)) for part in ("2026", "December", "Wed 9"))
    text = read(pdf(plan, store, dated=True))
    assert "From December 9, 2026. Next visit: December 16, 2026." in text
    assert text.index("Wed 9") < text.index("Fri 11") < text.index("Mon 14"), "from the start on"


@pytest.mark.parametrize(
    ("dates", "sentence"),
    [
        pytest.param(("2026-12-09", ""), "From December 9, 2026.", id="only the start"),
        pytest.param(("", "2027-01-02"), "Next visit: January 2, 2027.", id="only the visit"),
    ],
)
def test_one_date_alone(dates: tuple[str, str], sentence: str, store: Store) -> None:
    assert sentence in read(pdf(plan_of(WORDS[:4], dates=dates), store, dated=True))


def test_days_in_a_pause_are_taken_out(store: Store) -> None:
    # By a printed calendar: 18 December 2026 is a Friday, 4 January 2027 a Monday.
    holidays = Pause(date(2026, 12, 21), date(2027, 1, 3))
    one = Pause(date(2026, 11, 26), date(2026, 11, 26))  # over before the start
    plan = plan_of(WORDS[:4], dates=("2026-12-18", "2027-01-06"), pauses=(one, holidays))
    text = " ".join(read(pdf(plan, store, dated=True)).split())
    assert "No practice from December 21, 2026 to January 3, 2027." in text
    assert "26 November" not in text
    assert text.index("Fri 18") < text.index("Mon 4") < text.index("Tue 5")
    assert "Wed" not in text, "the day of the visit"
    undated = read(pdf(plan, store))
    assert "Wed" in undated
    assert "No practice" not in undated


def test_without_an_address_and_without_pictures(store: Store) -> None:
    data = pdf(plan_of(["comb"], code=None, emblem=None, pictures=()), store)
    text = read(data)
    assert on_one_page(data)
    assert "showed you" in text
    assert "Scan" not in text
    assert "OpenMoji" not in text, "no drawing, no credit"


def test_an_own_picture_is_shown_without_the_credit(tmp_path: Path, store: Store) -> None:
    from PIL import Image

    from builder.model.plan import Picture

    Image.new("RGB", (300, 200), (200, 40, 40)).save(tmp_path / "calf.png")
    own = Picture("e" * 32, "pictures/e.webp", "own", str(tmp_path / "calf.png"), "calf")
    plan = plan_of(["calf"], emblem=None, pictures=(own,))
    step = replace(plan.programs[0].steps[1], items=(plans.item("c", (("calf", False),), own),))
    plan = replace(plan, programs=(replace(plan.programs[0], steps=(step,)),))
    data = pdf(plan, store)
    with opened(data) as document:
        assert len(list(document[0].get_objects(filter=[3]))) == 1  # 3: images
    assert "OpenMoji" not in read(data)


def test_the_same_plan_gives_the_same_bytes(tmp_path: Path) -> None:
    plan = plan_of(WORDS)
    first = pdf(plan, Store(tmp_path / "one"))
    assert first == pdf(plan, Store(tmp_path / "two"))
    assert b"CreationDate" not in first


def test_the_page_is_tagged_and_tells_its_pictures(store: Store) -> None:
    data = pdf(plan_of(["cow", "key"]), store)
    assert b"pdfuaid" in data
    assert b"StructTreeRoot" in data


def test_only_the_faces_of_the_packages(store: Store) -> None:
    found, library = set(), cast("Any", pdfium)
    with opened(pdf(plan_of(["cow", "ʃ"]), store)) as document:
        text = document[0].get_textpage()
        for at in range(text.count_chars()):
            name = ctypes.create_string_buffer(100)
            library.raw.FPDFText_GetFontInfo(text.raw, at, name, 100, ctypes.c_int())
            found.add(name.value.decode().split("+")[-1])
    assert {name.partition("-")[0] for name in found if name} == {"NotoSans", "ABeeZee"}


def test_a_stored_sheet_needs_no_typst(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    plan, store = plan_of(["cow"]), Store(tmp_path)
    first = pdf(plan, store)
    monkeypatch.setitem(__import__("sys").modules, "typst", None)
    assert pdf(plan, store) == first


@pytest.mark.parametrize(
    ("text", "result"),
    [
        pytest.param("hello@riverside.example", "hello@riverside.example", id="23 stay whole"),
        pytest.param("a" * 25, f"{'a' * 12}\u200b{'a' * 12}\u200ba", id="25 may break"),
        pytest.param("a cow " * 9, "a cow " * 9, id="blanks break anyway"),
    ],
)
def test_breakable(text: str, result: str) -> None:
    assert sheets.breakable(text) == result


def test_clean() -> None:
    assert sheets.clean(" a\n\tb\u0000\u202ec\u00a0d ") == "a bc d"
