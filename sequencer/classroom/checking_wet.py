"""The checker's look at wet wood: nobody takes up what is glued or coated, or what hangs on to it, before it has set or dried."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.classroom.as_written import Written
from sequencer.model.plan import Step
from sequencer.model.work import JOINS, NO_WOOD

Times = dict[str, list[tuple[int, int]]]
"""Of a step, when somebody is at it, real time."""


def wet_wood_left_alone(written: Written) -> Iterator[str]:
    """No step takes up a piece that sets or dries, or what is joined to it by then. What belongs to the same joint may:
    screws and wedges go in while its glue is wet."""
    work = [step for step in written.plan.steps if step.kind == "work"]
    pieces = {step.id: _pieces(written, step) for step in work}
    wet_work = {name: _before_the_wait(written, name) for name in written.rests}
    staff = _staff_times(written)
    for seat in written.class_plan.seats:
        times: Times = {name: list(spans) for name, spans in staff.items()}
        for step in written.students:
            stints = written.parts.get((seat, step.id), [])
            times.setdefault(step.id, []).extend((written.start(stint), written.stop(stint)) for stint in stints)
        for name, rest in written.rests.items():
            for _, over in times.get(name, []):
                wet = _one_thing(written, pieces[name], times, over)
                for step in work:
                    if step.id == name or step.id in wet_work[name] or wet.isdisjoint(pieces[step.id]):
                        continue
                    early = [start for start, stop in times.get(step.id, []) if start < over + rest and stop > over]
                    if early:
                        first = written.steps[name]
                        yield (
                            f"Seat {seat}: step {step.number}, {step.title}, takes up {written.at(max(min(early), over))} what "
                            f"is still wet from step {first.number}, {first.title}."
                        )


def _staff_times(written: Written) -> Times:
    found: Times = {}
    for job in written.class_plan.staff_jobs:
        if job.kind == "work":
            found.setdefault(job.step, []).extend(written.job_real(job))
    return found


def _pieces(written: Written, step: Step) -> set[str]:
    """The pieces that a step takes up: those of its joints; else, and where it cleans before joining, all of its parts."""
    found: set[str] = set()
    for task in written.plan.tasks:
        if task.id not in step.tasks or task.kind in NO_WOOD:
            continue
        if task.joints and task.kind != "clean-inside":
            found |= _of_joints(written, task.joints)
        else:
            found |= {piece for piece in written.job.pieces() if written.job.part_of(piece).name in task.parts}
    return found


def _of_joints(written: Written, names: tuple[str, ...]) -> set[str]:
    return {piece for name in names for joint in (written.job.joints[name],) for piece in (joint.enters_piece, joint.seat.piece)}


def _one_thing(written: Written, pieces: set[str], times: Times, moment: int) -> set[str]:
    """Pieces, and all that is joined to them by a moment."""
    joined = [
        _of_joints(written, (name,))
        for task in written.plan.tasks
        if task.kind in JOINS
        for step in written.plan.steps
        if task.id in step.tasks and any(stop <= moment for _, stop in times.get(step.id, []))
        for name in task.joints
    ]
    found = set(pieces)
    while more := {piece for each in joined if each & found for piece in each} - found:
        found |= more
    return found


def _before_the_wait(written: Written, name: str) -> set[str]:
    """The steps that the reasons put before the wait that follows on a step, however far: those of them behind the step are done
    while it is wet."""
    step_of = {task: step for step in written.plan.steps if step.kind in ("work", "wait") for task in step.tasks}
    pairs = [(step_of.get(reason.before), step_of.get(reason.after), reason.kind) for reason in written.plan.reasons]
    todo = [
        then.id for first, then, kind in pairs if first and then and first.id == name and kind == "cure" and then.kind == "wait"
    ]
    found: set[str] = set()
    while todo:
        late = todo.pop()
        early = {first.id for first, then, _ in pairs if first and then and then.id == late and first.id != late} - found
        found |= early
        todo += early
    return found
