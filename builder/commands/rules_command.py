"""practice-site rules: what the check looks at, and on whose word."""

from __future__ import annotations

import argparse
import json
from dataclasses import asdict

from builder.checks.items import OF_ITEMS
from builder.checks.rules import RULES
from builder.commands import options

ABOUT = "list all rules of the check with their sources"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `rules`."""
    options.as_json(parser)


def run(args: argparse.Namespace) -> int:
    """Print the table of rules."""
    if args.json:
        print(json.dumps([asdict(rule) for rule in RULES.values()], ensure_ascii=False, indent=1))
        return 0
    for rule in RULES.values():
        answer = "may be answered" if rule.answerable else "cannot be answered"
        answer += ", for the words that the answer names" if rule.by_word else ""
        answer += "; advice while its step is not published" if rule.name in OF_ITEMS else ""
        print(f"{rule.name:16} {rule.degree:7} {rule.about}")
        print(f"{'':24} source: {rule.source}; {answer}")
    return 0
