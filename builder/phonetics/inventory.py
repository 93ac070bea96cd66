"""The sounds of a language: one table, and the names by which a therapist may type them.

Symbols are those of CMUdict (ARPABET without stress digits); a vowel in a transcription carries
a stress digit (`IY1`). The figures are data (data/*_sounds.csv); nothing here is English.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

VOWEL_KINDS = ("vowel", "rhotic")
# What could be two sounds is asked back, with a word for each.
TWO_SOUNDS: dict[str, tuple[str, ...]] = {
    "j": ("JH", "Y"),
    "y": ("Y", "IY"),
    "th": ("TH", "DH"),
    "c": ("K", "S"),
    "a": ("AE", "EY"),
    "e": ("EH", "IY"),
    "i": ("IH", "AY"),
    "o": ("AA", "OW"),
}


@dataclass(frozen=True)
class Sound:
    """One speech sound.

    symbol:  ARPABET name without stress (`SH`); a vowel + r has a name of its own (`AAR`).
    ipa:     broad IPA of American English.
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


class UnknownSoundError(ValueError):
    """What was typed is no sound, or could be two. The message asks back."""


def bare(phone: str) -> str:
    """A phone without its stress digit: `IY1` gives `IY`."""
    return phone.rstrip("012")


@cache
def sounds(language: str = "en") -> dict[str, Sound]:
    """All sounds of a language by symbol, in the order of the table."""
    table = files("builder.phonetics").joinpath(f"data/{language}_sounds.csv")
    rows = csv.DictReader(table.read_text(encoding="utf-8").splitlines())
    return {row["symbol"]: _sound(row) for row in rows}


def _sound(row: dict[str, str]) -> Sound:
    phones = tuple(tuple(choice.split()) for choice in row["phones"].split("|"))
    plain = {k: v for k, v in row.items() if k not in ("voiced", "phones")}
    return Sound(voiced=row["voiced"] == "yes", phones=phones, **plain)


def is_vowel(phone: str) -> bool:
    """Whether a phone of a transcription is a vowel (rhotic `ER` included)."""
    sound = sounds().get(bare(phone))
    return sound is not None and sound.kind in VOWEL_KINDS


def ipa_of(phones: tuple[str, ...]) -> str:
    """A transcription in IPA, without stress marks: ("S", "IY1") gives "si"."""
    return "".join(_ipa_of_phone(p) for p in phones)


def _ipa_of_phone(phone: str) -> str:
    unstressed = {"AH0": "ə", "ER0": "ɚ"}
    return unstressed.get(phone) or sounds()[bare(phone)].ipa


def parse_sound(typed: str) -> Sound:
    """The sound that was typed: `sh`, `k`, `er`, or IPA between slashes (`/j/`), or plain IPA.

    Raises UnknownSoundError with the question to ask back.
    """
    text = typed.strip()
    if len(text) > 2 and text[0] == text[-1] == "/":
        return _by_ipa(text[1:-1], typed)
    if text.lower() in TWO_SOUNDS:
        raise UnknownSoundError(_ask_back(text.lower()))
    named = {s.typed: s for s in sounds().values() if s.typed}
    return named.get(text.lower()) or _by_ipa(text, typed)


def _by_ipa(ipa: str, typed: str) -> Sound:
    alike = {"g": "ɡ", "r": "ɹ", "ɜ": "ɝ", "ɚ": "ɝ", "e": "eɪ", "o": "oʊ", "t͡ʃ": "tʃ", "d͡ʒ": "dʒ"}
    wanted = alike.get(ipa, ipa)
    for sound in sounds().values():
        if sound.ipa == wanted:
            return sound
    raise UnknownSoundError(
        f"'{typed}' is not a sound this tool knows; write it as in 'sh', 'ng', 'k', "
        "or in IPA between slashes, as in '/ʃ/'"
    )


def _ask_back(text: str) -> str:
    choices = [sounds()[symbol] for symbol in TWO_SOUNDS[text]]
    ways = " or ".join(f"'/{s.ipa}/' as in '{s.example}'" for s in choices)
    return f"'{text}' could be two sounds: write {ways}"


def phones_of_ipa(ipa: str) -> tuple[str, ...]:
    """A pronunciation given in IPA as ARPABET phones: `kæf` gives K AE1 F.

    Stress marks before a syllable are read (ˈ 1, ˌ 2); without any mark the first full vowel
    is stressed. Raises UnknownSoundError naming the first sign that is no sound.
    """
    phones: list[str] = []
    full: list[int] = []
    stress, rest = "", _plain(ipa)
    while rest:
        if rest[0] in "ˈˌ":
            stress, rest = ("1" if rest[0] == "ˈ" else "2"), rest[1:]
            continue
        sign = next((rest[:n] for n in (3, 2, 1) if rest[:n] in _signs()), None)
        if sign is None:
            raise UnknownSoundError(
                f"'{rest[0]}' in the pronunciation '{ipa}' is no sign for a sound; "
                "write IPA as in 'kæf'"
            )
        phone = _signs()[sign]
        if is_vowel(phone):
            full += [] if sign in ("ə", "ɚ") else [len(phones)]
            phone, stress = phone + (stress or "0"), ""
        phones.append(phone)
        rest = rest[len(sign) :]
    return tuple(phones if _stressed(phones) else _stress_first(phones, full))


def _plain(ipa: str) -> str:
    text = ipa.strip().strip("/[]")
    for sign in ("͡", ".", "ː", " "):
        text = text.replace(sign, "")
    return text.replace("'", "ˈ")


def _stressed(phones: list[str]) -> bool:
    return any(phone[-1] in "12" for phone in phones)


def _stress_first(phones: list[str], full: list[int]) -> list[str]:
    vowels = full or [i for i, phone in enumerate(phones) if is_vowel(phone)]
    if vowels:
        phones[vowels[0]] = bare(phones[vowels[0]]) + "1"
    return phones


@cache
def _signs() -> dict[str, str]:
    signs = {s.ipa: s.symbol for s in sounds().values() if s.kind != "rhotic"}
    return signs | {
        "ɝ": "ER", "ɚ": "ER", "ɜ": "ER", "ə": "AH", "g": "G", "r": "R",
        "e": "EY", "o": "OW", "ɒ": "AA", "a": "AA", "ɾ": "T", "ɫ": "L", "ʍ": "W",
    }  # fmt: skip
