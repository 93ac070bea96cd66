"""Why a list of words is short, and what gives more: one line for the therapist."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from builder.phonetics.lexicon.function_words import is_function_word
from builder.phonetics.position import Position
from builder.wordbank.filters import Query, Words
from builder.wordbank.needs import Needs
from builder.wordbank.suggest import MIN_WORDS, NO_NEEDS, Offer, offer

HOLDS: dict[Position, tuple[str, str]] = {
    "initial": ("begins with {}", "begin with {}"),
    "medial": ("holds {} inside", "hold {} inside"),
    "final": ("ends in {}", "end in {}"),
}


def why_short(words: Words, query: Query, found: Sequence[Offer], needs: Needs = NO_NEEDS) -> str:
    """One line under a list of `found` words; "" where enough of them are known to children."""
    known = [o.word for o in found if o.known]
    if len(known) >= MIN_WORDS or query.wide:
        return ""
    widest = Query(sound=query.sound, position=query.position, cluster=None, wide=True)
    if not found and not offer(words, widest):
        return f"No English word in use {_said(query)[0]}."
    told = [_count(query, len(known))]
    small = list(filter(is_function_word, known))
    if len(small) > len(known) / 2:
        told.append(f"Most are small words ({', '.join(small[:3])}): practice them in phrases.")
    more = ", ".join(f"{name} ({count})" for name, count in _more(words, query, found, needs))
    return " ".join([*told, *([f"For more: {more}."] if more else [])])


def _said(query: Query) -> tuple[str, str]:
    """What one word does, and what several do: begins with /z/, begin with /z/."""
    one, many = HOLDS[query.position]
    sound = f"/{query.sound.ipa}/"
    return one.format(sound), many.format(sound)


def _count(query: Query, count: int) -> str:
    one, many = _said(query)
    narrow = _plain(query) != query
    if count == 1:
        return f"Only 1 word that children know {one}{' and is as asked for' if narrow else ''}."
    asked = " and are as asked for" if narrow else ""
    return f"{count or 'No'} words that children know {many}{asked}."


def _plain(query: Query) -> Query:
    """The query without what narrows it, but its sound, position and cluster."""
    return Query(
        sound=query.sound, position=query.position, cluster=query.cluster, endings=query.endings
    )


def _more(
    words: Words, query: Query, found: Sequence[Offer], needs: Needs
) -> Iterator[tuple[str, int]]:
    """What gives more words, and how many it gives."""
    wider = {
        "without the other options": _plain(query),
        "--cluster any": replace(query, cluster=None),
        "--wide": replace(query, wide=True),
    }
    for name, other in wider.items():
        count = len(offer(words, other, needs)) if other != query else 0
        if count > len(found):
            yield name, count
