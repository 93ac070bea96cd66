"""What speaks against a cut of a long recording: why it should be heard before it is used."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from builder.audio.split.sequence_match import Match, SegmentGroup, SequenceMatch, best_alternative
from builder.audio.split.session import Session

POOR_FIT_NEPERS = -1.5  # nepers a frame; below it an item is hardly like what was said
ALTERNATIVE_MIN_NATS = 4.0  # nats by which the next best way must be worse
SWAP_MIN_NATS = 2.5  # nats by which two items must fit better as they are than exchanged
BETTER_SWAP_MIN_NATS = 6.0  # the same, where the other fits better at the place of one of them
# The same, where the other is an item beside it that was not said elsewhere.
ADJACENT_MIN_NATS = 10.0
FALSE_START_SHARE = 0.75  # of an item's length: a false start of it lasts less
HASTY_SHARE = 0.55  # of the usual length for so many phones

LOW_SCORE = "this may not be the word"
OUT_OF_ORDER = "it was said out of order"
POOR_FIT = "it does not sound much like it"
UNCLEAR_EDGES = "it is not clear where it begins or ends"
UNCLEAR_PLACE = "it may be somewhere else, or not be there at all"
MAYBE_FALSE_START = "it may be the beginning of what comes next"
TOO_SHORT = "it is so short that it may be only the beginning of a word"
REPEATED = "it was said again, but its neighbors on the list were not, or not clearly"
OTHER_LIST = "little of the recording matches this list"
NO_PAUSE = "there is no pause between it and its neighbor"


def uncertainty_of(
    session: Session, sequence: SequenceMatch, match: Match, kept: Mapping[int, Match]
) -> tuple[str, int]:
    """A reason for doubt, "" for none; and the item that it could be instead, -1 for none."""
    if match.both:
        return NO_PAUSE, -1
    other = _other(session, match, kept)
    if other >= 0:
        return "", other
    if session.nepers(match.group)[match.item] < POOR_FIT_NEPERS:
        return POOR_FIT, -1
    if _begun(session, match, kept):
        return MAYBE_FALSE_START, -1
    if _short(session, sequence, match, kept):
        return TOO_SHORT, -1
    if len(session.items[match.item]) > 1 and _lacks(session, sequence, match):
        return UNCLEAR_EDGES, -1
    second = best_alternative(sequence, match, session.groups)
    if second.cost < ALTERNATIVE_MIN_NATS:
        return (
            UNCLEAR_EDGES if second.group and _overlap(second.group, match.group) else UNCLEAR_PLACE
        ), -1
    return "", -1


def close_items(session: Session, match: Match, within: float = SWAP_MIN_NATS) -> tuple[int, ...]:
    """The other items that fit nearly as well, the best one first."""
    nats = session.nats(match.group)
    close = [int(at) for at in np.argsort(-nats) if nats[at] > nats[match.item] - within]
    return tuple(at for at in close if session.items[at] != session.items[match.item])


def _other(session: Session, match: Match, kept: Mapping[int, Match]) -> int:
    """The item that fits nearly as well or better, if the place of neither speaks against it."""
    mine = session.nats(match.group)
    for other in close_items(session, match):
        theirs = kept.get(other)
        if theirs is None or theirs.group is match.group:
            return other
        there = session.nats(theirs.group)
        here, elsewhere = mine[match.item] - mine[other], there[other] - there[match.item]
        if here + elsewhere < (SWAP_MIN_NATS if min(here, elsewhere) > 0 else BETTER_SWAP_MIN_NATS):
            return other
    beside = {match.item - 1, match.item + 1} - set(kept)
    return next((at for at in close_items(session, match, ADJACENT_MIN_NATS) if at in beside), -1)


def _begun(session: Session, match: Match, kept: Mapping[int, Match]) -> bool:
    """Whether it may be a false start of the item after it, which follows."""
    theirs = kept.get(match.item + 1)
    if theirs is None or theirs.group.first != match.group.past:
        return False
    if session.seconds(match.group) > FALSE_START_SHARE * session.seconds(theirs.group):
        return False
    whole, begun = session.nats(match.group), session.nats(match.group, begun=True)
    return bool(begun[match.item + 1] > whole[match.item] - SWAP_MIN_NATS)


def _short(
    session: Session, sequence: SequenceMatch, match: Match, kept: Mapping[int, Match]
) -> bool:
    """Whether it lasts less than when it was said before, or than the others for their phones."""
    lasts = session.seconds(match.group)
    before = (session.seconds(one.group) for one in sequence.matches if one.item == match.item)
    usual = np.median(
        [session.seconds(one.group) / session.phones(one.item) for one in kept.values()]
    )
    expected = float(usual) * session.phones(match.item)
    return lasts < FALSE_START_SHARE * max(before) or lasts < HASTY_SHARE * expected


def _lacks(session: Session, sequence: SequenceMatch, match: Match) -> bool:
    """Whether what is beside a phrase may be its first or last word: it is no item, or was taken
    for the end of the same phrase, said before with a pause inside."""
    whole = (one for one in sequence.matches if one.item != match.item or one.group.single)
    used = {at for one in whole for at in range(one.group.first, one.group.past)}
    return any(at not in used for at in session.neighbours(match.group))


def _overlap(one: SegmentGroup, two: SegmentGroup) -> bool:
    return one.first < two.past and two.first < one.past


def spread_uncertainty(
    session: Session,
    sequence: SequenceMatch,
    kept: Mapping[int, Match],
    doubtful: Mapping[int, int],
) -> dict[int, tuple[str, int]]:
    """Further cuts that are doubtful because others are, as `uncertainty_of` gives it.

    doubtful: items with a doubt already, and what each may be instead (-1).
    """
    found: dict[int, tuple[str, int]] = {}
    for item in sorted(set(kept) - set(doubtful)):
        taken = [other for other, instead in doubtful.items() if instead == item]
        others = [*taken, *(at for at in close_items(session, kept[item]) if at in doubtful)]
        if others:
            found[item] = "", others[0]
        elif _again(sequence, item) and not _beside(session, item) <= set(kept) - set(doubtful):
            found[item] = REPEATED, -1
    return found


def _again(sequence: SequenceMatch, item: int) -> bool:
    return sum(item in match.items for match in sequence.matches) > 1


def _beside(session: Session, item: int) -> set[int]:
    return {item - 1, item + 1} & set(range(len(session.items)))
