"""The stages of planning, one call a line: work, ways, reasons, order, steps, sheets' lists. Gives a frozen `Plan`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import PurePath

from sequencer.findings import Finding, Refused, has_errors
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.job import Job
from sequencer.model.plan import PLAN_VERSION, Plan, Step
from sequencer.model.record import ClassLine
from sequencer.model.workshop import Workshop
from sequencer.planning.agreeing import agree, works_of
from sequencer.planning.assembling import assembled
from sequencer.planning.choice import Choice
from sequencer.planning.costs import costs_of_decisions
from sequencer.planning.cut_late import late_findings
from sequencer.planning.decided import decision_findings
from sequencer.planning.exposures import exposures
from sequencer.planning.fingerprints import fingerprints
from sequencer.planning.fitness import mark_findings
from sequencer.planning.group_work import group_work
from sequencer.planning.grouping import joint_groups
from sequencer.planning.groups import Group
from sequencer.planning.hand_mitres import hand_mitre_findings
from sequencer.planning.jigs import jig_lines
from sequencer.planning.material_notes import dust_lines, extraction_findings, material_findings, outdoor_findings
from sequencer.planning.mitred_strips import mitred_remarks
from sequencer.planning.moving import moving_findings
from sequencer.planning.narrow_sheet import narrow_sheet_findings
from sequencer.planning.putting_together import rolled_up, together_lines
from sequencer.planning.record_lines import change_lines, decision_lines, note_lines, with_marking_notes, with_part_notes
from sequencer.planning.region import region_findings, region_line
from sequencer.planning.remarks import cramp_findings, plan_findings, workshop_findings
from sequencer.planning.risk_rows import risk_rows
from sequencer.planning.shop import Shop
from sequencer.planning.station_cards import station_cards
from sequencer.planning.steps import make_steps
from sequencer.planning.stock_lines import blank_lines, part_lines, strip_lines
from sequencer.planning.things_to_lay_out import hardware_lines, tool_lines
from sequencer.planning.unplannable import allowance_findings, job_findings
from sequencer.planning.waiting import most_joints
from sequencer.planning.waiting_tasks import waiting_findings, waiting_tasks
from sequencer.planning.ways import Way
from sequencer.planning.ways_on import ways_on
from sequencer.planning.who import rule_findings
from sequencer.planning.why_taken import why_taken
from sequencer.planning.wide_boards import wide_findings
from sequencer.planning.work import Work, part_work


def make_plan(
    job: Job,
    workshop: Workshop,
    knowledge: Knowledge,
    findings: tuple[Finding, ...] = (),
    *,
    day: date | None = None,
    earlier: Sequence[str] = (),
) -> Plan:
    """A plan of making a job in a workshop. `findings` of earlier stages are carried into it. `day` is the date whose limits
    hold; without one the strictest of all their records do, whatever their dates. `earlier`: the tasks of an earlier plan in
    their order, which is kept wherever it is still among the best.

    Raises Refused, with all findings, if anything in the job has no possible way, the joints or reasons go in a circle,
    or an earlier finding is an error.
    """
    shop = Shop(job=job, workshop=workshop, knowledge=knowledge)
    found = [*findings, *_of_the_files(shop, day)]
    _refuse(found)
    assembly = assembled(job, most_joints(shop))
    groups = assembly.groups
    found += (*assembly.findings, *late_findings(job, groups))
    _refuse(found)
    works = works_of(groups, shop)
    agreed = agree(works, groups, shop, earlier)
    choice = agreed.choice
    found += _of_the_ways(shop, groups, works, choice)
    _refuse(found)
    if agreed.circle is not None:
        raise agreed.circle
    reasons, tasks, order = agreed.reasons, agreed.tasks, agreed.arranged.order
    together = together_lines(job, assembly.closings, knowledge.working, rolled_up(choice, shop))
    steps = with_part_notes(with_marking_notes(make_steps(order, tasks, choice, shop, together), job), job)
    strips = strip_lines(shop, choice)
    found += (*_of_the_steps(shop, choice, steps), *mitred_remarks(choice, strips, shop))
    _refuse(found)
    exposed = exposures(order, tasks, steps, choice, shop, day)
    found += exposed.findings
    costs, all_told = costs_of_decisions(assembly.undecided, shop, agreed)
    return Plan(
        version=PLAN_VERSION,
        job=job.name,
        job_file=PurePath(job.file).name,
        workshop_file=PurePath(workshop.file).name,
        class_=ClassLine(workshop.name, workshop.students, workshop.year, workshop.age, workshop.time.lesson, workshop.region),
        aim=job.aim,
        parts=part_lines(shop),
        blanks=blank_lines(shop, choice),
        tasks=tuple(tasks[name] for name in order),
        steps=steps,
        reasons=reasons,
        stations=station_cards(steps, shop),
        risks=risk_rows(steps, shop),
        decisions=decision_lines(shop, costs),
        together=all_told,
        hardware=hardware_lines(shop, choice),
        tools=tool_lines(steps, shop),
        jigs=jig_lines(choice, steps, shop),
        findings=tuple(_by_name(finding) for finding in found),
        bench=knowledge.bench,
        strips=strips,
        learning_aim=job.learning_aim,
        waiting=waiting_tasks(shop, steps, works),
        notes=note_lines(job),
        note=job.note,
        before_use=job.before_use,
        changes=change_lines(shop),
        materials=dust_lines(shop),
        region=region_line(steps, shop, day),
        noise=exposed.noise,
        vibration=exposed.vibration,
        dust=exposed.dust,
        changing=agreed.arranged.changing,
        fingerprints=fingerprints(steps, reasons),
    )


def _refuse(found: Sequence[Finding]) -> None:
    if has_errors(found):
        raise Refused(found)


def _of_the_files(shop: Shop, day: date | None) -> Iterator[Finding]:
    """What is said of the workshop and the job before anything is planned."""
    yield from rule_findings(shop.workshop, shop.knowledge)
    yield from workshop_findings(shop)
    yield from region_findings(shop, day)
    yield from job_findings(shop.job, shop.knowledge.working.most_left_on)


def _of_the_ways(shop: Shop, groups: tuple[Group, ...], works: Sequence[Work], choice: Choice) -> Iterator[Finding]:
    """What is said once every work has a way, or has none."""
    yield from allowance_findings(shop.job, groups)
    yield from decision_findings(shop.job, works)
    yield from choice.findings
    yield from material_findings(shop)
    yield from outdoor_findings(shop)


def _of_the_steps(shop: Shop, choice: Choice, steps: tuple[Step, ...]) -> Iterator[Finding]:
    """What is said of the printed steps."""
    yield from plan_findings(shop, steps)
    yield from mark_findings(shop, steps)
    yield from extraction_findings(shop, steps)
    yield from wide_findings(shop, choice.ways, steps)
    yield from hand_mitre_findings(shop, choice.ways, steps)
    yield from narrow_sheet_findings(shop, choice.ways, steps)
    yield from cramp_findings(shop, choice)
    yield from moving_findings(shop)
    yield from waiting_findings(shop, steps)


@dataclass(frozen=True)
class AskedWays:
    """Every way of a work, possible or not; the one a plan would take, if any; and for each way why it is or is not that."""

    work: Work
    ways: tuple[Way, ...]
    taken: Way | None
    why: tuple[str, ...]


def ways_of(
    name: str | None, job: Job, workshop: Workshop, knowledge: Knowledge
) -> tuple[tuple[Work, tuple[Way, ...], Way | None], ...]:
    """Every way, possible or not, of the work a name means (`side/floor-groove`, or a whole task name; None: all work), with
    the way a plan would take, if any. Empty if the name means nothing."""
    return tuple((each.work, each.ways, each.taken) for each in ways_asked(name, job, workshop, knowledge))


def ways_asked(name: str | None, job: Job, workshop: Workshop, knowledge: Knowledge) -> tuple[AskedWays, ...]:
    """The same as `ways_of`, with why each possible way is planned or not."""
    shop = Shop(job=job, workshop=workshop, knowledge=knowledge)
    found = [*workshop_findings(shop), *job_findings(job, knowledge.working.most_left_on)]
    _refuse(found)
    groups = assembled(job, most_joints(shop)).groups
    _refuse([*late_findings(job, groups)])
    agreed = agree(works_of(groups, shop), groups, shop)
    choice = agreed.choice
    named = [work for work in choice.works.values() if name is None or work.is_meant_by(name)]
    found_ways = (ways_on(choice.blanks, work, shop, choice.long.kerfs, shaped=agreed.shaped.get(work.id, ())) for work in named)
    return tuple(
        AskedWays(work, ways, choice.ways.get(work.id), why_taken(work, ways, choice.ways.get(work.id), choice, shop))
        for work, ways in zip(named, found_ways, strict=True)
    )


def task_names(job: Job, knowledge: Knowledge) -> tuple[str, ...]:
    """The names of all tasks of a job."""
    return tuple(work.id for work in [*part_work(job, knowledge.working), *group_work(job, joint_groups(job))])


def _by_name(finding: Finding) -> Finding:
    """The finding with its file by name: a plan is the same wherever its files lie."""
    place = finding.place
    return finding if place is None else replace(finding, place=replace(place, file=PurePath(place.file).name))
