"""What is printed on request, read back from its PDF: each kind of many plans, on both papers. Each
is compiled once and looked at by several tests."""

from __future__ import annotations

import ctypes
import itertools
import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any, cast

import pypdfium2 as pdfium
import pytest
import zxingcpp
from PIL import Image, ImageFilter

from builder.make import pictures
from builder.make.further.group import group_list
from builder.make.further.pdf import further, why_not
from builder.model.clinic import Time
from builder.model.plan import PlannedStep
from builder.model.program import Role
from builder.workspace.desk import Further
from builder.workspace.store import Store
from tests.make.further_cases import NAMES, PROBES, case
from tests.make.sheet_cases import PAIRS, on_paper, with_steps
from tests.make.test_sheets import MM, SIZES, opened, overlap, read, runs, structure

pytestmark = pytest.mark.slow

DAY = "2026-12-07"
QR = zxingcpp.BarcodeFormats([zxingcpp.BarcodeFormat.QRCode])
ALL: list[tuple[str, Further, str]] = [
    *((name, "guide", paper) for name in NAMES for paper in SIZES),
    *((name, "score", "letter") for name in NAMES),
    *((name, "score", "a4") for name in ("twelve-steps", "contrast", "past-sentences")),
    *((name, "school", paper) for name in NAMES if name != "alone" for paper in SIZES),
    *((name, "cards", "letter") for name in ("two-weeks", "contrast", "long-words")),
    *((name, "cards", "a4") for name in ("two-weeks", "thirty-sentences")),
]
EACH = pytest.mark.parametrize(("name", "kind", "paper"), ALL, ids=["-".join(one) for one in ALL])
# Pages by case, kind and paper, where they are more than one side (of cards: one leaf).
MORE = {
    ("all-tasks", "guide", "letter"): 2,
    ("all-tasks", "guide", "a4"): 2,
    ("three-sounds", "guide", "letter"): 2,
    ("three-sounds", "guide", "a4"): 2,
    ("twelve-steps", "guide", "letter"): 3,
    ("twelve-steps", "guide", "a4"): 3,
}
STORE: list[Store] = []


