"""Which way the client's animal looks, so that it never walks backward on its path."""

from __future__ import annotations

from typing import Literal

from builder.model.plan import Picture

# Seen on the drawings of OpenMoji; the others look to the left, or at whoever looks at them.
RIGHT = (
    *("1F409", "1F40A", "1F40C", "1F40D", "1F41D", "1F41F", "1F420"),
    *("1F426", "1F988", "1F995", "1F996", "1F99D", "1F9AC", "1F9AD"),
)


def facing(emblem: Picture) -> Literal["left", "right"]:
    """A client's own picture is taken to look to the left, as most drawings of animals do."""
    return "right" if emblem.kind == "ours" or emblem.source in RIGHT else "left"
