"""A client's program in the clinic's words, twice: `ProgramFile` is the file as written (checked
for form by pydantic), `Program` is what it means, defaults filled in and every item spelled out
with its pronunciation. All of it is frozen; no disk, no clock."""

from __future__ import annotations

import datetime
import itertools
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, get_args

from pydantic import ConfigDict, Field

from builder.model.clinic import (
    DAYS,
    TIMES,
    AskedVoice,
    Clinic,
    Cues,
    Day,
    Pace,
    Shape,
    Strict,
    Time,
    Voice,
)
from builder.model.criteria import Criteria
from builder.model.pause import Pause
from builder.model.spoken import Spoken
from builder.phonetics.inventory import Sound
from builder.phonetics.position import Focus, Position, Words
from builder.problems import Finding, KeyPath, Place, place_at

Level = Literal["isolation", "syllable", "word", "phrase", "sentence", "reading", "telling", "talk"]
LEVELS: tuple[Level, ...] = get_args(Level)
PAST_SENTENCES: tuple[Level, ...] = ("reading", "telling", "talk")
"""Each optional; no items, but targets inside a text or a talk, counted."""
JUDGED: tuple[Level, ...] = ("phrase", "sentence")  # where a client may judge before the helper
Form = Literal["long", "natural"]
Support = Literal["imitation", "delayed", "spontaneous"]
Show = Literal["picture", "print", "both"]
Role = Literal["home", "other home", "school", "self"]  # who listens to the practice
DISTORTIONS = ("frontal", "lateral", "distorted")
ERROR_KINDS = ("omitted", *DISTORTIONS)
"""What an error may be besides another sound."""

# No name can hide in it: letters, a hyphen, digits.
CODE = r"^[a-z]{2,20}-[0-9]{2,4}$"
ID_OR_NOTHING = r"^([a-z0-9]+(-[a-z0-9]+)*)?$"


class Baseline(Strict):
    """How the current step went in the session."""

    date: datetime.date = Field(description="The day of the session (ISO 8601).")
    correct: int = Field(ge=0, description="Tries that were correct.")
    of: int = Field(ge=1, description="All tries.")
    step: str = Field("", max_length=60, description="The step tried; else the current one.")


class OwnPractice(Strict):
    """When one of those who listen practices, where it is not when the others do."""

    model_config = ConfigDict(json_schema_extra={"minProperties": 1})

    days: tuple[Day, ...] = Field((), min_length=1, description="The days of practice there.")
    times: tuple[Time, ...] = Field(
        (), min_length=1, description="The sittings of a day of practice there."
    )


class Practice(Strict):
    """When the family practices."""

    times: tuple[Time, ...] = Field((), description="The sittings of a day.")
    days: tuple[Day, ...] = Field((), description="The days of practice.")
    start: datetime.date | None = Field(None, alias="from", description="First day of practice.")
    visit: datetime.date | None = Field(None, description="The next session with the therapist.")
    minutes: int | None = Field(
        None,
        ge=1,
        le=60,
        description="Minutes of a sitting; 5 under six years (at four and five 6 for words, 7 for "
        "phrases, 8 for sentences), else 10.",
    )
    home: OwnPractice | None = Field(
        None, description="Days, times or both at home alone, as in {days: [sat]}."
    )
    other_home: OwnPractice | None = Field(
        None,
        alias="other home",
        description="Days, times or both in the other home alone, as in {days: [sat]}.",
    )
    school: OwnPractice | None = Field(
        None,
        description="Days, times or both at school alone, as in {days: [mon, wed], times: "
        "[midday]}.",
    )

    @property
    def own(self) -> dict[Role, OwnPractice]:
        """What is written of one of those who listen alone."""
        given: dict[Role, OwnPractice | None] = {
            "home": self.home,
            "other home": self.other_home,
            "school": self.school,
        }
        return {role: own for role, own in given.items() if own}

    @property
    def own_days(self) -> dict[Role, tuple[Day, ...]]:
        """The days of those who listen that have some of their own."""
        return {role: own.days for role, own in self.own.items() if own.days}

    @property
    def own_times(self) -> dict[Role, tuple[Time, ...]]:
        """The times of those who listen that have some of their own."""
        return {role: own.times for role, own in self.own.items() if own.times}


