"""The main job on real input: the demo programs, built as a therapist builds them, opened on every
page and practiced through by clicking."""

from __future__ import annotations

import urllib.request
from itertools import repeat
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, expect

from builder.model.plan import PlannedRound, PlannedStep
from builder.model.practice_view import view_of
from tests.browser.axe import found
from tests.browser.conftest import PHONE, TABLET, watch
from tests.browser.sitting import by_hand, kept, practise, skip_time
from tests.support.building import pages_of
from tests.support.demos import DEMOS, Demos
from tests.support.places import EXAMPLES, ROOT

pytestmark = pytest.mark.browser
CODES = pytest.mark.parametrize("code", DEMOS)


@CODES
def test_every_page_is_sound(browser: Browser, demos: Demos, axe: str, code: str) -> None:
    base, plans = demos.base, demos.plans
    context = browser.new_context(viewport=PHONE)
    watched = watch(context, f"{base}{plans[code].slug}/")
    pages = pages_of(demos.folder / plans[code].slug)
    assert {"", *(f"{s.id}/" for p in plans[code].programs for s in p.steps)} < set(pages)
    for path in pages:
        assert found(watched.open(path), axe) == [], path
    assert watched.errors == []
    assert watched.hosts == {urlsplit(base).netloc}
    context.close()


def tries_of(step: PlannedStep, planned: PlannedRound) -> int:
    return len(step.pairs if planned.contrast else step.items) * planned.times


@CODES
def test_a_morning_sitting_is_done_by_clicking(browser: Browser, demos: Demos, code: str) -> None:
    base, plans = demos.base, demos.plans
    plan = plans[code]
    steps = [s for program in plan.programs for s in program.steps if s.current]
    context = browser.new_context(viewport=TABLET)
    watched = watch(context, f"{base}{plan.slug}/")
    by_hand(watched.page, plan.slug)
    page = watched.open("")
    page.get_by_role("button", name=f"Start · about {plan.minutes} minutes", exact=True).click()
    page.get_by_role("button", name="Hear it", exact=True).click()
    expect(page.locator(".marks.sleeping")).to_have_count(0)
    skip_time(page)
    marks = practise(page, repeat("clear"))
    expect(page.get_by_role("heading", name="You did it!")).to_be_visible()
    expect(page.get_by_text(f"{marks} tries. Well done!")).to_be_visible()
    (sitting,) = kept(page)
    assert (sitting.site, sitting.plan) == (plan.slug, view_of(plan).digest)
    planned = [(s.id, r.form) for s in steps for r in s.rounds for _ in range(tries_of(s, r))]
    warm_up = marks - len(planned)
    assert [(t.step, t.form) for t in sitting.trials[warm_up:]] == planned
    assert warm_up == (2 if steps[0].easier else 0)
    assert {t.step for t in sitting.trials[:warm_up]} <= {steps[0].easier}
    assert [t.support for t in sitting.trials][:2] == ["imitation", "spontaneous"], "one was heard"
    assert (sitting.done, sitting.end) == (plan.tries, "done")
    page.clock.resume()
    page.get_by_role("button", name="Back to today’s page").click()
    expect(page.get_by_role("heading", name="Done")).to_be_focused()
    assert watched.errors == []
    context.close()


@CODES
def test_without_javascript_every_clip_is_there_to_play(
    browser: Browser, demos: Demos, code: str
) -> None:
    base, plans = demos.base, demos.plans
    plan = plans[code]
    context = browser.new_context(viewport=TABLET, java_script_enabled=False)
    page = watch(context, f"{base}{plan.slug}/").open("")
    for step in (s for program in plan.programs for s in program.steps):
        page.goto(f"{base}{plan.slug}/{step.id}/")
        for item in step.items:
            assert page.get_by_text(item.text, exact=True).count() >= 1, item.text
        clips: list[str] = page.locator("audio").evaluate_all("all => all.map(audio => audio.src)")
        assert len(clips) == sum(2 if item.long else 1 for item in step.items)
        for clip in clips:
            with urllib.request.urlopen(clip, timeout=20) as answer:
                assert answer.headers["content-type"] == "audio/mpeg"
    context.close()


@CODES
def test_a_site_holds_nothing_of_its_program_but_what_is_practised(demos: Demos, code: str) -> None:
    plan = demos.plans[code]
    text = "".join(f.read_text("utf-8") for f in (demos.folder / plan.slug).rglob("*.html"))
    program = (EXAMPLES / f"{code}.yaml").read_text("utf-8")
    assert plan.dates[0] in program
    for private in (*plan.dates, "baseline", "mastered", str(ROOT)):
        assert private not in text
