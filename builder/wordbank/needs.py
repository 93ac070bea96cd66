"""What a client's programs ask of the words: sounds that are not there yet, the sound said instead
and its fellows, the partner in voicing, the words that are taken, and how a word comes out when
misread. The word bank, pairs and drafted lines all ask here."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from builder.phonetics.features import voicing_partner
from builder.phonetics.inventory import Sound, bare, sounds, vocalic_r
from builder.phonetics.minimal_pairs.words import RARE_ZIPF
from builder.phonetics.position import holds
from builder.wordbank import unsuitable
from builder.wordbank.filters import Words

if TYPE_CHECKING:
    from builder.model.program import Level, Program  # 0.1 s, and most queries have none

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
# As long as a program is at one of these levels, its target counts as not there in others.
BEFORE_SENTENCES: tuple[Level, ...] = ("isolation", "syllable", "word", "phrase")
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
    lacks:        symbols of the sounds that no word may hold: not there yet.
    """

    target: str = ""
    said_instead: tuple[str, ...] | None = None
    substitutes: tuple[str, ...] = ()
    partner: str = ""
    taken: frozenset[str] = frozenset()
    lacks: tuple[str, ...] = ()

    @property
    def troubling(self) -> tuple[str, ...]:
        """Symbols that words should not hold as long as there are enough others."""
        return (*self.substitutes, *((self.partner,) if self.partner else ()))


def needs_for(
    program: Program, others: Iterable[Program] = (), partner_there: bool = False
) -> Needs:
    """What the client needs who has `program` and `others`; all of them count.

    partner_there: the target's partner in voicing is there already.
    """
    everything = (program, *others)
    lacking = [one for p in everything for one in (*p.lacks, *_still_taught(p))]
    needs = needs_with(program.sound, program.error, lacking, program.has)
    taken = frozenset[str]().union(*map(words_said, everything))
    return replace(needs, taken=taken, partner="" if partner_there else needs.partner)


def needs_with(
    target: Sound,
    error: Sound | str = "",
    lacking: Iterable[Sound] = (),
    there: Iterable[Sound] = (),
) -> Needs:
    """What a client needs who learns `target`, says `error` for it, lacks `lacking`, and says
    `there` well, which might else be taken as missing."""
    said, has = _said_instead(target.symbol, error), set(there)
    partner = _partner(target.symbol)
    return Needs(
        target=target.symbol,
        said_instead=said,
        substitutes=_substitutes(said or (), target),
        partner="" if partner in {s.symbol for s in has} else partner,
        lacks=tuple(s.symbol for s in missing(target, lacking, has)),
    )


def missing(target: Sound, lacking: Iterable[Sound], there: Iterable[Sound]) -> tuple[Sound, ...]:
    """The sounds besides `target` that are taken as not there yet.

    With one vowel + r its family is missing, and with a consonant r too, but for those `there`.
    Who learns the consonant r may learn it in `car`: then only er is (common practice, no source).
    """
    told, family = tuple(lacking), vocalic_r()
    if target.symbol == "R":
        family = tuple(s for s in family if s.symbol == "ER")
    elif target not in family and all(sound.symbol != "R" for sound in told):
        family = ()
    presumed = (s for s in family if s not in set(there))
    return tuple(s for s in dict.fromkeys((*told, *presumed)) if s != target)


def _still_taught(program: Program) -> tuple[Sound, ...]:
    """The target of a program that is not at sentences yet."""
    early = any(step.level in BEFORE_SENTENCES for step in program.current_steps)
    return (program.sound,) if early else ()


def held(phones: tuple[str, ...], symbols: Iterable[str]) -> tuple[str, ...]:
    """Which of these sounds, by symbol, a word holds."""
    there = set(map(bare, phones))
    near = (s for s in symbols if any(first[0] in there for first in sounds()[s].phones))
    return tuple(s for s in near if holds(phones, sounds()[s]))


def lacked_in(phones: tuple[str, ...], needs: Needs) -> tuple[str, ...]:
    """Which sounds of a word the client does not have yet."""
    return held(phones, needs.lacks) if needs.lacks else ()


def words_said(program: Program) -> frozenset[str]:
    """Every word that a program says or lists, those of its texts and of the places of its talks
    too, in lower case: they are trained."""
    from builder.text.passage import WORD  # 0.1 s, and most queries have no program

    said = {w.text.lower() for step in program.steps for item in step.said for w in item.words}
    past = (f"{step.passage} {step.where}".lower() for step in program.steps)
    said |= {word for text in past for word in WORD.findall(text)}
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
    """How the coarse words sound that people know, without stress. A word that only the word bank
    leaves out counts as little as a rare one: spot may come out as pot."""
    rows = (words.row(word) for word in unsuitable.coarse_only() if word.isalpha())
    return frozenset(tuple(map(bare, row.phones)) for row in rows if row and row.zipf >= RARE_ZIPF)
