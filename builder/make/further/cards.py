"""Cards for cutting: a picture on one side, its word on the other, for every item of now."""

from __future__ import annotations

from builder.make import drawings
from builder.make.sheet.text import Data, Shelf, Words, clean, item_text
from builder.model.plan import Plan, PlannedItem, PlannedStep
from builder.text.wording import spoken

PER_LEAF = 9  # three by three


def cards(plan: Plan, shelf: Shelf, words: Words) -> Data:
    """The leaves with their cards, in the order of practice; a text that comes twice has one."""
    found: dict[str, Data] = {}
    for program in plan.programs:
        for step in program.steps:
            if step.current and not step.passage:
                partners = _partners(step, words)
                for item in step.said:
                    card = _card(item, partners.get(item.id, ""), shelf, _drawn(item))
                    found.setdefault(item.text, card)
    all_cards = list(found.values())
    leaves = [all_cards[at : at + PER_LEAF] for at in range(0, len(all_cards), PER_LEAF)]
    names = ("pictures", "words", "how", "test", "test_back", "scale")
    return {**{name: words[f"cards.{name}"] for name in names}, "leaves": leaves}


def _drawn(item: PlannedItem) -> bool:
    return item.picture is not None and item.picture.kind == "drawing"


def _card(item: PlannedItem, pair: str, shelf: Shelf, is_drawn: bool) -> Data:
    picture = shelf.show(item.picture)
    credit = f"OpenMoji, {drawings.LICENCE}" if picture and is_drawn else ""
    return {"text": item_text(clean(item.text)), "picture": picture, "pair": pair, "credit": credit}


def _partners(step: PlannedStep, words: Words) -> dict[str, str]:
    """Of an item that stands in one pair alone what tells so, since it is played in pairs."""
    said = {item.id: spoken(clean(item.text)) for item in step.said}
    found: dict[str, list[str]] = {}
    for one, other in step.pairs:
        told = item_text(words["cards.pair"].format(one=said[one], other=said[other]))
        found.setdefault(one, []).append(told)
        found.setdefault(other, []).append(told)
    return {item: pairs[0] for item, pairs in found.items() if len(pairs) == 1}
