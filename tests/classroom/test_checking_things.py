"""The checker on stations, machines and what stays taken: nothing used that is not there, and nothing for less than its time."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.classroom.checking import class_plan_faults
from sequencer.classroom.course import Class
from sequencer.model.class_plan import ClassPlan
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
