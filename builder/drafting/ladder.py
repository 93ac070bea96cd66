"""The steps of a draft: which levels, with which rounds and items, for which client."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

from builder.drafting import choose_lines
from builder.drafting.frames import Longer
from builder.drafting.line_difficulty import Limits
from builder.drafting.syllable_sets import syllable_words
from builder.drafting.word_kinds import PractisedWord
from builder.model import fill_sitting
from builder.model.clinic import Pace
from builder.model.dose import is_young, usual_minutes
from builder.model.fill_sitting import Pass, Room
from builder.model.program import Level, Program, RoundFile
from builder.phonetics.inventory import Sound
from builder.phonetics.position import Position, cluster_ipa
from builder.program_file.resolve import USUAL_VOWELS

TWO = "two in a sentence"  # the name of a step of sentences with two practiced words
TWO_FROM = 5  # years from which it is drafted; common practice, no source
NAMES: dict[Level, str] = {
    "isolation": "the sound alone",
    "syllable": "with a vowel",
    "word": "words",
    "phrase": "phrases",
    "sentence": "sentences",
}
VOWELS = (*USUAL_VOWELS, "oh", "aw")  # as many as there is time for
FEWEST_LINES, MOST_LINES = 4, 10  # of phrases or sentences that are each of their own
KEYS = ("form", "support")
IMITATION = ("natural imitation",)
SPONTANEOUS = (*IMITATION, "natural spontaneous")
SHORT_WORDS = "short words"  # the syllable level of a vowel + r
MIN_SHORT_WORDS = 3


Entry = str | tuple[str, str]


@dataclass(frozen=True, kw_only=True)
class Draft:
    """One step to be written.

    items:     texts, or (text, IPA) where the reading must be given.
    pairs:     for a contrast, the word with the target first.
    positions: only where they differ from the program's; so too the sound.
    passage, where, company, minutes: past sentences, in place of rounds and items.
    """

    name: str
    level: Level
    rounds: tuple[str, ...] = ()
    items: tuple[Entry, ...] = ()
    vowels: tuple[str, ...] = ()
    cluster: str = ""
    positions: tuple[str, ...] = ()
    sound: str = ""
    pairs: tuple[tuple[Entry, Entry], ...] = ()
    passage: str = ""
    where: str = ""
    company: str = ""
    minutes: int = 0


@dataclass(frozen=True)
class Learner:
    """What of the client decides how a step is drafted. `pictured`: is a word's picture at hand?"""

    age: int | None
    reads: bool
    pictured: Callable[[str], bool] = field(default=lambda _word: False)

    @property
    def carried(self) -> int:
        """Lines of carriers in a step."""
        return 6 if is_young(self.age) else choose_lines.MAX_LINES


@dataclass(frozen=True)
class Share:
    """What of a sitting a draft may fill. minutes: None where the program gives none; others: the
    client's other programs."""

    pace: Pace
    age: int | None
    minutes: int | None = None
    others: tuple[Program, ...] = ()

    def items(self, level: Level, rounds: Sequence[str], choices: Sequence[int]) -> int:
        """The number of items with which these rounds fill the share."""
        passes = partial(self._passes, level, rounds)
        return fill_sitting.best_items(choices, passes, self._room(level), self.pace)

    def times(self, level: Level, rounds: Sequence[str], items: int) -> tuple[int, ...]:
        """How often each of these rounds is gone through."""
        passes = self._passes(level, rounds, items)
        return fill_sitting.best_times(passes, self._room(level), self.pace)

    def is_enough(self, level: Level, rounds: Sequence[str], items: int) -> bool:
        """Whether the tries that fit are as many as are wanted."""
        tries = items * sum(self.times(level, rounds, items))
        return tries >= self._room(level).least

    def _passes(self, level: Level, rounds: Sequence[str], items: int) -> list[Pass]:
        given = [RoundFile.model_validate(dict(zip(KEYS, r.split(), strict=True))) for r in rounds]
        one = partial(fill_sitting.pass_of, self.pace, self.age, level)
        return [one(r.form, r.support, items) for r in given]

    def _room(self, level: Level) -> Room:
        minutes = self.minutes or usual_minutes(self.age, (level,))
        whole = fill_sitting.room(self.pace, self.age, minutes, level)
        return fill_sitting.beside(whole, self.others, level)


