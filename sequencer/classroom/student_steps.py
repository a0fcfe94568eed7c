"""Students' steps as activities: the parts that a step falls into, what it comes after, and the counted things that it takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from math import ceil

import networkx as nx

from sequencer.classroom.duties import LESSONS, Duty, Then
from sequencer.classroom.first_use import FirstUse
from sequencer.classroom.gathered import Gathered
from sequencer.classroom.slots import stretches, whole_slots
from sequencer.model.job import Job
from sequencer.model.plan import Plan, Step, Task
from sequencer.model.workshop import Workshop
from sequencer.scheduling.problem import Activity, After, Need

TRIED = ("dry-fit", "clean-inside")
"""Kinds of work after which pieces are apart again."""


def at_once_after(step: Step, plan: Plan) -> str | None:
    """The step, by id, that a student's step is done at once behind: the coat before its oily rags. None if it has its own
    time."""
    kinds = {task.id: task.kind for task in plan.tasks}
    if step.who.operator != "student" or not any(kinds[task] == "rags" for task in step.tasks):
        return None
    by_task = {task: each for each in plan.steps if each.kind == "work" for task in each.tasks}
    before = [by_task[reason.before] for reason in plan.reasons if reason.after in step.tasks and reason.before in by_task]
    coats = [each for each in before if each.station == step.station and any(kinds[task] == "coat" for task in each.tasks)]
    return max(coats, key=lambda each: each.number).id if coats else None


def usable(workshop: Workshop, slot: int) -> int:
    """Working minutes of a lesson."""
    time = workshop.time
    room = int(time.lesson - time.settling_in - time.clearing_up)
    return room - room % slot or room


def pieces_of(step: Step, plan: Plan, job: Job, room: int, *, first_alone: bool = False) -> list[int]:
    """The minutes of the parts that a step falls into, none longer than the room where pieces allow it: by pieces of wood, or by
    things that are put together apart from each other. Each part has its own setting out. `first_alone`: the first piece is a
    part by itself."""
    tasks = [task for task in plan.tasks if task.id in step.tasks]
    if not tasks[0].part:
        apart = max(_apart(task, _together_before(task, plan), job) for task in tasks)
        each = [step.minutes / apart] * apart
    else:
        each = [task.minutes for task in tasks for _ in range(task.quantity)]
    runs: list[list[float]] = []
    for minutes in each:
        if runs and sum(runs[-1]) + minutes + step.set_up_minutes <= room:
            runs[-1].append(minutes)
        else:
            runs.append([minutes])
    if first_alone and len(runs[0]) > 1:
        runs[:1] = [runs[0][:1], runs[0][1:]]
    return [max(1, ceil(sum(run) + step.set_up_minutes)) for run in runs]


def _apart(task: Task, before: Iterable[Task], job: Job) -> int:
    """How many things its joints put together that have nothing to do with each other, after some tasks: two end frames."""
    graph: nx.Graph[str] = nx.Graph((job.joints[name].enters_piece, job.joints[name].seat.piece) for name in task.joints)
    own = set(graph)
    for each in before:
        graph.add_edges_from((job.joints[name].enters_piece, job.joints[name].seat.piece) for name in each.joints)
    return max(1, sum(not own.isdisjoint(thing) for thing in nx.connected_components(graph)))


def _together_before(task: Task, plan: Plan) -> list[Task]:
    """The tasks that put pieces together before a task: of a trial the trials too."""
    numbers = {name: step.number for step in plan.steps for name in step.tasks}
    apart = () if task.kind in TRIED else TRIED
    return [
        each
        for each in plan.tasks
        if each.joints and each.kind not in apart and numbers.get(each.id, 0) < numbers.get(task.id, 0)
    ]


class StudentSteps:
    """The steps of students, seat by seat."""

    def __init__(self, gathered: Gathered, first_use: FirstUse) -> None:
        self.gathered, self.first_use = gathered, first_use
        self.then = {before: step for step in gathered.plan.steps if (before := at_once_after(step, gathered.plan))}
        """Of a step, by id, the one that is done at once behind it."""
        self._ready: dict[str, list[After]] = {}
        """Of a kind of station, what the whole class has done before anybody starts there."""

    def add(self, step: Step, before: Mapping[str, int]) -> None:
        """A step of every seat. `before`: the steps that it comes after, and the waits between."""
        for seat in self.gathered.seats:
            self._add(step, seat, before)
        self._on_machines(step)

    def _add(self, step: Step, seat: int, before: Mapping[str, int]) -> None:
        gathered = self.gathered
        after = [*gathered.over(before, (seat,)), *gathered.set_before(step)]
        if step.station_kind in gathered.workshop.all_ready:
            after += self._ready.setdefault(step.station_kind, gathered.over(before, gathered.seats))
        after += self.first_use.before(step, seat)
        attention = gathered.things.attention(step)
        watched = gathered.things.watching(step, attention)
        place, holding = (Need((seat,)), Need(gathered.machines(step))), tuple(self._holding(step))
        sign_off, teacher = self.first_use.sign_off(step, seat), self.first_use.by_teacher(step, seat)
        minutes, then = self._minutes(step, sign_off), None
        if follows := self.then.get(step.id):
            then = Then(follows, whole_slots(follows.minutes + follows.set_up_minutes, gathered.slot))
            minutes = [sum(minutes) + then.minutes]
        for number, long in enumerate(minutes, 1):
            first, shows = number == 1, sign_off if number == 1 else 0
            held = gathered.whole if shows else attention
            duty = Duty("step", (seat,), step, number, len(minutes), held, sign_off=shows, then=then)
            keeps = tuple(gathered.keeps(step, len(minutes)))
            name = f"seat {seat + 1}: {step.id} {number}"
            splits = 0 if step.one_go or shows or long < 2 * gathered.least_part else gathered.least_part
            needs = (*place, *(teacher if first and teacher else watched), *holding)
            at = gathered.add(duty, Activity(name, long, needs, keeps, tuple(after), (LESSONS,), splits, seat))
            if first and teacher:
                self.first_use.begun(step, seat, at)
            after = [After(at)]
        gathered.ended[step.id, seat] = after[0].activity
        if then is not None:
            gathered.ended[then.step.id, seat] = after[0].activity

    def _minutes(self, step: Step, sign_off: int) -> list[int]:
        """The minutes of each part of a step, in whole slots, the first with the sign-off in front."""
        gathered = self.gathered
        if not step.one_go:
            minutes = whole_slots(step.minutes + step.set_up_minutes, gathered.slot)
            first, *others = stretches(minutes, gathered.working.stretch, gathered.slot)
            return [first + (whole_slots(sign_off, gathered.slot) if sign_off else 0), *others]
        room = min(usable(gathered.workshop, gathered.slot), int(gathered.working.turn_at_machine))
        first, *others = pieces_of(step, gathered.plan, gathered.job, room, first_alone=sign_off > 0)
        return [whole_slots(each, gathered.slot) for each in (first + sign_off, *others)]

    def _holding(self, step: Step) -> Iterator[Need]:
        """What is counted out for a step and given back after it."""
        gathered = self.gathered
        kept = {gathered.things.all[keep.thing].about for keep in gathered.keeps(step, 1)}
        for held in step.holding:
            if (
                held.name in gathered.things.counted
                and held.name not in kept
                and not gathered.knowledge.holding[held.name].shared
            ):
                yield Need(tuple(gathered.things.counted[held.name]))

    def _on_machines(self, step: Step) -> None:
        """Remember who uses a machine as it is set, so that nobody sets it anew before."""
        gathered = self.gathered
        if step.id in gathered.turns:
            for unit in gathered.machines(step):
                gathered.on[unit] = [gathered.ended[step.id, seat] for seat in gathered.seats]
