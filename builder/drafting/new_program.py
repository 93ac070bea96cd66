"""A whole draft program: the ladder from its first level, with words of the word bank."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

from builder.drafting import contrast_step, ladder, write_yaml
from builder.drafting.choose_lines import in_turn
from builder.drafting.frames import Longer
from builder.drafting.ladder import Draft, Learner, Share
from builder.drafting.line_difficulty import limits
from builder.drafting.past_sentences.bank import Past
from builder.drafting.past_sentences.steps import draft_past
from builder.drafting.word_kinds import kinds_of, words
from builder.make import drawings
from builder.model.clinic import Clinic, Pace
from builder.model.dose import is_small, is_young
from builder.model.program import LEVELS, Program
from builder.phonetics.inventory import Sound
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.phonetics.minimal_pairs.words import RARE_ZIPF, IndexedWord
from builder.phonetics.position import Position, in_order, occurrences
from builder.program_file.pronounce import Target
from builder.program_file.resolve import program_in
from builder.program_file.suggestions import BLANK
from builder.program_file.yaml_tree import parse
from builder.text.passage import Places
from builder.text.slugs import slug_of
from builder.wordbank.filters import Query, Words
from builder.wordbank.needs import held, needs_for
from builder.wordbank.probes import is_probe
from builder.wordbank.suggest import Offer, offer

LIST_WORDS = {1: (8, 10, 7, 6, 5, 4), 2: (5, 4, 6), 3: (5, 4)}  # words of one list of so many
SHORT_LIST, LONG_LIST = 6, 10  # words of a single list under four and from six years on
MIN_CHOICE = 4  # of a list with a picture each, before words without one come in
Groups = tuple[tuple[str, ...], ...]
WordPairs = tuple[tuple[IndexedWord, IndexedWord], ...]


@dataclass(frozen=True)
class Order:
    """What a draft is asked to be.

    groups:  the clusters, or () alone for the single sound.
    others:  the client's other programs, whose words are trained and whose lacking sounds count.
    past:    levels past sentences.
    taken:   names that other programs of the client give to steps of the same address.
    own:     words of which the clinic has a picture of its own, in lower case.
    pace:    seconds of a try, as the clinic has them.
    pairs:   for a program of contrast, by cluster: words that differ in the target alone.
    """

    head: write_yaml.Head
    sound: Sound
    groups: Groups = ((),)
    others: tuple[Program, ...] = ()
    past: tuple[Past, ...] = ()
    taken: frozenset[str] = frozenset()
    own: frozenset[str] = frozenset()
    pace: Pace = field(default_factory=Pace)
    pairs: Mapping[tuple[str, ...], WordPairs] = field(default_factory=dict)

    def picture_of(self, word: str) -> str:
        """What shows the word, the clinic's own picture or a drawing; "" for nothing. Two words
        of one drawing (rock, stone) have the same."""
        if word.lower() in self.own:
            return word.lower()
        drawing = drawings.find(word)
        return drawing.code if drawing else ""

    def shows(self, word: str) -> bool:
        """Whether there is a picture of the word."""
        return bool(self.picture_of(word))

    @property
    def places(self) -> tuple[Position, ...]:
        """The positions, in the order in which they are practiced."""
        return in_order(self.head.positions, self.sound)

    @property
    def share(self) -> Share:
        """What of a sitting the draft may fill."""
        minutes = (other.written.practice.minutes for other in self.others)
        return Share(
            self.pace, self.head.age, max(filter(None, minutes), default=None), self.others
        )

    def list_words(self, known: int = 99, *, seen: bool = True) -> int:
        """Words of each list, of so many known ones, so that those of all positions fill the
        sitting. seen: the client can tell each from its print or its picture; else all are
        imitated."""
        lists = len(self.places)
        choices = LIST_WORDS[lists]
        if lists == 1 and is_small(self.head.age):
            choices = (SHORT_LIST, *choices)
        elif lists == 1 and not is_young(self.head.age):
            choices = (LONG_LIST, *choices)
        whole = [lists * each for each in choices if each <= known] or [lists * known]
        rounds = ladder.SPONTANEOUS if seen else ladder.IMITATION
        return self.share.items("word", rounds, whole) // lists


Lists = dict[tuple[Position, tuple[str, ...]], tuple[str, ...]]
Member = tuple[Order, Lists]


def with_pairs(order: Order, index: Words) -> Order:
    """The order as one for a program of contrast. Raises UsageError where no pairs can be had."""
    needs = needs_for(_resolved(order), order.others)
    asked = partial(
        contrast_step.Asked, needs, order.places, age=order.head.age, pictured=order.shows
    )
    pairs = {group: contrast_step.wanted(index, asked(group=group)) for group in order.groups}
    return replace(order, pairs=pairs)


def from_word_bank(order: Order, index: Words) -> Lists:
    """The words of each position and cluster from the word bank."""
    places = [(place, group) for group in order.groups for place in order.places]
    return {at: _of_word_bank(order, index, *at) for at in places}


def from_given(order: Order, given: Sequence[str]) -> Lists:
    """The words of `given` that fit each position and cluster."""
    places = [(place, group) for group in order.groups for place in order.places]
    return {at: _fitting(order, given, *at) for at in places}


def where_words_are(order: Order, found: Lists) -> tuple[Order, Lists]:
    """The order without the positions that nobody asked for and that have no list worth it."""
    poor = {at[0] for at, listed in found.items() if len(listed) < MIN_CHOICE}
    places = [p for p in order.places if p not in poor] or list(order.places[:1])
    head = replace(order.head, positions=places)
    return replace(order, head=head), {at: w for at, w in found.items() if at[0] in places}


def _fitting(
    order: Order, given: Sequence[str], place: Position, group: tuple[str, ...]
) -> tuple[str, ...]:
    target = Target(order.sound, (place,), group)
    known = words(given)
    return tuple(w.text for w in known if any(target.found(p) for p in w.said.values()))


def _of_word_bank(
    order: Order, index: Words, place: Position, group: tuple[str, ...]
) -> tuple[str, ...]:
    """The best words that phrases can be made of: with a picture for who does not read, where these
    are few also with those that are usually known a year later."""
    base = _resolved(order)
    age = order.head.age
    query = Query(sound=order.sound, position=place, cluster=group, least=RARE_ZIPF, age=age)
    found = _offered(order, index, query, base)
    if age is not None and not order.head.reads and _too_few(order, _pictured(order, found)):
        found = _with(found, _offered(order, index, replace(query, age=age + 1), base))
    if _too_few(order, found):  # words that children may not know come last
        found = _with(found, _offered(order, index, replace(query, wide=True), base))
    pictured = _pictured(order, found)
    if not order.head.reads and len(pictured) >= MIN_CHOICE:
        found = pictured
    targets = {one.word for one, _ in order.pairs.get(group, ())}
    found = sorted(found, key=lambda o: o.word not in targets)  # what is contrasted is said on
    likely = found[: order.list_words(len(found))]
    seen = order.head.reads or all(order.shows(o.word) for o in likely)
    return tuple(o.word for o in found[: order.list_words(len(found), seen=seen)])


def _too_few(order: Order, found: Sequence[Offer]) -> bool:
    return len(found) < order.list_words()


def _with(found: list[Offer], more: list[Offer]) -> list[Offer]:
    """What was found, then what is new of `more`."""
    there = {o.word for o in found}
    return [*found, *(o for o in more if o.word not in there)]


def _pictured(order: Order, found: list[Offer]) -> list[Offer]:
    """Words with a picture; of those with the same one the first: who does not read cannot tell
    them apart."""
    first = {order.picture_of(o.word): o for o in reversed(found)}
    return [o for o in found if (shown := order.picture_of(o.word)) and first[shown] is o]


def _offered(order: Order, index: Words, query: Query, base: Program) -> list[Offer]:
    """Words of a known kind with one target, no flap, read in one way or shown by a picture; where
    these are few, those with a second target or with the sound said instead too."""
    needs = needs_for(base, order.others)
    found = [o for o in offer(index, query, needs) if kinds_of(o.word)]
    found = [o for o in found if not o.flapped and (order.shows(o.word) or not o.two_ways)]
    single = [o for o in found if len(occurrences(o.phones, query.sound)) == 1]
    found = single if len(single) >= MIN_CHOICE else found
    error = base.error if isinstance(base.error, Sound) else None
    plain = [o for o in found if not error or not occurrences(o.phones, error)]
    return plain if len(plain) >= MIN_CHOICE else found


def _resolved(order: Order) -> Program:
    """The program without its words, as the word bank looks at it."""
    steps = [Draft(name="sound", level="isolation", rounds=())]
    text = write_yaml.program(order.head, {}, steps)
    text = "\n".join(line for line in text.splitlines() if BLANK not in line or line[0] == "#")
    tree = parse(text.encode(), order.head.code)
    usual = Clinic.model_validate({"clinic": 1, "contact": {"clinic": "-"}})
    return program_in(tree, usual)


def written(order: Order, found: Lists) -> str:
    """The draft around its word lists; an empty one has no steps.

    A single list stands under `words:`, those of several clusters in their steps.
    """
    several = len(order.groups) > 1
    lists: Mapping[Position, Sequence[str]] = (
        {} if several else {place: found[place, order.groups[0]] for place in order.places}
    )
    steps = [
        ladder.filled(
            replace(step, name=_free(order, step.name)), order.share, _each(order, step, lists)
        )
        for step in _steps(order, found, several)
    ]
    return write_yaml.program(order.head, lists, steps)


def _each(order: Order, step: Draft, lists: Mapping[Position, Sequence[str]]) -> int:
    """Tries of a pass where the step writes no items: its words, or the positions of a vowel."""
    if step.level == "word":
        return sum(map(len, lists.values()))
    return len(order.places) if step.level == "syllable" else 1


def _free(order: Order, name: str) -> str:
    """The name, or one like it that no other program of the client has: words (final)."""
    there = f"{name} ({' and '.join(order.places)})"
    choices = (name, there, *(f"{name} {n}" for n in range(2, 99)))
    taken = {slug_of(one) for one in order.taken}
    return next(one for one in choices if slug_of(one) not in taken)


def _steps(order: Order, found: Lists, several: bool) -> Iterator[Draft]:
    """The steps of one sound. several: the words stand in their steps, not under `words:`."""
    singles = () in order.groups
    lacks = needs_for(_resolved(order), order.others).lacks
    first = ladder.first_steps(
        order.sound,
        order.places,
        lambda w: not _holds(w, lacks) and not is_probe(w, order.sound),
    )
    yield from first if singles else [s for s in first if s.level == "isolation"]
    yield from (ladder.cluster_syllables(group) for group in order.groups if group)
    for group in order.groups:
        if pairs := order.pairs.get(group):
            yield contrast_step.step(pairs, group, _named(contrast_step.NAME, group))
        words = tuple(w for place in order.places for w in found[place, group])
        if words:
            seen = order.head.reads or all(map(order.shows, words))
            yield _words(group, words if several else (), seen=seen)
    for level in ("phrase", "sentence", "double"):
        for group in order.groups:
            step = _longer(order, level, group, found)
            if step:
                yield step
    counting = Places(order.places, frozenset(order.groups))
    for past in order.past:
        if draft := draft_past(order.sound, order.head.age, past, counting):
            yield draft


def _holds(word: str, lacks: Sequence[str]) -> bool:
    return any(held(phones, lacks) for phones in pronunciations(word))


def _words(group: tuple[str, ...], items: tuple[str, ...], *, seen: bool) -> Draft:
    """The step of words. seen: the client can tell each by its print or its picture; else all are
    imitated."""
    return Draft(
        name=_named(ladder.NAMES["word"], group),
        level="word",
        rounds=ladder.SPONTANEOUS if seen else ladder.IMITATION,
        items=items,
        cluster=ladder.typed(group),
    )


def _named(name: str, group: tuple[str, ...]) -> str:
    return f"{ladder.typed(group)} {name}" if group else name


def _longer(order: Order, level: str, group: tuple[str, ...], found: Lists) -> Draft | None:
    """A step of phrases, of sentences, or of sentences with two practiced words (`double`)."""
    base = _resolved(order)
    texts = in_turn([found[place, group] for place in order.places])
    trained = frozenset(text.lower() for listed in found.values() for text in listed)
    target = Target(order.sound, order.places, group)
    limit = limits(target, needs_for(base, order.others), trained)
    reader = Learner(order.head.age, order.head.reads, order.shows)
    if level == "double":
        return ladder.doubled(words(texts), limit, reader, _named(ladder.TWO, group))
    one: Longer = "phrase" if level == "phrase" else "sentence"
    return ladder.longer(one, words(texts), limit, reader, name=_named(ladder.NAMES[one], group))


def written_family(members: Sequence[Member]) -> str:
    """The draft around the word lists of each vowel with r, the first of which is the program's.

    Each one has steps of its own, which name it; none of them says another one.
    """
    first, _ = members[0]
    steps = sorted(
        (step for member in members for step in _of_member(first, *member)),
        key=lambda step: LEVELS.index(step.level),
    )
    return write_yaml.program(first.head, {}, steps)


def _of_member(first: Order, order: Order, found: Lists) -> Iterator[Draft]:
    typed = order.sound.typed
    there = order.places if order.places != first.places else ()
    for step in _steps(replace(order, past=()), found, several=True):
        own = replace(
            step,
            name=f"{typed} {_short_name(step.name)}",
            sound=typed if order.sound != first.sound else "",
            positions=step.positions or there,
        )
        if step.name != ladder.TWO:  # six of these would be too many
            yield ladder.filled(own, order.share, 1)


def _short_name(name: str) -> str:
    return "alone" if name == ladder.NAMES["isolation"] else name
