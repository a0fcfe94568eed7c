"""The stages of planning, one call a line: work, ways, reasons, order, steps, sheets' lists. Gives a frozen `Plan`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from hashlib import sha256
from pathlib import PurePath

from sequencer.findings import Finding, Refused, has_errors
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.regions import region_named
from sequencer.model.job import Decision, Job
from sequencer.model.plan import PLAN_VERSION, Plan, Reason, Step
from sequencer.model.record import ClassLine
from sequencer.model.workshop import Workshop
from sequencer.planning.agreeing import Agreed, agree
from sequencer.planning.assembling import assembled
from sequencer.planning.cards import (
    blank_lines,
    change_lines,
    decision_lines,
    hardware_lines,
    note_lines,
    part_lines,
    risk_rows,
    station_cards,
    strip_lines,
    tool_lines,
    with_part_notes,
)
from sequencer.planning.decided import decision_findings
from sequencer.planning.deciding import Outcome, cost_words
from sequencer.planning.dust import dust_lines_of_day
from sequencer.planning.either_first import in_decided_order
from sequencer.planning.fitness import mark_findings
from sequencer.planning.group_work import group_work
from sequencer.planning.groups import Group, joint_groups
from sequencer.planning.jigs import jig_lines
from sequencer.planning.material_notes import dust_lines, extraction_findings, material_findings, outdoor_findings
from sequencer.planning.mitred_strips import mitred_remarks
from sequencer.planning.moving import moving_findings
from sequencer.planning.noise import noise_lines
from sequencer.planning.putting_together import rolled_up, together_lines
from sequencer.planning.region import region_findings, region_line
from sequencer.planning.remarks import cramp_findings, plan_findings, workshop_findings
from sequencer.planning.shop import Shop
from sequencer.planning.steps import make_steps
from sequencer.planning.tasks import make_tasks
from sequencer.planning.unplannable import allowance_findings, job_findings
from sequencer.planning.vibration import vibration_lines
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
    found = [*findings, *rule_findings(workshop, knowledge), *workshop_findings(shop), *region_findings(shop, day)]
    found += job_findings(job, knowledge.working.most_left_on)
    if has_errors(found):
        raise Refused(found)
    assembly = assembled(job, most_joints(shop))
    groups = assembly.groups
    found += assembly.findings
    if has_errors(found):
        raise Refused(found)
    works = _works(groups, shop)
    agreed = agree(works, groups, shop, earlier)
    choice = agreed.choice
    found += (
        *allowance_findings(job, groups),
        *decision_findings(job, works),
        *choice.findings,
        *material_findings(shop),
        *outdoor_findings(shop),
    )
    if has_errors(found):
        raise Refused(found)
    if agreed.circle is not None:
        raise agreed.circle
    reasons, tasks, order = agreed.reasons, agreed.tasks, agreed.arranged.order
    together = together_lines(job, assembly.closings, knowledge.working, rolled_up(choice, shop))
    steps = with_part_notes(make_steps(order, tasks, choice, shop, together), job)
    strips = strip_lines(shop, choice)
    found += (
        *plan_findings(shop, steps),
        *mark_findings(shop, steps),
        *extraction_findings(shop, steps),
        *wide_findings(shop, choice.ways, steps),
        *cramp_findings(shop, choice),
        *moving_findings(shop),
        *waiting_findings(shop, steps),
        *mitred_remarks(choice, strips, shop),
    )
    if has_errors(found):
        raise Refused(found)
    region = region_named(workshop.region, knowledge)
    # A decision that work takes less time makes nobody's day quieter: the operation's own time counts then.
    unhurried = {
        task.id: replace(tasks[task.id], minutes=max(task.minutes, tasks[task.id].minutes)) for task in make_tasks(choice, shop)
    }
    exposed = steps if unhurried == tasks else make_steps(order, unhurried, choice, shop)
    noise, noisy = noise_lines(exposed, shop, region, day)
    vibration, shaking = vibration_lines(exposed, shop, region, day)
    dust, dusty = dust_lines_of_day(exposed, shop, region, day)
    found += (*noisy, *shaking, *dusty)
    costs, all_told = _costs(assembly.undecided, shop, agreed)
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
        noise=noise,
        vibration=vibration,
        dust=dust,
        changing=agreed.arranged.changing,
        fingerprints=_fingerprints(steps, reasons),
    )


def _works(groups: tuple[Group, ...], shop: Shop) -> list[Work]:
    """Everything that is to be done, on each part and on what is joined."""
    return [
        *part_work(shop.job, shop.knowledge.working),
        *group_work(shop.job, groups, shop.self_heating, shop.knowledge),
    ]


def _costs(undecided: tuple[Group, ...], shop: Shop, agreed: Agreed) -> tuple[list[str], str]:
    """What each decision costs against the plan without it, and what all of them cost together where there are several: of two
    that ask for nearly the same, each may seem to cost nothing. `undecided`: the groups in the order nobody has decided."""

    def against(kept: tuple[Decision, ...], needed: str) -> str:
        groups = in_decided_order(undecided, kept)
        without = agree(_works(groups, shop), groups, replace(shop, job=replace(shop.job, decisions=kept)))
        if without.circle is not None or has_errors(without.choice.findings):
            return needed
        return cost_words(_outcome(agreed), _outcome(without))

    every = shop.job.decisions
    each = [
        against(tuple(other for other in every if other is not one), "is needed: without it there is no plan") for one in every
    ]
    return each, against((), "is needed: without any of them there is no plan") if len(every) > 1 else ""


def _outcome(agreed: Agreed) -> Outcome:
    return Outcome(tuple(agreed.tasks.values()), agreed.reasons, agreed.arranged.changing)


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
    if has_errors(found):
        raise Refused(found)
    groups = assembled(job, most_joints(shop)).groups
    agreed = agree(_works(groups, shop), groups, shop)
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


def _fingerprints(steps: tuple[Step, ...], reasons: tuple[Reason, ...]) -> dict[str, str]:
    """A short hash of what each step shows, and of the whole plan as `job`."""
    prints = {step.id: _hash(repr(replace(step, number=0))) for step in steps}
    return {"job": _hash(repr((sorted(prints.items()), reasons))), **prints}


def _hash(text: str) -> str:
    return sha256(text.encode()).hexdigest()[:8]
