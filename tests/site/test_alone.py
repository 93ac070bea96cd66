"""What an adult reads who practices alone: every page, every text of the rounds, the sheet."""

from __future__ import annotations

import itertools
from pathlib import Path

import pypdfium2 as pdfium
import pytest

from builder import checks
from builder.make import pictures, sheets
from builder.model.plan import Plan
from builder.model.practice_view import view_of
from builder.planning.make_plan import SiteContext, make
from builder.site.blocks.practice import PageData
from builder.site.editions import edition
from builder.site.pages import pages, theme_settings
from builder.site.proof import proof_page, with_all_steps
from builder.text.wording import wording
from builder.workspace.store import Store
from tests.site.test_pages import Reader, block
from tests.support import plans
from tests.support.alone import DRAWN, EGRET, egret, not_for_adults
from tests.support.clients import NOTHING

VERSIONS = {"natural": "1", "embedded": "1"}
READ_OUT = ("aria-label", "alt", "title")
PAIRS = "  - {name: pairs, level: word, contrast: [[rake, wake], [red, wed]]}\n  - {name: at work"
TEXTS = {
    "a voice speaks": EGRET,
    "nobody speaks": EGRET.replace("helper: self", "helper: self\nvoice: helper"),
    "contrast": EGRET.replace("  - {name: at work", PAIRS).replace("short phrases]", "pairs]"),
    "no cues": EGRET[: EGRET.index("reminder:")] + EGRET[EGRET.index("words:") :],
}
CASES = pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)


def plan_of(text: str = EGRET) -> Plan:
    return make(egret(text), DRAWN, SiteContext(plans.SLUG, VERSIONS))


def read_by_hand(plan: Plan) -> dict[str, str]:
    """All that a page says or reads out, by its path, and the frame around every page."""
    found = {}
    for page in pages(plan, plans.facts(plan)):
        reader = Reader(page.html)
        labels = (a.get(name) or "" for _, a in reader.tags for name in READ_OUT)
        found[page.path] = "\n".join((page.title, page.description, reader.text, *labels))
    frame = theme_settings(edition(plan, "en"))
    menu = (link["title"] for link in frame["nav"])
    return found | {"the frame": "\n".join((frame["site"], *menu, *frame["words"].values()))}


@CASES
def test_every_page_addresses_the_client(text: str) -> None:
    said = read_by_hand(plan_of(text))
    assert {path: found for path, page in said.items() if (found := not_for_adults(page))} == {}
    assert "You say the words, and you listen to yourself." in said["helper"]
    assert "Guide" in said["the frame"]


@CASES
def test_every_text_of_the_rounds_addresses_the_client_and_calls_the_marks_its_own(
    text: str,
) -> None:
    plan = plan_of(text)
    found = {page.path: page for page in pages(plan, plans.facts(plan))}
    for step in (step for program in plan.programs for step in program.steps):
        page = PageData.model_validate(block(found[step.id]))
        assert page.helper == "self"
        every = wording("en", "self").part("rounds")
        assert page.wording.items() <= every.items()
        said = [(step.reminder, step.name) for step in (*page.steps, *page.easier)]
        texts = (*itertools.chain(*said), *every.values())
        assert [found for one in texts for found in not_for_adults(one)] == []
        assert "own mark" in page.wording["marks_label"] + page.wording["for_helper"]


def test_the_same_pages_with_a_helper_speak_of_the_child() -> None:
    said = read_by_hand(plan_of(EGRET.replace("helper: self\n", "")))
    assert "The child does the talking." in said["helper"]
    assert "Helper" in said["the frame"]


@pytest.mark.slow
@CASES
def test_the_sheet_addresses_the_client(text: str, tmp_path: Path) -> None:
    plan, store = plan_of(text), Store(tmp_path)
    shown = {picture.key: pictures.make(picture, store) for picture in plan.pictures}
    document = pdfium.PdfDocument(sheets.handout(plan, shown, store, dated=True))  # type: ignore[no-untyped-call]
    said = "\n".join(page.get_textpage().get_text_bounded() for page in document)
    assert "egret-21" in said
    assert not_for_adults(said) == []


def test_the_proof_says_that_the_marks_are_the_clients_own() -> None:
    def proof(text: str) -> str:
        client = with_all_steps(egret(text))
        plan = make(client, NOTHING, SiteContext("abc", VERSIONS))
        html = proof_page(client, plan, checks.run(client, NOTHING), {}, NOTHING)
        return " ".join(Reader(html).text.split())

    alone, helped = (
        proof(TEXTS["nobody speaks"].replace(": self", f": {h}")) for h in ("self", "home")
    )
    assert "every mark is the client’s own" in alone
    assert "the helper says it" not in alone
    assert "every mark is the client’s own" not in helped
    assert "the helper says it" in helped


def test_no_wrong_example_is_said_to_be_for_another_ear() -> None:
    plan = plan_of()
    assert plan.programs[0].wrong, "the error is a plain sound, so it can be heard"
    assert "do not say it that way" in read_by_hand(plan)["helper"]


def test_a_change_of_the_helper_alone_makes_no_new_plan() -> None:
    alone, helped = plan_of(), plan_of(EGRET.replace("helper: self", "helper: school"))
    assert (alone.helper, helped.helper) == ("self", "school")
    assert view_of(alone).digest == view_of(helped).digest
