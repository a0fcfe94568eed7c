"""The stages, one call a line. Each takes the result of the one before and adds to it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from sequencer.findings import Finding, Place, Refused, Unusable, has_errors
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.job import Job
from sequencer.model.plan import Plan
from sequencer.model.workshop import Workshop

if TYPE_CHECKING:
    # The solid library takes its time to load: only what makes things loads it.
    from sequencer.model.class_plan import ClassPlan
    from sequencer.paper.svg import Picture
    from sequencer.proving.making import Making

Say = Callable[[str], None]
"""Told what stage is running."""


def _silent(_: str) -> None:
    return None


View = Literal["whole", "apart", "parts", "order", "locked"]
"""What is drawn of the whole: as it stands, taken apart, every part once, the order of work with its reasons, or the pieces that
lock each other."""

PICTURES = (".svg", ".pdf", ".glb")
"""The endings of the files that `show` writes."""


@dataclass(frozen=True)
class Checked:
    """A job read and checked, with what it is checked against."""

    job: Job
    workshop: Workshop
    knowledge: Knowledge
    findings: tuple[Finding, ...]


NOT_TRIED_DRY = Finding(
    "note",
    "not-tried-dry",
    "dry fit",
    "Whether the pieces go together as solids was not looked at.",
    "Where they lie is not known while the drawing contradicts itself.",
    "Correct the errors and check again.",
)


def check(job_file: Path, workshop_file: Path, say: Say = _silent, *, own: Path | None = None) -> Checked:
    """Read both files and the knowledge, and check the drawing. `own` is the school's own folder of knowledge; without it
    the one that the workshop file names.

    Raises Unusable with every error of both files if either cannot be used.
    """
    from sequencer.design.checking import check_design, format_only_findings
    from sequencer.knowledge.loading import load_knowledge
    from sequencer.knowledge.overlay import change_findings
    from sequencer.knowledge.people import people_findings
    from sequencer.reading.job import read_job
    from sequencer.reading.workshop import read_workshop

    say("reading the job and the workshop")
    unusable: list[Finding] = []
    job = workshop = None
    job_findings: tuple[Finding, ...] = ()
    workshop_findings: tuple[Finding, ...] = ()
    try:
        job, job_findings = read_job(job_file)
    except Unusable as error:
        unusable += error.findings
    try:
        workshop, workshop_findings = read_workshop(workshop_file)
    except Unusable as error:
        unusable += error.findings
    if job is None or workshop is None:
        raise Unusable(unusable)
    say("loading the knowledge")
    knowledge = load_knowledge(own or own_folder(workshop), workshop.switched_off)
    say("checking the drawing")
    drawn = (*check_design(job, knowledge), *format_only_findings(job))
    if has_errors(drawn):
        drawn += (NOT_TRIED_DRY,)
    else:
        from sequencer.solid.dry_fit import dry_fit
        from sequencer.solid.thin_wood import thin_wood

        drawn += tuple(thin_wood(job, knowledge.working))
        say("trying the pieces dry")
        drawn += dry_fit(job, knowledge)
    if job.choices:
        from sequencer.planning.offered_sizes import offered_findings
        from sequencer.reading.offered import not_tried, offered_jobs

        say("trying the sizes that students may choose")
        offered = ((each.name, each.value, each.job) for each in offered_jobs(job_file, job))
        drawn += tuple(offered_findings(job, offered, workshop, knowledge))
        drawn += (untried,) if (untried := not_tried(job)) is not None else ()
    shop = (*workshop_findings, *_region_findings(workshop, knowledge), *people_findings(workshop, knowledge))
    read = (*job_findings, *shop, *change_findings(knowledge))
    return Checked(job, workshop, knowledge, (*read, *drawn))


def _region_findings(workshop: Workshop, knowledge: Knowledge) -> tuple[Finding, ...]:
    """An error where the region that the workshop file names is not known."""
    from sequencer.knowledge.regions import region_named

    try:
        region_named(workshop.region, knowledge)
    except Unusable as error:
        return tuple(replace(each, place=Place(workshop.file, key="region")) for each in error.findings)
    return ()


def own_folder(workshop: Workshop) -> Path | None:
    """The folder of own knowledge that a workshop file names."""
    return Path(workshop.knowledge) if workshop.knowledge else None


def plan(checked: Checked, say: Say = _silent, *, day: date | None = None, earlier: tuple[str, ...] = ()) -> Plan:
    """Work, ways, reasons, order, steps. `day`: whose limits hold; without one the strictest of all days. `earlier`: tasks in the
    order of an earlier plan, which is kept where it is still among the best. Raises Refused with the findings if no plan can
    be made."""
    from sequencer.planning.planner import make_plan

    if has_errors(checked.findings):
        raise Refused(checked.findings)
    say("planning")
    return make_plan(checked.job, checked.workshop, checked.knowledge, checked.findings, day=day, earlier=earlier)


def prove(made: Plan, job: Job, say: Say = _silent) -> tuple[Plan, Making]:
    """Carry a plan out on solids. Returns the plan with the record of its proof, and with an error finding for everything
    that did not hold; and the making itself, whose states are the pictures."""
    from sequencer.proving.making import carry_out
    from sequencer.proving.record import with_record

    say("making it on solids")
    making = carry_out(made, job)
    return with_record(made, making, job.decisions), making


def lessons(
    made: Plan, checked: Checked, say: Say = _silent, *, within: int | None = None, effort: float = 1.0, solve: bool = True
) -> ClassPlan:
    """Lessons for the class, with a bound. Raises Refused with the findings if there is no plan of lessons, or none within so
    many."""
    from sequencer.classroom.course import Class
    from sequencer.classroom.helping import looked_for
    from sequencer.classroom.lessons import make_class_plan
    from sequencer.planning.planner import make_plan

    if has_errors(made.findings):
        raise Refused(made.findings)
    say("planning the lessons")
    class_ = Class(made, checked.job, checked.workshop, checked.knowledge)
    planned = make_class_plan(class_, within=within, effort=effort, solve=solve, say=say)

    day = date.fromisoformat(made.region.day) if made.region is not None and made.region.day else None

    def by_hand(kind: str) -> Class | None:
        """The job planned without a kind of station."""
        off = {name: station for name, station in checked.workshop.stations.items() if station.kind != kind}
        workshop = replace(checked.workshop, stations=off)
        try:
            other = make_plan(checked.job, workshop, checked.knowledge, checked.findings, day=day)
        except Refused:
            return None
        return None if has_errors(other.findings) else Class(other, checked.job, workshop, checked.knowledge)

    looked = looked_for(class_, planned, by_hand, effort=effort, say=say)
    return replace(planned, remedies=tuple(looked.helps), in_vain=tuple(looked.in_vain))


def papers(
    made: Plan,
    job: Job,
    making: Making,
    out: Path,
    *,
    day: date,
    only: tuple[str, ...] = (),
    page: str = "a4",
    say: Say = _silent,
) -> tuple[tuple[Path, ...], str]:
    """Write the sheets. Returns the files written and, if PDF could not be made, one sentence why and what to do."""
    from sequencer.paper.sheets import write_papers

    written = write_papers(made, job, making, out, day=day, only=only, page=page, progress=say)
    return written.files, written.missing


def lesson_papers(
    class_plan: ClassPlan,
    made: Plan,
    out: Path,
    *,
    day: date,
    only: tuple[str, ...] = (),
    page: str = "a4",
    say: Say = _silent,
) -> tuple[tuple[Path, ...], str]:
    """Write the sheets of the lessons. Returns as `papers` does."""
    from sequencer.paper.lesson_sheets import write_lesson_sheets

    written = write_lesson_sheets(class_plan, made, out, day=day, only=only, page=page, progress=say)
    return written.files, written.missing


def show(
    checked: Checked,
    file: Path,
    *,
    part: str | None = None,
    step: str | None = None,
    view: View = "whole",
    say: Say = _silent,
) -> None:
    """Write one picture, or the whole as a model, by the ending of the file: .svg, .pdf or .glb. Whole or not at all.

    Raises Unusable if there is no such part, step or ending, Refused if the plan that a step or the order needs cannot be made.
    """
    from sequencer.paper import showing
    from sequencer.paper.order_picture import order_picture, order_sheets
    from sequencer.paper.pdf import NoPango
    from sequencer.plan_file import write_whole
    from sequencer.talk import step_named

    job = checked.job
    sheets: tuple[Picture, ...] = ()
    ending = file.suffix.lower()
    if ending not in PICTURES:
        raise _unusable(
            "unknown-ending",
            str(file),
            f"Nothing can be written to a file that ends in {ending or 'nothing'}.",
            f"Let the name of the file end in {', '.join(PICTURES[:-1])} or {PICTURES[-1]}.",
        )
    if ending == ".glb":
        if part is not None or step is not None or view != "whole":
            raise _unusable(
                "model-of-the-whole",
                str(file),
                "A model is of the whole thing as it stands.",
                "Name a .svg or .pdf file, or ask for nothing but the whole.",
            )
        say("making the model")
        write_whole(file, showing.as_model(job))
        return
    if part is not None:
        chosen = next((each for each in job.parts.values() if part in (each.name, each.letter)), None)
        if chosen is None:
            names = ", ".join(f"{each.name} ({each.letter})" for each in job.parts.values())
            raise _unusable("unknown-part", part, f"The job has no part called {part}.", f"The parts are: {names}.")
        title, shown = f"{job.name}: {chosen.name}", showing.part_picture(job, chosen)
    elif step is not None:
        made = plan(checked, say)
        wanted = step_named(made, step)
        made, making = prove(made, job, say)
        say("drawing")
        title, shown = f"{job.name}, step {wanted.number}: {wanted.title}", showing.step_picture(wanted, made, job, making)
    elif view == "order":
        made, _ = prove(plan(checked, say), job, say)
        say("drawing")
        title, shown, sheets = f"{job.name}: the order of work", order_picture(made), order_sheets(made)
    elif view == "locked":
        say("looking for what locks")
        locked = showing.locked_pieces(job)
        if not locked:
            raise _unusable("nothing-locked", job.name, "No pieces of it lock each other.", "Leave `--locked` out.")
        title, shown = f"{job.name}: {', '.join(locked)}", showing.pieces_picture(job, locked)
    else:
        say("drawing")
        title = job.name
        shown = showing.parts_picture(job) if view == "parts" else showing.whole_picture(job, apart=view == "apart")
    if not shown.svg:
        raise _unusable("no-picture", step or str(job.name), f"There is nothing to draw: {title}.", "Choose another step.")
    try:
        if ending == ".svg":
            content = showing.order_svg(shown) if sheets else showing.as_svg(shown)
        else:
            content = showing.order_pdf(sheets, title) if sheets else showing.as_pdf(shown, title)
    except NoPango as error:
        raise _unusable(
            "no-pdf",
            str(file),
            "PDF cannot be made here: the text layout library Pango is missing.",
            "Name a .svg file, or install Pango.",
        ) from error
    write_whole(file, content)


def _unusable(code: str, subject: str, what: str, remedy: str) -> Unusable:
    return Unusable([Finding("error", code, subject, what, remedy=remedy)])
