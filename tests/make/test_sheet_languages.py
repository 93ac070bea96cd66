"""Sheets in Spanish and in a language longer than any, read back from their PDF."""

from __future__ import annotations

import io
import itertools
import re
from collections.abc import Iterator
from dataclasses import replace

import pytest
from pypdf import PageObject, PdfReader

from builder.make import sheets
from builder.make.further.pdf import further, languages_of
from builder.model.clinic import Contact
from builder.model.plan import Plan
from builder.text.wording import wording
from builder.workspace.desk import Further
from builder.workspace.store import Store
from tests.make.further_cases import case, in_both
from tests.make.sheet_cases import ADDRESS, CASES, clinic, on_paper
from tests.make.test_further import codes_on
from tests.make.test_sheets import MM, SIZES, opened, overlap, read, runs
from tests.support import pseudo
from tests.support.pdf_languages import texts

pytestmark = pytest.mark.slow
FOOT_MM = 16  # what stands below is the same on every page
MOST_PAGES = 3  # where English takes two: what finds no room runs on
STORE: list[Store] = []


@pytest.fixture(scope="module", autouse=True)
def _words(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    STORE.append(Store(tmp_path_factory.mktemp("sheets")))
    with pseudo.spoken(tmp_path_factory.mktemp("wording")):
        yield
    STORE.clear()


def all_in_place(data: bytes, most: int) -> None:
    """No text is nearer to the edge than 6 mm, none lies over another."""
    with opened(data) as document:
        assert len(document) <= most
        for page in document:
            wide, high = page.get_size()
            texts = runs(page)
            for left, bottom, right, top in texts:
                assert min(left, bottom, wide - right, high - top) >= 6 * MM
            assert not [pair for pair in itertools.combinations(texts, 2) if overlap(*pair)]


# The code, whom to ask, addresses (with them the text of a code's picture, which has one language),
# and whose the drawings are.
OF_NO_LANGUAGE = re.compile(
    r".*https?://.*|practice\.example.*|[a-z]+-\d\d|(Riverside|Test Clinic|Monday to).*|\S+@\S+"
    r"|OpenMoji|CC BY-SA"
)


def all_told(data: bytes, language: str) -> None:
    """Nothing is told to be in a language that it is not in. The pseudo-language writes no vowel
    without an accent, and nobody else one with it."""
    told = texts(data)
    assert len({lang for lang, _ in told}) > 1, "the practiced words have their own"
    if language != pseudo.NAME:
        return
    for lang, text in told:
        known = OF_NO_LANGUAGE.sub("", text)
        wrong = "[aeiou]" if lang.startswith(language) else "[áéíôü]"
        assert not re.search(wrong, known), (lang, text)


def test_what_is_told_to_be_in_another_language_is_found() -> None:
    plan = replace(case("two-weeks"), interface=(pseudo.NAME,), language=f"{pseudo.NAME}-US")
    data = sheets.handout(plan, {}, STORE[0])
    with pytest.raises(AssertionError):
        all_told(data, pseudo.NAME)


@pytest.mark.parametrize("language", ["es", pseudo.NAME])
@pytest.mark.parametrize(
    "name", ["two-weeks", "weeks-in-pairs", "counts", "alone", "contrast", "all-tasks"]
)
def test_a_sheet_has_all_of_its_text_in_place(name: str, language: str) -> None:
    plan = replace(CASES[name](), interface=(language,))
    data = sheets.handout(plan, {}, STORE[0], dated=True, printed="2026-12-05")
    all_in_place(data, MOST_PAGES)
    all_told(data, language)
    assert wording(language, plan.helper, "sheets")["sheets.own"].split()[0] in read(data)


@pytest.mark.parametrize("language", ["es", pseudo.NAME])
@pytest.mark.parametrize(
    ("name", "kind"),
    [
        *(("two-weeks", kind) for kind in ("guide", "cards", "school")),
        ("contrast", "cards"),
        *(("all-tasks", kind) for kind in ("guide", "school")),
    ],
)
def test_what_is_printed_on_request_too(name: str, kind: Further, language: str) -> None:
    plan: Plan = replace(case(name), interface=(language,))
    clinics = ("en",) if kind == "school" else ()  # a teacher's, as the dated sheet's
    assert languages_of(kind, plan) == (language, *clinics)
    data = further(kind, plan, {}, STORE[0], language=language)
    all_in_place(data, 8)
    all_told(data, language)


@pytest.mark.parametrize("paper", SIZES)
def test_the_guide_has_the_mouth_in_every_language(paper: str) -> None:
    """Text that finds no room beside it runs on."""
    plan = on_paper(replace(case("two-weeks"), interface=("es",)), paper)
    with opened(further("guide", plan, {}, STORE[0], language="es")) as document:
        assert len(document) == 2
        text = " ".join(" ".join(p.get_textpage().get_text_bounded() for p in document).split())
        ends = [min(low for _, low, *_ in runs(page) if low > FOOT_MM * MM) for page in document]
    assert wording("es", plan.helper)["mouth.parts.tip"] in text
    assert max(ends) < SIZES[paper][1] / 2, "both pages are more than half full"


def test_an_address_is_not_broken_at_its_own_hyphen() -> None:
    """Spanish repeats a hyphen on the next line (Ortografía de la lengua española, 2010)."""
    email = "desk@river-side.example"
    for before in (1, 12, 24):
        contact = Contact(clinic="n" * before, phone="555-0134", email=email)
        plan = replace(case("two-weeks"), interface=("es",), clinic=clinic(contact=contact))
        text = read(further("guide", plan, {}, STORE[0], language="es"))
        assert all(part in text for part in (email, "555-0134")), before


@pytest.mark.parametrize("paper", SIZES)
@pytest.mark.parametrize("name", ["two-weeks", "contrast"])
def test_cards_are_made_once_with_what_is_told_in_every_language(name: str, paper: str) -> None:
    plan = on_paper(in_both(case(name), pseudo.NAME), paper)
    data = further("cards", plan, {}, STORE[0])
    all_in_place(data, 4)
    all_told(data, pseudo.NAME)
    text = read(data)
    told = ("title", "test", "test_back", "how", "scale", *(["pair"] if name == "contrast" else []))
    for language in plan.interface:
        words = sheets.sheet_words(language)
        for key in told:
            assert words[f"cards.{key}"].split("{")[0].strip() in text, (language, key)


def test_each_code_leads_to_the_pages_in_the_language_of_its_sheet() -> None:
    plan = in_both(case("two-weeks"), "es")
    steps = [f"{step.id}/" for step in plan.programs[0].steps]
    sheet = sheets.handout(plan, {}, STORE[0], language="es")
    at = f"{ADDRESS}es/"
    assert found_on(sheet) == {at}
    (link,) = {link for page in PdfReader(io.BytesIO(sheet)).pages for link in links(page)}
    assert link == at
    guide = further("guide", plan, {}, STORE[0], language="es")
    assert found_on(guide) == {at, *(f"{at}{step}" for step in steps)}


def found_on(data: bytes) -> set[str]:
    with opened(data) as document:
        return {code.text for page in document for code in codes_on(page)}


def links(page: PageObject) -> list[str]:
    notes = (note.get_object() for note in page.get("/Annots", []))
    return [note["/A"]["/URI"] for note in notes]


def test_cautions_stand_in_english_too_until_a_speaker_has_read_the_words() -> None:
    plan = replace(CASES["two-weeks"](), interface=("es",))
    text = read(sheets.handout(plan, {}, STORE[0]))
    for key in ("sheets.stop_text", "sheets.half"):
        for language in ("en", "es"):
            said = wording(language, plan.helper, "sheets")[key]
            assert said.split(".")[0].split("{")[0].strip() in text
