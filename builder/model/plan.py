"""The plan: every clip, picture, page, code and sheet that a site needs, as pure data, each with
its path and content key. planning/ makes it; pages, clips, pictures, codes and sheets read it.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import Literal

from builder.model.clinic import DAYS, Clinic, Day, Shape, Speaker, Time
from builder.model.criteria import Criteria
from builder.model.dose import UNCOUNTED
from builder.model.pause import Pause, first_practice_day
from builder.model.program import Form, Level, Role, Show, Support
from builder.phonetics.position import Position


@dataclass(frozen=True, kw_only=True)
class Clip:
    """One audio file to be made.

    key:     content key: all that decides the sound.
    path:    in the site, as in "clips/cow-natural-1a2b3c4d.mp3".
    text:    what is said (an online voice speaks the text).
    words:   the phones of every word (ARPABET with stress; one word for a syllable).
    focus:   (word, first phone, past the last phone) of the target; None without one.
    form:    long holds the target for `hold` seconds.
    alone:   isolation: the sound of `words[0]` alone, held when it can be, else released shortly.
    voice:   who is asked to speak first.
    take:    the recording's path, "" without one; `span` says where in it the target lies, in
             seconds (None: not known), `held` that the target is held in it already.
    instead: what is heard where the voice sends and its service does not speak now; None where
             no other voice is fit.
    """

    key: str
    path: str
    text: str
    words: tuple[tuple[str, ...], ...]
    focus: tuple[int, int, int] | None
    form: Form
    alone: bool
    hold: float
    voice: Speaker
    take: str = ""
    span: tuple[float, float] | None = None
    held: bool = False
    language: str = "en-US"
    instead: Clip | None = None


@dataclass(frozen=True)
class Picture:
    """One picture to be made.

    kind: own (source: a file of the client's folder), drawing (source: the code points of an
          OpenMoji drawing, as in "1F404") or ours (source: a file of our own drawings of animals).
    path: in the site, as in "pictures/1F404.svg".
    """

    key: str
    path: str
    kind: Literal["own", "drawing", "ours"]
    source: str
    alt: str


@dataclass(frozen=True)
class Code:
    """A QR code: SVG and 300-dpi PNG of `address` under `path` without an ending.

    further: of the same page in the further languages of the site, each with its language.
    """

    key: str
    path: str
    address: str
    label: str
    further: tuple[tuple[str, Code], ...] = ()

    def for_language(self, language: str) -> Code:
        """The code that leads to the page in this language; it is the first one's itself."""
        return dict(self.further).get(language, self)


@dataclass(frozen=True, kw_only=True)
class PlannedItem:
    """One item as pages need it. `letters`: its text in parts, True where they spell the target.

    natural, long: None where no voice is fit to say it; then the helper does.
    """

    id: str
    text: str
    letters: tuple[tuple[str, bool], ...]
    ipa: str
    position: Position
    picture: Picture | None
    natural: Clip | None
    long: Clip | None


@dataclass(frozen=True)
class PlannedPassage:
    """The text of a step past sentences, or the situation of its talk.

    paragraphs: of the text, each in parts, True where letters spell a target that counts.
    words, targets: of the text; counts: the targets of each of its words, in order. where, company:
    of a talk. minutes: of either, of one sitting.
    """

    paragraphs: tuple[tuple[tuple[str, bool], ...], ...]
    words: int
    targets: int
    counts: tuple[int, ...]
    where: str
    company: str
    minutes: int


@dataclass(frozen=True)
class PlannedRound:
    """One pass over the items. id: stable within the step, as in "1-natural-imitation".

    contrast: it goes over the step's pairs instead; as an imitation over those that cannot be
              chosen from, a word of each pair in turn to hear and say.
    """

    id: str
    form: Form
    support: Support
    show: Show
    times: int
    contrast: bool = False


