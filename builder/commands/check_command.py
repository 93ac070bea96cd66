"""practice-site check: every finding of the named clients, or of all, and what a week comes to."""

from __future__ import annotations

import argparse
import json

from builder import pipeline
from builder.checks.pause import days_left, pauses_of
from builder.commands import options, stand_in
from builder.commands.clock import today
from builder.commands.paths import clients_of
from builder.model import dose
from builder.model.program import Client, Program, Step
from builder.problems import Finding, ProgramError, counted, standing
from builder.program_file.pronounce import of_step
from builder.text.passage import words_of_passage
from builder.text.readability import counts, grade
from builder.text.reading_rate import targets_a_minute, words_a_minute

ABOUT = "say what is wrong or worth a second look; change no file"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `check`."""
    options.programs(parser)
    options.as_json(parser)
    options.base_url(parser)


def run(args: argparse.Namespace) -> int:
    """Exit code 1 when a fault stands, else 0."""
    try:
        loaded, unread = clients_of(args, args.base_url)
    except ProgramError as problem:
        print(as_json(problem.findings) if args.json else _lines(problem.findings))
        return 1
    day = today()
    everyone = tuple(pipeline.check_client(client, today=day) for client in loaded)
    stand_in.tell(loaded)
    findings = unread + tuple(f for one in everyone for f in one.findings)
    if args.json:
        print(as_json(findings))
    else:
        if findings:
            print(_lines(findings))
        for one in everyone:
            print(_week(one.client))
            if days := days_left(one.client):
                print(days)
        print(verdict(findings))
    return 1 if standing(findings) else 0


def _lines(findings: tuple[Finding, ...]) -> str:
    return "\n".join(map(str, findings))


def _week(client: Client) -> str:
    """What a sitting and a week come to, then each program of the client."""
    lines = [f"{client.code}: {dose.in_words(client.programs, pauses_of(client))}."]
    if any(program.by_role for program in client.programs):
        each = (f"{role} {', '.join(client.days_of(role))}" for role in client.helpers)
        lines.append(f"    days: {'; '.join(each)}")
    if any(program.times_by_role for program in client.programs):
        each = (f"{role} {', '.join(client.times_of(role))}" for role in client.helpers)
        lines.append(f"    times: {'; '.join(each)}")
    for program in client.programs:
        names = ", ".join(step.name for step in program.current_steps)
        tries = dose.sitting_tries((program,))
        taught = dict.fromkeys(of_step(program, s).sound.ipa for s in program.current_steps)
        lines.append(f"    /{'/, /'.join(taught)}/: now '{names}', tries of a sitting: {tries}")
        lines += [f"    {_text(program, step)}" for step in program.steps if step.passage]
        if program.defaults:
            lines.append(f"    defaults used: {'; '.join(program.defaults)}")
    return "\n".join(lines)


def _text(program: Program, step: Step) -> str:
    """What a text to read or to tell again holds; a minute only of who reads it aloud."""
    words = len(words_of_passage(step.passage))
    level = f"reading grade {max(0.0, grade(counts(step.passage))):.1f}"
    held = f"'{step.name}': {step.targets} /{(step.sound or program.sound).ipa}/ in {words} words"
    if step.level != "reading":
        return f"{held}; {level}."
    age = program.written.age
    rate = targets_a_minute(step.targets, words, age)
    return (
        f"{held}, about {rate:.0f} in a minute of reading aloud ({words_a_minute(age)} words, "
        f"usual at {'this age' if age else 'nine years'}); {level}."
    )


def verdict(findings: tuple[Finding, ...]) -> str:
    """How many of each, and what the check cannot see: of clips it hears recordings alone."""
    taken = any(finding.rule.startswith("take-") for finding in findings)
    what = "What computer voices say" if taken else "How the clips sound"
    return f"{counted(findings)}. {what} is not checked here: see `practice-site clips`."


def as_json(findings: tuple[Finding, ...]) -> str:
    """The findings as a JSON list, for editors and scripts."""
    return json.dumps(
        [
            {
                "file": f.place.file,
                "line": f.place.line,
                "column": f.place.column,
                "rule": f.rule,
                "degree": f.degree,
                "sentence": f.sentence,
                "remedy": f.remedy,
                "accepted": f.accepted,
            }
            for f in findings
        ],
        ensure_ascii=False,
        indent=1,
    )
