"""The whole way from program files to published sites, in a few lines.

load -> survey -> checks -> plan -> clips, pictures, codes -> MkDocs project -> site -> swap
"""

from __future__ import annotations

import datetime
import shutil
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from builder import checks
from builder.audio.voices import VOICES
from builder.model.picture_need import PictureNeed
from builder.model.plan import Code, Plan
from builder.model.practice_view import view_of
from builder.model.program import Client
from builder.planning import make_plan
from builder.planning.make_plan import SiteContext
from builder.practice import kept_views
from builder.problems import Finding, ProgramError, UsageError, standing, unanswered
from builder.recordings import accept
from builder.survey.collect import survey
from builder.survey.speaker import clearer_voice
from builder.survey.survey import Survey
from builder.workspace import published
from builder.workspace.addresses import secret, slug
from builder.workspace.folder import SITE_MARK, Workspace, find
from builder.workspace.store import Store

PROOF_MARK = "proof.txt"  # by it a folder is known as an earlier proof
UNPUBLISHED = "unpublished"  # stands for the site's name where there is none

if TYPE_CHECKING:
    from builder.make.clips import Facts

Progress = Callable[[str, int, int], None]
"""Called with what is being made, how many are done, how many there are."""


@dataclass(frozen=True)
class Checked:
    """A client with everything that was found out before anything is made."""

    client: Client
    survey: Survey
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class Built:
    """A published site: where, at which address, from which plan.

    waiting: for what a service should say and did not: the next build asks again.
    """

    plan: Plan
    folder: Path
    findings: tuple[Finding, ...]
    waiting: Finding | None = None


def check_client(
    client: Client, out: Path | None = None, today: datetime.date | None = None
) -> Checked:
    """One client, checked. out: where its site is or will be published; today: for findings on
    days that are past, None for none of these."""
    site = None
    if out:
        workspace = find(Path(client.folder))
        site = out / slug(secret(workspace, out), client.code)
    seen = survey(client, site, today)
    return Checked(client, seen, checks.run(client, seen))


def plan_of(checked: Checked, workspace: Workspace, out: Path | None = None) -> Plan:
    """The plan of a checked client. Raises ProgramError while faults stand.

    out: where the site is or will be published; None for what is never published, which needs no
    address and so no secret.
    """
    if standing(checked.findings):
        raise ProgramError(checked.findings)
    return make_plan.make(checked.client, checked.survey, _context(checked, workspace, out))


def _context(checked: Checked, workspace: Workspace, out: Path | None) -> SiteContext:
    name = slug(secret(workspace, out), checked.client.code) if out else UNPUBLISHED
    return SiteContext(name, _versions())


def _versions() -> dict[str, str]:
    from builder.audio.voices import versions

    return versions()


def build(
    loaded: Iterable[Client],
    out: Path,
    progress: Progress | None = None,
    today: datetime.date | None = None,
) -> tuple[Built, ...]:
    """Publish the sites of clients under `out`, each whole or not at all. today: since when their
    plans are kept as those that are practiced; None for what no sheet of paper is counted by.

    Raises ProgramError, before anything is written, while any fault of any of them stands.
    """
    everyone = _ready(loaded, out.resolve())
    if stopped := _stopped(everyone):
        raise ProgramError(stopped)
    return _publish_all(everyone, out.resolve(), progress, today)


def build_sound(
    loaded: Iterable[Client],
    out: Path,
    progress: Progress | None = None,
    today: datetime.date | None = None,
) -> tuple[tuple[Built, ...], tuple[Finding, ...]]:
    """Publish the sites of those clients of whom no fault stands; the findings of the others,
    whose sites stay as they are."""
    everyone = _ready(loaded, out.resolve())
    sound = [one for one in everyone if not standing(one.findings)]
    return _publish_all(sound, out.resolve(), progress, today), _stopped(everyone)


def _ready(loaded: Iterable[Client], out: Path) -> list[Checked]:
    """All clients, checked, once it is sure that `out` may be published into."""
    together = list(loaded)
    if together:
        workspace = workspace_of(Path(client.folder) for client in together)
        published.require_public(out, workspace, {Path(client.folder) for client in together})
        published.require_own(out)
    return [check_client(client, out) for client in together]


def _stopped(everyone: Iterable[Checked]) -> tuple[Finding, ...]:
    """What nobody has answered of the clients whom a fault stops."""
    stopped = (one.findings for one in everyone if standing(one.findings))
    return tuple(found for findings in stopped for found in unanswered(findings))


def _publish_all(
    everyone: list[Checked],
    out: Path,
    progress: Progress | None,
    today: datetime.date | None,
) -> tuple[Built, ...]:
    from builder.site.root import write_root
    from builder.site.swap import exclusive

    if not everyone:
        return ()
    workspace = workspace_of(Path(one.client.folder) for one in everyone)
    with exclusive(out):
        clinic = everyone[0].client.clinic.interface
        write_root(out, [*clinic, *(name for one in everyone for name in one.client.interface)])
        published.mark(out, secret(workspace, out))  # after the root: see there
        tell = progress or (lambda what, done, total: None)
        built = []
        for at, one in enumerate(everyone):
            tell("sites", at, len(everyone))
            plan, left = _publish(one, workspace, out, tell, today)
            built.append(Built(plan, out / plan.slug, one.findings, left))
    return tuple(built)


def spoken_plan(
    checked: Checked, workspace: Workspace, progress: Progress, out: Path | None = None
) -> tuple[Plan, dict[str, Facts]]:
    """The plan of a checked client with its clips, made when missing: their facts by key; none for
    what no voice can say. Raises as `plan_of`."""
    from builder import spoken

    if standing(checked.findings):
        raise ProgramError(checked.findings)
    context, store = _context(checked, workspace, out), Store(workspace.store)
    return spoken.made(checked.client, checked.survey, context, store, progress)