class RoundFile(Strict):
    """One pass over a step's items: `natural imitation`, or a mapping."""

    form: Form = Field("natural", description="long: the target held; natural: as in speech.")
    support: Support = Field(
        "imitation",
        description="imitation: hear it, say it; delayed: hear it, wait, say it; "
        "spontaneous: no model, from picture or print.",
    )
    show: Show | None = Field(None, description="What is shown: picture, print or both.")
    times: int = Field(1, ge=1, le=30, description="How many times to go through the round.")


class ItemFile(Strict):
    """What is said: a word alone, or a mapping with its pronunciation or picture."""

    word: str = Field(min_length=1, max_length=120, description="The word, phrase or sentence.")
    say: str = Field("", max_length=160, description="Its pronunciation in IPA, as in kæf.")
    picture: str = Field("", max_length=120, description="A file in the client's picture folder.")
    id: str = Field("", pattern=ID_OR_NOTHING, description="A permanent name.")


class StepFile(Strict):
    """One level at one or more positions with its items."""

    name: str = Field(min_length=1, max_length=60, description="A short name, as in 'two words'.")
    level: Level = Field(
        description="How much is said: isolation, syllable, word, phrase or sentence; then "
        "reading (a text aloud), telling (describe, answer, tell again) or talk (everyday talk)."
    )
    position: tuple[Position, ...] = Field((), description="Only if it differs from the program's.")
    sound: str = Field("", description="In a program of vowels with r: which, as in ar.")
    cluster: str = Field("", description="The cluster this step practices, as in st or ks.")
    rounds: tuple[RoundFile, ...] = Field((), description="The rounds of a sitting.")
    items: tuple[ItemFile, ...] = Field((), description="What is said in this step.")
    vowels: tuple[str, ...] = Field((), description="Vowels of a syllable step, as in ee, ah, oo.")
    contrast: tuple[tuple[ItemFile, ItemFile], ...] = Field(
        (),
        description="Pairs of words for a contrast round, as in [key, tea]: the client "
        "chooses one unseen and says it, the helper taps what was heard.",
    )
    hold: float | None = Field(None, gt=0, le=20, description="Seconds a long form is held.")
    passage: str = Field(
        "", max_length=6000, description="A text to read aloud, or a text or topic to tell of."
    )
    where: str = Field("", max_length=60, description="The place of a talk, as in: at dinner.")
    company: str = Field(
        "", alias="with", max_length=60, description="Who is there, never by name: Grandpa."
    )
    minutes: int | None = Field(
        None, ge=1, le=30, description="Minutes of reading, telling or talk; else 5."
    )
    id: str = Field("", pattern=ID_OR_NOTHING, description="A permanent name.")


