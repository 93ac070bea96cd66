"""Where the minutes of a sitting hold fewer tries than are usual, how many minutes would."""

from __future__ import annotations

from dataclasses import replace

from builder.model import dose
from builder.model.fill_sitting import TRIES, TRIES_SMALL, filled
from builder.model.program import Client

MOST_MORE = 5  # minutes; further a sitting is another one


def short_sitting(client: Client) -> str:
    """A sentence, "" where the tries are as many as are usual, or no few minutes more would do."""
    programs = client.programs
    tries, planned = dose.sitting_tries(programs), dose.planned_minutes(programs)
    least, most = TRIES_SMALL if dose.is_small(programs[0].written.age) else TRIES
    if tries >= least:
        return ""
    for minutes in range(planned + 1, planned + MOST_MORE + 1):
        more = dose.sitting_tries(filled(_of_minutes(client, minutes), every=True).programs)
        if more >= least:
            return (
                f"{tries} tries: {least} to {most} are usual; `minutes: {minutes}` under "
                f"`practice:` would hold {more}."
            )
    return ""


def _of_minutes(client: Client, minutes: int) -> Client:
    programs = tuple(replace(one, minutes=minutes) for one in client.programs)
    return replace(client, programs=programs)
