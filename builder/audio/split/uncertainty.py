"""What speaks against a cut of a long recording: why it should be heard before it is used."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from builder.audio.split.sequence_match import Match, Unit, Way, rival
from builder.audio.split.session import Reading

POOR = -1.5  # nepers a frame; below it an item is hardly like what was said
CLEAR = 4.0  # nats by which the next best way must be worse
SWAPPED = 2.5  # nats by which two items must fit better as they are than exchanged
BETTER = 6.0  # the same, where the other fits better at the place of one of them
BESIDE = 10.0  # the same, where the other is an item beside it that was not said elsewhere
SHORTER = 0.75  # of an item's length: a false start of it lasts less
HASTY = 0.55  # of the usual length for so many phones

LOW = "this may not be the word"
ORDER = "it was said out of order"
UNLIKE = "it hardly sounds like it"
EXTENT = "where it begins or ends is not clear"
PLACE = "it may be elsewhere, or not said at all"
BEGUN = "it may be the beginning of what comes next"
SHORT = "it is so short that it may be the beginning of a word"
AGAIN = "it was said again, where what stands beside it was not, or not surely"
STRANGE = "little of the recording is like this list"
NO_PAUSE = "there is no pause between it and its neighbour"


def why(reading: Reading, way: Way, match: Match, kept: Mapping[int, Match]) -> tuple[str, int]:
    """A reason for doubt, "" for none; and the item that it could be instead, -1 for none."""
    if match.both:
        return NO_PAUSE, -1
    other = _other(reading, match, kept)
    if other >= 0:
        return "", other
    if reading.fit(match.unit)[match.item] < POOR:
        return UNLIKE, -1
    if _begun(reading, match, kept):
        return BEGUN, -1
    if _short(reading, way, match, kept):
        return SHORT, -1
    if len(reading.items[match.item]) > 1 and _lacks(reading, way, match):
        return EXTENT, -1
    second = rival(way, match, reading.units)
    if second.less < CLEAR:
        return (EXTENT if second.unit and _overlap(second.unit, match.unit) else PLACE), -1
    return "", -1


def near(reading: Reading, match: Match, within: float = SWAPPED) -> tuple[int, ...]:
    """The other items that fit nearly as well, the best one first."""
    nats = reading.nats(match.unit)
    close = [int(at) for at in np.argsort(-nats) if nats[at] > nats[match.item] - within]
    return tuple(at for at in close if reading.items[at] != reading.items[match.item])


def _other(reading: Reading, match: Match, kept: Mapping[int, Match]) -> int:
    """The item that fits nearly as well or better, if the place of neither speaks against it."""
    mine = reading.nats(match.unit)
    for other in near(reading, match):
        theirs = kept.get(other)
        if theirs is None or theirs.unit is match.unit:
            return other
        there = reading.nats(theirs.unit)
        here, elsewhere = mine[match.item] - mine[other], there[other] - there[match.item]
        if here + elsewhere < (SWAPPED if min(here, elsewhere) > 0 else BETTER):
            return other
    beside = {match.item - 1, match.item + 1} - set(kept)
    return next((at for at in near(reading, match, BESIDE) if at in beside), -1)


def _begun(reading: Reading, match: Match, kept: Mapping[int, Match]) -> bool:
    """Whether it may be a false start of the item after it, which follows."""
    theirs = kept.get(match.item + 1)
    if theirs is None or theirs.unit.first != match.unit.past:
        return False
    if reading.seconds(match.unit) > SHORTER * reading.seconds(theirs.unit):
        return False
    whole, begun = reading.nats(match.unit), reading.nats(match.unit, begun=True)
    return bool(begun[match.item + 1] > whole[match.item] - SWAPPED)


def _short(reading: Reading, way: Way, match: Match, kept: Mapping[int, Match]) -> bool:
    """Whether it lasts less than when it was said before, or than the others for their phones."""
    lasts = reading.seconds(match.unit)
    before = (reading.seconds(one.unit) for one in way.matches if one.item == match.item)
    usual = np.median(
        [reading.seconds(one.unit) / reading.phones(one.item) for one in kept.values()]
    )
    expected = float(usual) * reading.phones(match.item)
    return lasts < SHORTER * max(before) or lasts < HASTY * expected


def _lacks(reading: Reading, way: Way, match: Match) -> bool:
    """Whether what is beside a phrase may be its first or last word: it is no item, or was taken
    for the end of the same phrase, said before with a pause inside."""
    whole = (one for one in way.matches if one.item != match.item or one.unit.single)
    used = {at for one in whole for at in range(one.unit.first, one.unit.past)}
    return any(at not in used for at in reading.beside(match.unit))


def _overlap(one: Unit, two: Unit) -> bool:
    return one.first < two.past and two.first < one.past


def spread(
    reading: Reading, way: Way, kept: Mapping[int, Match], doubtful: Mapping[int, int]
) -> dict[int, tuple[str, int]]:
    """Further cuts that are doubtful because others are, as `why` gives it.

    doubtful: items with a doubt already, and what each may be instead (-1).
    """
    found: dict[int, tuple[str, int]] = {}
    for item in sorted(set(kept) - set(doubtful)):
        taken = [other for other, instead in doubtful.items() if instead == item]
        others = [*taken, *(at for at in near(reading, kept[item]) if at in doubtful)]
        if others:
            found[item] = "", others[0]
        elif _again(way, item) and not _beside(reading, item) <= set(kept) - set(doubtful):
            found[item] = AGAIN, -1
    return found


def _again(way: Way, item: int) -> bool:
    return sum(item in match.said for match in way.matches) > 1


def _beside(reading: Reading, item: int) -> set[int]:
    return {item - 1, item + 1} & set(range(len(reading.items)))
