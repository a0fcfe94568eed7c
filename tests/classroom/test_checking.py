"""The checker of class plans: random classes come out clean, and every fault put into a good plan is noticed and named."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import timedelta

import pytest

from sequencer.classroom.checking import class_plan_faults, looked_at
from sequencer.classroom.course import Class
from sequencer.classroom.lessons import make_class_plan
from sequencer.findings import Finding, Refused
from sequencer.model.class_plan import ClassPlan, Span, StaffJob, Stint, Taken
from sequencer.model.workshop import Workshop
from tests.classroom.classes import class_planned, the_class
from tests.classroom.random_classes import random_class
from tests.made import ROOT

MANY, AT_A_TIME = 200, 10
STAND_IN_THE_WAY = {"too-few-cramps", "longer-than-a-lesson", "nobody-authorised", "nobody-to-watch", "staff-alone"}

SEARCH = (
    "cannot_hold",
    "class_work",
    "course",
    "duties",
    "first_use",
    "gaps",
    "gathered",
    "helping",
    "holding_up",
    "hopeless",
    "precedence",
    "sessions",
    "shown",
    "staff_work",
    "student_steps",
    "telling",
    "things",
)


def _planned(class_: Class) -> tuple[ClassPlan | None, Sequence[Finding]]:
    """A class's plan, or what stands in its way."""
    try:
        return make_class_plan(class_, effort=0.003, solve=False), ()
    except Refused as refused:
        return None, refused.findings


def _faults(class_: Class, planned: ClassPlan, workshop: Workshop | None = None) -> list[str]:
    return class_plan_faults(planned, class_.plan, class_.job, workshop or class_.workshop, class_.knowledge)


@pytest.mark.parametrize("first", range(0, MANY, AT_A_TIME))
def test_plans_of_random_classes_come_out_clean(first: int) -> None:
    planned = 0
    for seed in range(first, first + AT_A_TIME):
        class_ = random_class(seed)
        plan, against = _planned(class_)
        assert {each.code for each in against} <= STAND_IN_THE_WAY, (seed, against)
        if plan is None:
            continue
        planned += 1
        assert not _faults(class_, plan), seed
        assert plan.checked == looked_at()
    assert planned >= AT_A_TIME // 3


def test_the_checker_knows_nothing_of_how_a_plan_is_found() -> None:
    folder = ROOT / "sequencer" / "classroom"
    own = [*folder.glob("checking*.py"), folder / "as_written.py"]
    assert len(own) > 3
    for file in own:
        text = file.read_text(encoding="utf-8")
        for other in ("scheduling", *(f"classroom.{name}" for name in SEARCH)):
            assert f"sequencer.{other}" not in text


JOB = "herb-caddy", "well-equipped", 4


@pytest.fixture
def good() -> tuple[Class, ClassPlan]:
    """A plan with machines, staff's work, sign-offs, cramps and drying places, and nothing wrong with it."""
    class_, planned = the_class(*JOB), class_planned(*JOB)
    assert not _faults(class_, planned)
    return class_, planned


def _changed(planned: ClassPlan, which: Callable[[Stint], bool], change: Callable[[Stint], Stint]) -> ClassPlan:
    """With the first stint that is such changed."""
    at = next(number for number, stint in enumerate(planned.stints) if which(stint))
    return replace(planned, stints=(*planned.stints[:at], change(planned.stints[at]), *planned.stints[at + 1 :]))


def _job_changed(planned: ClassPlan, which: Callable[[StaffJob], bool], change: Callable[[StaffJob], StaffJob]) -> ClassPlan:
    at = next(number for number, job in enumerate(planned.staff_jobs) if which(job))
    jobs = (*planned.staff_jobs[:at], change(planned.staff_jobs[at]), *planned.staff_jobs[at + 1 :])
    return replace(planned, staff_jobs=jobs)


def _named(faults: list[str], words: str) -> bool:
    return any(words in fault for fault in faults)


def _is(kind: str, place: str = "") -> Callable[[Stint], bool]:
    return lambda stint: stint.kind == kind and place in stint.place


def _late(stint: Stint) -> Stint:
    """One minute over the end of its lesson."""
    last = stint.spans[-1]
    return replace(stint, spans=(*stint.spans[:-1], Span(last.session, 41 - (last.stop - last.start), 41)))


