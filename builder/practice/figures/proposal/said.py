"""How a proposal gives its figures, in plain clauses. Pure."""

from __future__ import annotations

from builder.practice.figures.intervals import Rate, difference, total
from builder.practice.figures.listeners import Day, are, by_role, named
from builder.practice.figures.proposal.counting import WITH_A_MODEL, Asked, Session, rates_of
from builder.text.several import joined


def home_reached(asked: Asked, home: list[Day]) -> str:
    """What home reached, with its interval."""
    whole = total(rates_of(home))
    told = marked(asked, f"{whole}", home)
    each = " on each" if len(home) > 1 else ""
    percent = asked.criteria.advance.percent
    return f"{told}, {percent} % or more{each} (95 % interval {whole.surely})"


def caution(home: list[Day], hers: Rate) -> str:
    """A helper who hears more than she does adds little to a single score of hers."""
    roles = by_role(home)
    lenient = [role for role, rate in roles.items() if difference(rate, hers)[0] > 0]
    if not lenient and difference(total(rates_of(home)), hers)[0] > 0:
        lenient = [*roles]
    who = f"{named(lenient)} {are(lenient)}"
    told = f"; {who} more lenient than you, so one more score of yours is worth it"
    return told if lenient else ""


def marked(asked: Asked, figures: str, days: list[Day]) -> str:
    """As in "home marked 54 of 60 (90 %) clear without a model on the last 3 days of practice".
    Where several listened, what each of them marked stands beside it."""
    roles = by_role(days)
    apart = [f"{named([role])} {rate.clear} of {rate.tries}" for role, rate in roles.items()]
    each = f" ({', '.join(apart)})" if len(apart) > 1 else ""
    when = f"on the last {_number(len(days))} of practice"
    return f"{named(roles)} marked {figures} clear{how(asked)} {when}{each}"


def how(asked: Asked) -> str:
    """How a try must be made to count."""
    return "" if asked.level in WITH_A_MODEL else " without a model"


def each_of(rates: list[Rate]) -> str:
    """Each of these rates."""
    return joined([str(rate) for rate in rates])


def _number(days: int) -> str:
    return "day" if days == 1 else f"{days} days"


def heard(session: Session) -> str:
    """What she heard in a session."""
    date, rate = session
    return f"you heard {rate} correct on {date.isoformat()}"
