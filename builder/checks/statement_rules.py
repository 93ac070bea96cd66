"""Rules on what a program states of a client: who it is, what ails it, how sure the sound is."""

from __future__ import annotations

from builder.checks.rule import UNSOURCED, Rule

SAFE_HARBOR = "45 CFR 164.514(b)(2)(i)"


def _shown(name: str, about: str, source: str) -> Rule:
    """A rule on words that nobody but client and therapist should read."""
    return Rule(name, "fault", about, source, by_word=True)


STATEMENT_RULES: tuple[Rule, ...] = (
    _shown(
        "name",
        "A page would show a person's name.",
        f"{SAFE_HARBOR}(A); given names: US Social Security Administration, births 1930 to 2017",
    ),
    _shown("birth-date", "A page would show a date or an exact age.", f"{SAFE_HARBOR}(C)"),
    _shown(
        "telephone",
        "A page would show a telephone number that is not the clinic's.",
        f"{SAFE_HARBOR}(D), (E); numbers: the package phonenumbers",
    ),
    _shown("email", "A page would show an email address.", f"{SAFE_HARBOR}(F)"),
    _shown(
        "record-number",
        "A page would show the number of a record, a plan or an account.",
        f"{SAFE_HARBOR}(G) to (M)",
    ),
    _shown("web-address", "A page would show a web or network address.", f"{SAFE_HARBOR}(N), (O)"),
    _shown("school", "A page would show the name of a school or an address.", f"{SAFE_HARBOR}(B)"),
    _shown(
        "diagnosis",
        "A page would show a diagnosis.",
        "45 CFR 160.103 (health information); words: ICD-10-CM",
    ),
    Rule(
        "baseline-low",
        "fault",
        "The baseline is below 50 %: most tries would be practiced wrongly.",
        UNSOURCED,
    ),
    Rule(
        "baseline-old",
        "advice",
        "The baseline is older than the step that it is to carry.",
        UNSOURCED,
    ),
)
