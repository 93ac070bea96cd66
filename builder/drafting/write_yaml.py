"""Drafted steps and programs as YAML text that a therapist would have typed."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from builder.drafting.ladder import Draft
from builder.model.clinic import Shape, SoundCues
from builder.phonetics.position import Position
from builder.program_file.suggestions import BLANK

WIDTH = 100
PLAIN = re.compile(r"[A-Za-zɐ-ʯæðŋθ][^,\[\]{}:#\"&*|>%@`\\]*")


def scalar(text: str) -> str:
    """A text as it must be written inside brackets: quoted only where YAML needs it."""
    if PLAIN.fullmatch(text) and not text.endswith(" "):
        return text
    if '"' in text and "'" not in text:
        return f"'{text}'"
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def listed(items: Iterable[str | tuple[str, str]]) -> str:
    """A list in brackets; an item with its IPA becomes a mapping."""
    return f"[{', '.join(map(_entry, items))}]"


def _entry(item: str | tuple[str, str]) -> str:
    if isinstance(item, str):
        return scalar(item)
    return f"{{word: {scalar(item[0])}, say: {item[1]}}}"


def step(draft: Draft, indent: int, first: str = "") -> str:
    """One step as a mapping in braces; its items, and its pairs, begin a line of their own."""
    parts = _parts(draft)
    parts[0] = "{" + parts[0]
    if draft.passage:
        return f"{_lines(parts, indent, first)},\n{_passage(draft.passage, indent)}"
    lists = {"items": list(map(_entry, draft.items)), "contrast": list(map(listed, draft.pairs))}
    given = [_pieces(key, entries) for key, entries in lists.items() if entries]
    rows = [parts, *given]
    rows[-1][-1] += "}"
    starts = (first, *(" " * indent for _ in given))
    return ",\n".join(_lines(row, indent, at) for row, at in zip(rows, starts, strict=True))


def item_list(items: Sequence[str | tuple[str, str]], indent: int, start: int) -> str:
    """A list in brackets that begins in column `start`; further lines in column `indent`."""
    return _lines(_pieces("", list(map(_entry, items))), indent, " " * (start - 2))[start:]


def _parts(draft: Draft) -> list[str]:
    """All of a step but its items and pairs."""
    several = len(draft.positions) > 1
    places = ", ".join(draft.positions)
    given = {
        "name": scalar(draft.name),
        "level": draft.level,
        "sound": draft.sound,
        "position": f"[{places}]" if several else places,
        "cluster": draft.cluster,
        "vowels": listed(draft.vowels) if draft.vowels else "",
        "rounds": f"[{', '.join(draft.rounds)}]" if draft.rounds else "",
        "where": scalar(draft.where) if draft.where else "",
        "with": scalar(draft.company) if draft.company else "",
        "minutes": str(draft.minutes or ""),
    }
    return [f"{key}: {value}" for key, value in given.items() if value]


def _passage(text: str, indent: int) -> str:
    """A text of several lines in quotation marks, which end the step."""
    quoted = text.replace("\\", "\\\\").replace('"', '\\"')
    return textwrap.fill(
        f'passage: "{quoted}"}}',
        WIDTH,
        initial_indent=" " * indent,
        subsequent_indent=" " * (indent + 2),
        break_on_hyphens=False,
    )


def _pieces(key: str, entries: Sequence[str]) -> list[str]:
    """A list of written entries in pieces between which a line may be broken."""
    pieces = list(entries)
    pieces[0] = f"{key}: [{pieces[0]}"
    pieces[-1] += "]"
    return pieces


def _lines(pieces: Sequence[str], indent: int, first: str) -> str:
    lines, line = [], first
    for at, piece in enumerate(pieces):
        text = piece + ("," if at + 1 < len(pieces) else "")
        if at and len(line) + 1 + len(text) > WIDTH:
            lines.append(line)
            line = " " * indent + text
        else:
            line += (" " if at else "") + text
    return "\n".join([*lines, line])


NEUTRAL = """\
# Neutral, made from place, manner and voice: read all of it, write what you say in the room.
# At most four words for the reminder.
"""
EXAMPLE = """\
# Yours to write, without the # before it:
# practice: {from: 2026-01-31, visit: 2026-02-14}
"""
VOICE = "# voice: {}   # says this sound in words; the clinic's voice does not say it well\n"


@dataclass(frozen=True, kw_only=True)
class Head:
    """What stands at the top of a new program. Empty texts and None become blanks.

    shared: lines that the client's other programs hold too, as in 'helper: school'.
    voice:  one that says the sound better than the clinic's; "" where that says it.
    cues:   neutral cues and a reminder; None where the clinic file has them for the sound.
    supposed_reads: whether nobody said that the client reads, or does not.
    """

    code: str
    age: int | None
    reads: bool
    sound: str
    error: str
    positions: Sequence[Position]
    lacks: Sequence[str] = ()
    has: Sequence[str] = ()
    shared: Sequence[str] = ()
    shape: Shape | None = None
    voice: str = ""
    cues: SoundCues | None = None
    supposed_reads: bool = False


TOP = """\
# yaml-language-server: $schema=program.schema.json
# A draft. Replace or delete every `{blank}`, read every word aloud, change what you would not say.
program: 1
client: {code}
age: {age}
reads: {reads}
sound: {sound}
error: {error}
{shape}{lacks}{has}position: {position}
baseline: {blank}   # as in {{date: 2026-01-31, correct: 17, of: 20, step: {step}}}
current: {current}
{shared}{practice}{voice}{cues}"""


def program(head: Head, words: Mapping[Position, Sequence[str]], steps: Sequence[Draft]) -> str:
    """A whole draft program, at its first step."""
    places = head.positions
    text = TOP.format(
        blank=BLANK,
        code=head.code,
        age=f"{BLANK}   # whole years; or delete this line" if head.age is None else head.age,
        reads=_reads(head),
        sound=head.sound,
        error=head.error or f"{BLANK}   # what this client says instead; or delete this line",
        shape=f"shape: {head.shape}\n" if head.shape else "",
        lacks=f"lacks: [{', '.join(head.lacks)}]\n" if head.lacks else "",
        has=f"has: [{', '.join(head.has)}]\n" if head.has else "",
        position=places[0] if len(places) == 1 else f"[{', '.join(places)}]",
        current=scalar(steps[0].name),
        step=scalar(steps[0].name),
        shared="".join(f"{line}\n" for line in head.shared),
        practice="" if any(line.startswith("practice:") for line in head.shared) else EXAMPLE,
        voice=VOICE.format(head.voice) if head.voice else "",
        cues=_cues(head.cues),
    )
    return text + _words(words) + "steps:\n" + "".join(step(one, 5, "  - ") + "\n" for one in steps)


def _reads(head: Head) -> str:
    """Yes or no; with the other answer beside it where nobody gave one."""
    if not head.supposed_reads:
        return "yes" if head.reads else "no"
    if head.reads:
        return "yes   # supposed by age; write no if this client does not read the words alone"
    return "no   # supposed; write yes if this client reads the words alone"


def _cues(cues: SoundCues | None) -> str:
    """Reminder and cues, marked to be read."""
    if cues is None:
        return "# Reminder and cues are those of the clinic file for this sound.\n"
    given = cues.model_dump(exclude={"reminder"})
    lines = [f"  {part}: {text}\n" for part, text in given.items() if text]
    return f"{NEUTRAL}reminder: {cues.reminder}\ncues:\n{''.join(lines)}"


def _words(words: Mapping[Position, Sequence[str]]) -> str:
    lists = {position: found for position, found in words.items() if found}
    if not lists:
        return ""
    if len(lists) == 1:
        return _lines(_words_of("words", next(iter(lists.values()))), 2, "") + "\n"
    lines = [_lines(_words_of(position, found), 4, "  ") for position, found in lists.items()]
    return "words:\n" + "\n".join(lines) + "\n"


def _words_of(key: str, words: Sequence[str]) -> list[str]:
    return _pieces(key, list(map(scalar, words)))
