"""A client of our own who practices alone, and what no page may say to such a client."""

from __future__ import annotations

import re

from builder.model.fill_sitting import filled
from builder.model.program import Client
from builder.program_file.resolve import program_in
from builder.program_file.yaml_tree import parse
from builder.survey.survey import Survey
from tests.support.clients import CLINIC
from tests.support.places import TESTS

EGRET = (TESTS / "programs" / "egret-21.yaml").read_text("utf-8")

# Drawings of two of the client's words and of a bird.
DRAWN = Survey(
    own={}, drawings={"ring": "1F48D", "rose": "1F339"}, takes={}, emblem=("1F426", "bird")
)

# A young client, those around one, and how one cheers a child on. Our own list, no source.
NOT_FOR_ADULTS = re.compile(
    r"\b(child\w*|kids?|boys?|girls?|helper\w*|grown-?ups?|adults?|parents?|famil(y|ies)|mom|dad"
    r"|some(body|one) listens|together|side by side|fridge|fun|smile"
    r"|well done|good (work|job)|great|super|bravo|you did it|prais\w+)\b|!",
    re.IGNORECASE,
)


def not_for_adults(text: str) -> list[str]:
    """What of a text is said to children or about them, with the words around it."""
    return [text[max(0, m.start() - 30) : m.end() + 10] for m in NOT_FOR_ADULTS.finditer(text)]


def egret(text: str = EGRET) -> Client:
    """The client of the program in tests/programs, or of a text made from it."""
    program = program_in(parse(text.encode(), "egret-21.yaml"), CLINIC)
    return filled(Client("egret-21", (program,), CLINIC, "."))
