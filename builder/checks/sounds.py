"""Sounds: every item has the target where its list says, by how it is pronounced and never by
its letters."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from builder.checks.findings import finding, listed, quoted
from builder.checks.items import new_items
from builder.checks.reading import is_contested
from builder.model.program import Client, Item, Program, Step
from builder.phonetics.inventory import ipa_of, is_vowel
from builder.phonetics.position import FLAP, GLOTTAL, Occurrence, cluster_ipa, occurrences, variant
from builder.phonetics.syllables import may_begin
from builder.problems import Finding
from builder.program_file.pronounce import of_step
from builder.survey.survey import Survey

WRONG_LIST_MIN_WORDS = 5  # words of a list without the target: then the list is of another sound


def check_sounds(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Pronunciation, target, position and cluster of every item; a list shared by steps once."""
    for program in client.programs:
        for step, items in new_items(program):
            one = of_step(program, step)
            yield from _grouped(one, items, [f for i in items for f in _item(one, step, i)])
            yield from _onsets(one, step)
            yield from _touching(one, step)
            yield from _flapped(one, step, items)


def _grouped(program: Program, items: list[Item], found: list[Finding]) -> Iterator[Finding]:
    """One cause, one finding: a list left over from another sound is reported once."""
    lacking = [f for f in found if f.rule == "no-target"]
    if len(lacking) < WRONG_LIST_MIN_WORDS or 2 * len(lacking) < len(items):
        yield from found
        return
    places = {f.place for f in lacking}
    words = {item.text for item in items}
    without = dict.fromkeys(i.text for i in items if program.place(i.path) in places)
    yield finding(
        program,
        items[0].path[:-1],
        "no-target",
        f"{len(without)} of the {len(words)} entries have no /{program.sound.ipa}/: "
        f"{quoted(without)}.",
        "This list seems to be for another sound.",
    )
    yield from (f for f in found if f.rule != "no-target")


def _item(program: Program, step: Step, item: Item) -> Iterator[Finding]:
    unknown = [word.text for word in item.words if not word.phones]
    if unknown:
        where = "" if unknown == [item.text] else f" in '{item.text}'"
        yield finding(
            program,
            item.path,
            "pronunciation",
            f"The pronunciation of {quoted(unknown)}{where} is not known.",
            "Check the spelling, or give the pronunciation of the whole item in IPA, as in "
            "`{word: calf, say: kæf}`.",
        )
    elif step.level == "syllable":
        yield from _syllable(program, item)
    elif step.level == "word":
        yield from _word(program, step, item)
    elif step.level != "isolation":
        yield from _connected(program, step, item)


def _syllable(program: Program, item: Item) -> Iterator[Finding]:
    if item.focus is None or not any(map(is_vowel, item.phones)):
        missing = f"/{program.sound.ipa}/" if item.focus is None else "vowel"
        yield finding(
            program,
            item.path,
            "syllable",
            f"The syllable '{item.text}' has no {missing}.",
            "Write it as the target and a vowel, or list vowels under `vowels:`.",
        )


def _onsets(program: Program, step: Step) -> Iterator[Finding]:
    if step.level != "syllable":
        return
    odd = [item.text for item in step.items if not may_begin(_onset(item))]
    if odd:
        yield finding(
            program,
            (*step.path, "level"),
            "syllable",
            f"No English word begins like {quoted(odd)}.",
            "Practice this sound at another position.",
        )


def _onset(item: Item) -> tuple[str, ...]:
    return tuple(itertools.takewhile(lambda phone: not is_vowel(phone), item.phones))


def _occurrences(program: Program, item: Item) -> list[Occurrence]:
    return [o for word in item.words for o in occurrences(word.phones, program.sound)]


def _word(program: Program, step: Step, item: Item) -> Iterator[Finding]:
    found = _occurrences(program, item)
    wanted = _listed_under(step, item)
    there = [o for o in found if any(p in wanted for p in o.positions)]
    said = f"'{item.text}' is pronounced /{' '.join(ipa_of(w.phones) for w in item.words)}/"
    if not found:
        yield _no_target(program, item, f"{said}, without /{program.sound.ipa}/.")
    elif not there:
        places = listed(p for o in found for p in o.positions)
        yield finding(
            program,
            item.path,
            "position",
            f"{said}: its /{program.sound.ipa}/ is {places}, not {' or '.join(wanted)}.",
            f"List it under {listed(f'`{p}`' for o in found for p in o.positions)}, or choose "
            "another word.",
        )
    else:
        yield from _cluster(program, step, item, there)
        yield from _other_reading(program, item)


def _listed_under(step: Step, item: Item) -> tuple[str, ...]:
    """The position of the list in which a word stands; a step's own list serves all of its."""
    return (str(item.path[1]),) if item.path[0] == "words" else step.positions