def _of(minutes: int) -> Callable[[Stint], Stint]:
    """Over after so many minutes."""
    return lambda stint: replace(stint, spans=(replace(stint.spans[0], stop=stint.spans[0].start + minutes),))


def _of_one_minute(job: StaffJob) -> StaffJob:
    return replace(job, spans=(replace(job.spans[0], stop=job.spans[0].start + 1),))


def _last_lesson_on_another_day(plan: ClassPlan) -> ClassPlan:
    last = replace(plan.lessons[-1], starts=plan.lessons[-1].starts + 1440)
    return replace(plan, lessons=(*plan.lessons[:-1], last))


def _first_minutes(stint: Stint) -> Stint:
    """At the very start of all lessons."""
    long = sum(span.stop - span.start for span in stint.spans)
    return replace(stint, spans=(Span(1, 0, min(long, 40)),))


def _cut(stint: Stint) -> Stint:
    """Half of it now, half in the next lesson."""
    (span,) = stint.spans
    half = (span.start + span.stop) // 2
    return replace(stint, spans=(Span(span.session, span.start, half), Span(span.session + 1, 0, span.stop - half)))


DAMAGE: dict[str, tuple[Callable[[ClassPlan], ClassPlan], str]] = {
    "a step left out": (
        lambda plan: replace(plan, stints=tuple(each for each in plan.stints if each.number != 19 or each.seats != ("2",))),
        "Seat 2 has 0 minutes for step 19",
    ),
    "a step too short": (lambda plan: _changed(plan, _is("step", "marking-out"), _of(2)), "and needs"),
    "a step over the end of a lesson": (
        lambda plan: _changed(plan, _is("step", "gluing"), _late),
        "goes over the end of session",
    ),
    "glue left half done": (lambda plan: _changed(plan, _is("step", "gluing"), _cut), "half done"),
    "machine work left half done": (lambda plan: _changed(plan, _is("step", "scroll-saw"), _cut), "half done"),
    "glue first of all": (lambda plan: _changed(plan, _is("step", "gluing"), _first_minutes), "starts before step"),
    "a coat before the glue has set": (
        lambda plan: replace(
            plan, lessons=tuple(replace(each, starts=each.number * 70 - 60, day=None, clock="") for each in plan.lessons)
        ),
        "minutes have gone by",
    ),
    "a seat in two places": (
        lambda plan: replace(plan, stints=(*plan.stints, next(each for each in plan.stints if each.kind == "step"))),
        "is in two places in lesson",
    ),
    "the wrong station": (
        lambda plan: _changed(plan, _is("step", "scroll-saw"), lambda each: replace(each, place="lathe 1")),
        "and it is done at scroll-saw",
    ),
    "a machine that is not there": (
        lambda plan: _changed(plan, _is("step", "scroll-saw"), lambda each: replace(each, place="scroll-saw 9")),
        "There is no scroll-saw 9",
    ),
    "nobody beside": (
        lambda plan: _changed(plan, _is("step", "pillar-drill"), lambda each: replace(each, adult="", attention=0.0)),
        "has no adult to watch",
    ),
    "half an adult beside": (
        lambda plan: _changed(plan, _is("step", "pillar-drill"), lambda each: replace(each, attention=0.5)),
        "has 0.5 of an adult and needs 1.000",
    ),
    "half of the watching that a glue-up takes": (
        lambda plan: _changed(plan, _is("step", "gluing"), lambda each: replace(each, attention=0.06)),
        "has 0.06 of an adult and needs 0.125",
    ),
    "as many at chisels as at other benches": (
        lambda plan: _changed(plan, _is("step", "chiselling"), lambda each: replace(each, attention=0.05)),
        "has 0.05 of an adult and needs 0.083",
    ),
    "an adult nobody knows": (
        lambda plan: _changed(plan, _is("step", "pillar-drill"), lambda each: replace(each, adult="Caretaker")),
        "there is no adult called Caretaker",
    ),
    "an adult who is not authorised": (
        lambda plan: _changed(plan, _is("step", "scroll-saw"), lambda each: replace(each, adult="Technician")),
        "the technician is not authorised for the scroll saw",
    ),
    "the machine not set": (
        lambda plan: replace(plan, staff_jobs=tuple(each for each in plan.staff_jobs if "pillar-drill" not in each.place)),
        "is not set for it",
    ),
    "the machine set by nobody": (
        lambda plan: _job_changed(plan, lambda job: job.kind == "set-up", lambda job: replace(job, adult="")),
        "there is no adult called nothing",
    ),
    "the machine set too late": (
        lambda plan: _job_changed(
            plan,
            lambda job: job.kind == "set-up" and "scroll-saw" in job.place,
            lambda job: replace(job, in_lesson=True, spans=(Span(len(plan.lessons), 0, 2),)),
        ),
        "is not set for it",
    ),
    "staff at work with the class there": (
        lambda plan: _job_changed(
            plan,
            lambda job: job.kind == "work",
            lambda job: replace(job, in_lesson=True, spans=(Span(1, 0, 38),)),
        ),
        "with the class there",
    ),
    "staff's work too short": (
        lambda plan: _job_changed(plan, lambda job: job.kind == "work", _of_one_minute),
        "Staff have 1 minutes",
    ),
    "staff's work left out": (lambda plan: replace(plan, staff_jobs=plan.staff_jobs[1:]), "Nobody does step"),
    "not shown": (
        lambda plan: replace(plan, stints=tuple(each for each in plan.stints if each.kind != "demonstration")),
        "before it has been shown",
    ),
    "shown too late": (
        lambda plan: _changed(plan, _is("demonstration"), lambda each: replace(each, spans=(Span(len(plan.lessons), 0, 8),))),
        "before it has been shown",
    ),
    "shown too shortly": (lambda plan: _changed(plan, _is("demonstration"), _of(3)), "is shown in 3 minutes"),
    "not signed off": (
        lambda plan: replace(plan, stints=tuple(each for each in plan.stints if each.kind != "sign-off")),
        "before being signed off",
    ),
    "cramps forgotten": (
        lambda plan: replace(plan, taken=tuple(each for each in plan.taken if "cramp" not in each.thing)),
        "has 0 cramps and needs",
    ),
    "cramps too small": (
        lambda plan: replace(
            plan, taken=tuple(replace(each, thing=each.thing.replace("sash-cramp-600", "bench-cramp")) for each in plan.taken)
        ),
        "cramps and needs",
    ),
    "cramps off too soon": (
        lambda plan: replace(
            plan, taken=tuple(replace(each, until="2027-02-03 9:00") if "cramp" in each.thing else each for each in plan.taken)
        ),
        "has its cramps off too soon",
    ),
    "more cramps than there are": (
        lambda plan: replace(
            plan, taken=tuple(replace(each, count=30) if "cramp" in each.thing else each for each in plan.taken)
        ),
        "of sash-cramp-600 are taken",
    ),
    "no drying place": (
        lambda plan: replace(plan, taken=tuple(each for each in plan.taken if each.thing != "drying-place")),
        "no drying place for the whole of its time",
    ),
    "nothing to do": (lambda plan: replace(plan, idle=()), "has nothing to do for"),
    "a seat too few": (lambda plan: replace(plan, seats=plan.seats[:-1]), "The class has 4 seats"),
    "a lesson on another day": (_last_lesson_on_another_day, "is at a time at which the week has none"),
    "a least above the plan": (lambda plan: replace(plan, least=len(plan.lessons) + 1), "No plan is said to take fewer than"),
}


