"""The practice set of syllables: the target with the four usual vowels, then with others; for a
vowel + r real words."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from builder.model.program import Item
from builder.phonetics.inventory import Sound, bare, ipa_of, is_vowel, parse_sound, sounds
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.phonetics.position import Position
from builder.phonetics.syllables import may_begin
from builder.phonetics.tables import rows
from builder.program_file.pronounce import ENDS_NO_WORD, Target, vowel_items
from builder.program_file.resolve import USUAL_VOWELS

SHORT = (*ENDS_NO_WORD, "AH")


@dataclass(frozen=True)
class Syllable:
    """One of the set. usual: one of the four; short: its vowel ends no word of English."""

    text: str
    ipa: str
    vowel: str
    usual: bool
    short: bool


def practice_set(
    sound: Sound, position: Position, cluster: tuple[str, ...] = ()
) -> tuple[Syllable, ...]:
    """The syllables at a position, the usual vowels first; () where English has none like that."""
    if sound.kind == "rhotic":
        return _with_r(sound, position)
    target = Target(sound, (position,), cluster)
    items = vowel_items(target, _vowels(), ())
    made = (_syllable(item, vowel) for item, vowel in zip(items, _vowels(), strict=True))
    return tuple(made) if may_begin(_onset(items[0])) else ()


def _vowels() -> tuple[str, ...]:
    others = [s for s in sounds().values() if s.kind == "vowel" and s.typed not in USUAL_VOWELS]
    typed = sorted(others, key=lambda s: s.symbol in SHORT)
    return (*USUAL_VOWELS, *(s.typed for s in typed if s.typed))


def _onset(item: Item) -> tuple[str, ...]:
    """The consonants before the last vowel, which must be able to begin a syllable."""
    phones = item.words[0].phones
    last = max(i for i, phone in enumerate(phones) if is_vowel(phone))
    first = last
    while first and not is_vowel(phones[first - 1]):
        first -= 1
    return tuple(map(bare, phones[first:last]))


def _syllable(item: Item, vowel: str) -> Syllable:
    symbol = parse_sound(vowel).symbol
    phones = item.words[0].phones
    open_end = is_vowel(phones[-1])
    return Syllable(
        item.text, ipa_of(phones), vowel, vowel in USUAL_VOWELS, open_end and symbol in SHORT
    )


def _with_r(sound: Sound, position: Position) -> tuple[Syllable, ...]:
    """The real words of one syllable for a vowel + r: deer, fear, near."""
    said = ((word, pronunciations(word)[0]) for word in syllable_words(sound, position))
    return tuple(Syllable(word, ipa_of(phones), sound.typed, False, False) for word, phones in said)


@cache
def syllable_words(sound: Sound, position: Position, language: str = "en") -> tuple[str, ...]:
    """Words that are no more than a syllable of this vowel + r; () where there are none."""
    table = rows("vocalic_syllables", language)
    here = (row for row in table if (row["symbol"], row["position"]) == (sound.symbol, position))
    return tuple(word for row in here for word in row["words"].split())
