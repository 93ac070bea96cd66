"""Age: when studies report the sound, how long a sentence may be, how common the words are."""

from __future__ import annotations

from collections.abc import Iterator

from builder.checks.findings import finding, quoted, verb
from builder.model.program import Client, Program, Step
from builder.phonetics.acquisition import Acquisition, acquired, years_months
from builder.phonetics.minimal_pairs.words import RARE_ZIPF
from builder.problems import Finding
from builder.program_file.pronounce import words_of
from builder.survey.survey import Survey

WORDS_BEYOND_AGE = 2  # a sentence has at most as many words as the client has years, and these


def check_acquisition(client: Client, _survey: Survey) -> Iterator[Finding]:
    """What studies report of the target, where the client is younger.

    An age is in whole years: only what is true until the last day of that year is said.
    """
    for program in client.programs:
        figures, age = acquired(program.sound), program.written.age
        if figures and age is not None and (age + 1) * 12 <= figures.mean:
            yield _reported(program, figures, age)


def _reported(program: Program, figures: Acquisition, age: int) -> Finding:
    below = (age + 1) * 12 <= figures.low
    span = f"from {years_months(figures.low)} to {years_months(figures.high)}"
    return finding(
        program,
        ("age",),
        "age-range" if below else "age-mean",
        f"{figures.population}: {figures.studies} studies report /{program.sound.ipa}/ at "
        f"{years_months(figures.mean)} on average ({span}); this client is {age}"
        f"{', younger than in any of them' if below else ''}.",
        (
            "Give the reason for working on this sound now under `because:`. "
            if below
            else "For your information: if the client can already say it, "
            "nothing speaks against practicing it. "
        )
        + "A form that belongs to a dialect or a first language is not an error.",
    )


def check_length(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Phrases and sentences that are long for the client's age, one finding a step."""
    for program in client.programs:
        age = program.written.age
        for step in program.steps:
            if age is not None and step.level in ("phrase", "sentence"):
                yield from _long(program, step, age, age + WORDS_BEYOND_AGE)


def _long(program: Program, step: Step, age: int, most: int) -> Iterator[Finding]:
    found = [i for i in step.items if len(words_of(i.text)) > most]
    texts = [i.text for i in found]
    if found:
        yield finding(
            program,
            found[0].path,
            "long-sentence",
            f"{quoted(texts, 3)} in `{step.name}` {verb(texts, 'has', 'have')} more than {most} "
            f"words, for a client aged {age}.",
            f"Use fewer words: as many as the age in years, plus {WORDS_BEYOND_AGE}, can be said "
            "without losing the sound.",
        )


def check_rare_words(client: Client, survey: Survey) -> Iterator[Finding]:
    """Rare words, all of a program together; what is not in the index is not judged."""
    for program in client.programs:
        steps = [s for s in program.steps if s.level in ("word", "phrase", "sentence")]
        found = [
            (word.text.lower(), item)
            for step in steps
            for item in step.items
            for word in item.words
            if survey.zipf.get(word.text.lower(), RARE_ZIPF) < RARE_ZIPF
        ]
        if found:
            words = list(dict.fromkeys(word for word, _ in found))
            yield finding(
                program,
                found[0][1].path,
                "rare-word",
                f"{quoted(words)} {verb(words, 'is', 'are')} rarely heard or read.",
                "Keep a word that this client knows well; otherwise choose a more common one.",
            )
