"""The checker on what the sheets of a class print: whatever a plan says that is not so is named."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from sequencer.classroom.checking import class_plan_faults
from sequencer.classroom.course import Class
from sequencer.findings import Finding
from sequencer.model.class_plan import Bottleneck, ChainLink, ClassPlan, Remedy, Session, StaffJob, Stint
from tests.classroom.classes import class_planned, the_class


@pytest.fixture
def good() -> tuple[Class, ClassPlan]:
    """A plan with nothing wrong with it."""
    job = "herb-caddy", "well-equipped", 4
    return the_class(*job), class_planned(*job)


def _stint(kind: str, change: Callable[[Stint], Stint]) -> Callable[[ClassPlan], ClassPlan]:
    """The first stint of a kind changed."""

    def damage(plan: ClassPlan) -> ClassPlan:
        first = next(stint for stint in plan.stints if stint.kind == kind)
        return replace(plan, stints=tuple(change(each) if each is first else each for each in plan.stints))

    return damage


def _job(kind: str, change: Callable[[StaffJob], StaffJob]) -> Callable[[ClassPlan], ClassPlan]:
    """The jobs of a kind changed."""
    return lambda plan: replace(plan, staff_jobs=tuple(change(each) if each.kind == kind else each for each in plan.staff_jobs))


def _on_a_lesson(plan: ClassPlan) -> ClassPlan:
    """Staff's last own time while the class settles in."""
    last, lesson = plan.staff_sessions[-1], plan.lessons[-1]
    moved = replace(last, starts=lesson.starts - last.minutes, day=lesson.day)
    return replace(plan, staff_sessions=(*plan.staff_sessions[:-1], moved))


def _before(plan: ClassPlan, change: Callable[[Session], Session]) -> ClassPlan:
    return replace(plan, staff_sessions=tuple(change(each) for each in plan.staff_sessions))


DAMAGE: dict[str, tuple[Callable[[ClassPlan], ClassPlan], str]] = {
    "another number": (_stint("step", lambda each: replace(each, number=99)), "and it is called 99"),
    "another title": (_stint("step", lambda each: replace(each, title="Sing")), "and it is called"),
    "another station shown": (_stint("demonstration", lambda each: replace(each, title="choir")), "and it is called"),
    "a part of more": (_stint("step", lambda each: replace(each, piece=7, of=9)), "and part 7 of 9 is said"),
    "a job's number": (_job("set-up", lambda each: replace(each, number=88)), "and it is called 88"),
    "a job's title": (_job("work", lambda each: replace(each, title="Sing")), "and it is called"),
    "for one only": (_job("work", lambda each: replace(each, pieces=1)), "for 4, and 1 is said"),
    "another job": (lambda plan: replace(plan, job="Other"), "says under job: Other"),
    "another plan": (lambda plan: replace(plan, plan="zzzz"), "says under fingerprint of the job: zzzz"),
    "another lesson": (lambda plan: replace(plan, lesson=90.0), "says under lesson: 90.0"),
    "no settling in": (lambda plan: replace(plan, settling_in=0.0), "says under settling in: 0.0"),
    "no clearing up": (lambda plan: replace(plan, clearing_up=0.0), "says under clearing up: 0.0"),
    "in pairs": (lambda plan: replace(plan, pairs=True), "says under pairs: True"),
    "gluing together": (lambda plan: replace(plan, all_ready=("gluing",)), "says under stations for all together"),
    "adults twice": (lambda plan: replace(plan, adults=plan.adults * 2), "says under adults"),
    "staff's time": (
        lambda plan: replace(plan, staff_time_stated=not plan.staff_time_stated),
        "says under time of staff's own",
    ),
    "before another lesson": (lambda plan: _before(plan, lambda each: replace(each, before=9)), "and lesson 9 is said"),
    "a lesson as staff's": (
        lambda plan: replace(plan, lessons=tuple(replace(each, before=1) for each in plan.lessons)),
        "Lesson 1 is said to be staff's own time",
    ),
    "staff's time on a lesson": (_on_a_lesson, "lies on lesson"),
    "free in another lesson": (
        lambda plan: replace(plan, taken=tuple(replace(each, until_lesson=1) for each in plan.taken)),
        "and lesson 1 is said",
    ),
    "free at no time": (lambda plan: replace(plan, taken=tuple(replace(each, until="x") for each in plan.taken)), "until when"),
    "done too soon": (lambda plan: replace(plan, done=(1,) * len(plan.done)), "in which the seats get done"),
    "a bottleneck of too many lessons": (
        lambda plan: replace(plan, bottlenecks=(Bottleneck("lathe", 99, 1.0, 1, ""),)),
        "The lathe is said to ask for 99 lessons",
    ),
    "more wait than there are": (
        lambda plan: replace(plan, bottlenecks=(Bottleneck("lathe", 1, 1.0, 30, ""),)),
        "30 are said to wait",
    ),
    "a chain through no lesson": (lambda plan: replace(plan, chain=(ChainLink("", 99),)), "pass through lesson 99"),
    "a remedy that saves nothing": (
        lambda plan: replace(plan, remedies=(Remedy("more lathes", 1, len(plan.lessons), 3),)),
        "'more lathes' is said to save 3 lessons",
    ),
}


@pytest.mark.parametrize("name", DAMAGE)
def test_what_a_plan_says_and_is_not_so_is_named(good: tuple[Class, ClassPlan], name: str) -> None:
    class_, planned = good
    damage, words = DAMAGE[name]

    def faults(plan: ClassPlan) -> list[str]:
        return class_plan_faults(plan, class_.plan, class_.job, class_.workshop, class_.knowledge)

    assert not faults(planned)
    found = faults(damage(planned))
    assert any(words in fault for fault in found), found[:10]


def test_a_plan_cannot_spare_itself_the_look_at_waiting(good: tuple[Class, ClassPlan]) -> None:
    """A warning that there is no task for whoever waits does not do away with the stretches that it is about."""
    class_, planned = good
    warning = Finding("warning", "no-waiting-work", "the class", "Students wait.", "", "")
    silent = replace(planned, idle=(), findings=(*planned.findings, warning))
    found = class_plan_faults(silent, class_.plan, class_.job, class_.workshop, class_.knowledge)
    assert any("has nothing to do for" in fault for fault in found)
