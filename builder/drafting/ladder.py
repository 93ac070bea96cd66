"""The steps of a draft: which levels, with which rounds and items, for which client."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from builder.drafting import choose_lines
from builder.drafting.frames import Longer
from builder.drafting.line_difficulty import Limits
from builder.drafting.syllable_sets import CORNERS, rhotic_syllables
from builder.drafting.word_kinds import PractisedWord
from builder.model.dose import is_young
from builder.model.program import Level
from builder.phonetics.inventory import Sound
from builder.phonetics.position import Position, cluster_ipa

TWO = "two in a sentence"  # the name of a step of sentences with two practised words
TWO_FROM = 5  # years from which it is drafted; common practice, no source
NAMES: dict[Level, str] = {
    "isolation": "the sound alone",
    "syllable": "with a vowel",
    "word": "words",
    "phrase": "phrases",
    "sentence": "sentences",
}
SPONTANEOUS = ("natural imitation", "natural spontaneous")


@dataclass(frozen=True, kw_only=True)
class Draft:
    """One step to be written.

    items:     texts, or (text, IPA) where the reading must be given.
    positions: only where they differ from the program's.
    """

    name: str
    level: Level
    rounds: tuple[str, ...]
    items: tuple[str | tuple[str, str], ...] = ()
    vowels: tuple[str, ...] = ()
    cluster: str = ""
    positions: tuple[str, ...] = ()


@dataclass(frozen=True)
class Learner:
    """What of the client decides how a step is drafted. `pictured`: is a word's picture at hand?"""

    age: int | None
    reads: bool
    pictured: Callable[[str], bool] = field(default=lambda _word: False)

    @property
    def most(self) -> int:
        """Items of a phrase or sentence step."""
        return 6 if is_young(self.age) else choose_lines.MAX_LINES


def first_steps(sound: Sound, places: Sequence[Position]) -> tuple[Draft, ...]:
    """Isolation, where the sound stays alone, and the syllables of a single sound."""
    rounds = ("{form: long, support: imitation, times: 5}",)
    alone = (
        [Draft(name=NAMES["isolation"], level="isolation", rounds=rounds)]
        if sound.stays_alone
        else []
    )
    return (*alone, _syllable(sound, places))


def _syllable(sound: Sound, places: Sequence[Position]) -> Draft:
    if sound.kind == "rhotic":
        items = tuple(one for place in places for one in rhotic_syllables(sound, place))
        return Draft(
            name="with a consonant", level="syllable", rounds=(_twice("natural"),), items=items
        )
    held = ("long imitation",) if sound.stays_alone and sound.manner != "liquid" else ()
    rounds = (*held, "natural imitation") if held else (_twice("natural"),)
    return Draft(name=NAMES["syllable"], level="syllable", rounds=rounds, vowels=CORNERS)


def _twice(form: str) -> str:
    return f"{{form: {form}, support: imitation, times: 2}}"


def typed(cluster: tuple[str, ...]) -> str:
    """A cluster as one would type it: kr."""
    return cluster_ipa(cluster).replace("ɹ", "r").replace("ɡ", "g")


def cluster_syllables(cluster: tuple[str, ...]) -> Draft:
    """The syllables of a cluster: kree, kra, krah, kroo."""
    name = typed(cluster)
    return Draft(
        name=f"{name} with a vowel",
        level="syllable",
        rounds=(_twice("natural"),),
        vowels=CORNERS,
        cluster=name,
    )


def longer(
    level: Longer,
    words: Sequence[PractisedWord],
    limit: Limits,
    reader: Learner,
    taken: Sequence[str] = (),
    name: str = "",
) -> Draft | None:
    """A phrase or sentence step; None when nothing fit to say is found.

    A client who reads gets a line of its own for each word. One who does not gets one carrier with
    a pictured word, to be said without a model; where no carrier serves, lines to imitate.
    """
    title = name or NAMES[level]
    cluster = typed(limit.target.cluster)
    if not reader.reads:
        pictured = [word for word in words if reader.pictured(word.text)]
        same = choose_lines.carrier_lines(pictured, level, limit, reader.most, reader.age)
        if len(same) >= choose_lines.MIN_LINES and not set(same) & set(taken):
            return Draft(name=title, level=level, rounds=SPONTANEOUS, items=same, cluster=cluster)
    lines = choose_lines.varied_lines(words, level, limit, reader.most, reader.age, taken)
    rounds = SPONTANEOUS if reader.reads else SPONTANEOUS[:1]
    return (
        Draft(name=title, level=level, rounds=rounds, items=lines, cluster=cluster)
        if lines
        else None
    )


def doubled(
    words: Sequence[PractisedWord], limit: Limits, reader: Learner, name: str = TWO
) -> Draft | None:
    """Sentences with two practised words each, to imitate for who does not read; None for a client
    who is too young for them, or when too few are fit to say."""
    if reader.age is not None and reader.age < TWO_FROM:
        return None
    lines = choose_lines.double_lines(words, limit, reader.most, reader.age)
    rounds = SPONTANEOUS if reader.reads else SPONTANEOUS[:1]
    cluster = typed(limit.target.cluster)
    draft = Draft(name=name, level="sentence", rounds=rounds, items=lines, cluster=cluster)
    return draft if lines else None
