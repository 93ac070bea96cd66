"""Numbers of things, as said to a therapist: "1 day", "3 days", "2 tries"."""

from __future__ import annotations


def several(number: int, one: str, many: str = "") -> str:
    """The number with its noun; many: the plural where it is not `one` and an s."""
    return f"{number} {one if number == 1 else many or one + 's'}"
