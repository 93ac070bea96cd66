"""Contrast: two words that differ in the target alone, to be seen, read or heard."""

from __future__ import annotations

from collections.abc import Iterator

from builder.checks.findings import finding, quoted, verb
from builder.checks.pictures import shown_as_print
from builder.model.program import Client, Item, Pair, Program, Step
from builder.phonetics.inventory import Sound, bare, ipa_of
from builder.phonetics.position import Occurrence, heard_alike, occurrences
from builder.problems import Finding
from builder.program_file.pronounce import of_step
from builder.survey.survey import Survey


def check_contrast(client: Client, survey: Survey) -> Iterator[Finding]:
    """Every pair of every contrast round."""
    for program in client.programs:
        for step in program.steps:
            if step.pairs and step.level != "word":
                yield finding(
                    program,
                    (*step.path, "contrast"),
                    "contrast-level",
                    f"`{step.name}` has contrast pairs at the {step.level} level.",
                    "Contrast pairs are single words: give them a step with `level: word`.",
                )
                continue
            for pair in step.pairs:
                yield from _pair(of_step(program, step), step, pair)
            yield from _without_picture(program, step, survey)


def _pair(program: Program, step: Step, pair: Pair) -> Iterator[Finding]:
    unknown = [item for item in (pair.target, pair.other) if not item.phones]
    if unknown:
        # The word with the target is an item of the step too, and reported there.
        yield from (_unknown(program, item) for item in unknown if item not in step.items)
    elif not _practised(program, step, pair.target):
        if pair.target not in step.items:
            yield _no_target(program, step, pair)
    elif pair.apart is None:
        yield _not_one_sound(program, pair)
    elif not _differs_in_target(program, step, pair):
        yield finding(
            program,
            pair.path,
            "contrast-target",
            f"'{pair.target.text}' and '{pair.other.text}' do not differ in the "
            f"/{program.sound.ipa}/ that this step practices ({_places(step)}).",
            "Choose a pair in which one word lacks the sound there.",
        )
    else:
        yield from _not_the_error(program, step, pair)


def _practised(program: Program, step: Step, item: Item) -> list[Occurrence]:
    """The occurrences of the target that the step practices."""
    found = [o for o in occurrences(item.phones, program.sound) if o.cluster == step.cluster]
    return [o for o in found if set(o.positions) & set(step.positions)]


def _places(step: Step) -> str:
    return " or ".join(step.positions)


def _unknown(program: Program, item: Item) -> Finding:
    return finding(
        program,
        item.path,
        "pronunciation",
        f"The pronunciation of '{item.text}' is not known.",
        "Check the spelling, or give the pronunciation in IPA, as in `{word: calf, say: kæf}`.",
    )


def _no_target(program: Program, step: Step, pair: Pair) -> Finding:
    return finding(
        program,
        pair.path,
        "contrast-target",
        f"Neither '{pair.target.text}' nor '{pair.other.text}' has /{program.sound.ipa}/ "
        f"{'in this cluster' if step.cluster else 'on its own'} in {_places(step)} position.",
        "Choose a pair in which one word does.",
    )


def _not_one_sound(program: Program, pair: Pair) -> Finding:
    one, other = pair.target, pair.other
    said = f"'{one.text}' /{ipa_of(one.phones)}/ and '{other.text}' /{ipa_of(other.phones)}/"
    same = [*map(bare, heard_alike(one.phones))] == [*map(bare, heard_alike(other.phones))]
    return finding(
        program,
        pair.path,
        "contrast-pair",
        f"{said} {'sound the same' if same else 'differ in more than one sound'}.",
        "`practice-site pairs` finds words that differ in one sound only.",
    )


def _differs_in_target(program: Program, step: Step, pair: Pair) -> bool:
    """Whether the sound in which the words differ is the target, or one of its cluster."""
    (first, last), _ = pair.apart or ((0, 0), (0, 0))
    places = [_span(pair.target.phones, o) for o in _practised(program, step, pair.target)]
    return first < last and any(start <= first < stop for start, stop in places)


def _span(phones: tuple[str, ...], found: Occurrence) -> tuple[int, int]:
    """The phones of an occurrence and of its cluster."""
    size = len(found.cluster)
    starts = range(max(0, found.start - size + 1), found.start + 1) if size else ()
    start = next((s for s in starts if phones[s : s + size] == found.cluster), found.start)
    return start, max(found.stop, start + size)


def _not_the_error(program: Program, step: Step, pair: Pair) -> Iterator[Finding]:
    """A pair that contrasts the target with another sound than the client says."""
    error = program.error
    if step.cluster or not (isinstance(error, Sound) or error == "omitted"):
        return
    said = _counterpart(pair)
    wanted = error.phones if isinstance(error, Sound) else ((),)
    if said in wanted:
        return
    name = f"says /{error.ipa}/" if isinstance(error, Sound) else "leaves the sound out"
    yield finding(
        program,
        pair.path,
        "contrast-error",
        f"'{pair.target.text}' and '{pair.other.text}' contrast /{program.sound.ipa}/ with "
        f"{f'/{ipa_of(said)}/' if said else 'no sound'}, but this client {name}.",
        "A pair with what the client actually says shows best what gets lost.",
    )


def _counterpart(pair: Pair) -> tuple[str, ...]:
    """What stands in the other word where the target stands, or nothing."""
    _, (start, stop) = pair.apart or ((0, 0), (0, 0))
    return tuple(map(bare, pair.other.phones[start:stop]))


def _without_picture(program: Program, step: Step, survey: Survey) -> Iterator[Finding]:
    """Without a picture there is nothing to choose for a client who does not read; such pairs are
    heard and said."""
    items = dict.fromkeys(item for pair in step.pairs for item in (pair.target, pair.other))
    if unseen := shown_as_print(program, items, survey):
        yield finding(
            program,
            (*step.path, "contrast"),
            "contrast-picture",
            f"{quoted(unseen)} in `{step.name}` {verb(unseen, 'has', 'have')} no picture to "
            "choose, and this client does not read: pairs with "
            f"{verb(unseen, 'it', 'them')} are heard and said instead.",
            "For a choice put a picture named after the word into the folder `pictures` beside the "
            "program, or into the client's own.",
        )
