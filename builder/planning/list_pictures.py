"""Which words of all steps have a picture, and which lack one, over all clients."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from builder.model.picture_need import Need, PictureNeed
from builder.model.plan import Picture
from builder.model.program import Client, Item, Program, Step
from builder.planning.plan_pictures import picture_of, with_drawings
from builder.survey.survey import Survey, texts_of

UNSHOWN = ("isolation", "syllable")  # levels whose items show no picture


def picture_needs(everyone: Iterable[tuple[Client, Survey]]) -> tuple[PictureNeed, ...]:
    """Every word that a step of a client shows, the most needed first.

    A picture of the client's own makes an entry of its own, since others do not see it.
    """
    found: dict[tuple[str, Picture | None], dict[str, Need]] = {}
    for client, survey in everyone:
        for program in client.programs:
            for at, step in enumerate(program.steps):
                seen = with_drawings(survey, client, program.written.steps[at])
                for word, picture in _shown(step, seen):
                    needs = found.setdefault((word, picture), {})
                    _need(needs, client, program, step)
    rows = (PictureNeed(word, picture, tuple(n.values())) for (word, picture), n in found.items())
    return tuple(sorted(rows, key=lambda row: row.rank))


def _shown(step: Step, survey: Survey) -> Iterator[tuple[str, Picture | None]]:
    if step.level not in UNSHOWN:
        for item in step.said:
            word = texts_of(item)[-1].lower()
            yield word, _picture(item, word, step, survey)


def _picture(item: Item, word: str, step: Step, survey: Survey) -> Picture | None:
    """What an item shows; None also for a file that cannot be used."""
    if (own := survey.own_picture(item)) and own.trouble:
        return None
    found = picture_of(item, step.level, survey)
    return found and replace(found, alt=word)


def _need(needs: dict[str, Need], client: Client, program: Program, step: Step) -> None:
    before = needs.get(client.code)
    now = step in program.published_steps or (before is not None and before.now)
    needs[client.code] = Need(client.code, now, bool(program.written.reads))
