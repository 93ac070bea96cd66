"""Rules on steps past sentences: their texts, talks, and when they come."""

from __future__ import annotations

from builder.checks.rule import UNSOURCED, VAN_RIPER, Rule, fact

PASSAGE_RULES: tuple[Rule, ...] = (
    fact("level-key", "A step has a key that its level has no use for."),
    fact("passage", "A text to read or to tell again is missing."),
    Rule(
        "situation",
        "fault",
        "Everyday talk without its place or the person.",
        "carryover to people and places: ASHA, Practice Portal, Speech Sound Disorders, "
        "phase of generalization; handbooks, cited from memory",
    ),
    Rule(
        "sentences-first",
        "advice",
        "Reading, telling or talk is practiced before sentences are mastered.",
        VAN_RIPER,
    ),
    Rule(
        "reads-aloud",
        "advice",
        "A client who does not read has a text to read aloud.",
        "Secord 1989 and handbooks, cited from memory",
    ),
    Rule(
        "few-targets",
        "advice",
        "A text has fewer than 10 targets a minute of reading aloud.",
        "reading rates: Hasbrouck & Tindal 2017, Technical Report 1702 (grades 1 to 6); "
        "Brysbaert 2019, J Mem Lang 109:104047 (adults); the limit: " + UNSOURCED,
    ),
)
