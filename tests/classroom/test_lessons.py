"""Plans of lessons: what every one must keep, and what stands in the way of one."""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import replace
from itertools import pairwise
from math import ceil

import pytest

from sequencer.class_plan_file import class_plan_json, read_class_plan
from sequencer.classroom.course import Class, bounds_of
from sequencer.classroom.duties import Course
from sequencer.classroom.gaps import to_fill
from sequencer.classroom.hopeless import hopeless
from sequencer.classroom.lessons import make_class_plan
from sequencer.classroom.mixed import APART, cautions
from sequencer.classroom.things import Things
from sequencer.findings import Finding, Refused
from sequencer.model.class_plan import ClassPlan, Span
from sequencer.model.plan import Setting, Step
from sequencer.talk_lessons import class_plan_text
from tests.classroom.classes import class_planned, the_class

EXAMPLES = [("picture-frame", "well-equipped"), ("herb-caddy", "well-equipped"), ("nest-box", "hand-tools")]


@pytest.fixture(params=EXAMPLES, ids=lambda pair: "-".join(pair))
def made(request: pytest.FixtureRequest) -> tuple[Class, ClassPlan]:
    """A class and its plan of lessons."""
    return the_class(*request.param), class_planned(*request.param)


def test_every_student_does_every_step_of_a_student_whole(made: tuple[Class, ClassPlan]) -> None:
    class_, planned = made
    minutes: dict[tuple[str, str], int] = defaultdict(int)
    for stint in planned.stints:
        if stint.kind == "step":
            minutes[stint.seats[0], stint.step] += sum(span.stop - span.start for span in stint.spans)
    for step in class_.plan.steps:
        if step.kind == "work" and step.who.operator == "student":
            for seat in planned.seats:
                assert minutes[seat, step.id] >= ceil(step.minutes)
    assert all(step.card == "student" for step in class_.plan.steps if ("1", step.id) in minutes)


@pytest.mark.parametrize(("students", "sizes"), [(12, {12}), (14, {7}), (28, {9, 10})])
def test_groups_that_are_shown_a_station_are_few_and_alike(students: int, sizes: set[int]) -> None:
    """No more than twelve see it at once, and nobody is left over to see it almost alone."""
    class_ = the_class(students=students)
    assert class_.knowledge.working.shown_in == 12
    shown = [duty.seats for duty in class_.work(Course(4)).duties if duty.kind == "demonstration"]
    assert {len(seats) for seats in shown} == sizes


def test_whatever_is_done_in_lessons_begins_and_ends_at_whole_slots(made: tuple[Class, ClassPlan]) -> None:
    class_, planned = made
    slot = class_.knowledge.working.slot
    spans = [span for stint in planned.stints for span in stint.spans]
    assert slot > 1
    assert all(span.start % slot == 0 for span in spans)
    assert all(span.stop % slot == 0 or span.stop == planned.lessons[span.session - 1].minutes for span in spans)


def test_nobody_is_in_two_places_and_nothing_goes_over_a_lesson(made: tuple[Class, ClassPlan]) -> None:
    _, planned = made
    usable = {session.number: session.minutes for session in planned.lessons}
    for seat in planned.seats:
        taken = sorted(
            (span.session, span.start, span.stop) for stint in planned.stints if seat in stint.seats for span in stint.spans
        )
        assert all(0 <= start < stop <= usable[lesson] for lesson, start, stop in taken)
        for (lesson, _, stop), (following, start, _) in pairwise(taken):
            assert (lesson, stop) <= (following, start)


def test_a_station_is_shown_before_it_is_used(made: tuple[Class, ClassPlan]) -> None:
    class_, planned = made
    gates = {step.id: step.who.gate for step in class_.plan.steps}
    kinds = {step.id: step.station_kind for step in class_.plan.steps}
    for seat in planned.seats:
        shown: set[str] = set()
        signed: set[str] = set()
        own = sorted(
            (stint for stint in planned.stints if seat in stint.seats),
            key=lambda each: (each.spans[0].session, each.spans[0].start),
        )
        for stint in own:
            kind = kinds[stint.step]
            if stint.kind == "demonstration":
                shown.add(kind)
            elif stint.kind == "sign-off":
                assert kind in shown
                signed.add(kind)
            else:
                assert gates[stint.step] == "none" or kind in shown
                assert gates[stint.step] != "signed-off" or kind in signed


