"""The tables of the clinic's log, version by version.

A version that was ever released stays as it is; what changes is one more. Columns are named as the
fields of the record (model/record.py), which is what is stored.
"""

from __future__ import annotations

_FIRST = (
    """CREATE TABLE client (
        site TEXT PRIMARY KEY,  -- the slug of the client's site, which records name
        code TEXT NOT NULL
    )""",
    """CREATE TABLE sitting (
        id TEXT PRIMARY KEY,
        site TEXT NOT NULL REFERENCES client ON DELETE CASCADE,
        record INTEGER NOT NULL,
        plan TEXT NOT NULL,
        practice TEXT NOT NULL,
        start TEXT NOT NULL,
        time TEXT NOT NULL,
        helper TEXT NOT NULL,
        note TEXT NOT NULL,
        began INTEGER NOT NULL,
        done INTEGER NOT NULL,
        "end" TEXT NOT NULL,
        received TEXT NOT NULL  -- the day on which this copy of it came
    )""",
    "CREATE INDEX sitting_of_client ON sitting (site, start)",
    """CREATE TABLE trial (
        sitting TEXT NOT NULL REFERENCES sitting ON DELETE CASCADE,
        number INTEGER NOT NULL,  -- 1, 2, 3 in the order made
        step TEXT NOT NULL,
        round TEXT NOT NULL,
        item TEXT NOT NULL,
        form TEXT NOT NULL,
        support TEXT NOT NULL,
        mark TEXT NOT NULL,
        ms INTEGER NOT NULL,
        chosen TEXT,
        heard TEXT,
        repeat INTEGER,
        own TEXT,
        PRIMARY KEY (sitting, number)
    ) WITHOUT ROWID""",
    """CREATE TABLE tally (
        sitting TEXT NOT NULL REFERENCES sitting ON DELETE CASCADE,
        number INTEGER NOT NULL,
        step TEXT NOT NULL,
        words INTEGER,
        targets INTEGER,
        slipped INTEGER,
        later INTEGER NOT NULL,
        ms INTEGER NOT NULL,
        PRIMARY KEY (sitting, number)
    ) WITHOUT ROWID""",
    # What nobody here can vouch for: of no client of this clinic, of a plan that is not known.
    """CREATE TABLE apart (
        id TEXT NOT NULL,
        site TEXT NOT NULL,
        plan TEXT NOT NULL,
        why TEXT NOT NULL,
        sitting TEXT NOT NULL,  -- all of it, as JSON
        received TEXT NOT NULL,
        PRIMARY KEY (id, site, plan)
    )""",
)

_PAPER = (
    """CREATE TABLE paper (
        site TEXT NOT NULL REFERENCES client ON DELETE CASCADE,
        day TEXT NOT NULL,
        time TEXT NOT NULL,
        plan TEXT NOT NULL,
        step TEXT NOT NULL,  -- '' where several steps were counted together
        clear INTEGER NOT NULL,
        tries INTEGER NOT NULL,  -- 0 where the box was only ticked
        entered TEXT NOT NULL,
        PRIMARY KEY (site, day, time)
    ) WITHOUT ROWID""",
)

# What the therapist heard in the room; the same kind of score of one day stands once.
_SCORE = (
    """CREATE TABLE score (
        site TEXT NOT NULL REFERENCES client ON DELETE CASCADE,
        date TEXT NOT NULL,
        sound TEXT NOT NULL,  -- the symbol of the program's
        step TEXT NOT NULL,  -- its id, as in the record
        support TEXT NOT NULL,
        correct INTEGER NOT NULL,
        "of" INTEGER NOT NULL,
        probe INTEGER NOT NULL,  -- 1: words that are kept out of practice
        note TEXT NOT NULL,
        entered TEXT NOT NULL,
        PRIMARY KEY (site, date, sound, step, support, probe)
    ) WITHOUT ROWID""",
)

# What she wrote of a visit without a score; the same text of one day stands once.
_NOTE = (
    """CREATE TABLE visit_note (
        site TEXT NOT NULL REFERENCES client ON DELETE CASCADE,
        date TEXT NOT NULL,
        note TEXT NOT NULL,
        entered TEXT NOT NULL,
        PRIMARY KEY (site, date, note)
    ) WITHOUT ROWID""",
)

# Two homes may each count the same evening on a sheet of their own.
_PAPER_BY_ROLE = (
    """CREATE TABLE paper_by_role (
        site TEXT NOT NULL REFERENCES client ON DELETE CASCADE,
        day TEXT NOT NULL,
        time TEXT NOT NULL,
        plan TEXT NOT NULL,
        step TEXT NOT NULL,  -- '' where several steps were counted together
        clear INTEGER NOT NULL,
        tries INTEGER NOT NULL,  -- 0 where the box was only ticked
        entered TEXT NOT NULL,
        helper TEXT NOT NULL,  -- whose sheet it is; '' where nobody said
        PRIMARY KEY (site, day, time, helper)
    ) WITHOUT ROWID""",
    "INSERT INTO paper_by_role SELECT *, '' FROM paper",
    "DROP TABLE paper",
    "ALTER TABLE paper_by_role RENAME TO paper",
)

# Of the texts and talks of a sitting; null where nobody counted.
_SLIPS = ("ALTER TABLE paper ADD COLUMN slips INTEGER",)

MIGRATIONS: tuple[tuple[str, ...], ...] = (
    _FIRST,
    _PAPER,
    _SCORE,
    _NOTE,
    _PAPER_BY_ROLE,
    _SLIPS,
)
"""The statements that lead from each version to the next; the first makes version 1 of nothing."""

NAMING = ("apart", "paper", "score", "visit_note", "sitting", "client")
"""Every table that names a site; what hangs on a client goes with it."""
