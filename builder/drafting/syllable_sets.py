"""The practice set of syllables: the target with the vowels of the four corners, then others."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builder.model.program import Item
from builder.phonetics.inventory import Sound, bare, ipa_of, is_vowel, parse_sound, sounds
from builder.phonetics.position import Position
from builder.phonetics.syllables import may_begin
from builder.program_file.pronounce import Target, vowel_items

CORNERS = ("ee", "ae", "ah", "oo")  # high and low, front and back
SHORT = ("IH", "EH", "AE", "UH", "AH")  # no word of English ends in them
EDGES = (("b", "m"), ("f", "b"), ("m", "p"), ("h", "f"))  # easy consonants beside a vowel + r


@dataclass(frozen=True)
class Syllable:
    """One of the set. corner: one of the four; short: its vowel ends no word of English."""

    text: str
    ipa: str
    vowel: str
    corner: bool
    short: bool


def practice_set(
    sound: Sound, position: Position, cluster: tuple[str, ...] = ()
) -> tuple[Syllable, ...]:
    """The syllables at a position, corners first; () where no syllable of English is like that."""
    if sound.kind == "rhotic":
        return tuple(
            Syllable(t, i, sound.spelled, False, False) for t, i in _rhotic(sound, position)
        )
    target = Target(sound, (position,), cluster)
    items = vowel_items(target, _vowels(), ())
    made = (_syllable(item, vowel) for item, vowel in zip(items, _vowels(), strict=True))
    return tuple(made) if may_begin(_onset(items[0])) else ()


def _vowels() -> tuple[str, ...]:
    others = [s for s in sounds().values() if s.kind == "vowel" and s.typed not in CORNERS]
    typed = sorted(others, key=lambda s: s.symbol in SHORT)
    return (*CORNERS, *(s.typed for s in typed if s.typed))


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
        item.text, ipa_of(phones), vowel, vowel in CORNERS, open_end and symbol in SHORT
    )


def rhotic_syllables(sound: Sound, position: Position) -> tuple[tuple[str, str], ...]:
    """Syllables of a vowel + r, each with its IPA: erb, berm, ber. They need consonants."""
    return tuple(_rhotic(sound, position))


def _rhotic(sound: Sound, position: Position) -> Iterator[tuple[str, str]]:
    for first, last in EDGES:
        before = "" if position == "initial" else first
        after = "" if position == "final" else last
        yield before + sound.spelled + after, before + sound.ipa + after
