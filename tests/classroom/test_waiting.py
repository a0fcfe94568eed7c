"""What whoever waits is given: the job's own tasks that can be done then, else seated work; what the checker finds in others."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.classroom.checking import class_plan_faults
from sequencer.classroom.course import Class
from sequencer.classroom.lessons import make_class_plan
from sequencer.model.class_plan import ClassPlan, Idle, Span, StaffJob
from sequencer.model.plan import WaitingTask
from tests.classroom.classes import the_class

SEATED = "Draw a plan of the room."


@pytest.fixture(scope="module")
def frames() -> tuple[Class, ClassPlan]:
    """A class with two places for finishing: long waits and all kinds of tasks."""
    class_ = the_class()
    stations = class_.workshop.stations
    name = next(name for name, station in stations.items() if station.kind == "finishing")
    few = replace(class_.workshop, stations={**stations, name: replace(stations[name], count=2)})
    class_ = replace(class_, workshop=few)
    return class_, make_class_plan(class_, effort=0.07, solve=False)


def _faults(class_: Class, planned: ClassPlan) -> str:
    return " ".join(class_plan_faults(planned, class_.plan, class_.job, class_.workshop, class_.knowledge))


def _with(class_: Class, *tasks: WaitingTask) -> Class:
    """The class with other tasks for whoever waits, and one for pencil and paper."""
    return replace(class_, plan=replace(class_.plan, waiting=(*tasks, WaitingTask(SEATED, own=False))))


def _planned(class_: Class) -> ClassPlan:
    return make_class_plan(class_, effort=0.02, solve=False)


def _first(planned: ClassPlan, *, at: int = 0, does: str) -> ClassPlan:
    """The plan with another task for one who waits."""
    return replace(planned, idle=(*planned.idle[:at], replace(planned.idle[at], does=does), *planned.idle[at + 1 :]))


def _own(class_: Class, words: str) -> WaitingTask:
    return next(task for task in class_.plan.waiting if words in task.does)


def test_every_task_is_given_that_can_be_done_and_the_job_s_own_come_first(frames: tuple[Class, ClassPlan]) -> None:
    class_, planned = frames
    given = [idle.does for idle in planned.idle]
    own = [task.does for task in class_.plan.waiting if task.own]
    assert len(own) == 3
    assert all(each in given for each in own)
    first = {idle.seat: idle.does for idle in reversed(planned.idle)}
    assert all(does in own for does in first.values())
    assert not {"no-waiting-work", "waiting-work-not-given"} & {finding.code for finding in planned.findings}


def test_a_task_on_the_work_waits_until_it_is_glued_and_dry(frames: tuple[Class, ClassPlan]) -> None:
    class_, planned = frames
    task = _own(class_, "Measure the opening")
    glue = "frame/glue/glue"
    assert glue in task.after
    assert "has not done step" in _faults(class_, _first(planned, does=task.does))
    of_glue = [stint for stint in planned.stints if stint.step == glue and stint.kind == "step"]
    glued = {stint.seats[0]: stint.spans[-1].session for stint in of_glue}
    assert all(glued[idle.seat] < idle.span.session for idle in planned.idle if idle.does == task.does)
    wet = next(stint for stint in of_glue if stint.spans[-1].stop < planned.lessons[0].minutes)
    stop = wet.spans[-1].stop
    measuring = Idle(wet.seats[0], Span(glued[wet.seats[0]], stop, stop + 1), "Measure the opening.")
    others = tuple(
        stint for stint in planned.stints if stint.seats != wet.seats or stint.spans[0].session != measuring.span.session
    )
    at_once = replace(planned, stints=(*others, wet), idle=(measuring,))
    alone = replace(class_, plan=replace(class_.plan, waiting=(WaitingTask("Measure the opening.", after=(glue,)),)))
    assert "has work that is not dry" in _faults(alone, at_once)


def test_seated_work_is_there_for_a_job_without_tasks_and_changes(frames: tuple[Class, ClassPlan]) -> None:
    class_, _ = frames
    listed = tuple(task for task in class_.plan.waiting if not task.own)
    bare = replace(class_, plan=replace(class_.plan, waiting=listed))
    planned = _planned(bare)
    assert planned.idle
    assert all(idle.does in {task.does for task in listed} for idle in planned.idle)
    seat = max(planned.seats, key=lambda seat: sum(idle.seat == seat for idle in planned.idle))
    does = [idle.does for idle in planned.idle if idle.seat == seat]
    assert len(set(does)) > len(does) // 2


def test_at_a_bench_there_is_a_place_for_whoever_waits(frames: tuple[Class, ClassPlan]) -> None:
    class_, _ = frames
    task = WaitingTask("Sand an offcut.", stations=("abrasive",))
    name = next(name for name, station in class_.workshop.stations.items() if station.kind == "abrasive")
    many = _planned(_with(class_, task))
    small = replace(class_.workshop.stations[name], count=2)
    few = replace(_with(class_, task), workshop=replace(class_.workshop, stations={**class_.workshop.stations, name: small}))
    planned = _planned(few)
    assert sum(idle.does == task.does for idle in many.idle) > sum(idle.does == task.does for idle in planned.idle) > 0
    shown = dict.fromkeys(planned.seats, (99, 0))
    for stint in planned.stints:
        if stint.kind == "demonstration" and stint.place == name:
            shown |= dict.fromkeys(stint.seats, (stint.spans[-1].session, stint.spans[-1].stop))
    assert all(shown[idle.seat] <= (idle.span.session, idle.span.start) for idle in planned.idle if idle.does == task.does)
    all_at_it = replace(planned, idle=tuple(replace(idle, does=task.does) for idle in planned.idle))
    assert "places are taken" in _faults(few, all_at_it)


@pytest.mark.parametrize(
    ("kind", "words"),
    [("hand-sawing", "where an adult in the room is not enough"), ("saw-bench", "which is no bench")],
)
def test_nobody_waits_at_a_machine_or_where_somebody_must_watch(frames: tuple[Class, ClassPlan], kind: str, words: str) -> None:
    class_ = _with(frames[0], WaitingTask("Saw an offcut.", stations=(kind,)))
    planned = _planned(class_)
    assert {idle.does for idle in planned.idle} == {SEATED}
    assert [finding.subject for finding in planned.findings if finding.code == "waiting-work-not-given"] == ["extension"]
    assert words in _faults(class_, _first(planned, does="Saw an offcut."))


def test_a_task_that_cannot_be_done_then_is_noticed(frames: tuple[Class, ClassPlan]) -> None:
    class_, planned = frames
    last = len(planned.idle) - 1
    assert "which is no task of the plan" in _faults(class_, _first(planned, does="Rest."))
    sanding = _with(class_, WaitingTask("Sand an offcut.", stations=("abrasive",)))
    unshown = tuple(stint for stint in planned.stints if stint.kind != "demonstration")
    sent = replace(_first(planned, does="Sand an offcut."), stints=unshown)
    assert "before it has been shown" in _faults(sanding, sent)
    assert "only comes when all is made" in _faults(class_, _first(planned, does=_own(class_, "Sand an offcut").does))
    done = next(at for at, idle in enumerate(planned.idle) if idle.does == _own(class_, "Sand an offcut").does)
    assert "told what only comes before" in _faults(class_, _first(planned, at=done, does=_own(class_, "your next step").does))
    undone = replace(planned, stints=tuple(stint for stint in planned.stints if stint.kind != "step"))
    assert "has no step done yet" in _faults(class_, _first(undone, does=_own(class_, "went well").does))
    stint = next(each for each in planned.stints if each.kind == "step")
    busy = Idle(stint.seats[0], stint.spans[0], planned.idle[last].does)
    assert "has a step or a demonstration too" in _faults(class_, replace(planned, idle=(*planned.idle, busy)))


def test_whoever_waits_at_a_bench_has_an_adult_in_the_room_and_makes_no_dust_on_wet_finish(
    frames: tuple[Class, ClassPlan],
) -> None:
    class_, planned = frames
    idle = next(idle for idle in planned.idle if idle.does == _own(class_, "Sand an offcut").does)
    held = tuple(
        StaffJob("set-up", class_.plan.steps[0].id, 1, "set", "band-saw", role, (idle.span,), in_lesson=True)
        for role in planned.adults
    )
    assert "every adult is wholly held" in _faults(class_, replace(planned, staff_jobs=(*planned.staff_jobs, *held)))
    coat = next(stint for stint in planned.stints if "coat" in stint.step and stint.kind == "step")
    moved = replace(coat, spans=(idle.span,))
    others = tuple(stint for stint in planned.stints if stint is not coat)
    assert "makes dust" in _faults(class_, replace(planned, stints=(*others, moved)))
