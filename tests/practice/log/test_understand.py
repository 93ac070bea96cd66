"""Whatever a page can ask for is understood: nothing that a family really did is kept apart."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from typing import Any

import pytest

from builder.model.plan import Plan
from builder.model.practice_view import view_of
from builder.planning.make_plan import SiteContext, make
from builder.practice.log.understand import Known, why_apart
from builder.program_file.load import clients
from builder.site.blocks.practice import PageData, step_page_data, today_data
from builder.site.blocks.steps import StepData
from builder.survey.survey import Survey
from builder.text.wording import wording
from tests.support import plans
from tests.support.from_home import EXAMPLE, sitting
from tests.support.past_sentences import heron
from tests.support.places import EXAMPLES


def example(code: str) -> Plan:
    (client,) = clients([EXAMPLES / f"{code}.yaml"])
    return make(
        client, Survey(own={}, drawings={}, takes={}), SiteContext(plans.SLUG, {"natural": "1"})
    )


PAIRS = """program: 1
client: heron-31
age: 7
reads: yes
sound: k
error: t
position: initial
mastered: {syllable: 2026-11-02}
current: words
reminder: Back of the tongue
words: [key, cow, cape, comb, coin]
steps:
  - name: words
    level: word
    contrast: [[key, tea], [cape, tape]]
    rounds: natural imitation
"""

PLANS: dict[str, Callable[[], Plan]] = {
    "two sounds": lambda: plans.plan(plans.program_k(), plans.program_sh()),
    "past sentences": heron,
    "pairs": lambda: heron(PAIRS),
    "heron-07": lambda: example("heron-07"),
    "otter-12": lambda: example("otter-12"),
    "badger-03": lambda: example("badger-03"),
}


def trials_of(step: StepData) -> list[dict[str, Any]]:
    """A trial of every item in every round as tasks.js has them, of texts as of one entry."""
    one = EXAMPLE["trials"][0] | {"step": step.id}
    if step.passage:
        return [one | {"round": "text", "item": "text", "mark": "not_tried"}]
    both = [*step.pairs, *step.imitated]
    words = [*step.items, *(word for pair in both for word in pair)]
    tried = [one | {"round": r.id, "item": i.id} for r in step.rounds for i in words]
    return tried + [
        one | {"round": r.id, "item": a.id, "chosen": a.id, "heard": b.id}
        for r in step.rounds
        for a, b in both
    ]


@pytest.mark.parametrize("name", PLANS)
def test_what_the_pages_ask_for_is_understood(name: str) -> None:
    plan = PLANS[name]()
    view, words, facts = view_of(plan), wording(), plans.facts(plan)
    pages: list[PageData] = [
        today_data(plan, facts, words),
        *(step_page_data(plan, p, s, facts, words) for p in plan.programs for s in p.steps),
    ]
    steps = [step for page in pages for step in (*page.steps, *page.easier)]
    assert steps
    done = sitting(
        1,
        site=plan.slug,
        plan=pages[0].plan,
        trials=[trial for step in steps for trial in trials_of(step)],
        tallies=[EXAMPLE["tallies"][0] | {"step": step.id} for step in steps if step.passage],
    )
    known = Known(
        {plan.slug: plan.client},
        lambda site, digest: view if digest == view.digest else None,
        datetime.date(2026, 12, 4),
    )
    assert why_apart(done, known) == ""
