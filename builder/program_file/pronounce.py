"""How an item is said: each of its words with the pronunciation that has the target where the
program puts it. The pronunciation chosen here is the one that is checked and the one spoken."""

from __future__ import annotations

import itertools
import re
from dataclasses import dataclass, replace
from functools import lru_cache

from builder.model.program import Item, ItemFile, Level, Pair, Program, Step
from builder.model.spoken import Spoken
from builder.phonetics.contrast import one_sound_apart
from builder.phonetics.inventory import (
    Sound,
    UnknownSoundError,
    bare,
    is_vowel,
    parse_sound,
    phones_of_ipa,
    sounds,
)
from builder.phonetics.lexicon.allophones import broad
from builder.phonetics.lexicon.function_words import article
from builder.phonetics.lexicon.readings import Entry, agreed, entry
from builder.phonetics.position import Focus, Occurrence, Position, occurrences
from builder.problems import KeyPath
from builder.program_file.suggestions import listing
from builder.text.slugs import slug_of

TWO_WAYS = re.compile("ow|^g[ei]|[^s]s$")  # cow and low, get and gem, us and is
ENDS_NO_WORD = ("IH", "EH", "AE", "UH")  # short vowels, which no open syllable of English has


@dataclass(frozen=True)
class Target:
    """What a list practises: a sound at one or more positions, alone or in a cluster."""

    sound: Sound
    positions: tuple[Position, ...]
    cluster: tuple[str, ...] = ()

    def fits(self, occurrence: Occurrence) -> bool:
        """Whether an occurrence is what the list practices."""
        return occurrence.cluster == self.cluster and any(
            position in self.positions for position in occurrence.positions
        )

    def found(self, phones: tuple[str, ...]) -> tuple[Occurrence, ...]:
        """The occurrences in one word that the list practices."""
        return tuple(o for o in occurrences(phones, self.sound) if self.fits(o))


def of_step(program: Program, step: Step) -> Program:
    """The program as it stands for one step: its sound is the step's own."""
    own = step.sound or program.sound
    return program if own == program.sound else replace(program, sound=own)


def sounds_taught(program: Program) -> tuple[Sound, ...]:
    """The program's sound, then the others of its steps."""
    own = (step.sound for step in program.steps if step.sound)
    return tuple(dict.fromkeys((program.sound, *own)))


def words_of(text: str) -> tuple[str, ...]:
    """The words of a text without punctuation: "My cup!" gives My, cup."""
    return tuple(re.findall(r"[^\W_]+(?:['’][^\W_]+)*", text))


def targets_in(item: Item, target: Target) -> tuple[Focus, ...]:
    """Every place in an item where the target of its step stands, its focus among them; () for an
    item without focus, as is the counterpart of a pair."""
    if item.focus is None:
        return ()
    found = (
        (at, one.start, one.stop)
        for at, word in enumerate(item.words)
        for one in target.found(word.phones)
    )
    return tuple(sorted({item.focus, *found}))


def item_of(written: ItemFile, path: KeyPath, target: Target, level: Level) -> Item:
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
        return _in_phrase(tuple(_looked_up(text, target) for text in texts), target)
    said = written.say.split()
    if len(said) != len(texts):
        return (_by_hand(written.word, written.say),)
    return tuple(_by_hand(text, ipa) for text, ipa in zip(texts, said, strict=True))


def _by_hand(text: str, ipa: str) -> Spoken:
    return Spoken(text, phones_of_ipa(ipa), by_hand=True)


def _in_phrase(words: tuple[Spoken, ...], target: Target) -> tuple[Spoken, ...]:
    """The words with their articles said as in a phrase, but where one holds the target."""
    said = list(words)
    for at, (word, after) in enumerate(itertools.pairwise(words)):
        weak = article(word.text, after.phones)
        if weak and not target.found(word.phones):
            said[at] = replace(word, phones=weak, other=False)
    return tuple(said)


@lru_cache(maxsize=8192)  # the same few thousand words are practiced by everybody
def _looked_up(text: str, target: Target) -> Spoken:
    known = entry(text)
    best = next((r.phones for r in known.readings if target.found(r.phones)), None)
    return _spoken_as(text, known, best or _first(known), target)


def _first(known: Entry) -> tuple[str, ...]:
    return known.readings[0].phones if known.readings else ()


def _spoken_as(text: str, known: Entry, phones: tuple[str, ...], target: Target) -> Spoken:
    return Spoken(
        text=text,
        phones=phones,
        other=phones != _first(known),
        agreed=agreed(known, target.sound),
        guessed=known.guessed,
        heteronym=known.heteronym,
    )


def pair_of(written: tuple[ItemFile, ItemFile], path: KeyPath, target: Target) -> Pair:
    """Two words in the readings that differ in one sound, the one with the target first.

    Raises UnknownSoundError when a `say` cannot be read.
    """
    sides = [_readings(item, (*path, at), target) for at, item in enumerate(written)]
    found = [pair for both in itertools.product(*sides) for pair in _in_both_orders(both, path)]
    practised = [
        p for p in found if _has_target(p.target, target) and not _has_target(p.other, target)
    ]
    one_sound = [p for p in practised if p.apart]
    best = next(iter(one_sound or practised or found))
    # The counterpart is there for what it lacks; a target elsewhere in it is not set off.
    return replace(best, other=replace(best.other, focus=None))