@pytest.mark.parametrize("name", DAMAGE)
def test_every_fault_put_into_a_good_plan_is_named(good: tuple[Class, ClassPlan], name: str) -> None:
    class_, planned = good
    damage, words = DAMAGE[name]
    faults = _faults(class_, damage(planned))
    assert _named(faults, words), faults[:10]


def _busiest(planned: ClassPlan, count: int, things: str) -> Workshop:
    workshop = the_class(*JOB).workshop
    if things in workshop.counted:
        return replace(workshop, counted={**workshop.counted, things: replace(workshop.counted[things], count=count)})
    return replace(workshop, stations={**workshop.stations, things: replace(workshop.stations[things], count=count)})


@pytest.mark.parametrize(
    ("things", "words"),
    [
        ("marking-out", "are at marking-out in lesson"),
        ("drying-place", "of drying-place are taken"),
        ("bench-hook", "of bench-hook are in use"),
    ],
)
def test_a_plan_for_more_than_there_is_is_noticed(good: tuple[Class, ClassPlan], things: str, words: str) -> None:
    class_, planned = good
    assert _named(_faults(class_, planned, _busiest(planned, 1, things)), words)


def test_a_plan_for_another_workshop_is_noticed(good: tuple[Class, ClassPlan]) -> None:
    class_, planned = good
    own = class_.workshop
    day = planned.lessons[2].day
    assert day is not None
    holiday = replace(own, time=replace(own.time, holidays=(*own.time.holidays, day)))
    assert _named(_faults(class_, planned, holiday), f"is on {day}, a holiday")
    later = replace(own, time=replace(own.time, first_date=day - timedelta(days=day.weekday())))
    assert _named(_faults(class_, planned, later), "is said to be on")
    away = {name: replace(each, away=(day,)) for name, each in own.stations.items()}
    assert _named(_faults(class_, planned, replace(own, stations=away)), f"is used on {day}, when it is away")
    alone = replace(own, adults=own.adults[:1])
    assert _named(_faults(class_, planned, alone), "is at a machine, and there is nobody else")
    out = replace(own, adults=(own.adults[0], replace(own.adults[1], in_lessons=False)))
    faults = _faults(class_, planned, out)
    assert _named(faults, "the technician is not there in lessons") or not any(
        each.adult == "Technician" for each in planned.stints
    )
    groups = replace(own, shown_in=1)
    assert _named(_faults(class_, planned, groups), "students are shown the")
    assert _named(_faults(class_, planned, replace(own, pairs=True)), "The class has 2 seats")


