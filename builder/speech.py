"""How an item is said: each of its words with the pronunciation that has the target where the
program puts it. The pronunciation chosen here is the one that is checked and the one spoken."""

from __future__ import annotations

import re
from dataclasses import dataclass

from builder.model import Item, ItemFile, Level, Path, Spoken
from builder.names import slug_of
from builder.phonetics.inventory import (
    Sound,
    UnknownSoundError,
    is_vowel,
    parse_sound,
    phones_of_ipa,
    sounds,
)
from builder.phonetics.lexicon import pronunciations
from builder.phonetics.position import Occurrence, Position, occurrences


@dataclass(frozen=True)
class Target:
    """What a list practises: a sound at one or more positions, alone or in a cluster."""

    sound: Sound
    positions: tuple[Position, ...]
    cluster: tuple[str, ...] = ()

    def fits(self, occurrence: Occurrence) -> bool:
        """Whether an occurrence is what the list practises."""
        return occurrence.cluster == self.cluster and any(
            position in self.positions for position in occurrence.positions
        )

    def found(self, phones: tuple[str, ...]) -> tuple[Occurrence, ...]:
        """The occurrences in one word that the list practises."""
        return tuple(o for o in occurrences(phones, self.sound) if self.fits(o))


def words_of(text: str) -> tuple[str, ...]:
    """The words of a text without punctuation: "My cup!" gives My, cup."""
    return tuple(re.findall(r"[^\W_]+(?:['’][^\W_]+)*", text))


def item_of(written: ItemFile, path: Path, target: Target, level: Level) -> Item:
    """An item as it will be said. Raises UnknownSoundError when `say` cannot be read."""
    words = _spoken(written, target)
    position, focus = _focus(words, target)
    return Item(
        id=written.id or slug_of(written.word),
        text=written.word,
        words=words,
        position=position,
        focus=focus,
        picture=written.picture,
        path=path,
    )


def _spoken(written: ItemFile, target: Target) -> tuple[Spoken, ...]:
    texts = words_of(written.word) or (written.word,)
    if not written.say:
        return tuple(_looked_up(text, target) for text in texts)
    said = written.say.split()
    if len(said) != len(texts):
        return (Spoken(written.word, phones_of_ipa(written.say), "program"),)
    return tuple(
        Spoken(text, phones_of_ipa(ipa), "program") for text, ipa in zip(texts, said, strict=True)
    )


def _looked_up(text: str, target: Target) -> Spoken:
    forms = pronunciations(text)
    if not forms:
        return Spoken(text, (), "", 0)
    best = next((form for form in forms if target.found(form)), forms[0])
    return Spoken(text, best, "dictionary", len(forms), best is not forms[0])


def _focus(
    words: tuple[Spoken, ...], target: Target
) -> tuple[Position, tuple[int, int, int] | None]:
    """The first target that the list practises, else the first target anywhere."""
    for at, word in enumerate(words):
        for found in target.found(word.phones):
            position = next(p for p in found.positions if p in target.positions)
            return position, (at, found.start, found.stop)
    for at, word in enumerate(words):
        for found in occurrences(word.phones, target.sound):
            return found.positions[0], (at, found.start, found.stop)
    return target.positions[0], None


def sound_item(target: Target, path: Path) -> Item:
    """The sound alone, as the item of an isolation step."""
    sound = target.sound
    spoken = Spoken(sound.spelled, sound.phones[0], "sound")
    focus = (0, 0, len(sound.phones[0]))
    return Item(
        slug_of(sound.spelled), sound.spelled, (spoken,), target.positions[0], focus, "", path
    )


def vowel_items(target: Target, vowels: tuple[str, ...], path: Path) -> tuple[Item, ...]:
    """A syllable for every position and vowel: kee, eekee, eek. Raises UnknownSoundError."""
    return tuple(
        _syllable(target, position, _vowel(typed), (*path, i))
        for position in target.positions
        for i, typed in enumerate(vowels)
    )


def _vowel(typed: str) -> Sound:
    vowel = parse_sound(typed)
    if not is_vowel(vowel.symbol):
        names = ", ".join(s.typed for s in sounds().values() if s.kind == "vowel" and s.typed)
        raise UnknownSoundError(f"'{typed}' is not a vowel; the vowels are {names}")
    return vowel


def _syllable(target: Target, position: Position, vowel: Sound, path: Path) -> Item:
    group = target.cluster or target.sound.phones[0]
    letters = "".join(sounds()[symbol].spelled for symbol in group)
    before = (
        () if position == "initial" else (vowel.symbol + ("1" if position == "final" else "0"),)
    )
    after = () if position == "final" else (vowel.symbol + "1",)
    text = (vowel.spelled if before else "") + letters + (vowel.spelled if after else "")
    at = len(before) + group.index(target.sound.phones[0][0])
    spoken = Spoken(text, (*before, *group, *after), "syllable")
    focus = (0, at, at + len(target.sound.phones[0]))
    return Item(slug_of(text), text, (spoken,), position, focus, "", path)
