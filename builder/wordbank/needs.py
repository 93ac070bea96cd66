"""What a client's program asks of the words: the sound said instead and its place, the partner in
voicing that is not there yet, the words that are taken, and how a word comes out when misread."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from builder.phonetics.features import voicing_partner
from builder.phonetics.inventory import Sound, bare, sounds
from builder.wordbank import unsuitable
from builder.wordbank.filters import Words

if TYPE_CHECKING:
    from builder.model.program import Program  # 0.1 s, and most queries have none

# What a frontal sound comes out as (common practice, no source): the tongue one place forward.
FRONTED = {
    "S": ("TH",),
    "Z": ("DH",),
    "SH": ("S",),
    "ZH": ("Z",),
    "CH": ("T", "S"),
    "JH": ("D", "Z"),
    "K": ("T",),
    "G": ("D",),
}
ENDINGS = (("Z",), ("S",), ("T",), ("D",), ("ER",), ("IY",), ("IH", "NG"), ("AH", "Z"), ("AH", "D"))
MIN_STEM_PHONES = 3  # phones of an unsuitable word that counts with an ending


@dataclass(frozen=True)
class Needs:
    """What one client's words should spare.

    said_instead: what is said for the target: its phones, () when nothing is; None when that is no
                  sound of the language (lateral, distorted, not told).
    substitutes:  symbols of the sounds said instead and of those of the same place and manner.
    partner:      the target's partner in voicing, taken as not there yet; "" when it is, or has
                  none.
    taken:        words that the client's programs say already, in lower case.
    """

    target: str = ""
    said_instead: tuple[str, ...] | None = None
    substitutes: tuple[str, ...] = ()
    partner: str = ""
    taken: frozenset[str] = frozenset()


def needs_of(
    program: Program, partner_there: bool = False, others: Iterable[Program] = ()
) -> Needs:
    """What the program's client needs; `partner_there` says that the voicing partner is there.

    others: the client's other programs, whose words are taken too.
    """
    target, error = program.sound, program.error
    said = _said_instead(target.symbol, error)
    partner = "" if partner_there else _partner(target.symbol)
    taken = frozenset[str]().union(*map(words_said, (program, *others)))
    return Needs(target.symbol, said, _substitutes(said or (), target), partner, taken)


def words_said(program: Program) -> frozenset[str]:
    """Every word that a program says or lists, in lower case: they are trained."""
    said = {w.text.lower() for step in program.steps for item in step.said for w in item.words}
    listed = {w.word.lower() for words in program.written.words.values() for w in words}
    return frozenset(said | listed)


def _said_instead(target: str, error: Sound | str) -> tuple[str, ...] | None:
    if isinstance(error, Sound):
        return tuple(error.phones[0])
    if error == "frontal":
        return FRONTED.get(target)
    return () if error == "omitted" else None


def _substitutes(instead: tuple[str, ...], target: Sound) -> tuple[str, ...]:
    said = [sounds()[symbol] for symbol in instead if symbol in sounds()]
    near = (
        other.symbol
        for other in sounds().values()
        if any((other.place, other.manner) == (s.place, s.manner) for s in said)
    )
    return tuple(s for s in dict.fromkeys((*instead, *near)) if s != target.symbol)


def _partner(symbol: str) -> str:
    """The symbol of the partner in voicing; "" when there is none."""
    partner = voicing_partner(sounds()[symbol])
    return partner.symbol if partner else ""


def said_with_error(phones: tuple[str, ...], needs: Needs) -> tuple[tuple[str, ...], ...]:
    """How the word comes out with the client's error: the target misread, and its partner too."""
    if needs.said_instead is None:
        return ()
    plain = tuple(map(bare, phones))
    first = _replaced(plain, needs.target, needs.said_instead)
    partner = _partner(needs.target)
    said = tuple(_partner(s) or s for s in needs.said_instead)
    both = (
        _replaced(first, partner, said) if partner and partner not in needs.said_instead else first
    )
    return tuple(dict.fromkeys(form for form in (first, both) if form != plain))


def _replaced(phones: tuple[str, ...], symbol: str, by: tuple[str, ...]) -> tuple[str, ...]:
    there = sounds()[symbol].phones[0]
    made: list[str] = []
    at = 0
    while at < len(phones):
        hit = phones[at : at + len(there)] == there
        made += by if hit else (phones[at],)
        at += len(there) if hit else 1
    return tuple(made)


def sounds_unsuitable(
    phones: tuple[str, ...], needs: Needs, bad: frozenset[tuple[str, ...]]
) -> bool:
    """Whether the word, said with the client's error, sounds like an unsuitable one."""
    return any(_sounds_like(form, bad) for form in said_with_error(phones, needs))


def _sounds_like(form: tuple[str, ...], bad: frozenset[tuple[str, ...]]) -> bool:
    cut = (form[: -len(e)] for e in ENDINGS if form[-len(e) :] == e)
    return form in bad or any(len(stem) >= MIN_STEM_PHONES and stem in bad for stem in cut)


def unsuitable_forms(words: Words) -> frozenset[tuple[str, ...]]:
    """How the unsuitable words sound, without stress."""
    rows = (words.row(word) for word in unsuitable.words() if word.isalpha())
    return frozenset(tuple(map(bare, row.phones)) for row in rows if row)
