"""The sounds of a language: one table, and the names by which a therapist may type them.

Symbols are those of CMUdict (ARPABET without stress digits); a vowel in a transcription carries
a stress digit (`IY1`). The sounds are data (data/*_sounds.csv), and so is what stands for them in
IPA (data/*_ipa.csv, data/*_ipa_forms.csv); nothing here is English.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import cache

from builder.phonetics.tables import rows

VOWEL_KINDS = ("vowel", "rhotic")
TEXT_COLUMNS = ("symbol", "ipa", "kind", "place", "manner", "hold", "typed", "spelled", "example")
STRESS_MARKS = {"ˈ": "1", "'": "1", "ˌ": "2"}
SEPARATORS = ".- "  # between syllables or words: no sound, but no sign reaches across
VOWEL_SIGNS = "iyɨʉɯuɪʏʊeøɘɵɤoəɛœɜɞʌɔæɐaɶɑɒɚɝ"  # the chart of IPA, and two with r
FINE_MARKS = "ːˑ:͜͡ʰ̪̃̚"  # length, ties, breath, dental, nasal, unreleased: broad IPA has none


@dataclass(frozen=True, kw_only=True)
class Sound:
    """One speech sound.

    symbol:  ARPABET name without stress (`SH`); a vowel + r has a name of its own (`AAR`).
    ipa:     broad IPA.
    kind:    consonant, vowel or rhotic (vowel + r).
    hold:    can it be held? yes, short (glides and h: a warning), no (stops, affricates).
    phones:  every sequence of symbols by which a transcription writes it.
    """

    symbol: str
    ipa: str
    kind: str
    place: str
    manner: str
    voiced: bool
    hold: str
    typed: str
    spelled: str
    example: str
    phones: tuple[tuple[str, ...], ...]

    @property
    def stays_alone(self) -> bool:
        """Whether the sound has an isolation level: not stops, affricates and glides."""
        return self.hold == "yes"

    @property
    def as_typed(self) -> str:
        """As a program names it, and nothing else: `sh`; where letters could be two, `/θ/`."""
        return self.typed or f"/{self.ipa}/"


class UnknownSoundError(ValueError):
    """What was typed is no sound, or could be two. The message asks back."""


def bare(phone: str) -> str:
    """A phone without its stress digit: `IY1` gives `IY`."""
    return phone.rstrip("012")


@cache
def sounds(language: str = "en") -> dict[str, Sound]:
    """All sounds of a language by symbol, in the order of the table."""
    return {row["symbol"]: _sound(row) for row in sound_rows(language)}


@cache
def sound_rows(language: str = "en") -> tuple[dict[str, str], ...]:
    """The table of sounds as it is written, row by row."""
    return tuple(rows("sounds", language))


def _sound(row: dict[str, str]) -> Sound:
    phones = tuple(tuple(choice.split()) for choice in row["phones"].split("|"))
    plain = {name: row[name] for name in TEXT_COLUMNS}
    return Sound(voiced=row["voiced"] == "yes", phones=phones, **plain)


@cache
def vocalic_r(language: str = "en") -> tuple[Sound, ...]:
    """Vowels with r, one family, which mostly come, and go wrong, together."""
    return tuple(s for s in sounds(language).values() if s.kind == "rhotic")


@cache
def is_vowel(phone: str) -> bool:
    """Whether a phone of a transcription is a vowel (rhotic `ER` included)."""
    sound = sounds().get(bare(phone))
    return sound is not None and sound.kind in VOWEL_KINDS


def ipa_of(phones: tuple[str, ...]) -> str:
    """A transcription in IPA, without stress marks: ("S", "IY1") gives "si"."""
    return "".join(_ipa_of_phone(p) for p in phones)


def _ipa_of_phone(phone: str) -> str:
    return _written().get(phone) or sounds()[bare(phone)].ipa


def parse_sound(typed: str) -> Sound:
    """The sound that was typed: `sh`, `k`, `er`, or IPA between slashes (`/j/`), or plain IPA.

    Raises UnknownSoundError with the question to ask back.
    """
    text = typed.strip()
    if len(text) > 2 and text[0] == text[-1] == "/":
        return _by_ipa(text[1:-1], typed)
    if text.lower() in two_sounds():
        raise UnknownSoundError(_ask_back(text.lower()))
    return _typed().get(text.lower()) or _by_ipa(text, typed)


@cache
def _typed() -> dict[str, Sound]:
    return {sound.typed: sound for sound in sounds().values() if sound.typed}


def _by_ipa(ipa: str, typed: str) -> Sound:
    found = _named().get(_plain(ipa))
    if found:
        return found
    raise UnknownSoundError(
        f"`{typed}` is not a sound this tool knows; write it as in `sh`, `ng`, `k`, "
        "or in IPA between slashes, as in `/ʃ/`"
    )


@cache
def two_sounds(language: str = "en") -> dict[str, tuple[Sound, ...]]:
    """What could be two sounds is asked back, with a word for each."""
    known = sounds(language)
    table = rows("two_sounds", language)
    return {
        row["typed"]: tuple(known[symbol] for symbol in row["symbols"].split()) for row in table
    }


def _ask_back(text: str) -> str:
    ways = " or ".join(f"`/{s.ipa}/` as in '{s.example}'" for s in two_sounds()[text])
    return f"`{text}` could be two sounds: write {ways}"


def phones_of_ipa(ipa: str) -> tuple[str, ...]:
    """A pronunciation given in IPA as ARPABET phones: `kæf` gives K AE1 F.

    Stress marks before a syllable are read (ˈ 1, ˌ 2); without any mark the first full vowel
    is stressed. A dot, hyphen or space keeps signs apart (`nʌt.ʃɛl`). Raises UnknownSoundError
    naming the first sign that is no sound.
    """
    phones: list[str] = []
    full: list[int] = []
    stress, rest = "", _plain(ipa)
    while rest:
        sign = _first_sign(rest, ipa)
        rest = rest[len(sign) :]
        if sign in STRESS_MARKS:
            stress = STRESS_MARKS[sign]
        for phone in _signs().get(sign, ()):
            if is_vowel(phone):
                full += [] if sign in _weak() else [len(phones)]
                phone, stress = phone + (stress or "0"), ""
            phones.append(phone)
    if not phones:
        raise UnknownSoundError(f"the pronunciation `{ipa}` holds no sound; write IPA as in `kæf`")
    return tuple(phones if _stressed(phones) else _stress_first(phones, full))


def _first_sign(rest: str, ipa: str) -> str:
    """The longest known sign at the beginning of `rest`."""
    known = _signs().keys() | STRESS_MARKS.keys() | set(SEPARATORS)
    for length in (3, 2, 1):
        if rest[:length] in known:
            return rest[:length]
    raise UnknownSoundError(
        f"`{rest[0]}` in the pronunciation `{ipa}` is not a sign of IPA; write IPA as in `kæf`"
    )


def _plain(ipa: str) -> str:
    """Without brackets, length, ties and fine detail; each sign in the form of the tables."""
    text = unicodedata.normalize("NFD", ipa.strip().strip("/[]"))
    text = text.translate(dict.fromkeys(map(ord, FINE_MARKS)))
    for pattern, sign in _forms():
        text = pattern.sub(sign, text)
    return text


def _stressed(phones: list[str]) -> bool:
    return any(phone[-1] in "12" for phone in phones)


def _stress_first(phones: list[str], full: list[int]) -> list[str]:
    vowels = full or [i for i, phone in enumerate(phones) if is_vowel(phone)]
    if vowels:
        phones[vowels[0]] = bare(phones[vowels[0]]) + "1"
    return phones


@cache
def _signs(language: str = "en") -> dict[str, tuple[str, ...]]:
    """The phones of every sign; a vowel + r is two signs."""
    single = {s.ipa: (s.symbol,) for s in sounds(language).values() if (s.symbol,) in s.phones}
    return single | {row["sign"]: tuple(row["phones"].split()) for row in rows("ipa", language)}


@cache
def _named(language: str = "en") -> dict[str, Sound]:
    """The sound of every sign by which it may be named."""
    known = sounds(language)
    more = {r["sign"]: known[r["phones"]] for r in rows("ipa", language) if r["named"] == "yes"}
    return more | {sound.ipa: sound for sound in known.values()}


@cache
def _weak(language: str = "en") -> frozenset[str]:
    """The signs that take the stress only where there is no other vowel."""
    return frozenset(row["sign"] for row in rows("ipa", language) if row["weak"] == "yes")


@cache
def _written(language: str = "en") -> dict[str, str]:
    """The sign of each unstressed phone that has one of its own."""
    table = rows("ipa", language)
    return {row["phones"] + "0": row["sign"] for row in table if row["written"] == "yes"}


@cache
def _forms(language: str = "en") -> tuple[tuple[re.Pattern[str], str], ...]:
    """What is written in place of other signs, in order."""
    vowel = f"[{VOWEL_SIGNS}]"
    table = rows("ipa_forms", language)
    return tuple((re.compile(r["pattern"].replace("{vowel}", vowel)), r["sign"]) for r in table)
