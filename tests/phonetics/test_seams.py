from __future__ import annotations

from builder.phonetics.inventory import sounds
from builder.phonetics.seams import lost_at_seam

# Sources: at the head of builder/phonetics/seams.py.
ALIKE = ["P B", "T D", "K G", "CH JH", "F V", "TH DH", "S Z", "SH ZH"]
ALIKE += ["M", "N", "NG", "L", "R", "W", "Y", "HH"]
HELD_AS_ONE = {(a, b) for group in ALIKE for a in group.split() for b in group.split()}
MERGED = {(a, "Y") for a in ("T", "D", "S", "Z")}
DRAWN_OVER = {(a, b) for a in ("T", "D", "S", "Z") for b in ("SH", "ZH", "CH", "JH")}
DRAWN_OVER |= {("T", "R"), ("D", "R")}
PHONES = [s.symbol for s in sounds().values() if (s.symbol,) in s.phones]


def test_all_pairs_of_sounds() -> None:
    assert len(PHONES) == 39, "CMUdict 0.7b has 39 phones"
    every = {(a, b) for a in PHONES for b in PHONES}
    assert {p for p in every if lost_at_seam(*p).last} == HELD_AS_ONE | MERGED | DRAWN_OVER
    assert {p for p in every if lost_at_seam(*p).first} == HELD_AS_ONE | MERGED


def test_stress_is_no_difference() -> None:
    assert lost_at_seam("IY1", "IY0") == (False, False)
    assert lost_at_seam("ER0", "R") == (False, False)
