"""Recordings of people, as Debian packages carry them: installed for the tests, never copied here.

alsa-utils 1.2.8: a woman names the loudspeakers, 48 kHz; her /s/ reaches 14 kHz and more.
  © 1998-2022 Jaroslav Kysela and others, GPL-2.
klettres-data 22.12.3: letters and syllables in many languages, 44.1 kHz; © 2001-2011 Anne-Marie
  Mahfouf and the speakers of KDE, GPL-2+. The British words reach 16 kHz; the American ones have a
  softer /s/ and a noise 30 dB below the voice; the Spanish syllables stop at 7.5 kHz, though the
  files claim 22.
asterisk-core-sounds-en-wav 1.6.1: telephone prompts, 8 kHz; © 2003-2010 Allison Smith, recorded
  for Digium, CC-BY-SA-3.0.
The upper ends were measured for this table: the highest frequency 30 dB below the maximum of the
averaged spectrum of /s/.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from builder.phonetics.inventory import Sound, bare, sounds
from tests.support.missing import missing

PACKAGES = "alsa-utils asterisk-core-sounds-en-wav klettres-data"
HOW = f"recordings are missing: apt-get install --no-install-recommends {PACKAGES}"
SHARE = Path("/usr/share")
WIDE = SHARE / "sounds/alsa"
LETTERS = SHARE / "klettres"
TELEPHONE = SHARE / "asterisk/sounds/en_US_f_Allison"
Kind = Literal["wide", "soft", "narrow", "telephone"]


@dataclass(frozen=True)
class Spoken:
    """One recording.

    words: phones of each; focus: word, first phone and the one past the last of the target.
    seen:  where the target lies, in seconds, read off a spectrogram with steps of 10 ms.
    """

    kind: Kind
    file: Path
    words: tuple[tuple[str, ...], ...]
    focus: tuple[int, int, int]
    seen: tuple[float, float] | None

    @property
    def sound(self) -> Sound:
        word, first, past = self.focus
        return sounds()["".join(map(bare, self.words[word][first:past]))]

    @property
    def american(self) -> bool:
        return self.kind != "narrow" and "en_GB" not in self.file.parts

    @property
    def name(self) -> str:
        return f"{self.kind}-{self.file.parent.parent.name}-{self.file.stem}"


def spoken(symbol: str) -> list[Spoken]:
    """All recordings of words with that sound."""
    return [one for one in RECORDINGS if one.sound.symbol == symbol]


def at_hand(one: Spoken) -> str:
    """The recording's path; without the packages the test is skipped, under CI it fails."""
    if not one.file.is_file():
        missing(HOW)
    return str(one.file)


def _row(kind: Kind, folder: Path, line: str) -> Spoken:
    """`file: phones of a word, of the next @ from to`; the target stands in brackets."""
    name, _, rest = line.partition(": ")
    text, _, place = rest.partition(" @ ")
    start, stop = map(float, place.split()) if place else (0.0, 0.0)
    parts = [tuple(word.split()) for word in text.split(", ")]
    word, at = next(
        (w, p) for w, phones in enumerate(parts) for p, phone in enumerate(phones) if "[" in phone
    )
    words = tuple(tuple(phone.strip("[]") for phone in phones) for phones in parts)
    return Spoken(kind, folder / name, words, (word, at, at + 1), (start, stop) if stop else None)


_TABLE: list[tuple[Kind, Path, str]] = [
    (
        "wide",
        WIDE,
        """
Front_Center.wav: F R AH1 N T, [S] EH1 N T ER0 @ 0.80 0.93
Rear_Center.wav: R IH1 R, [S] EH1 N T ER0 @ 0.66 0.79
Side_Left.wav: [S] AY1 D, L EH1 F T @ 0.04 0.20
Side_Right.wav: [S] AY1 D, R AY1 T @ 0.02 0.16
Front_Left.wav: [F] R AH1 N T, L EH1 F T
Front_Right.wav: [F] R AH1 N T, R AY1 T
Rear_Left.wav: R IH1 R, [L] EH1 F T
Rear_Right.wav: [R] IH1 R, R AY1 T""",
    ),
    (
        "wide",
        LETTERS / "en_GB/syllab",
        """
gas.ogg: G AE1 [S] @ 0.85 1.11
say.ogg: [S] EY1 @ 0.28 0.46
fix.ogg: F IH1 K [S] @ 0.76 1.02
key.ogg: [K] IY1
car.ogg: [K] AA1
my.ogg: [M] AY1
no.ogg: [N] OW1
jet.ogg: [JH] EH1 T
hot.ogg: [HH] AA1 T""",
    ),
    (
        "soft",
        LETTERS / "en/syllab",
        """
saw.ogg: [S] AO1 @ 0.76 1.03
say.ogg: [S] EY1 @ 0.69 0.94
sit.ogg: [S] IH1 T @ 0.77 1.07
sky.ogg: [S] K AY1 @ 0.63 0.83
gas.ogg: G AE1 [S] @ 1.07 1.37
key.ogg: [K] IY1
car.ogg: [K] AA1 R
my.ogg: [M] AY1
dog.ogg: [D] AO1 G
pet.ogg: [P] EH1 T""",
    ),
    (
        "narrow",
        LETTERS / "es/syllab",
        """
sa.ogg: [S] AA1 @ 0.04 0.21
se.ogg: [S] EH1 @ 0.03 0.22
si.ogg: [S] IY1 @ 0.05 0.25
so.ogg: [S] OW1 @ 0.05 0.24
su.ogg: [S] UW1 @ 0.11 0.28
ca.ogg: [K] AA1
co.ogg: [K] OW1
cu.ogg: [K] UW1
ma.ogg: [M] AA1""",
    ),
    (
        "telephone",
        TELEPHONE,
        """
digits/6.wav: [S] IH1 K S
digits/7.wav: [S] EH1 V AH0 N
digits/16.wav: [S] IH0 K S T IY1 N
phonetic/s_p.wav: [S] IY0 EH1 R AH0
letters/slash.wav: [S] L AE1 SH
seconds.wav: [S] EH1 K AH0 N D Z
phonetic/k_p.wav: [K] IY1 L OW0
letters/k.wav: [K] EY1
calling.wav: [K] AO1 L IH0 NG
cancelled.wav: [K] AE1 N S AH0 L D
vm-Work.wav: W ER1 [K]
digits/oclock.wav: AH0 [K] L AA1 K
number.wav: [N] AH1 M B ER0
location.wav: [L] OW0 K EY1 SH AH0 N""",
    ),
]
RECORDINGS = tuple(
    _row(kind, folder, line) for kind, folder, lines in _TABLE for line in lines.strip().split("\n")
)