@dataclass(frozen=True, kw_only=True)
class PlannedStep:
    """One published step. `easier`: the id of the step to go back to, "" when there is none.

    pairs:   of its contrast round, by id: the word with the target, then its counterpart.
    imitated: of these pairs such as have no pictures to choose from, for who does not read.
    others:  words of pairs that are not among its items.
    passage: past sentences, in place of rounds and items.
    judges:  the client judges each try before the helper does.
    hears:   the client may record a try and hear it after the model.
    paired:  the natural clips of each of `pairs`, which are compared and so are in one voice where
             they can be; () where they are those of the items.
    """

    id: str
    name: str
    level: Level
    sound: str
    positions: tuple[Position, ...]
    current: bool
    easier: str
    rounds: tuple[PlannedRound, ...]
    items: tuple[PlannedItem, ...]
    tries: int
    code: Code | None
    pairs: tuple[tuple[str, str], ...] = ()
    imitated: tuple[tuple[str, str], ...] = ()
    others: tuple[PlannedItem, ...] = ()
    passage: PlannedPassage | None = None
    judges: bool = False
    hears: bool = False
    paired: tuple[tuple[Clip | None, Clip | None], ...] = ()

    @property
    def said(self) -> tuple[PlannedItem, ...]:
        """All that is said or shown: the items, then words that stand in pairs only."""
        return (*self.items, *self.others)


@dataclass(frozen=True, kw_only=True)
class PlannedProgram:
    """One target sound of the client, as pages show it.

    sound:   the letters by which families know it ("sh"); `ipa` its sign ("ʃ"), `symbol` its
             name in the table ("SH").
    alone:   the sound alone, to hear; None when it has no isolation.
    error:   what the client says instead: IPA of a sound, or omitted, frontal, lateral,
             distorted, or "".
    wrong:   (word, as it should be, as the client says it), for the helper's ear alone.
    shape:   of the tongue, where the program names it.
    drawing: whether a side view of the mouth is wanted.
    """

    sound: str
    symbol: str
    ipa: str
    example: str
    alone: Clip | None
    error: str
    reminder: str
    cues: tuple[tuple[str, str], ...]
    steps: tuple[PlannedStep, ...]
    misses: int
    criteria: Criteria
    wrong: tuple[tuple[str, Clip, Clip], ...] = ()
    shape: Shape | None = None
    drawing: bool = True


