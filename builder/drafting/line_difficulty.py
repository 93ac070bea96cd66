"""Can the client say the rest of a line? Its other words are looked at by how they are said: none
may hold the target where it was not taught or be kept apart as a probe, few should hold what the
client lacks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from builder.drafting.word_kinds import Phones, Word
from builder.phonetics.inventory import Sound, bare, sounds
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.phonetics.position import occurrences
from builder.program_file.pronounce import Target, words_of
from builder.wordbank.probes import is_probe

# How much each thing weighs against a line; what comes first is worst. Common practice, no source.
LACKED, PARTNER, CONFUSED, MORE_TARGETS = 6, 4, 4, 3
FRONTAL = ("TH", "DH")  # what a forward tongue makes of a hiss
HISSING = ("S", "Z")
VOCALIC_R = ("ER",)  # with a consonant r that is learnt, vowel + r is not there either


@dataclass(frozen=True)
class Limits:
    """What was taught and what is not there.

    weights: how much each sound (by symbol) speaks against a word.
    trained: words that the client says already, in lower case: none of them is a probe.
    """

    target: Target
    weights: dict[str, int] = field(default_factory=dict)
    trained: frozenset[str] = frozenset()


def limits(
    target: Target,
    error: Sound | str = "",
    lacks: Iterable[Sound] = (),
    trained: frozenset[str] = frozenset(),
) -> Limits:
    """The limits for a client who learns `target` and says `error` instead."""
    weights: dict[str, int] = {}
    if isinstance(error, Sound):
        weights |= dict.fromkeys(_symbols(error), CONFUSED)
    elif error == "frontal" and target.sound.symbol in HISSING:
        weights |= dict.fromkeys(FRONTAL, CONFUSED)
    weights |= dict.fromkeys(_partners(target.sound), PARTNER)
    for sound in lacks:
        weights |= dict.fromkeys(_symbols(sound), LACKED)
    for symbol in _symbols(target.sound):
        weights.pop(symbol, None)
    return Limits(target, weights, trained)


def _symbols(sound: Sound) -> tuple[str, ...]:
    return tuple({phone for phones in sound.phones for phone in phones})


def _partners(sound: Sound) -> Iterator[str]:
    """The voiced or voiceless twin: of k it is g."""
    if sound.symbol == "R":
        yield from VOCALIC_R
    for other in sounds().values():
        same = (other.place, other.manner) == (sound.place, sound.manner)
        if other.kind == "consonant" and same and other.voiced != sound.voiced:
            yield other.symbol


def burden(text: str, word: Word, limit: Limits) -> int | None:
    """What speaks against saying `text` around `word`; None when it must not be said so."""
    said = [(one.lower(), _forms(one.lower(), word)) for one in words_of(text)]
    if not all(forms for _, forms in said) or _runs_together(said, limit):
        return None
    total = 0
    for name, forms in ((name, forms) for name, forms in said if name not in word.said):
        found = [o for phones in forms for o in occurrences(phones, limit.target.sound)]
        if not all(map(limit.target.fits, found)) or (found and _apart(name, word, limit)):
            return None
        total += MORE_TARGETS * len(found)
        total += sum(limit.weights.get(bare(phone), 0) for phone in forms[0])
    return total


def _apart(name: str, word: Word, limit: Limits) -> bool:
    """Whether a word of the line is kept apart; the plural of the practised word is not."""
    own = name in (one.lower() for one in words_of(word.plural))
    return not own and is_probe(name, limit.target.sound, limit.trained)


def _forms(name: str, word: Word) -> tuple[Phones, ...]:
    return (word.said[name],) if name in word.said else pronunciations(name)


def _runs_together(said: list[tuple[str, tuple[Phones, ...]]], limit: Limits) -> bool:
    """Whether a target is lost at a word boundary: the two of `nice sea` are said as one."""
    first, last = limit.target.sound.phones[0][0], limit.target.sound.phones[0][-1]
    for (_, left), (_, right) in zip(said, said[1:], strict=False):
        ends, begins = bare(left[0][-1]), bare(right[0][0])
        if (ends == last or begins == first) and _one(ends, begins):
            return True
    return False


def _one(a: str, b: str) -> bool:
    """Made alike, so held as one (nice sea, back gate), or drawn over (this ship, miss you)."""
    one, other = sounds()[a], sounds()[b]
    alike = (one.kind, one.place, one.manner) == (other.kind, other.place, other.manner)
    drawn = one.place == "alveolar" and one.manner in ("stop", "fricative")
    return alike or (drawn and other.place in ("palatal", "postalveolar"))


def spare_targets(word: Word, limit: Limits) -> int:
    """How many targets the word itself holds at places that were not taught."""
    found = [o for phones in word.said.values() for o in occurrences(phones, limit.target.sound)]
    return sum(not limit.target.fits(o) for o in found)
