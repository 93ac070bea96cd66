"""What was measured on speakers of American English, as a table to hold a voice against.

WOMEN, MEN: first three formants of vowels in Hz, the lower and the higher of two studies' means:
G. Peterson, H. Barney: Control methods used in a study of the vowels. JASA 24 (1952) 175-184, Table
II; J. Hillenbrand, L. Getty, M. Clark, K. Wheeler: Acoustic characteristics of American English
vowels. JASA 97 (1995) 3099-3111, Table V (e and o in this one only).
FRICTION: spectral mean (first moment) in Hz of fricatives, 20 adults: A. Jongman, R. Wayland,
S. Wong: Acoustic characteristics of English fricatives. JASA 108 (2000) 1252-1263.
ONSET: ms from the release of an initial stop to the voice, the range over words said by themselves:
L. Lisker, A. Abramson: A cross-language study of voicing in initial stops. Word 20 (1964) 384-422.
A voice that begins before the release counts as 0.
MURMUR: Hz below which the first formant of a nasal lies, half-way between its 300 and the 700 of
open vowels: O. Fujimura: Analysis of nasal consonants. JASA 34 (1962) 1865-1875.
"""

from __future__ import annotations

Range = tuple[float, float]
WOMEN: dict[str, tuple[Range, Range, Range]] = {
    "IY": ((310, 437), (2761, 2790), (3310, 3372)),
    "IH": ((430, 483), (2365, 2480), (3053, 3070)),
    "EY": ((536, 536), (2530, 2530), (3047, 3047)),
    "EH": ((610, 731), (2058, 2330), (2979, 2990)),
    "AE": ((669, 860), (2050, 2349), (2850, 2972)),
    "AA": ((850, 936), (1220, 1551), (2810, 2815)),
    "AO": ((590, 781), (920, 1136), (2710, 2824)),
    "OW": ((555, 555), (1035, 1035), (2828, 2828)),
    "UH": ((470, 519), (1160, 1225), (2680, 2827)),
    "UW": ((370, 459), (950, 1105), (2670, 2735)),
    "AH": ((753, 760), (1400, 1426), (2780, 2933)),
    "ER": ((500, 523), (1588, 1640), (1929, 1960)),
}
MEN: dict[str, tuple[Range, Range, Range]] = {
    "IY": ((270, 342), (2290, 2322), (3000, 3010)),
    "IH": ((390, 427), (1990, 2034), (2550, 2684)),
    "EY": ((476, 476), (2089, 2089), (2691, 2691)),
    "EH": ((530, 580), (1799, 1840), (2480, 2605)),
    "AE": ((588, 660), (1720, 1952), (2410, 2601)),
    "AA": ((730, 768), (1090, 1333), (2440, 2522)),
    "AO": ((570, 652), (840, 997), (2410, 2538)),
    "OW": ((497, 497), (910, 910), (2459, 2459)),
    "UH": ((440, 469), (1020, 1122), (2240, 2434)),
    "UW": ((300, 378), (870, 997), (2240, 2343)),
    "AH": ((623, 640), (1190, 1200), (2390, 2550)),
    "ER": ((474, 490), (1350, 1379), (1690, 1710)),
}
FRICTION = {
    "F": 5108,
    "V": 5108,
    "TH": 5137,
    "DH": 5137,
    "S": 6133,
    "Z": 6133,
    "SH": 4229,
    "ZH": 4229,
}
ONSET: dict[str, Range] = {
    "P": (20, 120),
    "T": (30, 105),
    "K": (50, 135),
    "B": (0, 5),
    "D": (0, 25),
    "G": (0, 35),
}
MURMUR = 500.0