def test_the_least_is_no_more_than_the_lessons_planned(made: tuple[Class, ClassPlan]) -> None:
    class_, planned = made
    assert planned.least == bounds_of(class_)[1]
    assert planned.least <= len(planned.lessons)
    assert planned.bottlenecks[0].least == planned.least


def test_no_lesson_leaves_a_seat_longer_without_a_task_than_a_student_may_wait(made: tuple[Class, ClassPlan]) -> None:
    class_, planned = made
    longest = class_.knowledge.working.longest_idle
    spans = [(seat, span) for stint in planned.stints for seat in stint.seats for span in stint.spans]
    spans += [(idle.seat, idle.span) for idle in planned.idle]
    for lesson in planned.lessons:
        for seat in planned.seats:
            filled = sum(span.stop - span.start for own, span in spans if own == seat and span.session == lesson.number)
            assert lesson.minutes - longest <= filled <= lesson.minutes


def test_short_gaps_of_a_lesson_add_up() -> None:
    short = (Span(1, 0, 8), Span(1, 16, 24), Span(1, 32, 40))
    assert to_fill(short, 10) == (Span(1, 0, 8), Span(1, 16, 24))
    assert to_fill(short[:1], 10) == ()
    assert to_fill((Span(1, 0, 4), Span(1, 10, 20)), 10) == (Span(1, 10, 20),)


def test_it_is_told_when_half_of_the_class_is_done(made: tuple[Class, ClassPlan]) -> None:
    _, planned = made
    last = {seat: max(stint.spans[-1].session for stint in planned.stints if seat in stint.seats) for seat in planned.seats}
    half, most = planned.done_by(0.5), planned.done_by(0.9)
    assert sum(lesson <= half for lesson in last.values()) >= len(last) / 2 > sum(lesson < half for lesson in last.values())
    assert sum(lesson <= most for lesson in last.values()) >= 0.9 * len(last) > sum(lesson < most for lesson in last.values())
    assert planned.done_by(1) == len(planned.lessons)
    told = " ".join(class_plan_text(planned).split())
    together = f"All get done in lesson {half}."
    apart = f"Half of the class is done by lesson {half}, nine in ten by lesson {most}."
    assert (together if len(set(last.values())) == 1 else apart) in told


def test_a_coat_takes_one_drying_place_and_the_rags_none() -> None:
    class_, planned = the_class("herb-caddy"), class_planned("herb-caddy")
    rags = [step.id for step in class_.plan.steps if step.id.endswith("/put-away")]
    places = [(each.seat, each.step) for each in planned.taken if each.thing == "drying-place"]
    assert rags
    assert not [step for _, step in places if step in rags]
    assert all(places.count((seat, f"whole/coat-{number}/coat")) == 1 for seat in planned.seats for number in (1, 2))


def test_glue_finish_and_machine_work_are_done_in_one_go() -> None:
    class_ = the_class("herb-caddy")
    kinds = {task.id: task.kind for task in class_.plan.tasks}
    for step in class_.plan.steps:
        if step.kind == "work":
            wet = kinds[step.tasks[0]] in ("glue", "coat", "rags", "dry-fit")
            powered = class_.knowledge.stations[step.station_kind].power in ("machine", "powered-hand")
            assert step.one_go == (wet or powered), step.title


def test_the_json_form_comes_back_whole(made: tuple[Class, ClassPlan]) -> None:
    _, planned = made
    assert read_class_plan(class_plan_json(planned)) == planned


def test_equal_input_gives_equal_bytes() -> None:
    class_ = the_class()
    again = make_class_plan(class_, effort=0.07, solve=False)
    assert class_plan_json(again) == class_plan_json(class_planned())


