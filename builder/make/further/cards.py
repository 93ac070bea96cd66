"""Cards for cutting: a picture on one side, its word on the other, for every item of now."""

from __future__ import annotations

from collections.abc import Mapping

from builder.make import drawings, sheets
from builder.make.sheet.text import Data, Shelf, Words, clean, item_text
from builder.model.plan import Plan, PlannedItem, PlannedStep
from builder.text.wording import spoken

PER_LEAF = 9  # three by three
TOLD = ("title", "whom", "pictures", "words", "how", "test", "test_back", "scale")


def cards(plan: Plan, shelf: Shelf, words: Mapping[str, Words]) -> Data:
    """The leaves with their cards, in the order of practice; a text that comes twice has one.

    words: of each language of the pages; every leaf has its instructions in all of them.
    """
    found: dict[str, Data] = {}
    for program in plan.programs:
        for step in program.steps:
            if step.current and not step.passage:
                partners = [_partners(step, one) for one in words.values()]
                for item in step.said:
                    pairs = [one[item.id] for one in partners if item.id in one]
                    card = _card(item, pairs, shelf, _drawn(item))
                    found.setdefault(item.text, card)
    all_cards = list(found.values())
    leaves = [all_cards[at : at + PER_LEAF] for at in range(0, len(all_cards), PER_LEAF)]
    told = [
        {**sheets.lang(plan, language), **{name: one[f"cards.{name}"] for name in TOLD}}
        for language, one in words.items()
    ]
    return {"told": told, "leaves": leaves}


def _drawn(item: PlannedItem) -> bool:
    return item.picture is not None and item.picture.kind == "drawing"


def _card(item: PlannedItem, pairs: list[str], shelf: Shelf, is_drawn: bool) -> Data:
    picture = shelf.show(item.picture)
    credit = f"OpenMoji, {drawings.LICENCE}" if picture and is_drawn else ""
    return {
        "text": item_text(clean(item.text)),
        "picture": picture,
        "pairs": pairs,
        "credit": credit,
    }


def _partners(step: PlannedStep, words: Words) -> dict[str, str]:
    """Of an item that stands in one pair alone what tells so, since it is played in pairs."""
    said = {item.id: spoken(clean(item.text)) for item in step.said}
    found: dict[str, list[str]] = {}
    for one, other in step.pairs:
        told = item_text(words["cards.pair"].format(one=said[one], other=said[other]))
        found.setdefault(one, []).append(told)
        found.setdefault(other, []).append(told)
    return {item: pairs[0] for item, pairs in found.items() if len(pairs) == 1}
