"""What comes from home is held against this: the clients of the practice folder, their kept plans,
the day."""

from __future__ import annotations

import os
from functools import cache

from builder.commands.clock import today
from builder.practice import kept_views
from builder.practice.log.rows import Log
from builder.practice.log.understand import Known
from builder.workspace.addresses import secret, slug
from builder.workspace.folder import Workspace
from builder.workspace.program_files import EXAMPLES, PROGRAMS, by_code


def codes(workspace: Workspace) -> dict[str, str]:
    """The codes of all clients who have a program, by their sites."""
    folders = (workspace.root / PROGRAMS, workspace.root / EXAMPLES)
    key = secret(workspace)
    return {
        slug(key, code): code
        for folder in folders
        if os.path.isdir(folder)
        for code in by_code(str(folder))
    }


def known(workspace: Workspace, log: Log) -> Known:
    """The same and those in the log, with every plan that was published."""
    return Known(
        codes(workspace) | log.clients(),
        cache(lambda site, digest: kept_views.find(workspace, site, digest)),
        today(),
        cache(lambda site: kept_views.any_of(workspace, site)),
        cache(lambda site, digest: kept_views.kept_on(workspace, site, digest)),
    )
