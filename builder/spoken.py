"""A plan and its clips. Who speaks a clip is known once it is made, and whose voice a round is in
once all of its clips are: so what was made may be planned anew."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from builder.make import clips
from builder.make.clips import Facts
from builder.model.plan import Clip, Plan
from builder.model.program import Client
from builder.planning import make_plan
from builder.planning.make_plan import SiteContext
from builder.planning.one_voice import Said
from builder.planning.plan_clips import heard
from builder.survey.survey import Survey
from builder.workspace.store import Store

if TYPE_CHECKING:
    from builder.model.clinic import Speaker


def made(
    client: Client,
    survey: Survey,
    context: SiteContext,
    store: Store,
    progress: Callable[[str, int, int], None],
    wanted: Callable[[Plan], tuple[Clip, ...]] = lambda plan: plan.clips,
) -> tuple[Plan, dict[str, Facts]]:
    """The plan, and the facts of its clips by key; none for what no voice can say.

    wanted: what of the plan is made. Raises as `clips.make`.
    """
    said: Said = {}
    facts: dict[str, Facts] = {}
    while True:
        plan = make_plan.make(client, survey, context, said)
        asked = wanted(plan)
        # What was told first stays: only then is it known which service did not speak, and why.
        facts = clips.make(asked, store, partial(_tell, progress, len(asked))) | facts
        # Who spoke once is taken at the first word: so there is an end to it.
        before, said = said, {clip.key: _speaker(clip, facts) for clip in asked} | dict(said)
        if make_plan.as_planned(plan, before, said):
            return plan, facts


def _speaker(clip: Clip, facts: dict[str, Facts]) -> Speaker | None:
    spoken = heard(clip, facts)
    return facts[spoken.key].voice if spoken else None


def _tell(progress: Callable[[str, int, int], None], total: int, done: int) -> None:
    progress("clips", done, total)
