"""Reading: words whose pronunciation is not certain, and how hard the text for a family is."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from builder.checks.findings import finding, listed, quoted, verb
from builder.checks.items import is_published
from builder.model.program import Client, Item, Program
from builder.model.spoken import Spoken
from builder.phonetics.inventory import ipa_of
from builder.phonetics.lexicon.readings import contested, entry
from builder.problems import Finding
from builder.survey.survey import Survey
from builder.text.readability import counts, grade, syllables_of, words_in

MAX_GRADE = 6.0  # school grade
LONG_WORD_SYLLABLES = 3  # syllables of a word that makes a text hard
MAX_WORDS_WITH_READINGS = 3  # words named with all their readings


def check_readings(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Homographs, words on which the sources disagree, guesses; each once a program."""
    for program in client.programs:
        yield from _homographs(program)
        yield from _contested(program)
        yield from _disputed(program)
        yield from _guessed(program)


Found = list[tuple[Spoken, Item]]


def _words_that(program: Program, wanted: Callable[[Spoken], bool]) -> Found:
    """The words of which something is true, each once, with the first item that holds it."""
    found: dict[str, tuple[Spoken, Item]] = {}
    for step in program.steps:
        has_own_rule = step.level == "word"  # other-reading
        for item in step.items:
            for word in item.words:
                if wanted(word) and not (has_own_rule and word.other):
                    found.setdefault(word.text.lower(), (word, item))
    return list(found.values())


def _homographs(program: Program) -> Iterator[Finding]:
    found = _words_that(program, _read_in_two_ways)
    if found:
        texts = [word.text for word, _ in found]
        yield finding(
            program,
            found[0][1].path,
            "homograph",
            f"{quoted(texts)} {verb(texts, 'has', 'each have')} two pronunciations with different "
            f"meanings: {_all_readings(found)}.",
            f"Give the pronunciation that you mean, as in `{_example(found[0][1])}`.",
        )


def _read_in_two_ways(word: Spoken) -> bool:
    """Whether two sources hold each of two readings: the verb `house` is in one only."""
    readings = entry(word.text).readings if word.heteronym else ()
    return sum(len(reading.sources) > 1 for reading in readings) > 1


def _all_readings(found: Found) -> str:
    """The readings of each word, first the one that is spoken: /ɹid/ or /ɹɛd/ ('read')."""
    return "; ".join(
        " or ".join(f"/{ipa}/" for ipa in _readings(word))
        + (f" ('{word.text}')" if len(found) > 1 else "")
        for word, _ in found[:MAX_WORDS_WITH_READINGS]
    )


def _readings(word: Spoken) -> list[str]:
    """In IPA, what is spoken first."""
    phones = (reading.phones for reading in entry(word.text).readings)
    return list(dict.fromkeys(map(ipa_of, (word.phones, *phones))))


def _example(item: Item) -> str:
    """How to write the item with the pronunciation that is spoken now."""
    said = " ".join(ipa_of(w.phones) for w in item.words)
    return f"{{word: {item.text}, say: {said}}}"


def is_contested(program: Program, item: Item) -> bool:
    """Whether a dictionary has the word that an item is there for without its target."""
    if item.focus is None:
        return False
    word = item.words[item.focus[0]]
    known = entry(word.text)
    return not word.agreed and contested(known, program.sound, word.phones, item.position)


def _contested(program: Program) -> Iterator[Finding]:
    """The practiced words on whose target dictionaries disagree: a model of the wrong one would
    teach it. Those that the site shows, and those of later steps."""
    groups: dict[bool, dict[str, tuple[Spoken, Item]]] = {True: {}, False: {}}
    for item in (item for step in program.steps for item in step.items):
        if item.focus and is_contested(program, item):
            word = item.words[item.focus[0]]
            if word.text.lower() not in groups[True]:
                shown = is_published(program, item.path)
                groups[shown].setdefault(word.text.lower(), (word, item))
    for found in (list(group.values()) for group in groups.values() if group):
        yield finding(
            program,
            found[0][1].path,
            "disputed",
            f"Dictionaries disagree about the /{program.sound.ipa}/ of "
            f"{quoted(word.text for word, _ in found)}: {_all_readings(found)}.",
            f"Give the pronunciation that you mean, as in `{_example(found[0][1])}`, or choose "
            "another word.",
        )


def _disputed(program: Program) -> Iterator[Finding]:
    """The other words on whose target the sources disagree: to be listened to."""
    items = (item for step in program.steps for item in step.items if item.focus)
    told = {i.words[i.focus[0]].text.lower() for i in items if i.focus and is_contested(program, i)}
    found = _words_that(program, lambda word: not word.agreed and word.text.lower() not in told)
    if found:
        texts = [word.text for word, _ in found]
        fault = finding(
            program,
            found[0][1].path,
            "disputed",
            f"The sources disagree about the /{program.sound.ipa}/ of {quoted(texts)}: "
            f"{_all_readings(found)}.",
            "Listen first; if you say it differently, give its pronunciation with `say:`.",
        )
        yield replace(fault, degree="advice")


def _guessed(program: Program) -> Iterator[Finding]:
    found = _words_that(program, lambda word: word.guessed)
    if found:
        texts = [word.text for word, _ in found]
        said = listed(f"/{ipa_of(word.phones)}/" for word, _ in found)
        yield finding(
            program,
            found[0][1].path,
            "guess",
            f"{quoted(texts)} {verb(texts, 'is', 'are')} in no dictionary; by rule "
            f"{verb(texts, 'it is', 'they are')} pronounced {said}.",
            "Listen first; correct the spelling, or give the pronunciation with `say:`.",
        )


def check_texts(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Cues and reminder, taken as one text, are easy to read."""
    for program in client.programs:
        cues = program.written.cues
        texts = (cues.tongue, cues.lips, cues.air, cues.voice, program.written.reminder)
        text = "\n".join(texts)
        level = grade(counts(text))
        if level > MAX_GRADE:
            yield finding(
                program,
                ("cues",),
                "reading-level",
                f"The cues and the reminder are at reading grade {level:.1f} (Flesch-Kincaid).",
                f"Grade {MAX_GRADE:.0f} or below suits most families: use {how_to_ease(text)}.",
            )


def how_to_ease(text: str) -> str:
    """What to change in a text that is too hard, as the rest of a sentence."""
    long = [word for word in words_in(text) if syllables_of(word) >= LONG_WORD_SYLLABLES]
    hard = sorted(dict.fromkeys(w.lower() for w in long), key=syllables_of, reverse=True)
    return (
        f"shorter sentences and other words for {quoted(hard, 4)}" if hard else "shorter sentences"
    )
