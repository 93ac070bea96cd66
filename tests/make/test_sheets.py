"""The sheet, read back from its PDF: every kind of plan, on both papers. Each case is compiled once
and looked at by several tests."""

from __future__ import annotations

import ctypes
import itertools
import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any, cast

import pypdfium2 as pdfium
import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageFilter

from builder.make import pictures, sheets
from builder.make.sheet import text as sheet_text
from builder.make.sheet.text import Words
from builder.make.sheet.week import boxes
from builder.model.clinic import DAYS, TIMES, Contact
from builder.model.pause import Pause
from builder.model.plan import Picture, Plan
from builder.text.readability import counts, grade
from builder.text.wording import wording
from builder.workspace.store import Store
from tests.make.sheet_cases import (
    ADDRESS,
    CASES,
    CODE,
    PAIRS,
    SENTENCES,
    clinic,
    on_paper,
    plan_of,
    weeks,
)
from tests.support import plans

pytestmark = pytest.mark.slow

MM = 72 / 25.4  # points
SIZES = {"letter": (612, 792), "a4": (595.3, 841.9)}
PRINTED = "2026-12-05"
# Pages by case and paper: two sides, and what finds no room runs on.
MORE = {
    ("five-weeks", "letter"): 3,
    ("five-weeks", "a4"): 3,
    ("three-sounds", "letter"): 3,
    ("thirty-sentences", "letter"): 3,
    ("thirty-sentences", "a4"): 3,
    ("twelve-steps", "letter"): 5,
    ("twelve-steps", "a4"): 4,
    ("counts", "letter"): 3,
    ("all-at-once", "letter"): 3,
}
EACH = pytest.mark.parametrize(
    ("case", "paper"), [(case, paper) for case in CASES for paper in SIZES]
)
GAMES = ("Pick one in secret", "One of each pair, helper first")
HARD = (
    '#set page(paper: "a5")',
    "$x^2$ *bold* _it_ `code`",
    "😀 key",
    "שלום עולם",
    r"\u{1F600} @ref <label> // gone",
    "my " * 39 + "cow",
    "\u0000x\u0007\u202eabc",
    "= Head",
    "漢字 t\u0361ʃ",
)


