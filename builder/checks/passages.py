"""Past sentences: the texts and talks of reading, telling and talk."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from builder.checks.findings import finding, listed, quoted, verb
from builder.checks.reading import how_to_ease
from builder.model.past_sentences import places_of
from builder.model.program import PAST_SENTENCES, Client, Program, Step
from builder.phonetics.inventory import Sound, ipa_of
from builder.phonetics.minimal_pairs.words import RARE_ZIPF
from builder.phonetics.position import Occurrence, cluster_ipa
from builder.problems import Finding
from builder.survey.survey import Survey
from builder.text.passage import targets_in, uncertain_words, words_of_passage
from builder.text.readability import counts, grade
from builder.text.reading_rate import targets_a_minute

MIN_TARGETS_A_MINUTE = 10  # of reading aloud
AGE_OF_GRADE_0 = 5  # years: a text is for a reader's own school year or one below it
MAX_GRADE = 12.0  # school grade of a text for an adult
OF_ITEMS = ("items", "vowels", "contrast", "rounds", "hold")
OF_LEVEL = {
    "passage": ("reading", "telling"),
    "where": ("talk",),
    "company": ("talk",),
    "minutes": PAST_SENTENCES,
}
AS_TYPED = {"company": "with"}


def check_passages(client: Client, survey: Survey) -> Iterator[Finding]:
    """Every step past sentences has what its level needs, and a text that serves."""
    for program in client.programs:
        for step in program.steps:
            yield from _keys(program, step)
            if step.level in PAST_SENTENCES:
                yield from _needs(program, step)
                yield from _sentences_first(program, step)
            if step.passage:
                yield from _text(program, step, survey)


def _keys(program: Program, step: Step) -> Iterator[Finding]:
    """What is written in a step of a level that has no use for it."""
    written = program.written.steps[int(step.path[1])]
    past = step.level in PAST_SENTENCES
    strange = [key for key, levels in OF_LEVEL.items() if step.level not in levels]
    strange += OF_ITEMS if past else ()
    for key in (key for key in strange if key in written.model_fields_set):
        name = AS_TYPED.get(key, key)
        levels = OF_LEVEL.get(key, ())
        remedy = (
            f"It belongs to a step of {' or '.join(levels)}; delete it here, or change `level:`."
            if levels
            else "Past sentences a step has a text or a talk, and nothing to be said item by "
            "item: delete it."
        )
        yield finding(
            program,
            (*step.path, name),
            "level-key",
            f"`{step.name}` ({step.level}) has no use for `{name}`.",
            remedy,
        )


def _needs(program: Program, step: Step) -> Iterator[Finding]:
    if step.level == "talk":
        lacking = [k for k, v in (("where", step.where), ("with", step.company)) if not v]
        if lacking:
            yield finding(
                program,
                (*step.path, "level"),
                "situation",
                f"`{step.name}` does not say {_asked(lacking)}.",
                "Name one situation, as in `where: at dinner`, `with: Grandpa`, `minutes: 5`.",
            )
        return
    if not step.passage:
        yield finding(
            program,
            (*step.path, "level"),
            "passage",
            f"`{step.name}` has no text.",
            "Write it under `passage:`, as in `passage: I see a seal in the sun.`; after "
            "`passage: |` it may go on over several lines."
            + (" For telling it may be a topic." if step.level == "telling" else ""),
        )
    if step.level == "reading" and not program.written.reads:
        yield finding(
            program,
            (*step.path, "level"),
            "reads-aloud",
            f"`{step.name}` is a text to read aloud, but this client does not read.",
            "Make it `level: telling`: the helper reads it, and the client tells it again.",
        )


def _asked(lacking: list[str]) -> str:
    return listed({"where": "where it is", "with": "who is there"}[key] for key in lacking)


def _sentences_first(program: Program, step: Step) -> Iterator[Finding]:
    """Only for what is practiced now: the way there is not walked yet."""
    at = program.steps.index(step)
    if at not in program.current or "sentence" in program.written.mastered:
        return
    before = [i for i, one in enumerate(program.steps[:at]) if one.level == "sentence"]
    if before and not set(before) & set(program.current):
        return
    why = "are practiced now as well" if before else "are neither a step nor listed as mastered"
    yield finding(
        program,
        (*step.path, "level"),
        "sentences-first",
        f"`{step.name}` ({step.level}) is practiced now, but sentences {why}.",
        "Wait until sentences are right nearly always; if they are, write when, as in "
        "`mastered: {sentence: 2026-11-02}`.",
    )


def _text(program: Program, step: Step, survey: Survey) -> Iterator[Finding]:
    if step.level == "reading":
        yield from _targets(program, step)
        if program.written.reads:
            yield from _grade(program, step)
        yield from _untaught(program, step)
    words = words_of_passage(step.passage)
    rare = [w.text for w in words if survey.zipf.get(w.text.lower(), RARE_ZIPF) < RARE_ZIPF]
    yield from _rare(program, step, _once(rare))
    yield from _homographs(program, step)
    guessed = {w.text.lower(): w.phones for w in words if w.guessed}
    if guessed:
        yield _at(
            program,
            step,
            "guess",
            f"{quoted(guessed)} in `{step.name}` {verb([*guessed], 'is', 'are')} in no "
            f"dictionary; by rule {verb([*guessed], 'it is', 'they are')} pronounced "
            f"{listed(f'/{ipa_of(phones)}/' for phones in guessed.values())}.",
            f"Correct the spelling; else look on the proof whether its "
            f"/{_sound(program, step).ipa}/ is set off rightly.",
        )


def _sound(program: Program, step: Step) -> Sound:
    return step.sound or program.sound


def _at(program: Program, step: Step, rule: str, sentence: str, remedy: str) -> Finding:
    return finding(program, (*step.path, "passage"), rule, sentence, remedy)


def _once(words: Iterable[str]) -> list[str]:
    return list({word.lower(): word for word in reversed([*words])}.values())[::-1]


def _targets(program: Program, step: Step) -> Iterator[Finding]:
    ipa = _sound(program, step).ipa
    words = len(words_of_passage(step.passage))
    rate = targets_a_minute(step.targets, words, program.written.age)
    if not step.targets:
        yield _at(
            program,
            step,
            "no-target",
            f"The text of `{step.name}` has no /{ipa}/ {_places(step)}.",
            "Choose a text that has it.",
        )
    elif rate < MIN_TARGETS_A_MINUTE:
        yield _at(
            program,
            step,
            "few-targets",
            f"The text of `{step.name}` has {step.targets} /{ipa}/ in {words} words, about "
            f"{rate:.0f} a minute of reading.",
            f"A text with {MIN_TARGETS_A_MINUTE} or more a minute gives enough practice.",
        )


def _places(step: Step) -> str:
    where = f"{' or '.join(step.positions)} position"
    return f"in the cluster {cluster_ipa(step.cluster)}" if step.cluster else f"in {where}"


def _grade(program: Program, step: Step) -> Iterator[Finding]:
    age = program.written.age
    most = MAX_GRADE if age is None else min(MAX_GRADE, max(1.0, float(age - AGE_OF_GRADE_0)))
    level = grade(counts(step.passage))
    if level > most:
        yield _at(
            program,
            step,
            "reading-level",
            f"The text of `{step.name}` is at reading grade {level:.1f} (Flesch-Kincaid)"
            f"{'' if age is None else f', for a client aged {age}'}.",
            f"A text at grade {most:.0f} or below leaves the mind free for the sound: use "
            f"{how_to_ease(step.passage)}.",
        )


def _untaught(program: Program, step: Step) -> Iterator[Finding]:
    """One finding a text, the words of each place together; not where a step names its cluster."""
    places = places_of(program.steps, step)
    found: dict[str, list[str]] = {}
    for one in targets_in(step.passage, _sound(program, step)) if not step.cluster else ():
        if not places.hold(one.at):
            found.setdefault(_place(one.at), []).append(one.word.text)
    if found:
        number = sum(map(len, found.values()))
        told = listed(f"{place} ({quoted(_once(words), 3)})" for place, words in found.items())
        yield _at(
            program,
            step,
            "untaught",
            f"The text of `{step.name}` has /{_sound(program, step).ipa}/ {number} "
            f"{'time' if number == 1 else 'times'} where it is not practiced yet: {told}.",
            f"{'It is' if number == 1 else 'They are'} neither set off nor counted. Once the "
            "client can say them, add the place under `position:` of this step, or a step for "
            "the cluster before it.",
        )


def _place(found: Occurrence) -> str:
    where = f"the {found.positions[0]}"
    if found.cluster:
        return f"in {where} cluster {cluster_ipa(found.cluster)}"
    return f"in {found.positions[0]} position"


def _rare(program: Program, step: Step, words: list[str]) -> Iterator[Finding]:
    if words:
        yield _at(
            program,
            step,
            "rare-word",
            f"{quoted(words)} in `{step.name}` {verb(words, 'is', 'are')} rarely heard or read.",
            "Keep a word that this client knows well; otherwise choose a more common one.",
        )


def _homographs(program: Program, step: Step) -> Iterator[Finding]:
    words = list(uncertain_words(step.passage, _sound(program, step)))
    if words:
        yield _at(
            program,
            step,
            "homograph",
            f"{quoted(words)} in `{step.name}` {verb(words, 'is', 'are')} said with or without "
            f"/{_sound(program, step).ipa}/ there, by the meaning.",
            "Look on the proof whether it is set off rightly; if not, choose another word.",
        )