def test_while_the_only_adult_shows_a_station_nobody_else_works() -> None:
    planned = class_planned("nest-box", "hand-tools", 12)
    assert len(planned.adults) == 1
    shown = [each for each in planned.stints if each.kind == "demonstration"]
    assert shown
    for stint in shown:
        (span,) = stint.spans
        at_work = [
            other.seats
            for other in planned.stints
            for each in other.spans
            if other is not stint and each.session == span.session and each.start < span.stop and span.start < each.stop
        ]
        assert not at_work, (span, at_work)


def test_pairs_make_one_thing_together() -> None:
    class_ = the_class()
    pairs = make_class_plan(replace(class_, workshop=replace(class_.workshop, pairs=True)), effort=0.03, solve=False)
    assert len(pairs.seats) == 6
    assert len(pairs.lessons) < len(class_planned().lessons)


def test_what_the_class_knows_is_not_shown_again() -> None:
    class_ = the_class("nest-box")
    known = replace(class_.workshop, instructed=("marking-out", "hand-planing"), signed_off=("pillar-drill",))
    planned = make_class_plan(replace(class_, workshop=known), effort=0.03, solve=False)
    shown = {stint.place for stint in planned.stints if stint.kind == "demonstration"}
    assert not shown & {"marking-out", "hand-planing", "pillar-drill"}
    assert not any(stint.kind == "sign-off" for stint in planned.stints)
    assert any(stint.kind == "sign-off" for stint in class_planned("nest-box").stints)


def _step(class_: Class, kind: str) -> Step:
    return next(step for step in class_.plan.steps if step.station_kind == kind and step.kind == "work")


def test_a_class_that_cannot_be_planned_is_refused_with_what_stands_in_the_way() -> None:
    class_ = the_class()
    short = replace(class_.workshop.time, lesson=40.0)
    found = hopeless(class_.plan, class_.job, replace(class_.workshop, time=short), class_.knowledge)
    assert [(each.code, each.subject) for each in found] == [("longer-than-a-lesson", f"step {_step(class_, 'gluing').number}")]
    assert found[0].what == "Glue and cramp: frame takes 25 minutes in one go, and a lesson has 20 to work in."
    alone = replace(class_.workshop, adults=class_.workshop.adults[:1])
    assert {each.code for each in hopeless(class_.plan, class_.job, alone, class_.knowledge)} == {"staff-alone"}
    with pytest.raises(Refused):
        make_class_plan(replace(class_, workshop=alone))


def test_a_class_without_an_adult_in_its_lessons_is_refused() -> None:
    class_ = the_class()
    adults = tuple(replace(adult, in_lessons=False) for adult in class_.workshop.adults)
    found = hopeless(class_.plan, class_.job, replace(class_.workshop, adults=adults), class_.knowledge)
    assert "nobody-in-lessons" in {each.code for each in found}


def test_a_class_that_nobody_who_teaches_can_show_a_station_is_refused() -> None:
    class_ = the_class()
    adults = tuple(replace(adult, teaches=False) for adult in class_.workshop.adults)
    found = hopeless(class_.plan, class_.job, replace(class_.workshop, adults=adults), class_.knowledge)
    assert {each.code for each in found} == {"nobody-to-show"}
    known = replace(class_.workshop, adults=adults, signed_off=tuple(class_.knowledge.stations))
    assert hopeless(class_.plan, class_.job, known, class_.knowledge) == []
    teacher, technician = class_.workshop.adults
    alone = replace(class_.workshop, adults=(replace(teacher, authorised=("marking-out",)), replace(technician, authorised=())))
    assert "nobody-to-watch" in {each.code for each in hopeless(class_.plan, class_.job, alone, class_.knowledge)}


def test_those_who_teach_watch_benches_and_others_watch_machines() -> None:
    class_ = the_class("herb-caddy")
    things = Things(class_.plan, class_.workshop, class_.knowledge)
    roles = {
        kind: [things.adults[each].role for each in things.adults_for(kind, in_lessons=True)]
        for kind in class_.knowledge.stations
    }
    assert roles["chiselling"] == ["Teacher", "Technician"]
    assert roles["pillar-drill"] == ["Technician", "Teacher"]
    assert roles["scroll-saw"] == ["Teacher"]
    assert roles["spray-booth"] == ["Teacher"]
    shows = things.adults_for("pillar-drill", in_lessons=True, teaching=True)
    assert [things.adults[each].role for each in shows] == ["Teacher"]