def _readings(written: ItemFile, path: KeyPath, target: Target) -> list[Item]:
    """A word of a pair in each of its readings, the first one first."""
    usual = item_of(written, path, target, "word")
    if written.say or len(usual.words) != 1:
        return [usual]
    known = entry(usual.words[0].text)
    others = (r.phones for r in known.readings if r.phones != usual.words[0].phones)
    words = [_spoken_as(usual.words[0].text, known, phones, target) for phones in others]
    return [usual, *(_with_reading(usual, word, target) for word in words)]


def _with_reading(item: Item, word: Spoken, target: Target) -> Item:
    position, focus = _focus((word,), target)
    return replace(item, words=(word,), position=position, focus=focus)


def _in_both_orders(both: tuple[Item, ...], path: KeyPath) -> tuple[Pair, Pair]:
    first, second = both
    apart = one_sound_apart(first.phones, second.phones)
    back = (apart[1], apart[0]) if apart else None
    return Pair(first, second, apart, path), Pair(second, first, back, path)


def _has_target(item: Item, target: Target) -> bool:
    return any(target.found(word.phones) for word in item.words)


def _focus(words: tuple[Spoken, ...], target: Target) -> tuple[Position, Focus | None]:
    """The first target that the list practices, else the first target anywhere."""
    for at, word in enumerate(words):
        for found in target.found(word.phones):
            position = next(p for p in found.positions if p in target.positions)
            return position, (at, found.start, found.stop)
    for at, word in enumerate(words):
        for found in occurrences(word.phones, target.sound):
            return found.positions[0], (at, found.start, found.stop)
    return target.positions[0], None


def sound_item(target: Target, path: KeyPath) -> Item:
    """The sound alone, as the item of an isolation step."""
    sound = target.sound
    spoken = Spoken(sound.spelled, sound.phones[0])
    focus = (0, 0, len(sound.phones[0]))
    return Item(
        id=slug_of(sound.spelled),
        text=sound.spelled,
        words=(spoken,),
        position=target.positions[0],
        focus=focus,
        picture="",
        path=path,
    )


def vowel_items(target: Target, vowels: tuple[str, ...], path: KeyPath) -> tuple[Item, ...]:
    """A syllable for every position and vowel: kee, eekee, eek. Raises UnknownSoundError."""
    return tuple(
        _syllable(target, position, _vowel(typed), (*path, i))
        for position in target.positions
        for i, typed in enumerate(vowels)
    )


def _vowel(typed: str) -> Sound:
    vowel = parse_sound(typed)
    if not is_vowel(vowel.symbol):
        names = listing(s.typed for s in sounds().values() if s.kind == "vowel" and s.typed)
        raise UnknownSoundError(f"`{typed}` is not a vowel; it can be {names}")
    return vowel


def _syllable(target: Target, position: Position, vowel: Sound, path: KeyPath) -> Item:
    group = target.cluster or target.sound.phones[0]
    before = (
        () if position == "initial" else (vowel.symbol + ("1" if position == "final" else "0"),)
    )
    after = () if position == "final" else (vowel.symbol + "1",)
    spoken_as = (*before, *group, *after)
    text = _syllable_text(group, vowel, bool(before), bool(after), spoken_as)
    at = len(before) + group.index(target.sound.phones[0][0])
    spoken = Spoken(text, spoken_as)
    focus = (0, at, at + len(target.sound.phones[0]))
    return Item(
        id=slug_of(text),
        text=text,
        words=(spoken,),
        position=position,
        focus=focus,
        picture="",
        path=path,
    )


def _syllable_text(
    group: tuple[str, ...], vowel: Sound, before: bool, after: bool, phones: tuple[str, ...]
) -> str:
    """A syllable in letters that nobody reads otherwise: kee; l-ow where `low` is a word that is
    read with another vowel, and k-ih where no word of English ends so."""
    letters = "".join(sounds()[symbol].spelled for symbol in group)
    text = (vowel.spelled if before else "") + letters + (vowel.spelled if after else "")
    if not (after and vowel.symbol in ENDS_NO_WORD) and _reads_so(text, phones):
        return text
    name = vowel.typed or vowel.spelled
    return "-".join(filter(None, (name if before else "", letters, name if after else "")))


def _reads_so(text: str, phones: tuple[str, ...]) -> bool:
    """Whether a text is a word that is read like this in the first place, or none whose letters
    are read in two ways."""
    known = entry(text)
    if known.guessed or not known.readings:
        return not TWO_WAYS.search(text)
    return _plain(known.readings[0].phones) == _plain(phones)


def _plain(phones: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(map(bare, broad(phones)))
