"""Wet wood in lessons: what sets or dries is taken up by nobody, nor what is joined to it, and the checker sees it by itself."""

from __future__ import annotations

from dataclasses import replace
from math import ceil

import pytest

from sequencer.classroom.checking import class_plan_faults
from sequencer.classroom.course import Class
from sequencer.classroom.precedence import befores
from sequencer.model.class_plan import ClassPlan, Span
from sequencer.model.plan import Plan
from tests.classroom.classes import class_planned, the_class
from tests.made import plan

FRAME, STOOL = ("picture-frame", "well-equipped", 12), ("step-stool", "well-equipped", 4)
DAY = 1440
WET = "still wet"


def _faults(class_: Class, planned: ClassPlan, made: Plan | None = None) -> list[str]:
    return class_plan_faults(planned, made or class_.plan, class_.job, class_.workshop, class_.knowledge)


def _real(planned: ClassPlan, step: str, seat: str) -> tuple[int, int]:
    """When a seat starts with a step and is done with it, real time."""
    starts = {lesson.number: lesson.starts for lesson in planned.lessons}
    spans = [
        span for each in planned.stints if (each.kind, each.step) == ("step", step) and seat in each.seats for span in each.spans
    ]
    assert spans
    return min(starts[each.session] + each.start for each in spans), max(starts[each.session] + each.stop for each in spans)


def _moved(planned: ClassPlan, step: str, behind: str, seat: str = "1") -> ClassPlan:
    """With a seat's step in the minutes right behind another of its steps."""
    last = max(
        (
            span
            for each in planned.stints
            if (each.kind, each.step, each.seats) == ("step", behind, (seat,))
            for span in each.spans
        ),
        key=lambda span: (span.session, span.stop),
    )
    moved = replace(
        next(each for each in planned.stints if (each.kind, each.step, each.seats) == ("step", step, (seat,))),
        spans=(Span(last.session, last.stop, last.stop + 5),),
        piece=1,
        of=1,
    )
    kept = tuple(each for each in planned.stints if (each.kind, each.step, each.seats) != ("step", step, (seat,)))
    return replace(planned, stints=(*kept, moved))


def _bare(made: Plan, trial: str) -> Plan:
    """A plan in which nothing is said of what a trial comes before."""
    return replace(made, reasons=tuple(each for each in made.reasons if each.before != trial))


def test_nobody_tries_a_backing_in_a_frame_that_is_wet() -> None:
    class_, planned = the_class(*FRAME), class_planned(*FRAME)
    assert not _faults(class_, planned)
    for seat in planned.seats:
        _, tried = _real(planned, "backing-in/dry-fit/try", seat)
        assert tried <= _real(planned, "frame/glue/glue", seat)[0]
        assert tried <= _real(planned, "whole/coat-1/coat", seat)[0]


def test_nobody_tries_a_seat_on_rails_that_are_in_cramps() -> None:
    class_, planned = the_class(*STOOL), class_planned(*STOOL)
    assert not _faults(class_, planned)
    for seat in planned.seats:
        start, tried = _real(planned, "seat-in-place/dry-fit/try", seat)
        assert start >= _real(planned, "end-frame/glue/glue", seat)[1] + DAY
        assert tried <= _real(planned, "spine-in-place/glue/glue", seat)[0]


@pytest.mark.parametrize(
    ("job", "trial", "wet"),
    [
        (FRAME, "backing-in/dry-fit/try", "whole/coat-1/coat"),
        (FRAME, "backing-in/dry-fit/try", "frame/glue/glue"),
        (STOOL, "seat-in-place/dry-fit/try", "spine-in-place/glue/glue"),
    ],
)
def test_the_checker_sees_wet_wood_without_any_reason_of_the_order(job: tuple[str, str, int], trial: str, wet: str) -> None:
    class_, planned = the_class(*job), class_planned(*job)
    made = _bare(class_.plan, trial)
    steps = {step.id: step for step in made.steps}
    assert not any(WET in fault for fault in _faults(class_, planned, made))
    said = [fault for fault in _faults(class_, _moved(planned, trial, wet), made) if WET in fault]
    assert any(
        fault.startswith(f"Seat 1: step {steps[trial].number}, ") and f"from step {steps[wet].number}, " in fault
        for fault in said
    )
    assert all(fault.startswith("Seat 1: ") for fault in said)


def test_what_nothing_orders_stays_where_the_plan_has_it_and_a_wait_holds_the_wood() -> None:
    trial, glue, cure = "seat-in-place/dry-fit/try", "spine-in-place/glue/glue", "spine-in-place/cure/wait"
    made = _bare(plan("step-stool", "well-equipped"), trial)
    assert befores(made)[glue][trial] == 0
    order = [step.id for step in made.steps]
    own, wait = made.steps[order.index(trial)], made.steps[order.index(cure)]
    rest = [step for step in made.steps if step.id != trial]
    at = [step.id for step in rest].index(cure) + 1
    late = replace(made, steps=(*rest[:at], own, *rest[at:]))
    assert befores(late)[trial][glue] == ceil(wait.minutes)
    assert trial not in befores(late)[glue]


def test_what_is_done_while_the_glue_is_wet_waits_for_nothing() -> None:
    """Wedges are driven into a joint while its glue is wet, and rags are put away while the coat dries."""
    made = plan("tests/assemblies/wedged-stool.yaml", "full")
    wedges = [step for step in made.steps if any(task.kind == "wedge" for task in made.tasks if task.id in step.tasks)]
    assert wedges
    for step in wedges:
        glued = {name: wait for name, wait in befores(made)[step.id].items() if name == f"{step.id.split('/')[0]}/glue/glue"}
        assert glued
        assert set(glued.values()) == {0}
    stool = befores(plan("step-stool", "well-equipped"))
    assert stool["whole/coat-1/put-away"]["whole/coat-1/coat"] == 0
    assert stool["whole/coat-2/coat"]["whole/coat-1/coat"] == 720
