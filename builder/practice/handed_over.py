"""What a family handed over -> sittings: a pasted message, a saved file, what codes held.

A sitting that comes twice is one, whichever way and how often it comes.
"""

from __future__ import annotations

from collections.abc import Iterable

from pydantic import ValidationError

from builder.model.record import Sitting, union
from builder.practice.parts import MOST_CHARACTERS, messages
from builder.practice.unpack import unpack_all
from builder.problems import UsageError


def read_text(text: str) -> tuple[Sitting, ...]:
    """The sittings of every message in a text, oldest first.

    Raises UsageError where there is none, or one of them is cut, changed or forged.
    """
    return read_codes([text])


def read_codes(held: Iterable[str]) -> tuple[Sitting, ...]:
    """The same of what codes held, in any order and any of them more than once.

    Raises UsageError also for a part that is missing, by its number.
    """
    return union(map(_sitting, unpack_all(messages(held))))


def read_file(data: bytes) -> tuple[Sitting, ...]:
    """The same of a file's bytes, in UTF-8 or, as some editors save it, UTF-16."""
    if len(data) > MOST_CHARACTERS:
        raise UsageError("This is far too long for a practice record.")
    wide = data[:2] in (b"\xff\xfe", b"\xfe\xff")
    return read_text(data.decode("utf-16" if wide else "utf-8", "replace"))


def _sitting(values: dict[str, object]) -> Sitting:
    try:
        return Sitting.model_validate(values)
    except ValidationError as problem:
        first = problem.errors()[0]
        where = ".".join(map(str, first["loc"])) or "the whole"
        raise UsageError(
            f"The practice record of {str(values['start'])[:10]} is not as a tablet writes it "
            f"({where}: {first['msg']})."
        ) from None
