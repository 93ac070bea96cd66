"""Can the client say the rest of a line? Its other words are looked at by how they are said: none
may hold the target where it was not taught or be kept apart as a probe, few should hold what the
client lacks."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

from builder.drafting.word_kinds import Phones, PractisedWord
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.phonetics.lexicon.function_words import is_function_word
from builder.phonetics.position import occurrences
from builder.phonetics.seams import lost_at_seam
from builder.program_file.pronounce import Target, words_of
from builder.wordbank.needs import Needs, held
from builder.wordbank.probes import is_probe

# How much each thing weighs against a line; what comes first is worst. Common practice, no source.
# A line with a sound that is lacking is drafted only where there is no other at all.
LACKED_COST, PARTNER_COST, CONFUSED_COST, MORE_TARGETS_COST = 60, 4, 4, 3
TOLD_COST = 20  # of the voicing partner in a content word, which the check would tell of
NO_NEEDS = Needs()
VOCALIC_R = ("ER",)  # with a consonant r that is learned, vowel + r is not there either


@dataclass(frozen=True)
class Limits:
    """What was taught and what is not there.

    weights: how much each sound (by symbol) speaks against a word.
    trained: words that the client says already, in lower case: none of them is a probe.
    partner: symbol of the target's partner in voicing where it is not there yet, else "".
    """

    target: Target
    weights: dict[str, int] = field(default_factory=dict)
    trained: frozenset[str] = frozenset()
    partner: str = ""


def limits(
    target: Target, needs: Needs = NO_NEEDS, trained: frozenset[str] = frozenset()
) -> Limits:
    """The limits for a client with these needs who learns `target`."""
    weights = dict.fromkeys(needs.substitutes, CONFUSED_COST)
    if target.sound.symbol == "R":
        weights |= dict.fromkeys(VOCALIC_R, PARTNER_COST)
    if needs.partner:
        weights[needs.partner] = PARTNER_COST
    weights |= dict.fromkeys(needs.lacks, LACKED_COST)
    weights.pop(target.sound.symbol, None)
    return Limits(target, weights, trained | needs.taken, needs.partner)


def difficulty(text: str, word: PractisedWord, limit: Limits) -> int | None:
    """What speaks against saying `text` around `word`; None when it must not be said so."""
    said = [(one.lower(), _forms(one.lower(), word)) for one in words_of(text)]
    if not all(forms for _, forms in said) or _lost_at_a_seam(said, limit):
        return None
    costs = [_cost(name, forms, word, limit) for name, forms in said if name not in word.said]
    possible = [cost for cost in costs if cost is not None]
    return sum(possible) if len(possible) == len(costs) else None


def _cost(name: str, forms: tuple[Phones, ...], word: PractisedWord, limit: Limits) -> int | None:
    """What speaks against one more word of the line; None for a probe, or an untaught target."""
    found = [o for phones in forms for o in occurrences(phones, limit.target.sound)]
    if not all(map(limit.target.fits, found)) or (found and _is_probe_of(name, word, limit)):
        return None
    told = limit.partner and not is_function_word(name) and held(forms[0], (limit.partner,))
    more = MORE_TARGETS_COST * len(found) + (TOLD_COST if told else 0)
    return more + _troubles(forms[0], limit)


def _troubles(phones: Phones, limit: Limits) -> int:
    return sum(limit.weights[symbol] for symbol in held(phones, limit.weights))


def _is_probe_of(name: str, word: PractisedWord, limit: Limits) -> bool:
    """Whether a word of the line is kept apart; the plural of the practiced word is not."""
    own = name in (one.lower() for one in words_of(word.plural))
    return not own and is_probe(name, limit.target.sound, limit.trained)


def _forms(name: str, word: PractisedWord) -> tuple[Phones, ...]:
    return (word.said[name],) if name in word.said else pronunciations(name)


def _lost_at_a_seam(said: list[tuple[str, tuple[Phones, ...]]], limit: Limits) -> bool:
    """Whether a target cannot be heard by itself where two words meet."""
    sound = limit.target.sound
    for (_, (left, *_)), (_, (right, *_)) in pairwise(said):
        lost = lost_at_seam(left[-1], right[0])
        if lost.last and any(o.stop == len(left) for o in occurrences(left, sound)):
            return True
        if lost.first and any(o.start == 0 for o in occurrences(right, sound)):
            return True
    return False


def spare_targets(word: PractisedWord, limit: Limits) -> int:
    """How many targets the word itself holds at places that were not taught."""
    found = [o for phones in word.said.values() for o in occurrences(phones, limit.target.sound)]
    return sum(not limit.target.fits(o) for o in found)