def test_the_class_comes_together_to_a_station_and_a_plan_in_which_it_does_not_is_noticed(good: tuple[Class, ClassPlan]) -> None:
    """Glue for all: nobody starts gluing before the last has tried it dry."""
    class_, planned = good
    together = replace(class_.workshop, all_ready=("gluing",))
    gluing = [step.id for step in class_.plan.steps if step.station_kind == "gluing" and step.kind == "work"]
    tried = [step.id for step in class_.plan.steps if step.title.startswith("Try it dry: box")]
    assert tried
    last = Span(len(planned.lessons), 0, 5)
    late = _changed(
        planned, lambda stint: (stint.kind, stint.step) == ("step", tried[-1]), lambda stint: replace(stint, spans=(last,))
    )
    assert _named(_faults(class_, late, together), "Someone starts at the gluing bench before seat")
    made = make_class_plan(replace(class_, workshop=together), effort=0.03, solve=False)
    assert _faults(class_, made, together) == []
    begun = {
        each: [
            (stint.spans[0].session, stint.spans[0].start) for stint in made.stints if (stint.kind, stint.step) == ("step", each)
        ]
        for each in (*gluing, *tried)
    }
    glued = min(begin for each in gluing for begin in begun[each])
    assert all(begin < glued for each in tried for begin in begun[each])


def test_a_class_with_nobody_left_to_watch_is_noticed(good: tuple[Class, ClassPlan]) -> None:
    class_, planned = good
    settings = [job for job in planned.staff_jobs if job.kind == "set-up" and job.step.startswith("end/")][:2]
    both = tuple(
        replace(job, in_lesson=True, spans=(Span(1, 0, 8),), adult=role)
        for job, role in zip(settings, ("Teacher", "Technician"), strict=True)
    )
    assert _named(
        _faults(class_, replace(planned, staff_jobs=(*planned.staff_jobs, *both))), "No adult is left to watch the class"
    )


def test_a_room_that_nobody_watches_is_noticed(good: tuple[Class, ClassPlan]) -> None:
    """While both adults sign off, a third student works; while only one does, the other sees to the room."""
    class_, planned = good
    at_work = next(each for each in planned.stints if each.kind == "step" and each.attention < 1)
    signing = next(each for each in planned.stints if each.kind == "sign-off")
    teachers, technicians = (replace(signing, adult=role, spans=at_work.spans) for role in ("Teacher", "Technician"))
    words = f"every adult is held, and seat {at_work.seats[0]} is at step {at_work.number}"
    others = tuple(each for each in planned.stints if each.attention < 1)
    assert not _named(_faults(class_, replace(planned, stints=(*others, teachers))), words)
    assert _named(_faults(class_, replace(planned, stints=(*others, teachers, technicians))), words)