def waiting(client: Client, facts: Mapping[str, Facts]) -> Finding | None:
    """One finding for all clips that a service should speak and did not; None without any."""
    away = [one for one in facts.values() if one.away]
    if not away:
        return None
    program = next(p for p in client.programs if p.voice == "online")
    by = Counter(VOICES[one.voice].called for one in away)
    told = " and ".join(f"{_clips(number)} by the {called}" for called, number in by.items())
    places = program.written.position
    local = clearer_voice(program.sound.symbol, places, "natural") or "woman"
    return Finding(
        program.place(("voice",)),
        "voice-away",
        "advice",
        f"{away[0].instead} For now {told}.",
        f"Build again later, and it is asked once more. To be without it, write `voice: {local}`.",
    )


def _clips(number: int) -> str:
    return "1 clip is spoken" if number == 1 else f"{number} clips are spoken"


def workspace_of(files: Iterable[Path]) -> Workspace:
    """The one workspace of all files. UsageError when they lie in several."""
    found = dict.fromkeys(find(file) for file in files)
    if len(found) > 1:
        roots = " and ".join(str(workspace.root) for workspace in found)
        raise UsageError(
            f"the files are in several practice folders ({roots}). Name files of one only."
        )
    return next(iter(found))


def files_of(plan: Plan, store: Store) -> dict[str, Path]:
    """Every file of the plan, clips made before: path in the site -> file in the store."""
    from builder.make import pictures, qr

    files = {clip.path: store.path(clip.key, ".mp3") for clip in plan.clips}
    files |= {picture.path: pictures.make(picture, store) for picture in plan.pictures}
    for code in codes_of(plan):
        svg, png = qr.make(code, store)
        files |= {f"{code.path}.svg": svg, f"{code.path}.png": png}
    return files


def codes_of(plan: Plan) -> tuple[Code, ...]:
    """The codes of a plan: the site's own, then one a step, each in every language of the pages."""
    steps = [step for program in plan.programs for step in program.steps]
    first = [code for code in (plan.code, *(step.code for step in steps)) if code]
    return tuple(one for code in first for one in (code, *(other for _, other in code.further)))


def proof(checked: Checked, workspace: Workspace, to: Path, progress: Progress) -> Path:
    """Write the proof of a client into a folder of its name under `to`, whole, faults or not."""
    from builder import spoken
    from builder.make import clips, pictures
    from builder.site import proof as proofs
    from builder.site import unsaid

    store = Store(workspace.store)
    whole, context = proofs.with_all_steps(checked.client), SiteContext(UNPUBLISHED, _versions())
    plan, facts = spoken.made(whole, checked.survey, context, store, progress, proofs.speakable)
    left = waiting(checked.client, facts)
    findings = (*checked.findings, left) if left else checked.findings
    why = unsaid.reasons(plan, facts, lambda key: clips.why_not(key, store))
    plan = make_plan.without_missing(plan, facts)
    html = proofs.proof_page(checked.client, plan, findings, facts, checked.survey, why)
    recordings = proofs.unused_takes(checked.client, checked.survey)
    files = {clip.path: store.path(clip.key, ".mp3") for clip in plan.clips}
    files |= {picture.path: pictures.make(picture, store) for picture in plan.pictures}
    files |= {name: Path(take.path) for name, take in recordings.items()}
    texts = {accept.PLAYED_LIST: accept.played_list(recordings.values()), "index.html": html}
    return _keep_page(to, whole.code, files, texts)


def pictures_page(needs: Sequence[PictureNeed], workspace: Workspace, to: Path) -> Path:
    """Write the page of all programs' pictures into a folder `pictures` under `to`, whole."""
    from builder.make import pictures
    from builder.site.picture_page import picture_page

    store = Store(workspace.store)
    shown = {need.picture.path: need.picture for need in needs if need.picture}
    files = {path: pictures.make(picture, store) for path, picture in shown.items()}
    return _keep_page(to, "pictures", files, {"index.html": picture_page(needs)})


def _keep_page(to: Path, name: str, files: Mapping[str, Path], texts: Mapping[str, str]) -> Path:
    """A local page with its files, by path, in a folder of its own, where the old one was."""
    from builder.site.layout import link
    from builder.site.swap import exclusive, new_folder, publish

    mark = "This folder is replaced each time; keep nothing of your own here."
    with exclusive(to):
        made = new_folder(to)
        for path, file in files.items():
            link(file, made / path)
        for path, text in {**texts, PROOF_MARK: mark}.items():
            (made / path).write_text(text, "utf-8")
        publish(made, to / name, PROOF_MARK)
    return to / name


def _publish(
    one: Checked,
    workspace: Workspace,
    out: Path,
    progress: Progress,
    today: datetime.date | None,
) -> tuple[Plan, Finding | None]:
    """Publish a client's site; the plan as it is published, without clips that no voice made,
    and what was found if a service did not speak."""
    from builder.site import assemble
    from builder.site.swap import new_folder, publish

    store = Store(workspace.store)
    asked, facts = spoken_plan(one, workspace, progress, out)
    plan = make_plan.without_missing(asked, facts)
    files = files_of(plan, store)
    made = new_folder(out)
    try:
        site = assemble.assemble_site(plan, files, facts, store, workspace, made)
        starts = (program.written.practice.start for program in one.client.programs)
        since = kept_views.first_day(starts, today) if today else None
        kept_views.keep(workspace, plan.slug, view_of(plan), since)
        publish(site, out / plan.slug, SITE_MARK)
    finally:
        shutil.rmtree(made, ignore_errors=True)
    return plan, waiting(one.client, facts)
