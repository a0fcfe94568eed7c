"""The stages of planning, one call a line: work, ways, reasons, order, steps, sheets' lists. Gives a frozen `Plan`."""

from __future__ import annotations

from dataclasses import replace
from hashlib import sha256
from pathlib import PurePath

from sequencer.findings import Finding, Refused, has_errors
from sequencer.knowledge.formats import Knowledge
from sequencer.model.job import Job
from sequencer.model.plan import ClassLine, Plan, Reason, Step, Task
from sequencer.model.workshop import Workshop
from sequencer.planning.cards import (
    blank_lines,
    decision_lines,
    hardware_lines,
    jig_lines,
    part_lines,
    risk_rows,
    station_cards,
    tool_lines,
)
from sequencer.planning.choosing import choose_ways, face_words, pieces_for
from sequencer.planning.groups import joint_groups
from sequencer.planning.order import Orderable, put_in_order
from sequencer.planning.reasons import find_reasons
from sequencer.planning.shop import Shop
from sequencer.planning.steps import make_steps, make_tasks
from sequencer.planning.ways import Way, find_ways
from sequencer.planning.who import rule_findings
from sequencer.planning.work import Work, group_work, part_work

PLAN_VERSION = "1"
"""Version of the plan's published JSON form."""


def make_plan(job: Job, workshop: Workshop, knowledge: Knowledge, findings: tuple[Finding, ...] = ()) -> Plan:
    """A plan of making a job in a workshop. `findings` of earlier stages are carried into it.

    Raises Refused, with all findings, if anything in the job has no possible way, the joints or reasons go in a circle,
    or an earlier finding is an error.
    """
    shop = Shop(job, workshop, knowledge)
    found = [*findings, *rule_findings(workshop, knowledge), *_workshop_findings(shop)]
    if has_errors(found):
        raise Refused(found)
    groups = joint_groups(job)
    choice = choose_ways([*part_work(job), *group_work(job, groups)], shop)
    found += choice.findings
    if has_errors(found):
        raise Refused(found)
    reasons = find_reasons(job, choice.works, choice.ways, groups)
    tasks = {task.id: _timed(task, job) for task in make_tasks(choice, shop)}
    order = put_in_order(
        [
            Orderable(task.id, task.set_up, task.who.operator == "staff", choice.works[task.id].rank, number)
            for number, task in enumerate(tasks.values())
        ],
        reasons,
    )
    steps = make_steps(order, tasks, choice, shop)
    found += _plan_findings(shop, steps)
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
        decisions=decision_lines(shop),
        hardware=hardware_lines(shop),
        tools=tool_lines(steps, shop),
        jigs=jig_lines(choice, shop),
        findings=tuple(found),
        fingerprints=_fingerprints(steps, reasons),
    )


def ways_of(
    name: str, job: Job, workshop: Workshop, knowledge: Knowledge
) -> tuple[tuple[Work, tuple[Way, ...], Way | None], ...]:
    """Every way, possible or not, of the work a name means (`side/floor-groove`, or a whole task name), with the way a
    plan would take, if any. Empty if the name means nothing."""
    shop = Shop(job, workshop, knowledge)
    works = [*part_work(job), *group_work(job, joint_groups(job))]
    choice = choose_ways(works, shop)
    named = [work for work in choice.works.values() if work.id == name or work.id.startswith(f"{name}/")]
    return tuple(
        (
            work,
            find_ways(work, pieces_for(work, shop, choice.blanks), shop, face_words(work, job), shop.hardness_of(work.parts)),
            choice.ways.get(work.id),
        )
        for work in named
    )


def task_names(job: Job) -> tuple[str, ...]:
    """The names of all tasks of a job."""
    return tuple(work.id for work in [*part_work(job), *group_work(job, joint_groups(job))])


def _timed(task: Task, job: Job) -> Task:
    """A time the teacher has settled wins over the knowledge's."""
    for decision in job.decisions:
        if decision.minutes is not None and (task.id == decision.about or task.id.startswith(f"{decision.about}/")):
            task = replace(task, minutes=decision.minutes)
    return task


def _workshop_findings(shop: Shop) -> tuple[Finding, ...]:
    found = []
    for station in shop.workshop.stations.values():
        if station.kind not in shop.knowledge.stations:
            found.append(
                Finding(
                    "error",
                    "unknown-station-kind",
                    station.name,
                    f"{station.name} is a {station.kind}, which the knowledge does not know.",
                    remedy=f"Use one of: {', '.join(sorted(shop.knowledge.stations))}.",
                )
            )
            continue
        kind = shop.knowledge.stations[station.kind]
        for name in station.guards:
            if name not in shop.knowledge.guards:
                found.append(
                    Finding(
                        "warning",
                        "unknown-guard",
                        station.name,
                        f"{station.name} has a guard called {name}, which no operation asks for.",
                        remedy=f"Guards known at a {kind.name.lower()}: {', '.join(kind.guards) or 'none'}.",
                    )
                )
    if shop.job.glue and shop.job.glue not in shop.knowledge.glues:
        found.append(
            Finding(
                "error",
                "unknown-glue",
                "glue",
                f"The glue {shop.job.glue} is not known.",
                remedy=f"Use one of: {', '.join(shop.knowledge.glues)}.",
            )
        )
    for finish in shop.job.finish:
        if finish.what not in shop.knowledge.finishes:
            found.append(
                Finding(
                    "error",
                    "unknown-finish",
                    "finish",
                    f"The finish {finish.what} is not known.",
                    remedy=f"Use one of: {', '.join(shop.knowledge.finishes)}.",
                )
            )
    return tuple(found)


def _plan_findings(shop: Shop, steps: tuple[Step, ...]) -> list[Finding]:
    found = []
    staff_machines = [
        step.number
        for step in steps
        if step.card == "staff" and step.kind == "work" and shop.knowledge.stations[step.station_kind].power == "machine"
    ]
    if staff_machines and len(shop.workshop.adults) < 2:
        found.append(
            Finding(
                "warning",
                "lone-machining",
                "people",
                f"Staff work at machines in steps {', '.join(map(str, staff_machines))}, and the workshop file names one adult.",
                "Nobody machines alone, staff before school included.",
                "See that another adult is within call, and name the role.",
            )
        )
    if (
        any(step.card == "student" and shop.knowledge.stations[step.station_kind].power == "machine" for step in steps)
        and staff_machines
    ):
        found.append(
            Finding(
                "note",
                "supervision",
                "people",
                "An adult who operates a machine supervises nobody. While one does, no student machine runs unless another "
                "authorised adult supervises.",
            )
        )
    for step in steps:
        if any(setting.value is None and setting.text == "staff decide" for setting in step.settings):
            labels = ", ".join(setting.label for setting in step.settings if setting.value is None)
            found.append(
                Finding(
                    "warning",
                    "staff-decide",
                    step.id,
                    f"Step {step.number} has settings that are not known here: {labels}.",
                    remedy="Let staff decide them and write them on the card, or state the missing figures in the workshop file.",
                )
            )
    return found


def _fingerprints(steps: tuple[Step, ...], reasons: tuple[Reason, ...]) -> dict[str, str]:
    """A short hash of what each step shows, and of the whole plan as `job`."""
    prints = {step.id: _hash(repr(replace(step, number=0))) for step in steps}
    return {"job": _hash(repr((sorted(prints.items()), reasons))), **prints}


def _hash(text: str) -> str:
    return sha256(text.encode()).hexdigest()[:8]