def _no_target(program: Program, item: Item, sentence: str) -> Finding:
    return finding(
        program,
        item.path,
        "no-target",
        sentence,
        "Choose another word; or, if you say it differently, give its pronunciation with `say:`.",
    )


def _cluster(
    program: Program, step: Step, item: Item, there: list[Occurrence]
) -> Iterator[Finding]:
    if any(o.cluster == step.cluster for o in there):
        return
    if step.cluster:
        yield finding(
            program,
            item.path,
            "not-cluster",
            f"'{item.text}' does not have the cluster {cluster_ipa(step.cluster)}.",
            "Delete it, or move it to the list it belongs to.",
        )
        return
    group = cluster_ipa(there[0].cluster)
    yield finding(
        program,
        item.path,
        "cluster",
        f"'{item.text}' has /{program.sound.ipa}/ in the cluster {group}, not on its own.",
        f"Move it to a step with `cluster: {group}`, or choose another word.",
    )


def _other_reading(program: Program, item: Item) -> Iterator[Finding]:
    other = [word for word in item.words if word.other]
    if other and not is_contested(program, item):
        yield finding(
            program,
            item.path,
            "other-reading",
            f"'{item.text}' has more than one pronunciation; only "
            f"/{ipa_of(other[0].phones)}/ fits here, and the models will say it that way.",
            "If that is how you say it, confirm it with `say:`; otherwise choose another word.",
        )


def _connected(program: Program, step: Step, item: Item) -> Iterator[Finding]:
    found = _occurrences(program, item)
    if not found:
        yield _no_target(program, item, f"'{item.text}' has no /{program.sound.ipa}/.")
    elif not any(
        o.cluster == step.cluster and set(o.positions) & set(step.positions) for o in found
    ):
        yield finding(
            program,
            item.path,
            "position",
            f"No word of '{item.text}' has /{program.sound.ipa}/ in "
            f"{' or '.join(step.positions)} position.",
            "Use one of the words practiced before.",
        )
    else:
        yield from _practised(program, step, item)


def _practised(program: Program, step: Step, item: Item) -> Iterator[Finding]:
    words = {word.lower() for word in _word_list(program)}
    if words and not any(words & _stems(word.text.lower()) for word in item.words):
        yield finding(
            program,
            item.path,
            "practiced-word",
            f"'{item.text}' contains none of the words practiced before this step.",
            "Build it around a word from the word list.",
        )


def _stems(word: str) -> set[str]:
    """A word and what it may be the plural, possessive or other form of: cows gives cow."""
    plain = word.replace("’", "'").removesuffix("'s").removesuffix("'")
    cut = {plain.removesuffix(end) for end in ("s", "es", "ed", "d", "ing")}
    return {word, plain, *cut, *(stem + "y" for stem in (plain.removesuffix("ies"),))}


def _word_list(program: Program) -> Iterator[str]:
    for items in program.written.words.values():
        yield from (item.word for item in items)
    for step in program.steps:
        if step.level == "word":
            yield from (item.text for item in step.items)


def _touching(program: Program, step: Step) -> Iterator[Finding]:
    if step.level != "word" or step.cluster:
        return
    touching = [
        item.text
        for item in step.items
        for o in _occurrences(program, item)
        if o.abuts and not o.cluster and item.position in o.positions
    ]
    if touching:
        yield finding(
            program,
            (*step.path, "level"),
            "beside",
            f"In {quoted(touching)} the /{program.sound.ipa}/ touches another consonant.",
            "Words with it between vowels are easier; keep these for later if they are missed.",
        )


def _flapped(program: Program, step: Step, items: list[Item]) -> Iterator[Finding]:
    """Words in which the t or d to be practiced is none as one would model it alone."""
    if step.level != "word":
        return
    named = [(item, _variant(program, item)) for item in items]
    told = [
        f"in {quoted(words)} the /{program.sound.ipa}/ is {what}"
        for name, what in ((FLAP, "a flap, one quick tap of the tongue"), (GLOTTAL, "a glottal t"))
        if (words := [item.text for item, said in named if said == name])
    ]
    if told:
        sentence = "; ".join(told)
        yield finding(
            program,
            next(item.path for item, said in named if said in (FLAP, GLOTTAL)),
            "flap",
            f"{sentence[0].upper()}{sentence[1:]}.",
            "Choose words in which it is plain, as in hotel or window; or say under `because:` "
            "that you mean these.",
        )


def _variant(program: Program, item: Item) -> str:
    """As which variant the target that the item is there for is said; "" for none."""
    if item.focus is None:
        return ""
    at, start, _ = item.focus
    phones = item.words[at].phones
    there = (o for o in occurrences(phones, program.sound) if o.start == start)
    return next((variant(phones, o, program.sound) for o in there), "")
