"""The checker on stations, machines and what stays taken: nothing used that is not there, and nothing for less than its time."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from sequencer.classroom.checking import class_plan_faults
from sequencer.classroom.course import Class
from sequencer.model.class_plan import ClassPlan, Span, Taken
from tests.classroom.classes import class_planned, the_class


@pytest.fixture
def good() -> tuple[Class, ClassPlan]:
    """A plan with nothing wrong with it."""
    job = "herb-caddy", "well-equipped", 4
    return the_class(*job), class_planned(*job)


def _faults(class_: Class, planned: ClassPlan) -> list[str]:
    return class_plan_faults(planned, class_.plan, class_.job, class_.workshop, class_.knowledge)


def test_a_station_that_is_out_of_service_is_noticed(good: tuple[Class, ClassPlan]) -> None:
    class_, planned = good
    drill = replace(class_.workshop.stations["pillar-drill"], out_of_service="belt torn")
    workshop = replace(class_.workshop, stations={**class_.workshop.stations, "pillar-drill": drill})
    assert any("and it is out of service" in fault for fault in _faults(replace(class_, workshop=workshop), planned))


@pytest.mark.parametrize("kind", ["set-up", "work"])
def test_a_job_at_a_step_that_there_is_not_is_named_and_so_is_one_that_takes_no_time(
    good: tuple[Class, ClassPlan], kind: str
) -> None:
    class_, planned = good
    job = next(job for job in planned.staff_jobs if job.kind == kind)
    others = tuple(each for each in planned.staff_jobs if each is not job)
    nowhere = _faults(class_, replace(planned, staff_jobs=(*others, replace(job, step="elsewhere"))))
    assert "Staff do elsewhere, which is no step of the plan." in nowhere
    assert any(fault.startswith(f"Nobody does step {job.number}") for fault in nowhere)
    never = _faults(class_, replace(planned, staff_jobs=(*others, replace(job, spans=(), in_lesson=True))))
    assert f"Staff's step {job.number} takes no time." in never


def _taken(planned: ClassPlan, thing: str, change: Callable[[Taken], Taken]) -> ClassPlan:
    """With every such thing taken otherwise."""
    return replace(planned, taken=tuple(change(each) if thing in each.thing else each for each in planned.taken))


def _at_last(each: Taken) -> Taken:
    """Only from the last minute of the stint on."""
    return replace(each, span=replace(each.span, start=each.span.stop - 1))


def _in_the_first_lesson(each: Taken) -> Taken:
    return replace(each, span=Span(1, 0, 1))


def _in_no_lesson(each: Taken) -> Taken:
    return replace(each, span=Span(999, 0, 1))


@pytest.mark.parametrize("change", [_at_last, _in_the_first_lesson, _in_no_lesson])
@pytest.mark.parametrize("thing", ["cramp", "drying-place"])
def test_what_is_taken_at_another_time_than_it_is_needed_is_noticed(
    good: tuple[Class, ClassPlan], thing: str, change: Callable[[Taken], Taken]
) -> None:
    """However late it is given back."""
    class_, planned = good
    until = f"{planned.lessons[-1].day} 23:59"
    damaged = _taken(planned, thing, lambda each: replace(change(each), until=until))
    words = "has no cramps for the whole of its time" if thing == "cramp" else "has no drying place for the whole of its time"
    assert any(words in fault for fault in _faults(class_, damaged))


def test_less_than_nothing_cannot_be_taken(good: tuple[Class, ClassPlan]) -> None:
    """Else it would hide that too much is taken."""
    class_, planned = good
    cramps = next(each for each in planned.taken if "cramp" in each.thing)
    damaged = replace(planned, taken=(*planned.taken, replace(cramps, count=104), replace(cramps, count=-104)))
    assert f"-104 of {cramps.thing} are said to be taken at {cramps.step}." in _faults(class_, damaged)
