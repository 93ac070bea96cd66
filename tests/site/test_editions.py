"""Pages in several languages: one plan, one record, one site."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator
from html.parser import HTMLParser

import pytest

from builder.model.plan import Plan
from builder.model.practice_view import view_of
from builder.site.editions import SHOWN_BY_MODULES, editions
from builder.site.pages import pages
from builder.text.templates import folder
from builder.text.wording import languages, wording
from tests.support import plans, pseudo
from tests.support.past_sentences import heron

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


def test_cautions_that_modules_show_come_with_the_words() -> None:
    first, second = editions(BOTH)
    assert dict(first.w) == dict(wording("en"))
    scripts = "\n".join(file.read_text("utf-8") for file in folder().glob("theme/**/*.js"))
    shown = re.findall(r'(?:say|tell)\.caution\("([\w.]+)"\)', scripts)
    assert sorted(shown) == sorted(key.partition(".")[2] for key in SHOWN_BY_MODULES)
    for key in SHOWN_BY_MODULES:
        part, _, name = key.partition(".")
        assert second.w[f"{part}.english.{name}"] == wording("en")[key]


def test_practiced_words_keep_their_language() -> None:
    made = {page.path: page.html for page in pages(BOTH, plans.facts(BOTH))}
    own, first = made[f"{pseudo.NAME}/sound"], made["sound"]
    assert first.count('lang="') == first.count('lang="en-US"') == 1, "the page's own"
    assert own.count(f'lang="{pseudo.NAME}-US"') == 1
    assert own.count('lang="en-US"') >= 2, "the sound's sign and its words"


class Untold(HTMLParser):
    """The text of a page that is not set off as another language than the page's."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.open: list[tuple[str, bool]] = []
        self.text = ""
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        own = dict(attrs).get("lang") or ""
        hidden = tag in ("script", "svg") or (own != "" and not own.startswith(pseudo.NAME))
        if tag not in ("img", "source", "input", "br"):
            self.open.append((tag, hidden))
        if tag in ("p", "li", "dt", "dd", "h1", "h2", "h3", "td", "th"):
            self.text += "\n"

    def handle_endtag(self, tag: str) -> None:
        while self.open and self.open.pop()[0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        if not any(hidden for _, hidden in self.open):
            self.text += data


# The code, whom to ask, a license and how a sound is written: these are of no language.
OF_NO_LANGUAGE = re.compile(
    r"[a-z]+-\d\d|Riverside.*|Monday to.*|\S+@\S+|eSpeak NG, GPL\S+|/[^/\s]+/"
)


def english_left(html: str) -> list[str]:
    """Lines of a page in the pseudo-language with vowels that it has not: it writes none
    without an accent."""
    lines = OF_NO_LANGUAGE.sub("", Untold(html).text).split("\n")
    return [line.strip() for line in lines if re.search("[aeiou]", line)]


@pytest.mark.parametrize("plan", [ONE, heron()], ids=["words", "past sentences"])
def test_nothing_is_left_in_english_that_is_not_told_to_be(plan: Plan) -> None:
    plan = dataclasses.replace(plan, interface=(pseudo.NAME,))
    made = pages(plan, plans.facts(plan))
    assert len(made) > 8
    assert {page.path: left for page in made if (left := english_left(page.html))} == {}


def test_english_that_is_left_is_found() -> None:
    assert english_left("<p>[Hó <b lang='en-US'>key</b>]</p><p>[Hó key]</p>") == ["[Hó key]"]
    assert english_left("<p>[Hó [hí] ú] 3</p>") == []