class ProgramFile(Strict):
    """One client's plan for one sound."""

    program: Literal[1] = Field(description="The version of this file format: 1.")
    client: str = Field(pattern=CODE, description="The client's code, as in heron-07.")
    age: int | None = Field(None, ge=1, le=120, description="Age in whole years.")
    reads: bool = Field(False, description="Whether the client reads the words alone.")
    sound: str = Field(description="The target sound: k, sh, er, or IPA as in /θ/.")
    shape: Shape | None = Field(None, description="Shape of the tongue, for s, z and r.")
    error: str = Field(
        "", description="What is said instead: a sound, omitted, frontal, lateral or distorted."
    )
    lacks: tuple[str, ...] = Field(
        (), description="Other sounds that the client does not have yet, as in r, sh."
    )
    has: tuple[str, ...] = Field(
        (),
        description="Sounds that the client says well and that are otherwise taken as missing with "
        "the target: its voiced or voiceless partner, other vowels with r.",
    )
    position: tuple[Position, ...] = Field(
        ("initial",),
        min_length=1,
        description="Where the sound is in the word; for a vowel with r first final, then medial.",
    )
    mastered: dict[Level, datetime.date] = Field(
        {}, description="Levels mastered before, each with the date."
    )
    baseline: Baseline | None = Field(None, description="How the current step went in the session.")
    current: tuple[str, ...] = Field(min_length=1, description="The step practiced now, by name.")
    practice: Practice = Field(Practice.model_construct(), description="When to practice.")
    pause: tuple[Pause, ...] = Field(
        (), description="Days without practice, as in 2026-12-21..2027-01-03."
    )
    reminder: str = Field("", max_length=60, description="At most four words before a try.")
    cues: Cues = Field(Cues.model_construct(), description="Placement cues.")
    drawing: bool = Field(
        True,
        description="Whether page and guide show a side view of the mouth, for sounds that have "
        "one; s, z and r only with their shape.",
    )
    words: dict[Position, tuple[ItemFile, ...]] = Field(
        {}, description="The words; with several positions a list for each."
    )
    steps: tuple[StepFile, ...] = Field(min_length=1, description="The steps in order.")
    helper: tuple[Role, ...] = Field(
        ("home",),
        min_length=1,
        description="Who listens: home, other home, school, or several, each with a sheet of its "
        "own; the first is what a tablet takes for granted. self: the client practices alone.",
    )
    interface: tuple[str, ...] = Field(
        (), description="The languages of pages and sheets, where they differ from the clinic's."
    )
    criteria: Criteria = Field(Criteria(), description="When to move on, and when to go back.")
    misses: int = Field(3, ge=2, le=10, description="Misses in a row before a model comes back.")
    client_judges: bool = Field(
        False,
        description="From phrases up the client judges each try first, then the helper; both are "
        "kept.",
    )
    hear_yourself: bool | None = Field(
        None,
        description="Whether the client may record a try and hear it after the model; only if it "
        "differs from the clinic's. Nothing is kept or sent.",
    )
    path: bool | None = Field(
        None,
        description="Whether each sitting lays stones on a path across a drawing and ends with a "
        "spoken “You did it”; else under ten years, where somebody helps.",
    )
    voice: Voice | None = Field(None, description="Only if it differs from the clinic's.")
    because: dict[str, str] = Field({}, description="Your reasons for what is found, by rule.")


@dataclass(frozen=True, kw_only=True)
class Item:
    """What is said, and where in it the target stands.

    focus: (word, first phone, past the last phone) of the target this item is there for; None
           when it has none.
    """

    id: str
    text: str
    words: tuple[Spoken, ...]
    position: Position
    focus: Focus | None
    picture: str
    path: KeyPath

    @property
    def phones_by_word(self) -> Words:
        """The phones of every word; () for a word whose pronunciation is not known."""
        return tuple(word.phones for word in self.words)

    @property
    def phones(self) -> tuple[str, ...]:
        """The phones of all words in a row; () when one of them has no known pronunciation."""
        known = all(self.phones_by_word)
        return tuple(itertools.chain(*self.phones_by_word)) if known else ()


@dataclass(frozen=True)
class Round:
    """One pass over a step's items. `show` is settled, `times` counts the passes.

    contrast: it goes over the step's pairs instead: the client chooses one word of each.
    """

    form: Form
    support: Support
    show: Show
    times: int
    path: KeyPath
    contrast: bool = False


@dataclass(frozen=True)
class Pair:
    """Two words of a contrast round: the one with the target, and its counterpart.

    apart: the phones [start, stop) in which they differ, of the one and of the other; None when
           they do not differ in exactly one sound, or one has no known pronunciation.
    """

    target: Item
    other: Item
    apart: tuple[tuple[int, int], tuple[int, int]] | None
    path: KeyPath


@dataclass(frozen=True, kw_only=True)
class Step:
    """One level at one or more positions. `hold`: seconds of a long form.

    Past sentences: `passage` (text or topic) or `where` and `company` of a talk, minutes, and
    `targets`, how many the passage holds where they count.
    """

    id: str
    name: str
    level: Level
    positions: tuple[Position, ...]
    cluster: tuple[str, ...]
    rounds: tuple[Round, ...]
    items: tuple[Item, ...]
    hold: float
    path: KeyPath
    sound: Sound | None = None
    pairs: tuple[Pair, ...] = ()
    passage: str = ""
    where: str = ""
    company: str = ""
    minutes: int = 0
    targets: int = 0

    @property
    def tries(self) -> int:
        """Tries of one sitting: of a reading the targets of its text; of telling and talk it is
        not known, and 0 stands here."""
        if self.level == "reading":
            return self.targets
        return sum(self.tries_of(r) for r in self.rounds)

    def tries_of(self, planned: Round) -> int:
        """Tries of one of its rounds: its items, or its pairs, as often as it says."""
        return len(self.pairs if planned.contrast else self.items) * planned.times

    @property
    def only_pairs(self) -> bool:
        """Whether each of its rounds is a choice between two words."""
        return bool(self.rounds) and all(one.contrast for one in self.rounds)

    @property
    def said(self) -> tuple[Item, ...]:
        """All that is said or shown: the items, then words that stand in pairs only."""
        members = [item for pair in self.pairs for item in (pair.target, pair.other)]
        known = {item.id: item for item in reversed((*self.items, *members))}
        only = dict.fromkeys(i.id for i in members if i.id not in {own.id for own in self.items})
        return (*self.items, *(known[name] for name in only))