@dataclass(frozen=True, kw_only=True)
class Plan:
    """A client's whole site.

    slug:   13 characters; the folder and the address of the site.
    emblem: the picture of the client's code (the heron), shown as icon and heading.
    gone:   ids of steps published once and no longer: their addresses lead to today's page.
    tries, whole_minutes: of all current steps of all programs together; planned_minutes: those that
            a sitting may take; minutes: those that one takes, as a family is told.
    planned_days: from the start to the visit.
    paced:  words come by themselves unless the family says otherwise.
    dates:  (first day of practice, visit) in ISO form or "", for the dated sheet only; never on a
            page.
    pauses: days without practice, for the dated sheet only.
    times, days: when anybody practices; by_role, times_by_role: days and times of each who listens,
            () where they are the same for all.
    path:   each sitting lays stones on a path across a drawing, and ends with `praise`; None: the
            helper says it.
    hiss:   /s/ and /ʃ/ held, to hear whether a loudspeaker tells them apart; None where no
            program has a sound as high, or no voice is to speak.
    helper, other_helpers: who listens, the usual one first; each has a dated sheet of its own.
    language: of the practiced words (BCP 47); interface: those of pages and sheets, as in "es",
            the first one at the top of the site.
    """

    client: str
    slug: str
    address: str
    clinic: Clinic
    language: str
    emblem: Picture | None
    programs: tuple[PlannedProgram, ...]
    times: tuple[Time, ...]
    days: tuple[Day, ...]
    tries: int
    minutes: int
    whole_minutes: int
    helper: Role
    reads: bool
    clips: tuple[Clip, ...]
    pictures: tuple[Picture, ...]
    code: Code | None
    gone: tuple[str, ...]
    dates: tuple[str, str]
    pauses: tuple[Pause, ...] = ()
    planned_minutes: int = 10
    planned_days: int = 14
    paced: bool = False
    path: bool = False
    praise: Clip | None = None
    hiss: tuple[Clip, Clip] | None = None
    other_helpers: tuple[Role, ...] = ()
    interface: tuple[str, ...] = ("en",)
    by_role: tuple[tuple[Role, tuple[Day, ...]], ...] = ()
    times_by_role: tuple[tuple[Role, tuple[Time, ...]], ...] = ()

    def days_of(self, role: str) -> tuple[Day, ...]:
        """The days of one who listens; of anybody for who is none of them, and for ""."""
        return dict[str, tuple[Day, ...]](self.by_role).get(role, self.days)

    def times_of(self, role: str) -> tuple[Time, ...]:
        """The times of one who listens; of anybody for who is none of them, and for ""."""
        return dict[str, tuple[Time, ...]](self.times_by_role).get(role, self.times)

    @property
    def apart(self) -> tuple[Role, ...]:
        """Those who listen, where they do not all practice at the same days and times; else ()."""
        return self.helpers if self.by_role or self.times_by_role else ()

    def is_planned(self, day: Day, time: Time) -> bool:
        """Whether anybody practices at that time of a day on which somebody does."""
        each = self.helpers if self.times_by_role else ("",)
        return any(day in self.days_of(one) and time in self.times_of(one) for one in each)

    def locale(self, language: str) -> str:
        """A language of the pages with the region of the practiced words, as in "es-US"."""
        own, dash, region = self.language.partition("-")
        return self.language if language == own else f"{language}{dash}{region}"

    def first_day(self, printed: str, role: str = "") -> str:
        """The first day with a box in ISO form, of one who listens or, for "", of anybody; where
        the program gives no start but a visit, that from the day of printing on; "" without
        either."""
        start, visit = self.dates
        begin = start or (printed if visit else "")
        if not begin:
            return ""
        day, weekdays = datetime.date.fromisoformat, {DAYS.index(d) for d in self.days_of(role)}
        until = day(visit) if visit else None
        return str(first_practice_day(day(begin), until, weekdays, self.pauses))

    @property
    def sheets(self) -> tuple[tuple[Role, str], ...]:
        """The dated sheets: for each of those who listen one in each language of the pages, for a
        school one in the clinic's first."""
        return tuple(
            (role, language)
            for role in self.helpers
            for language in (self.clinic.interface[:1] if role == "school" else self.interface)
        )

    @property
    def helpers(self) -> tuple[Role, ...]:
        """Who listens, the usual one first."""
        return (self.helper, *self.other_helpers)

    @property
    def practised(self) -> tuple[Clip, ...]:
        """Every clip but what only checks a loudspeaker."""
        checking = set(self.hiss or ()) - {program.alone for program in self.programs}
        return tuple(clip for clip in self.clips if clip not in checking)

    @property
    def fits(self) -> bool:
        """Whether one sitting holds all of it."""
        return self.whole_minutes <= self.minutes

    @property
    def counted(self) -> bool:
        """Whether its tries can be told beforehand: not of telling and talk."""
        steps = (step for program in self.programs for step in program.steps if step.current)
        return all(step.level not in UNCOUNTED for step in steps)

    @property
    def hears(self) -> bool:
        """Whether a try may be recorded in any of its steps: nowhere else is a microphone used."""
        return any(step.hears for program in self.programs for step in program.steps)

    @property
    def drawn(self) -> bool:
        """Whether it shows a drawing, whose makers are then credited."""
        shown = (*self.pictures, *([self.emblem] if self.emblem else []))
        return any(picture.kind == "drawing" for picture in shown)
