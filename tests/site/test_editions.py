"""Pages in several languages: one plan, one record, one site."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

import pytest

from builder.model.practice_view import view_of
from builder.site.editions import editions
from builder.site.pages import pages
from builder.text.wording import languages, wording
from tests.support import plans, pseudo

ONE = plans.plan(plans.program_k(), plans.program_sh())
BOTH = dataclasses.replace(ONE, interface=("en", pseudo.NAME))


@pytest.fixture(scope="module", autouse=True)
def _words(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    with pseudo.spoken(tmp_path_factory.mktemp("wording")):
        yield


def test_a_further_language_is_one_file_of_words_alone() -> None:
    assert {"en", pseudo.NAME} <= set(languages())
    assert wording(pseudo.NAME)["today.title"].startswith("[")


def test_the_plan_and_the_record_know_nothing_of_the_language_of_pages() -> None:
    assert view_of(BOTH).digest == view_of(ONE).digest


def test_every_page_is_there_in_each_language_and_the_first_lies_at_the_top() -> None:
    made = {page.path: page for page in pages(BOTH, plans.facts(BOTH))}
    top = {path for path in made if not path.startswith(f"{pseudo.NAME}/")}
    assert {f"{pseudo.NAME}/{path}" for path in top} == made.keys() - top
    assert {made[path].language for path in top} == {"en"}
    assert made[f"{pseudo.NAME}/about"].title == wording(pseudo.NAME)["about.title"]


def test_cautions_stand_in_english_too_while_no_speaker_has_read_the_words() -> None:
    first, second = editions(BOTH)
    english = wording("en")["frame.doubt"]
    assert first.caution("frame.doubt") == english
    assert english in second.caution("frame.doubt")
    assert wording(pseudo.NAME)["frame.doubt"] in second.caution("frame.doubt")
    made = {page.path: page.html for page in pages(BOTH, plans.facts(BOTH))}
    for kind in ("pain", "swallow", "sudden"):
        assert wording("en")[f"about.red_text.{kind}"] in made[f"{pseudo.NAME}/about"]


def test_practiced_words_keep_their_language() -> None:
    made = {page.path: page.html for page in pages(BOTH, plans.facts(BOTH))}
    own, first = made[f"{pseudo.NAME}/sound"], made["sound"]
    assert first.count('lang="') == first.count('lang="en-US"') == 1, "the page's own"
    assert own.count(f'lang="{pseudo.NAME}-US"') == 1
    assert own.count('lang="en-US"') >= 2, "the sound's sign and its words"