@pytest.fixture(scope="module", autouse=True)
def kept(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    STORE[:] = [Store(tmp_path_factory.mktemp("store"))]
    yield
    STORE.clear()
    made.cache_clear()


@cache
def made(name: str, kind: Further, paper: str = "letter", day: str = DAY) -> bytes:
    plan = on_paper(case(name), paper)
    shown = {p.key: pictures.make(p, STORE[0]) for p in plan.pictures}
    probes = () if name == "contrast" else [PROBES] * len(plan.programs)
    return further(kind, plan, shown, STORE[0], day, probes)


def current(name: str) -> list[PlannedStep]:
    return [s for program in case(name).programs for s in program.steps if s.current]


@EACH
def test_pages_and_no_text_cut_or_over_another(name: str, kind: Further, paper: str) -> None:
    wide, high = SIZES[paper]
    near = 6 * MM  # what many printers leave white
    with opened(made(name, kind, paper)) as document:
        if kind == "cards":
            texts = {item.text for step in current(name) for item in step.said}
            assert len(document) == 2 * -(-len(texts) // 9)
        elif kind != "score":
            assert len(document) == MORE.get((name, kind, paper), 1)
        for page in document:
            assert page.get_size() == pytest.approx(SIZES[paper], abs=0.1)
            found = [box for box in runs(page) if box[2] - box[0] > 0.5]
            assert found
            outside = [b for b in found if min(b[0], b[1], wide - b[2], high - b[3]) < near]
            assert outside == []
            assert [pair for pair in itertools.combinations(found, 2) if overlap(*pair)] == []


def codes_on(page: Any) -> list[Any]:
    """The codes on a page, good at 300 dpi and in a grey, blurred, noisy copy at 150 dpi."""
    good, low = (page.render(scale=dpi / 72).to_pil().convert("L") for dpi in (300, 150))
    bad = low.filter(ImageFilter.GaussianBlur(1.0))
    noise = Image.effect_noise(bad.size, 40)  # standard deviation 40 of 255
    copy = Image.blend(bad.point(lambda value: 60 + value * 150 // 255), noise, 0.25)
    found = zxingcpp.read_barcodes(good)
    again = zxingcpp.read_barcodes(copy, formats=QR)  # any other kind is told by the good one
    assert sorted(code.text for code in again) == sorted(code.text for code in found)
    return list(found)


def edges(code: Any) -> tuple[float, ...]:
    """Left, top, right, bottom of a code read at 300 dpi, in mm."""
    p = code.position
    xs = [c.x for c in (p.top_left, p.top_right, p.bottom_left, p.bottom_right)]
    ys = [c.y for c in (p.top_left, p.top_right, p.bottom_left, p.bottom_right)]
    return tuple(v / 300 * 25.4 for v in (min(xs), min(ys), max(xs), max(ys)))


def apart(one: tuple[float, ...], other: tuple[float, ...]) -> float:
    """Millimeters between two boxes, across or down, whichever is more."""
    across = max(one[0], other[0]) - min(one[2], other[2])
    down = max(one[1], other[1]) - min(one[3], other[3])
    return max(across, down)


@pytest.mark.parametrize(
    ("name", "paper"),
    [
        ("two-weeks", "letter"),
        ("two-weeks", "a4"),
        ("three-sounds", "a4"),
        ("twelve-steps", "letter"),
        ("alone", "letter"),
    ],
)
def test_each_code_is_read_alone(name: str, paper: str) -> None:
    """Each is found, also in a bad copy, and from edge to edge of any two there are 5 cm."""
    plan = case(name)
    steps = [step.code for program in plan.programs for step in program.steps]
    wanted = {code.address for code in (plan.code, *steps) if code}
    read_codes = set()
    with opened(made(name, "guide", paper)) as document:
        for page in document:
            corners = []
            for code in codes_on(page):
                corners.append(edges(code))
                read_codes.add(code.text)
            assert len(corners) != 1 or len(wanted) == 1, "a code alone on a page"
            for one, other in itertools.combinations(corners, 2):
                assert apart(one, other) >= 50, "mm from edge to edge"
    assert read_codes == wanted


@pytest.mark.parametrize("paper", SIZES)
def test_a_guide_whose_codes_take_a_second_page_has_text_on_both(paper: str) -> None:
    """Codes of today, of two steps practiced now and of an easier one; the drawing of the mouth."""
    plan = on_paper(case("two-weeks"), paper)
    (now,) = current("two-weeks")
    assert now.code
    code = replace(now.code, key="c" * 32, address=f"{now.code.address}next/")
    plan = with_steps(plan, [now, replace(now, id="next", name="two words", code=code)])
    with opened(further("guide", plan, {}, STORE[0])) as document:
        pages = [page.get_textpage().get_text_bounded().split() for page in document]
        assert len([code for page in document for code in codes_on(page)]) == 4
    assert len(pages) == 1 or min(map(len, pages)) > 100


@pytest.mark.parametrize("paper", SIZES)
@pytest.mark.parametrize("number", [10, 12])
def test_up_to_twelve_codes_find_room_on_two_pages(number: int, paper: str) -> None:
    """Two rows on each, from edge to edge of any two 5 cm."""
    plan = on_paper(case("two-weeks"), paper)
    (now,) = current("two-weeks")
    assert now.code
    steps = [
        replace(
            now,
            id=f"step-{at}",
            name=f"words {at}",
            code=replace(now.code, key=f"c{at:031x}", address=f"{now.code.address}{at}/"),
        )
        for at in range(number - 2)
    ]
    with opened(further("guide", with_steps(plan, steps), {}, STORE[0])) as document:
        assert len(document) == 2
        pages = [list(map(edges, codes_on(page))) for page in document]
    assert sum(map(len, pages)) == number
    pairs = [pair for page in pages for pair in itertools.combinations(page, 2)]
    assert min(apart(*pair) for pair in pairs) >= 50


@pytest.mark.parametrize("paper", SIZES)
def test_no_camera_sees_two_codes_of_a_group(paper: str) -> None:
    """The same distance on the list of a group, of nine clients on two pages."""
    plan = on_paper(case("two-weeks"), paper)
    assert plan.code
    group = [
        replace(
            plan,
            client=f"otter-{n:02}",
            slug=f"{n}".zfill(13),
            code=replace(plan.code, key=f"{n:032x}", address=f"https://practice.example.org/{n}/"),
        )
        for n in range(9)
    ]
    shown = {p.key: pictures.make(p, STORE[0]) for p in plan.pictures}
    read_codes = []
    with opened(group_list("tuesday", group, shown, STORE[0], DAY)) as document:
        assert len(document) == 2
        for page in document:
            found = codes_on(page)
            read_codes += [code.text for code in found]
            for one, other in itertools.combinations(map(edges, found), 2):
                assert apart(one, other) >= 50, "mm from edge to edge"
    assert sorted(read_codes) == sorted(one.code.address for one in group if one.code)
    assert len(read_codes) == len(group)


@pytest.mark.parametrize("paper", SIZES)
def test_a_group_of_any_clients_finds_room(paper: str) -> None:
    group = [
        replace(on_paper(case(name), paper), client=f"otter-{n}") for n, name in enumerate(NAMES)
    ]
    shown = {p.key: pictures.make(p, STORE[0]) for plan in group for p in plan.pictures}
    wide, high = SIZES[paper]
    with opened(group_list("grade-two", group, shown, STORE[0], DAY)) as document:
        for page in document:
            found = [box for box in runs(page) if box[2] - box[0] > 0.5]
            near = 6 * MM
            assert [b for b in found if min(b[0], b[1], wide - b[2], high - b[3]) < near] == []
            assert [pair for pair in itertools.combinations(found, 2) if overlap(*pair)] == []


def cards_of(name: str, paper: str) -> tuple[list[Any], list[list[str]]]:
    """Pages of cards and the text of each third of each third, row by row."""
    wide, high = SIZES[paper]
    document = opened(made(name, "cards", paper))
    left, top = (wide - 180 * MM) / 2, (high + 240 * MM) / 2
    cells = []
    for page in document:
        text = page.get_textpage()
        cells.append(
            [
                text.get_text_bounded(
                    left + x * 60 * MM,
                    top - (y + 1) * 80 * MM,
                    left + (x + 1) * 60 * MM,
                    top - y * 80 * MM,
                )
                for y in range(3)
                for x in range(3)
            ]
        )
    return list(document), cells


@pytest.mark.parametrize("paper", SIZES)
def test_a_word_lies_behind_its_picture(paper: str) -> None:
    """Flipped on the long edge the columns come in the other order."""
    words = [item.text for item in current("two-weeks")[0].items]
    pages, (front, back) = cards_of("two-weeks", paper)
    behind = [back[row * 3 + 2 - column].split() for row in range(3) for column in range(3)]
    assert [cell[0] if cell else "" for cell in behind] == [*words, ""]
    pictured = {i.text for i in current("two-weeks")[0].items if i.picture}
    assert [cell.strip() for cell in front] == [*("" if w in pictured else w for w in words), ""]
    assert len([s for s in structure(pages[0]) if s == "Figure"]) == len(pictured)
    assert "otter-07" not in pages[0].get_textpage().get_text_range(), "on the word side alone"
    assert all("otter-07" in cell for cell in back if cell)


@pytest.mark.parametrize("paper", SIZES)
def test_the_test_line_meets_its_two_on_the_back(paper: str) -> None:
    wide, high = SIZES[paper]
    pages, _ = cards_of("two-weeks", paper)

    def lines(page: Any) -> list[float]:
        """The middles of the upright lines of 6 mm at the top, from the left."""
        bounds = [shape.get_bounds() for shape in page.get_objects(filter=[2])]  # 2: paths
        tall = [b for b in bounds if 5.5 * MM < b[3] - b[1] < 7.5 * MM and b[3] > high - 9 * MM]
        return sorted((b[0] + b[2]) / 2 for b in tall)

    (front,), (one, other) = lines(pages[0]), lines(pages[1])
    assert wide - other == pytest.approx(front - 2 * MM, abs=0.2)
    assert wide - one == pytest.approx(front + 2 * MM, abs=0.2)


def test_words_of_a_pair_say_so() -> None:
    text = read(made("contrast", "cards"))
    for one, other in PAIRS:
        assert text.count(f"pair: {one} or {other}") == 2


def test_the_score_sheet_keeps_probe_words_apart() -> None:
    text = read(made("two-weeks", "score"))
    practiced, probes = text.split("Probe words")
    assert "For the therapist only. Do not hand it out." in practiced
    assert all(re.search(rf"\b{i.text}\b", practiced) for i in current("two-weeks")[0].items)
    assert all(word in probes for word in PROBES)
    assert not any(re.search(rf"\b{word}\b", practiced) for word in PROBES)
    for part in (practiced, probes):
        assert part.count("Right of tries") == 2, "with and without a model"
    assert "Write in words that are never practiced." in read(made("contrast", "score"))


def test_no_page_of_a_score_sheet_holds_notes_alone() -> None:
    """However many words there are, from a part of a page to more than one."""
    for number in range(8, 22):
        probes = tuple(f"probe {at}" for at in range(number))
        with opened(further("score", case("two-weeks"), {}, STORE[0], DAY, [probes])) as document:
            texts = [page.get_textpage().get_text_bounded() for page in document]
        assert all(len(text.split("Notes:")[0].split()) > 5 for text in texts), number


def test_pairs_and_tasks_have_lines_of_their_own() -> None:
    text = read(made("contrast", "score"))
    assert all(len(re.findall(rf"{one} +{other}", text)) == 2 for one, other in PAIRS)
    past = read(made("past-sentences", "score"))
    reading = next(s.passage for s in current("past-sentences") if s.level == "reading")
    assert reading
    assert f"reading, {reading.targets} targets in the text" in past
    assert all(step.name in past for step in current("past-sentences"))


def test_a_school_reads_no_more_than_it_needs() -> None:
    for name in ("two-weeks", "contrast", "past-sentences"):
        text = read(made(name, "school"))
        assert "Do not correct the child in front of others." in text
        assert "ten minutes at most" in text
        assert "write no name" in text
        assert "Who listened: teacher, aide, parent" in text, "a role, not a person"
        for private in ("QR", "practice.example.org", "Grandpa", "For each box", "visit"):
            assert private not in text, (name, private)
    assert "the client practices alone" in why_not("school", case("alone"))


def test_the_guide_says_what_the_pages_say() -> None:
    text = read(made("two-weeks", "guide"))
    for part in ("Tap “Start”", "almost: Close, or you are not sure.", "Back of the tongue"):
        assert part in text
    assert "Stop if there is pain, dizziness or a hoarse voice, and ask us." in text
    assert "scan" not in read(made("no-pictures", "guide")).lower()


@pytest.mark.parametrize(
    ("name", "kind", "whom"),
    [
        ("two-weeks", "guide", "For the family"),
        ("two-weeks", "cards", "For the family"),
        ("two-weeks", "school", "For the teacher or the second home"),
        ("alone", "guide", "For you"),
    ],
)
def test_each_says_for_whom_it_is(name: str, kind: Further, whom: str) -> None:
    with opened(made(name, kind)) as document:
        assert whom in document[0].get_textpage().get_text_range()


def test_the_sheet_for_a_school_has_a_row_for_each_time_of_its_own() -> None:
    own: tuple[tuple[Role, tuple[Time, ...]], ...] = (
        ("home", ("evening",)),
        ("school", ("morning", "midday")),
    )
    plan = replace(case("two-weeks"), times_by_role=own, helper="home", other_helpers=("school",))
    text = read(further("school", plan, {}, STORE[0], DAY, ()))
    assert ("Practiced: morning" in text, "Practiced: midday" in text) == (True, True)
    assert "evening" not in text
    assert "Practiced:" not in read(made("two-weeks", "school"))


def test_the_sheet_for_a_school_shows_the_animal() -> None:
    """It comes first, before the pictures of the words."""
    plan = case("two-weeks")
    pictured = sum(bool(item.picture) for item in current("two-weeks")[0].items)
    with opened(made("two-weeks", "school")) as document:
        figures = [s for s in structure(document[0]) if s == "Figure"]
    assert plan.emblem
    assert len(figures) == pictured + 1


@pytest.mark.parametrize("kind", ["guide", "score", "school"])
def test_the_code_stands_at_the_head(kind: Further) -> None:
    """Also of a client without a drawing, whose sheet nothing else tells from another's."""
    high = SIZES["letter"][1]
    with opened(made("no-pictures", kind)) as document:
        head = document[0].get_textpage().get_text_bounded(bottom=high - 30 * MM)
    assert case("no-pictures").client in head


@pytest.mark.parametrize("kind", ["guide", "cards", "school"])
def test_who_drew_is_named(kind: Further) -> None:
    """The license of OpenMoji, CC BY-SA 4.0, asks for it (section 3(a)(1))."""
    assert "OpenMoji (https://openmoji.org/), license CC BY-SA 4.0" in read(made("two-weeks", kind))


def test_what_makes_no_cards_says_why() -> None:
    assert "texts or talks" in why_not("cards", case("past-sentences"))
    assert why_not("cards", case("two-weeks")) == ""


@pytest.mark.parametrize("kind", ["guide", "cards", "score", "school"])
def test_tagged_titled_and_the_same_again(kind: Further, tmp_path: Path) -> None:
    data = made("two-weeks", kind)
    assert b"pdfuaid" in data
    assert b"/Lang(en-US)" in data
    plan = on_paper(case("two-weeks"), "letter")
    shown = {p.key: pictures.make(p, STORE[0]) for p in plan.pictures}
    probes = [PROBES] * len(plan.programs)
    assert further(kind, plan, shown, Store(tmp_path), DAY, probes) == data
    found, raw = set(), cast("Any", pdfium).raw
    with opened(data) as document:
        assert "otter-07" in document.get_metadata_dict()["Title"]
        for page in document:
            text = page.get_textpage()
            for at in range(text.count_chars()):
                font = ctypes.create_string_buffer(100)
                raw.FPDFText_GetFontInfo(text.raw, at, font, 100, ctypes.c_int())
                found.add(font.value.decode().split("+")[-1].partition("-")[0])
    assert found - {""} <= {"NotoSans", "ABeeZee"}