@dataclass(frozen=True, kw_only=True)
class Program:
    """One program file, its defaults filled in. `defaults` says which, in words; `noted` holds
    what was found in reading it that does not stop it. `days`, `times`: when anybody practices;
    `by_role`, `times_by_role`: those of each who listens, where they are not the same for all."""

    file: str
    written: ProgramFile
    sound: Sound
    error: Sound | str
    steps: tuple[Step, ...]
    current: tuple[int, ...]
    times: tuple[Time, ...]
    days: tuple[Day, ...]
    minutes: int
    pace: Pace
    voice: AskedVoice
    defaults: tuple[str, ...]
    places: Mapping[KeyPath, Place]
    lacks: tuple[Sound, ...] = ()
    has: tuple[Sound, ...] = ()
    noted: tuple[Finding, ...] = ()
    hear_yourself: bool = False
    by_role: Mapping[Role, tuple[Day, ...]] = field(default_factory=dict)
    times_by_role: Mapping[Role, tuple[Time, ...]] = field(default_factory=dict)

    def sittings_on(self, day: Day) -> int:
        """Sittings of a day on which anybody practices: one at each time of those who do then."""
        there = (r for r in self.times_by_role if day in self.by_role.get(r, self.days))
        own = {*itertools.chain(*(self.times_by_role[role] for role in there))}
        return len(own or self.times)

    def place(self, path: KeyPath = ()) -> Place:
        """The place of `path` in the file, or of the nearest thing around it."""
        return place_at(self.places, path, self.file)

    @property
    def current_steps(self) -> tuple[Step, ...]:
        """What is practiced now."""
        return tuple(self.steps[i] for i in self.current)

    @property
    def published_steps(self) -> tuple[Step, ...]:
        """The current steps and, as refreshers, all before them."""
        return self.steps[: max(self.current) + 1]


@dataclass(frozen=True)
class Client:
    """All programs of one code, with the clinic's settings: the unit of a site.

    others: the codes of the other clients in its folder.
    """

    code: str
    programs: tuple[Program, ...]
    clinic: Clinic
    folder: str
    others: tuple[str, ...] = ()

    @property
    def practises_alone(self) -> bool:
        """Whether nobody but the client listens: then pages address the client."""
        return self.helpers == ("self",)

    @property
    def helpers(self) -> tuple[Role, ...]:
        """Who listens, each once, the usual one first."""
        return tuple(dict.fromkeys(self.programs[0].written.helper))

    def days_of(self, role: Role | Literal[""] = "") -> tuple[Day, ...]:
        """The days on which one who listens practices, of all programs; "": on which anybody
        does."""
        every = (p.by_role.get(role, p.days) if role else p.days for p in self.programs)
        found = {*itertools.chain(*every)}
        return tuple(day for day in DAYS if day in found)

    def times_of(self, role: Role | Literal[""] = "") -> tuple[Time, ...]:
        """The sittings of a day of one who listens, of all programs; "": of anybody."""
        every = (p.times_by_role.get(role, p.times) if role else p.times for p in self.programs)
        found = {*itertools.chain(*every)}
        return tuple(time for time in TIMES if time in found)

    @property
    def interface(self) -> tuple[str, ...]:
        """The languages of pages and sheets, each once, the first one first."""
        own = (p.written.interface for p in self.programs if p.written.interface)
        return tuple(dict.fromkeys(next(own, self.clinic.interface)))