def test_benches_that_nobody_is_left_to_watch_are_noticed(good: tuple[Class, ClassPlan]) -> None:
    """With every adult wholly held elsewhere, or one who may not watch benches, no bench that is watched has anybody."""
    class_, planned = good
    at = next(each for each in planned.stints if each.attention and not each.adult)
    held = tuple(
        StaffJob("set-up", class_.plan.steps[0].id, 1, "set", "band-saw", role, (at.spans[0],), in_lesson=True)
        for role in planned.adults
    )
    there = replace(planned, staff_jobs=(*planned.staff_jobs, *held))
    assert any("The benches want" in fault for fault in _faults(class_, there))
    nobody = tuple(replace(adult, authorised=("pillar-drill", "scroll-saw")) for adult in class_.workshop.adults)
    without = replace(class_, workshop=replace(class_.workshop, adults=nobody))
    assert any("has no adult to watch" in fault for fault in _faults(without, planned))
    one = tuple(replace(adult, in_lessons=not number) for number, adult in enumerate(class_.workshop.adults))
    alone = replace(class_, workshop=replace(class_.workshop, adults=one))
    assert any("The benches want" in fault for fault in _faults(alone, planned))


def test_only_who_teaches_and_is_authorised_shows_watches_and_signs_off(good: tuple[Class, ClassPlan]) -> None:
    class_, planned = good
    teacher, technician = class_.workshop.adults
    assert (teacher.teaches, technician.teaches) == (True, False)

    def by(kind: str, place: str) -> list[str]:
        """The faults if the technician does it."""
        return _faults(class_, _changed(planned, _is(kind, place), lambda each: replace(each, adult="Technician")))

    assert _named(by("demonstration", "chiselling"), "the technician shows the chisels and router plane or signs off at it")
    assert _named(by("sign-off", "pillar-drill"), "the technician shows the pillar drill or signs off at it")
    assert not _named(by("step", "chiselling"), "not authorised")
    machines = tuple(name for name in technician.authorised if name != "benches")
    without = replace(class_.workshop, adults=(teacher, replace(technician, authorised=machines)))
    watching = _changed(planned, _is("step", "chiselling"), lambda each: replace(each, adult="Technician"))
    assert _named(_faults(class_, watching, without), "the technician is not authorised for the chisels and router plane")


def test_cramps_and_drying_places_that_staff_take_for_all_are_looked_at() -> None:
    class_ = the_class("picture-frame", "well-equipped", 4)
    glued = [step.id for step in class_.plan.steps if step.station_kind == "gluing" and step.kind == "work"]
    steps = tuple(
        replace(step, who=replace(step.who, operator="staff")) if step.id in glued else step for step in class_.plan.steps
    )
    staffs = replace(class_, plan=replace(class_.plan, steps=steps))
    planned = make_class_plan(staffs, effort=0.02, solve=False)
    assert not _faults(staffs, planned)
    own = [each for each in planned.taken if not each.seat and each.step in glued]
    assert {"drying-place"} < {each.thing for each in own}

    def damaged(change: Callable[[Taken], Taken]) -> list[str]:
        return _faults(staffs, replace(planned, taken=tuple(change(each) if each in own else each for each in planned.taken)))

    for what in ("cramps", "drying places"):
        fewer = damaged(lambda each: replace(each, count=each.count - 1))
        assert _named(fewer, f"{what} for the whole of the time and need"), fewer
        sooner = damaged(lambda each: replace(each, until="2027-02-01 15:31"))
        assert _named(sooner, f"have 0 {what} for the whole of the time"), sooner


def test_guards_that_are_not_back_are_noticed(good: tuple[Class, ClassPlan]) -> None:
    class_, planned = good
    drill = next(step for step in class_.plan.steps if step.station == "pillar-drill" and step.kind == "work")
    staffs = replace(drill, id="staffs", who=replace(drill.who, operator="staff"), tasks=())
    back = replace(staffs, id="staffs/guards-back", kind="guards-back")
    plan = replace(class_.plan, steps=(*class_.plan.steps, staffs, back))
    first = next(stint for stint in planned.stints if stint.step == drill.id)
    set_up = next(job for job in planned.staff_jobs if job.place == first.place)
    over = set_up.spans[-1].stop
    job = replace(set_up, kind="work", step="staffs", spans=(Span(set_up.spans[0].session, over, over + 32),))
    faults = _faults(replace(class_, plan=plan), replace(planned, staff_jobs=(*planned.staff_jobs, job)))
    assert _named(faults, f"the guards of the {first.place} are not put back")
