"""Pages past sentences: task, minutes, the text with its targets set off; nothing is played."""

from __future__ import annotations

import functools
import re
from dataclasses import replace

import pytest

from builder.make.clips import Facts
from builder.make.sheet.week import boxes
from builder.make.sheets import sheet_words
from builder.model.practice_view import view_of
from builder.site.blocks.practice import today_data
from builder.site.pages import Page, pages
from builder.text.wording import wording
from tests.support.past_sentences import HERON, heron
from tests.support.plans import facts


@functools.cache
def made(text: str = HERON) -> dict[str, Page]:
    plan = heron(text)
    known: dict[str, Facts] = facts(plan)
    return {page.path: page for page in pages(plan, known)}


def test_today_with_a_text_has_the_words_for_it() -> None:
    plan = heron()
    every = wording("en").part("rounds")
    left_out = every.keys() - today_data(plan, facts(plan), wording("en")).wording.keys()
    assert {key.partition(".")[0] for key in left_out} == {"contrast", "yourself"}


def test_each_step_has_its_page_and_nothing_is_played_there() -> None:
    for name in ("s-at-the-sea", "s-the-picnic", "s-dinner"):
        html = made()[name].html
        assert 'class="content content-passage"' in html
        assert "<audio" not in html
        assert "practice-rounds" not in html
        assert "Teeth together" in html


def test_the_targets_that_count_are_set_off() -> None:
    html = made()["s-at-the-sea"].html
    found = re.findall(r"<p>(.*)</p>", html[html.index('class="passage"') :])
    assert len(found) == 2
    set_off = [re.findall(r"(\w*)<span class=\"target\">(\w+)</span>(\w*)", line) for line in found]
    words = ["".join(parts) for line in set_off for parts in line]
    # By ear: the s and c that sound /s/ first or last in their word and alone. `six` ends in /ks/.
    heard = "Sam Cindy sit sun sea see six seals sings bus says Sam sounds house seals"
    assert words == heard.split()
    assert "15 s sounds to say" in html
    assert "&lt;" in html
    assert "<b>" not in html


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("s-at-the-sea", ["about 5 minutes", "Read the text aloud"]),
        ("s-the-picnic", ["about 4 minutes", "in their own words"]),
        ("s-dinner", ["about 5 minutes", "At dinner, with Grandpa", "don’t correct"]),
    ],
)
def test_a_page_says_the_task_and_the_minutes(name: str, says: list[str]) -> None:
    assert all(one in made()[name].html for one in says)


def test_who_practises_alone_is_not_told_of_a_child() -> None:
    alone = made(HERON.replace("age: 9", "age: 40\nhelper: self"))
    for name in ("s-at-the-sea", "s-the-picnic", "s-dinner"):
        html = alone[name].html
        assert "child" not in html
        assert "helper:" not in html


def test_today_says_minutes_and_no_tries_of_them() -> None:
    said = re.sub("<script.*?</script>", "", made()[""].html, flags=re.DOTALL)
    assert "tries" not in said
    assert said.count("about 5 minutes") == 2
    assert "One sitting: about 10 minutes. There is more" in said  # 5 + 4 + 5, and the warm-up


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize(("planned", "whole"), [(10, True), (20, False)])
def test_button_pages_and_sheet_name_one_number(language: str, planned: int, whole: bool) -> None:
    """A sitting ends with the planned minutes; what they cut off comes first in the next one."""
    text = HERON.replace("age: 9", f"age: 9\npractice: {{minutes: {planned}}}")
    plan = replace(heron(text), interface=(language,))
    minutes = 10 if whole else 14
    data = today_data(plan, facts(plan), wording(language))
    assert min(data.minutes, data.estimate) == minutes, "as the button has it"
    shown = {page.path: page.html for page in pages(plan, facts(plan))}
    words = sheet_words(language)
    about = wording(language).count("today.about_minutes", minutes)
    line = re.compile(rf": {about}" + (r"\. " if whole else "<"))
    for name in ("", "print"):
        assert line.search(shown[name]), name
    each = boxes(plan, words, ("", ""), "")["each"]
    assert each.startswith(words["each"].format(minutes=minutes))
    assert each.endswith(words["goes_on"]) == whole


def test_the_checklist_holds_the_task_and_the_text() -> None:
    html = made()["print"].html
    assert html.count('<p class="passage"') == 3
    assert "At dinner, with Grandpa" in html


def test_a_record_can_tell_what_was_read() -> None:
    steps = view_of(heron()).programs[0].steps
    assert [s.passage.targets if s.passage else None for s in steps] == [None, 15, 3, 0]
    assert steps[1].passage
    assert steps[1].passage.text.startswith("Sam and Cindy sit in the sun")
    assert steps[3].passage
    assert (steps[3].passage.where, steps[3].passage.company) == ("At dinner", "Grandpa")
    other = view_of(heron(HERON.replace("six seals", "six cats")))
    assert other.practice_digest != view_of(heron()).practice_digest
