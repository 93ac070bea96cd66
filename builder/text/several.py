"""Several things, as said to a therapist: "1 day", "3 days", "2 tries"; "key, cow and cup"."""

from __future__ import annotations

from collections.abc import Sequence


def several(number: int, one: str, many: str = "") -> str:
    """The number with its noun; many: the plural where it is not `one` and an s."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def joined(names: Sequence[str]) -> str:
    """All of them in a sentence; at least one."""
    return f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else names[0]
