"""Sounds: every item holds the target where its list says, by how it is pronounced and never by
its letters."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from builder.checks.findings import finding, listed
from builder.model.program import Client, Item, Program, Step
from builder.phonetics.inventory import ipa_of, is_vowel
from builder.phonetics.position import Occurrence, cluster_ipa, occurrences
from builder.phonetics.syllables import may_begin
from builder.problems import Finding
from builder.survey.survey import Survey

WRONG_LIST_MIN_WORDS = 5  # words of a list without the target: then the list is of another sound


def check_sounds(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Pronunciation, target, position and cluster of every item; a list shared by steps once."""
    for program in client.programs:
        seen: set[tuple[str | int, ...]] = set()
        for step in program.steps:
            fresh = [item for item in step.items if item.path not in seen]
            seen.update(item.path for item in fresh)
            yield from _grouped(program, fresh, [f for i in fresh for f in _item(program, step, i)])
            yield from _onsets(program, step)
            yield from _touching(program, step)


def _grouped(program: Program, items: list[Item], found: list[Finding]) -> Iterator[Finding]:
    """One cause, one finding: a list left over from another sound is reported once."""
    lacking = [f for f in found if f.rule == "no-target"]
    if len(lacking) < WRONG_LIST_MIN_WORDS or 2 * len(lacking) < len(items):
        yield from found
        return
    places = {f.place for f in lacking}
    words = [item.text for item in items if program.place(item.path) in places]
    yield finding(
        program,
        items[0].path[:-1],
        "no-target",
        f"{len(lacking)} of the {len(items)} entries hold no /{program.sound.ipa}/: "
        f"{listed(words)}.",
        "This list seems to be for another sound.",
    )
    yield from (f for f in found if f.rule != "no-target")


def _item(program: Program, step: Step, item: Item) -> Iterator[Finding]:
    unknown = [word.text for word in item.words if not word.phones]
    if unknown:
        yield finding(
            program,
            item.path,
            "pronunciation",
            f"'{item.text}': how {listed(unknown)} is pronounced is not known.",
            "Mend the spelling, or give the whole item's pronunciation in IPA, as in "
            "{word: calf, say: kæf}.",
        )
    elif step.level == "syllable":
        yield from _syllable(program, item)
    elif step.level == "word":
        yield from _word(program, step, item)
    elif step.level != "isolation":
        yield from _connected(program, step, item)


def _syllable(program: Program, item: Item) -> Iterator[Finding]:
    if item.focus is None or not any(map(is_vowel, item.phones)):
        lacks = f"/{program.sound.ipa}/" if item.focus is None else "a vowel"
        yield finding(
            program,
            item.path,
            "syllable",
            f"The syllable '{item.text}' lacks {lacks}.",
            "Write it as target and vowel, or list vowels under 'vowels:'.",
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
            f"No word of English begins like {listed(odd)}.",
            "Practise this sound at another position.",
        )


def _onset(item: Item) -> tuple[str, ...]:
    return tuple(itertools.takewhile(lambda phone: not is_vowel(phone), item.phones))


def _occurrences(program: Program, item: Item) -> list[Occurrence]:
    return [o for word in item.words for o in occurrences(word.phones, program.sound)]


def _word(program: Program, step: Step, item: Item) -> Iterator[Finding]:
    found = _occurrences(program, item)
    wanted = _listed_under(step, item)
    there = [o for o in found if any(p in wanted for p in o.positions)]
    said = f"'{item.text}' is said /{' '.join(ipa_of(w.phones) for w in item.words)}/"
    if not found:
        yield _no_target(program, item, said)
    elif not there:
        places = listed(p for o in found for p in o.positions)
        yield finding(
            program,
            item.path,
            "position",
            f"{said}: its /{program.sound.ipa}/ is {places}, not {' or '.join(wanted)}.",
            f"List it under {places}, or take another word.",
        )
    else:
        yield from _cluster(program, step, item, there)
        yield from _other_reading(program, item)


def _listed_under(step: Step, item: Item) -> tuple[str, ...]:
    """The position of the list in which a word stands; a step's own list serves all of its."""
    return (str(item.path[1]),) if item.path[0] == "words" else step.positions


def _no_target(program: Program, item: Item, said: str) -> Finding:
    return finding(
        program,
        item.path,
        "no-target",
        f"{said}: there is no /{program.sound.ipa}/ in it.",
        "Take another word, or, where you say it otherwise, give its pronunciation with 'say:'.",
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
            f"'{item.text}' does not hold the cluster {cluster_ipa(step.cluster)}.",
            "Take it out, or move it to the list that it belongs to.",
        )
        return
    group = cluster_ipa(there[0].cluster)
    yield finding(
        program,
        item.path,
        "cluster",
        f"'{item.text}' holds /{program.sound.ipa}/ in the cluster {group}, not alone.",
        f"Move it to a step with 'cluster: {group}', or take another word.",
    )


def _other_reading(program: Program, item: Item) -> Iterator[Finding]:
    other = [word for word in item.words if word.other]
    if other:
        yield finding(
            program,
            item.path,
            "other-reading",
            f"'{item.text}' has more than one pronunciation; only "
            f"/{ipa_of(other[0].phones)}/ fits here, and the models will say it so.",
            "If that is how you say it, settle it with 'say:'; else take another word.",
        )


def _connected(program: Program, step: Step, item: Item) -> Iterator[Finding]:
    found = _occurrences(program, item)
    if not found:
        yield _no_target(program, item, f"'{item.text}'")
    elif not any(
        o.cluster == step.cluster and set(o.positions) & set(step.positions) for o in found
    ):
        yield finding(
            program,
            item.path,
            "position",
            f"'{item.text}' holds no word with /{program.sound.ipa}/ "
            f"{' or '.join(step.positions)}.",
            "Use one of the words practised before.",
        )
    else:
        yield from _practised(program, step, item)


def _practised(program: Program, step: Step, item: Item) -> Iterator[Finding]:
    words = {word.lower() for word in _word_list(program)}
    if words and not any(words & _stems(word.text.lower()) for word in item.words):
        yield finding(
            program,
            item.path,
            "practised-word",
            f"'{item.text}' holds none of the words practised before this step.",
            "Build it around a word of the word list.",
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
            f"In {listed(touching)} the /{program.sound.ipa}/ touches another consonant.",
            "Words with it between vowels are easier; keep these for later if they are missed.",
        )