def test_a_lesson_in_which_some_sand_and_others_put_finish_on_says_so() -> None:
    class_, planned = the_class("herb-caddy", students=4), class_planned("herb-caddy", students=4)
    done: dict[int, set[str]] = defaultdict(set)
    for stint in planned.stints:
        if stint.kind == "step":
            kind = next(step.station_kind for step in class_.plan.steps if step.id == stint.step)
            tasks = next(step.tasks for step in class_.plan.steps if step.id == stint.step)
            coats = any(task.kind == "coat" and task.id in tasks for task in class_.plan.tasks)
            for span in stint.spans:
                done[span.session] |= {"coat"} if coats else {"sand"} if kind in ("abrasive", "hand-held-sanders") else set()
    at_once = [replace(each, spans=(Span(1, 0, 5),)) for each in planned.stints]
    found = cautions(at_once, class_.plan, (), planned.seats, class_.knowledge)[1]
    (care,) = [each for each in found if each.kind == "dust-and-finish"]
    assert (care.kind, care.says) == ("dust-and-finish", APART)
    assert {each.what: each.spans for each in care.when} == {"sanding": (Span(1, 0, 5),), "finish": (Span(1, 0, 5),)}
    assert {each.number for each in planned.lessons if any(care.kind == "dust-and-finish" for care in each.cautions)} == {
        lesson for lesson, does in done.items() if does == {"coat", "sand"}
    }


def test_a_machine_that_nobody_works_at_is_not_set() -> None:
    class_ = the_class("herb-caddy", students=4)
    saw = class_.workshop.stations["scroll-saw"]
    many = {**class_.workshop.stations, "scroll-saw": replace(saw, count=9)}
    planned = make_class_plan(replace(class_, workshop=replace(class_.workshop, stations=many)), effort=0.02, solve=False)
    used = {stint.place for stint in planned.stints if stint.kind != "demonstration"}
    work = {job.place for job in planned.staff_jobs if job.kind == "work"}
    settings = {job.place for job in planned.staff_jobs if job.kind == "set-up"}
    assert "scroll-saw 1" in settings
    assert settings <= used | work


def test_more_cramps_than_there_are_is_refused() -> None:
    class_ = the_class()
    glue = _step(class_, "gluing")
    more = replace(
        glue, settings=(*(each for each in glue.settings if each.name != "cramps"), Setting("cramps", "lay ready", "40", 40))
    )
    plan = replace(class_.plan, steps=tuple(more if step.id == glue.id else step for step in class_.plan.steps))
    (found,) = hopeless(plan, class_.job, class_.workshop, class_.knowledge)
    assert found.code == "too-few-cramps"


def test_a_course_longer_than_there_are_lessons_is_refused_and_says_why() -> None:
    with pytest.raises(Refused) as error:
        make_class_plan(the_class(), within=3, effort=0.03, solve=False)
    (found,) = error.value.findings
    assert found.code == "does-not-fit"
    assert "and 3 were asked for" in found.what
    assert "No plan in whole slots that sets each machine once for a step takes fewer than" in found.why
    assert "hold: 3 lessons; the work of one student with its waits, even in lessons of 120 minutes." in found.why


def test_the_work_of_one_student_is_for_nobody_else() -> None:
    (own,) = [each for each in class_planned().bottlenecks if each.name == "one student's own work"]
    assert "minutes of work" in own.says
    assert "for each" not in own.says


def test_days_that_nobody_stated_are_not_printed() -> None:
    planned = class_planned()
    assert "Feb 2027" in class_plan_text(planned)
    assumed = replace(planned, findings=(Finding("note", "timetable-not-stated", "time", "Assumed."),))
    told = class_plan_text(assumed)
    assert "2027" not in told
    assert "9:10" not in told
    assert "\n     1  " in told


def test_one_of_a_thing_is_told_as_one() -> None:
    planned = class_planned("picture-frame", "well-equipped", 1)
    text = " ".join(class_plan_text(planned).split())
    assert "for 1 student." in text
    assert not re.search(r"\b1 (students|lessons|jobs)\b", text)
