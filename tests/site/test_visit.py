"""The page for the visit, and what About says where a clinic takes records."""

from __future__ import annotations

import dataclasses
import json
import re
from html import unescape

import pytest

from builder.model.clinic import Way
from builder.model.plan import Plan
from builder.site.blocks.visit import VisitData
from builder.site.pages import pages
from tests.support import plans


def with_records(plan: Plan, *ways: Way) -> Plan:
    """The plan of a clinic that takes records in these ways."""
    return dataclasses.replace(plan, clinic=plan.clinic.model_copy(update={"records": ways}))


def html_of(plan: Plan, path: str) -> str:
    """A page of the site."""
    return next(page.html for page in pages(plan, plans.facts(plan)) if page.path == path)


def data_of(plan: Plan) -> VisitData:
    """The data block of the page for the visit."""
    found = re.search(r'"application/json">(.*?)</script>', html_of(plan, "visit"), re.DOTALL)
    assert found
    return VisitData.model_validate(json.loads(found[1]))


def test_the_page_knows_every_published_step_and_word_todays_first() -> None:
    plan = plans.plan(plans.program_k(), plans.program_sh())
    data = data_of(plan)
    assert (data.site, data.client, data.helper) == (plan.slug, "otter-07", "home")
    assert data_of(dataclasses.replace(plan, other_helpers=("school",))).other_helpers == (
        "school",
    )
    assert [step.id for step in data.steps][:2] == ["k-words", "sh-final-words"]
    published = {step.id: step.said for program in plan.programs for step in program.steps}
    assert {step.id: step.items for step in data.steps} == {
        id_: tuple((item.id, item.text) for item in said) for id_, said in published.items()
    }


def test_ways_that_nobody_asked_for_are_not_there() -> None:
    assert data_of(plans.plan()).records == ()
    assert data_of(with_records(plans.plan(), "code", "copy", "code")).records == ("code", "copy")


SENT = "A message then goes through your own app"


@pytest.mark.parametrize(
    ("ways", "said"), [((), False), (("copy",), True), (("code", "share"), True)]
)
def test_about_says_whose_app_a_message_goes_through(ways: tuple[Way, ...], said: bool) -> None:
    about = unescape(html_of(with_records(plans.plan(), *ways), "about"))
    assert (SENT in about) is said
    assert ("Nothing is deleted when you send it." in about) is said
    assert ("Lean QR" in about) is ("code" in ways)