def filled(draft: Draft, share: Share, each: int) -> Draft:
    """The step with its rounds gone through as often as fills its share.

    each: tries of a pass where no items are written: the words, or the positions of each vowel.
    """
    count = len(draft.items) or each
    if draft.vowels:
        draft = _with_vowels(draft, share, each)
        count = each * len(draft.vowels)
    elif draft.level in ("phrase", "sentence"):  # the last lines, the longest, may go
        fewest = min(count, max(FEWEST_LINES, count - 3))
        count = share.items(draft.level, draft.rounds, range(count, fewest - 1, -1))
        draft = replace(draft, items=draft.items[:count])
    times = share.times(draft.level, draft.rounds, count)
    return replace(draft, rounds=tuple(map(_often, draft.rounds, times)))


def _with_vowels(draft: Draft, share: Share, each: int) -> Draft:
    """The syllables without their last vowels, or their held round, where these would not fit."""
    ways = [draft.rounds, draft.rounds[1:]] if len(draft.rounds) > 1 else [draft.rounds]
    for rounds in ways:
        choices = range(each * len(USUAL_VOWELS), each * len(draft.vowels) + 1, each)
        count = share.items(draft.level, rounds, choices)
        if share.is_enough(draft.level, rounds, count):
            break
    return replace(draft, rounds=rounds, vowels=draft.vowels[: count // each])


def _often(planned: str, times: int) -> str:
    """A round as it is written: natural imitation; {support: imitation, times: 3}."""
    if times == 1:
        return planned
    form, support = planned.split()
    held = f"form: {form}, " if form != "natural" else ""
    return f"{{{held}support: {support}, times: {times}}}"


def first_steps(
    sound: Sound, places: Sequence[Position], fits: Callable[[str], bool]
) -> tuple[Draft, ...]:
    """Isolation, where the sound stays alone, and the syllables of a single sound.

    fits: whether the client may say a word: a vowel + r begins with real ones.
    """
    rounds = ("long imitation", "natural imitation")
    alone = (
        [Draft(name=NAMES["isolation"], level="isolation", rounds=rounds)]
        if sound.stays_alone
        else []
    )
    return (
        *alone,
        *(_short_words(sound, places, fits) if sound.kind == "rhotic" else [_syllable(sound)]),
    )


def _short_words(
    sound: Sound, places: Sequence[Position], fits: Callable[[str], bool]
) -> tuple[Draft, ...]:
    """The first position that has words enough: deer, fear, near."""
    found = ((place, tuple(filter(fits, syllable_words(sound, place)))) for place in places)
    place, items = next((one for one in found if len(one[1]) >= MIN_SHORT_WORDS), ("", ()))
    positions = (place,) if place and len(places) > 1 else ()
    step = Draft(
        name=SHORT_WORDS,
        level="syllable",
        rounds=IMITATION,
        items=items,
        positions=positions,
    )
    return (step,) if items else ()


def _syllable(sound: Sound) -> Draft:
    held = ("long imitation",) if sound.stays_alone and sound.manner != "liquid" else ()
    rounds = (*held, *IMITATION)
    return Draft(name=NAMES["syllable"], level="syllable", rounds=rounds, vowels=VOWELS)


def typed(cluster: tuple[str, ...]) -> str:
    """A cluster as one would type it: kr."""
    return cluster_ipa(cluster).replace("ɹ", "r").replace("ɡ", "g")


def cluster_syllables(cluster: tuple[str, ...]) -> Draft:
    """The syllables of a cluster: kree, kra, krah, kroo."""
    name = typed(cluster)
    return Draft(
        name=f"{name} with a vowel",
        level="syllable",
        rounds=IMITATION,
        vowels=VOWELS,
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
        same = choose_lines.carrier_lines(pictured, level, limit, reader.carried, reader.age)
        if len(same) >= choose_lines.MIN_LINES and not set(same) & set(taken):
            return Draft(name=title, level=level, rounds=SPONTANEOUS, items=same, cluster=cluster)
    lines = choose_lines.varied_lines(words, level, limit, MOST_LINES, reader.age, taken)
    rounds = SPONTANEOUS if reader.reads else IMITATION
    return (
        Draft(name=title, level=level, rounds=rounds, items=lines, cluster=cluster)
        if lines
        else None
    )


def doubled(
    words: Sequence[PractisedWord], limit: Limits, reader: Learner, name: str = TWO
) -> Draft | None:
    """Sentences with two practiced words each, to imitate for who does not read; None for a client
    who is too young for them, or when too few are fit to say."""
    if reader.age is not None and reader.age < TWO_FROM:
        return None
    lines = choose_lines.double_lines(words, limit, MOST_LINES, reader.age)
    rounds = SPONTANEOUS if reader.reads else IMITATION
    cluster = typed(limit.target.cluster)
    draft = Draft(name=name, level="sentence", rounds=rounds, items=lines, cluster=cluster)
    return draft if lines else None