@pytest.fixture(scope="module", autouse=True)
def kept(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """One store for all."""
    STORE.append(Store(tmp_path_factory.mktemp("sheets")))
    yield
    STORE.clear()
    made.cache_clear()


STORE: list[Store] = []


def pdf(plan: Plan, **options: Any) -> bytes:
    shown = {p.key: pictures.make(p, STORE[0]) for p in plan.pictures}
    return sheets.handout(plan, shown, STORE[0], **options)


@cache
def made(case: str, paper: str = "letter") -> bytes:
    """The sheet of a case, dated."""
    return pdf(on_paper(CASES[case](), paper), dated=True, printed=PRINTED)


def opened(data: bytes) -> Any:
    """The document; pypdfium2 has no types."""
    library: Any = pdfium
    return library.PdfDocument(data)


def read(data: bytes) -> str:
    """All text, on one line."""
    with opened(data) as document:
        return " ".join(" ".join(p.get_textpage().get_text_bounded() for p in document).split())


def runs(page: Any) -> list[tuple[float, float, float, float]]:
    """The boxes of the text, a run each: left, low, right, top in points."""
    text = page.get_textpage()
    return [text.get_rect(at) for at in range(text.count_rects())]


def overlap(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    """Whether two boxes share more than a point (descenders may reach a little into the next)."""
    across = min(one[2], other[2]) - max(one[0], other[0])
    down = min(one[3], other[3]) - max(one[1], other[1])
    return across > 1 and down > 1


@EACH
def test_pages_and_paper(case: str, paper: str) -> None:
    with opened(made(case, paper)) as document:
        assert len(document) == MORE.get((case, paper), 2)
        for page in document:
            assert page.get_size() == pytest.approx(SIZES[paper], abs=0.1)


@EACH
def test_no_text_is_cut_or_over_another(case: str, paper: str) -> None:
    wide, high = SIZES[paper]
    near = 6 * MM  # what many printers leave white
    with opened(made(case, paper)) as document:
        for page in document:
            found = [box for box in runs(page) if box[2] - box[0] > 0.5]
            assert found
            outside = [b for b in found if min(b[0], b[1], wide - b[2], high - b[3]) < near]
            assert outside == []
            assert [pair for pair in itertools.combinations(found, 2) if overlap(*pair)] == []


@pytest.mark.parametrize("case", [case for case in CASES if case != "no-pictures"])
def test_the_code_is_read_also_from_a_bad_copy(case: str) -> None:
    with opened(made(case)) as document:
        corner = (document[0].get_size()[0] - 50 * MM, document[0].get_size()[1] - 50 * MM)
        good, low = (
            document[0].render(scale=dpi / 72, crop=(corner[0], corner[1], 0, 0)).to_pil()
            for dpi in (300, 150)
        )
    bad = low.convert("L").filter(ImageFilter.GaussianBlur(1.0))
    noise = Image.effect_noise(bad.size, 40)  # standard deviation 40 of 255
    copy = Image.blend(bad.point(lambda value: 60 + value * 150 // 255), noise, 0.25)
    for image in (good, copy):
        assert [code.text for code in zxingcpp.read_barcodes(image)] == [ADDRESS]


@pytest.mark.parametrize("case", CASES)
def test_everything_to_practice_is_there(case: str) -> None:
    plan, text = CASES[case](), read(made(case))
    for program in plan.programs:
        for step in (step for step in program.steps if step.current):
            assert step.name in text
            for item in step.said:
                joined = "".join(text.split()).replace("\u200b", "")
                assert "".join(sheet_text.clean(item.text).split()) in joined, item.text
            if not step.passage and step.tries > 1:
                assert f"That is {step.tries} tries." in text


def test_every_picture_is_there() -> None:
    plan = CASES["thirty-words"]()
    with opened(pdf(replace(plan, code=None, emblem=None))) as document:
        tagged = sum(struct == "Figure" for page in document for struct in structure(page))
    shown = {i.picture.key for i in plan.programs[0].steps[1].items if i.picture}
    assert tagged == len(shown) + 1  # the mouth from the side, on the back


@pytest.mark.parametrize(
    ("language", "named"),
    [
        ("en", "Back of the tongue 2 Tip of the tongue"),
        ("es", "Parte de atrás de la lengua 2 Punta de la lengua"),
    ],
)
def test_the_mouth_is_on_the_back_where_there_is_room(language: str, named: str) -> None:
    """Never a page more for it, also below cautions in two languages."""
    plan = replace(CASES["two-weeks"](), interface=(language,))
    off = replace(plan, programs=tuple(replace(p, drawing=False) for p in plan.programs))
    for shown, wanted in ((plan, True), (off, False)):
        with opened(pdf(shown)) as document:
            assert len(document) == 2
            back = " ".join(document[1].get_textpage().get_text_bounded().split())
            assert (named in back) == wanted
            assert ("Figure" in structure(document[1])) == wanted


def structure(page: Any) -> Iterator[str]:
    """The types of all elements of the page's structure."""
    raw = cast("Any", pdfium).raw
    tree = raw.FPDF_StructTree_GetForPage(page.raw)

    def below(element: Any) -> Iterator[str]:
        name = ctypes.create_string_buffer(80)
        raw.FPDF_StructElement_GetType(element, name, 80)
        yield name.raw.decode("utf-16-le").partition("\0")[0]
        for at in range(raw.FPDF_StructElement_CountChildren(element)):
            child = raw.FPDF_StructElement_GetChildAtIndex(element, at)
            if child:
                yield from below(child)

    for at in range(raw.FPDF_StructTree_CountChildren(tree)):
        yield from below(raw.FPDF_StructTree_GetChildAtIndex(tree, at))
    raw.FPDF_StructTree_Close(tree)


WORDING: Words = wording("en", "home", "sheets").part("sheets")


@pytest.mark.parametrize(
    ("plan", "number"),
    [
        pytest.param(weeks(1), 5 * 2, id="a week"),
        pytest.param(weeks(5, days=DAYS, times=TIMES[:3]), 35 * 3, id="five weeks"),
        pytest.param(weeks(1, dates=("2026-12-09", "2026-12-16")), 5 * 2, id="from Wednesday"),
        pytest.param(weeks(1, dates=("2026-12-07", "")), 2 * 5 * 2, id="no visit: two weeks"),
        pytest.param(weeks(1, dates=("", "2026-12-14")), 5 * 2, id="from the printing on"),
        pytest.param(weeks(1, dates=("2026-12-14", "2026-12-14")), 2 * 5 * 2, id="a visit at once"),
    ],
)
def test_a_box_for_every_planned_sitting(plan: Plan, number: int) -> None:
    data = boxes(plan, WORDING, plan.dates, "2026-12-07")
    open_days = [day for week in data["weeks"] for day in week if day["open"]]
    assert len(open_days) * len(data["times"]) == number
    assert all(day["date"] for day in open_days) == bool(plan.dates[1] > plan.dates[0])


def test_each_sheet_has_the_boxes_of_who_listens_there() -> None:
    # By a printed calendar: 7 December 2026 is a Monday.
    plan = weeks(1, by_role=(("home", ("mon", "fri")), ("school", ("wed",))), helper="home")
    told = {role: boxes(plan, WORDING, plan.dates, "", role) for role in ("home", "school")}
    heads = {role: [day["date"] for day in data["weeks"][0]] for role, data in told.items()}
    assert heads == {"home": ["Dec 7", "Dec 11"], "school": ["Dec 9"]}
    assert told["school"]["dates"][0].startswith("From December 9, 2026.")
    undated = boxes(plan, WORDING, ("", ""), "", "school")["weeks"]
    assert [[day["name"] for day in week] for week in undated] == [["Wed"], ["Wed"]]


def test_each_sheet_has_the_times_of_who_listens_there() -> None:
    own = (("home", ("morning", "evening")), ("school", ("midday",)))
    plan = weeks(1, times=TIMES[:3], times_by_role=own, helper="home", other_helpers=("school",))
    told = [boxes(plan, WORDING, plan.dates, "", role)["times"] for role in ("home", "school")]
    assert told == [["Morning", "Evening"], ["Midday"]]


def test_the_boxes_are_on_the_page() -> None:
    with opened(made("five-weeks")) as document:
        bounds = [o.get_bounds() for p in document for o in p.get_objects(filter=[2])]  # 2: paths
    sides = [(right - left, top - low) for left, low, right, top in bounds]
    tick = 8.5 * MM + 2  # PDFium adds the whole stroke of 1 pt on either side
    assert len([s for s in sides if s == pytest.approx((tick, tick), abs=0.05)]) == 35 * 3


@pytest.mark.parametrize("paper", SIZES)
def test_five_weeks_of_weekdays_stand_side_by_side_on_the_front(paper: str) -> None:
    """In boxes as large as ever, and in a table whose heads name the days of both weeks."""
    plan = on_paper(weeks(5), paper)
    with opened(pdf(plan, dated=True)) as document:
        assert len(document) == 2
        front = document[0].get_textpage().get_text_bounded()
        sizes = [o.get_bounds() for o in document[0].get_objects(filter=[2])]  # 2: paths
        heads = [struct for struct in structure(document[0]) if struct == "TH"]
    tick = 8.5 * MM + 2  # PDFium adds the whole stroke of 1 pt on either side
    boxes = [b for b in sizes if (b[2] - b[0], b[3] - b[1]) == pytest.approx((tick,) * 2, abs=0.05)]
    assert len(boxes) == 25 * 2
    assert all(
        one[2] < other[0] or one[0] > other[2] or one[1] > other[3] or one[3] < other[1]
        for one, other in itertools.combinations(boxes, 2)
    )
    assert all(day in front for day in ("Dec 7", "Dec 14", "Jan 8"))
    assert len(heads) >= 25


def test_more_boxes_stand_below_more_words_where_there_is_room() -> None:
    plan = plan_of(SENTENCES[:12], times=TIMES[:3], clinic=clinic(counts=True))
    plan = replace(plan, dates=("2026-12-07", "2026-12-28"))
    with opened(pdf(plan, dated=True)) as document:
        texts = [page.get_textpage().get_text_bounded() for page in document]
    assert len(texts) == 3
    assert texts[2].index("More words") < texts[2].index("More boxes")


def test_days_in_a_pause_are_left_out() -> None:
    # By a printed calendar: 18 December 2026 is a Friday, 4 January 2027 a Monday.
    holidays = Pause(date(2026, 12, 21), date(2027, 1, 3))
    plan = weeks(1, dates=("2026-12-18", "2027-01-06"), pauses=(holidays,))
    text = read(pdf(plan, dated=True))
    assert "No practice from December 21, 2026 to January 3, 2027." in text
    assert re.findall(r"(?:Mon|Tue|Wed|Thu|Fri) (\w+ \d+)", text) == ["Dec 18", "Jan 4", "Jan 5"]
    undated = read(pdf(plan))
    assert "No practice" not in undated
    assert undated.count("Wed") == 2


def test_an_undated_sheet_holds_no_date() -> None:
    text = read(pdf(weeks(2), printed=PRINTED))
    assert not re.search(r"20\d\d|Dec|visit:? \w+ \d", text)
    assert "Bring this sheet back by:" in text
    assert "Printed on:" in text


def test_what_the_sheet_says() -> None:
    text = read(made("two-weeks"))
    for part in (
        "otter-07",
        "For (write at home):",
        "practice.example.org / 7k2m z9qd 4wth c",
        "From December 7, 2026. Next visit: December 21, 2026.",
        "Say before each try: Back of the tongue",
        "Wait. The child says it once.",
        "k, with a vowel: kee · kah · koo",
        "The back of the tongue goes up and touches far back.",
        "Stop if there is pain, dizziness or a hoarse voice, and ask us.",
        "Bring this sheet back on December 21, 2026.",
        "This sheet replaces all earlier sheets.",
        "Printed on December 5, 2026.",
        "Our own words:",
        "Who listened:",
        "CC BY-SA 4.0",
    ):
        assert part in text, part
    assert "Sat" not in text


def test_counts_only_where_the_clinic_wants_them() -> None:
    assert "right of" not in read(made("two-weeks"))
    assert "write in the box: right, of how many" in read(made("counts"))


def test_the_address_is_a_link_of_visible_signs() -> None:
    data = made("two-weeks")
    raw = cast("Any", pdfium).raw
    with opened(data) as document:
        page = document[0]
        start, link = ctypes.c_int(0), raw.FPDF_LINK()
        assert raw.FPDFLink_Enumerate(page.raw, start, link)
        action = raw.FPDFLink_GetAction(link)
        there = ctypes.create_string_buffer(200)
        raw.FPDFAction_GetURIPath(document.raw, action, there, 200)
    assert there.value.decode() == ADDRESS
    line = re.search(r"practice\.example\.org.*?4wth c", read(data))
    assert line
    assert line[0].isascii()
    assert line[0].isprintable()


def test_no_letter_of_a_pair_touches_its_frame() -> None:
    """The letters p and y reach below the line."""
    with opened(made("contrast")) as document:
        page = document[0]
        text = page.get_textpage()
        lows = [text.get_charbox(at) for at in range(text.count_chars())]
        frames = [o.get_bounds() for o in page.get_objects(filter=[2])]  # 2: paths
    inside = [
        letter[1] - low
        for left, low, right, top in frames
        if right - left > 40 * MM and 15 * MM < top - low < 60 * MM
        for letter in lows
        if left < letter[0] < right and low < letter[1] < top
    ]
    assert inside
    assert min(inside) > 1.2 * MM


def test_a_pair_is_a_pair_and_never_a_word_to_practice() -> None:
    text = read(made("contrast"))
    assert "Pick one in secret 2 times" in text
    assert "The child picks one of the two in secret and says it." in text
    for one, other in PAIRS:
        assert re.search(rf"{one} or {other}|or {one} {other}", text), (one, other)
        assert len(re.findall(rf"\b{other}\b", text)) == 1, "nowhere by itself"


def test_pairs_that_cannot_be_chosen_from_stand_apart() -> None:
    plan = CASES["contrast"]()
    step = plan.programs[0].steps[1]
    heard = replace(step.rounds[1], support="imitation")
    mixed = replace(step, imitated=step.pairs[-1:], rounds=(*step.rounds, heard))
    text = read(pdf(replace(plan, programs=(replace(plan.programs[0], steps=(mixed,)),))))
    game, told = (f"{name}: with these pairs" for name in GAMES)
    assert text.index(game) < text.index("horn") < text.index(told) < text.index("chain")
    assert "Next time, take the other one." in text


@pytest.mark.parametrize(("without", "figures"), [((), 2), (("other",), 0)])
def test_pictures_of_a_pair_both_or_none(
    without: tuple[str, ...], figures: int, tmp_path: Path
) -> None:
    plan = CASES["contrast"]()
    step = plan.programs[0].steps[1]
    one, other = step.said[0], next(i for i in step.others if i.id == step.pairs[0][1])
    other = replace(other, picture=None) if without else other
    only = replace(
        step, items=(one,), others=(other,), pairs=step.pairs[:1], rounds=step.rounds[1:]
    )
    program = replace(plan.programs[0], steps=(only,))
    with opened(pdf(replace(plan, programs=(program,), emblem=None, code=None))) as document:
        assert sum(s == "Figure" for s in structure(document[0])) == figures


def test_past_sentences_have_lines_of_their_own() -> None:
    text = read(made("past-sentences"))
    assert "slips" in text
    assert "At dinner, with Grandpa" in text
    assert "at the sea: The child reads the text aloud" in text
    assert "Wait. The child says it once." not in text, "there are no tries one by one"


def test_words_read_as_they_are_written() -> None:
    data = pdf(plan_of(HARD, client="a" * 20 + "-1234", days=DAYS, times=TIMES), dated=True)
    assert '#set page(paper: "a5")' in read(data), "shown as text"
    with opened(data) as document:
        assert document[0].get_size() == pytest.approx(SIZES["letter"], abs=0.1)


def test_the_back_holds_the_longest_of_all() -> None:
    contact = Contact(clinic="C" * 80, phone="9" * 40, email="e" * 80, hours="H " * 60)
    plan = plan_of(SENTENCES[:4], clinic=clinic("letter", contact, counts=True))
    cue = "The tongue goes up, and its sides touch the upper teeth; " * 4
    cues = tuple((name, cue[:200]) for name in ("tongue", "lips", "air", "voice"))
    program = replace(plan.programs[0], reminder="R" * 60, cues=cues)
    long = replace(CODE, key="d" * 32, address=f"https://{'h' * 100}/{plans.SLUG}/")
    data = pdf(replace(plan, programs=(program,) * 4, code=long), dated=True)
    with opened(data) as document:
        wide, high = SIZES["letter"]
        for page in (document[0], document[1]):
            found = runs(page)
            assert all(min(b[0], b[1], wide - b[2], high - b[3]) > 6 * MM for b in found)
            assert not [pair for pair in itertools.combinations(found, 2) if overlap(*pair)]
        back = document[1].get_textpage().get_text_bounded()
        assert "Notes for the visit:" in back
        assert "Tip of the tongue" not in back, "no room for the mouth"


@settings(max_examples=5, deadline=None)
@given(words=st.lists(st.text(min_size=1, max_size=60), min_size=1, max_size=8, unique=True))
def test_any_text_whatever_stays_on_the_page(words: list[str]) -> None:
    wide, high = SIZES["letter"]
    with opened(pdf(plan_of(words))) as document:
        for page in document:
            assert all(b[0] > 0 and b[1] > 0 and b[2] < wide and b[3] < high for b in runs(page))


def test_a_sheet_for_the_only_one_who_listens_is_named_for_the_place() -> None:
    plan = replace(CASES["two-weeks"](), helper="school")
    text = read(pdf(plan, dated=True, role="school"))
    assert "Practice at school" in text
    assert "Who listened:" in text, "others may help out"
    assert "Each place" not in text
    assert "in class, at lunch, at play" in text
    assert "in the bath" not in text
    assert "For:" not in text, "no name where others see it"
    assert "At school" not in text, "the tablet takes it for granted"


@pytest.mark.parametrize("interface", [("en",), ("es",), ("es", "en")])
def test_what_is_to_be_tapped_has_the_name_that_the_page_gives_it(
    interface: tuple[str, ...],
) -> None:
    """Also on an English sheet for a school, where the pages are in Spanish alone."""
    plan = replace(CASES["two-weeks"](), interface=interface, other_helpers=("school",))
    text = " ".join(read(pdf(plan, dated=True, role="school", language="en")).split())
    page = wording("en" if "en" in interface else "es")
    assert f"“{page['visit.title']}” on its page" in text
    assert f"choose “{page['visit.role.school']}”" in text


def test_without_an_address_and_without_pictures() -> None:
    text = read(made("no-pictures"))
    assert "showed you" in text
    assert "scan" not in text
    assert "OpenMoji" not in text, "no drawing, no credit"


def test_an_own_picture_is_shown_without_the_credit(tmp_path: Path) -> None:
    Image.new("RGB", (300, 200), (200, 40, 40)).save(tmp_path / "calf.png")
    own = Picture("e" * 32, "pictures/e.webp", "own", str(tmp_path / "calf.png"), "calf")
    plan = plan_of(["calf"], emblem=None, pictures=(own,))
    step = replace(plan.programs[0].steps[1], items=(plans.item("c", (("calf", False),), own),))
    data = pdf(replace(plan, programs=(replace(plan.programs[0], steps=(step,)),)))
    with opened(data) as document:
        assert len(list(document[0].get_objects(filter=[3]))) == 1  # 3: images
    assert "OpenMoji" not in read(data)


def test_the_same_plan_and_day_give_the_same_bytes(tmp_path: Path) -> None:
    plan = CASES["two-weeks"]()
    shown = {p.key: pictures.make(p, STORE[0]) for p in plan.pictures}
    again = sheets.handout(plan, shown, Store(tmp_path), dated=True, printed=PRINTED)
    assert again == made("two-weeks")
    assert b"CreationDate" not in again


def test_a_stored_sheet_needs_no_typst(monkeypatch: pytest.MonkeyPatch) -> None:
    first = made("two-weeks")
    monkeypatch.setitem(__import__("sys").modules, "typst", None)
    assert pdf(CASES["two-weeks"](), dated=True, printed=PRINTED) == first


def test_tagged_titled_and_with_the_faces_of_the_packages_only() -> None:
    data = made("two-weeks")
    assert b"pdfuaid" in data
    assert b"StructTreeRoot" in data
    assert b"/Lang(en-US)" in data
    found, library = set(), cast("Any", pdfium)
    with opened(data) as document:
        assert document.get_metadata_dict()["Title"] == "Practice at home · otter-07"
        for page in document:
            text = page.get_textpage()
            for at in range(text.count_chars()):
                name = ctypes.create_string_buffer(100)
                library.raw.FPDFText_GetFontInfo(text.raw, at, name, 100, ctypes.c_int())
                found.add(name.value.decode().split("+")[-1])
    assert {name.partition("-")[0] for name in found if name} == {"NotoSans", "ABeeZee"}


@pytest.mark.parametrize(
    ("helper", "part"), [("home", "sheets"), ("self", "sheets"), ("home", "school")]
)
def test_the_text_is_of_grade_6_or_below(helper: str, part: str) -> None:
    """Grade 6: what the American Medical Association asks of texts for patients."""
    words = wording("en", helper, part).part("sheets")
    parts = [text for text in words.values() if len(text.split()) > 4]
    assert len(parts) > 10
    assert grade(counts(" ".join(t if t[-1] in ".?!:" else t + "." for t in parts))) <= 6
    hard = {text: round(grade(counts(text)), 1) for text in parts if grade(counts(text)) > 8}
    assert hard == {}


@pytest.mark.parametrize(
    ("text", "result"),
    [
        pytest.param("hello@riverside.example", "hello@riverside.example", id="23 stay whole"),
        pytest.param("a" * 25, f"{'a' * 12}\u200b{'a' * 12}\u200ba", id="25 may break"),
        pytest.param("a cow " * 9, "a cow " * 9, id="blanks break anyway"),
    ],
)
def test_breakable(text: str, result: str) -> None:
    assert sheet_text.breakable(text) == result


def test_clean() -> None:
    assert sheet_text.clean(" a\n\tb\u0000\u202ec\u00a0d ") == "a bc d"
