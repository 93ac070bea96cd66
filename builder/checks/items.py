"""The items of a program for checks that look at each of them once."""

from __future__ import annotations

from collections.abc import Iterator

from builder.model.program import Item, Program, Step


def new_items(program: Program, *, pairs: bool = False) -> Iterator[tuple[Step, list[Item]]]:
    """Every step with those of its items that no earlier step has; a list may serve several.

    pairs: words that are in contrast pairs only count as well.
    """
    seen: set[tuple[str | int, ...]] = set()
    for step in program.steps:
        new = [item for item in (step.said if pairs else step.items) if item.path not in seen]
        seen.update(item.path for item in new)
        yield step, new
