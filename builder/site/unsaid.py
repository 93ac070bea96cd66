"""Why no voice is heard for an item, and the helper says it; or why not the voice that was asked:
for the proof."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterator

from builder.audio.voices import LOCAL_VOICES, missing_modules
from builder.audio.voices.suitability import SoundForm, suitability_of
from builder.model.clinic import AskedVoice
from builder.model.plan import Clip, Plan, PlannedStep
from builder.model.program import Form

Unsaid = dict[tuple[str, str, Form], str]
"""By step, item and form: the reason, without a stop at its end."""


def reasons(plan: Plan, made: Container[str], told: Callable[[str], str]) -> Unsaid:
    """Of every item for which a step wants a clip and there is none.

    plan: with all that was asked for. made: keys of the clips that there are. told: by the key of a
    clip that no voice could make, why; "" where nothing is known.
    """
    found: Unsaid = {}
    for program in plan.programs:
        for step in program.steps:
            for item, form, position, clip in _wanted(step):
                if clip and clip.key in made:
                    continue
                why = told(clip.key) if clip else of_table(program.symbol, form, position)
                found[step.id, item, form] = why.rstrip(".")
    return {key: why for key, why in found.items() if why}


def _wanted(step: PlannedStep) -> Iterator[tuple[str, Form, str, Clip | None]]:
    held = any(one.form == "long" for one in step.rounds)
    for item in step.said:
        yield item.id, "natural", item.position, item.natural
        if held and item in step.items:
            yield item.id, "long", item.position, item.long


def of_table(symbol: str, form: Form, position: str) -> str:
    """What the voices of this computer are for it; "" where one of them is offered."""
    found = [(voice, suitability_of(voice, symbol, form, position)) for voice in LOCAL_VOICES]
    if any(known.offered for _, known in found):
        return ""
    if len({known.reason for _, known in found}) == 1:
        return found[0][1].reason
    return "; ".join(f"{voice} voice: {known.reason}" for voice, known in found)


def unfit(asked: AskedVoice, symbol: str, form: SoundForm, position: str) -> str:
    """Why the voice that a program asks for does not say it; "" where it does, or is not here."""
    if asked == "helper" or missing_modules(asked):
        return ""
    known = suitability_of(asked, symbol, form, position)
    return "" if known.offered else known.reason
