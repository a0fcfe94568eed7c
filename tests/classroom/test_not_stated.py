"""What a workshop file does not say is told of in the plan of lessons, and what it says there is none of is refused."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from sequencer.classroom.course import Class
from sequencer.classroom.lessons import make_class_plan
from sequencer.classroom.not_stated import many_for_teachers, none_there, not_stated
from sequencer.findings import Refused
from sequencer.model.workshop import Adult, Counted
from sequencer.paper.course_page import CoursePage
from sequencer.paper.course_words import Lessons
from sequencer.paper.lesson_plan import lesson_plan
from sequencer.talk_lessons import class_plan_text
from tests.classroom.classes import class_planned, the_class


def counting(class_: Class, counted: dict[str, Counted]) -> Class:
    """A class whose workshop counts other things."""
    return replace(class_, workshop=replace(class_.workshop, counted=counted))


def without(class_: Class, text: str) -> Class:
    """A class whose workshop counts nothing whose name holds a text."""
    return counting(class_, {name: each for name, each in class_.workshop.counted.items() if text not in name})


def none_of(class_: Class, text: str) -> Class:
    """A class whose workshop says that there is none of these."""
    counted = class_.workshop.counted
    return counting(class_, {name: replace(each, count=0) if text in name else each for name, each in counted.items()})


def test_nothing_is_told_where_everything_is_stated() -> None:
    assert list(not_stated(the_class())) == []
    assert list(none_there(the_class())) == []


@pytest.mark.parametrize(("thing", "code"), [("sash-cramp", "cramps-not-counted"), ("drying-place", "drying-places-not-counted")])
def test_what_is_not_counted_is_told(thing: str, code: str) -> None:
    class_ = without(the_class(), thing)
    (found,) = not_stated(class_)
    assert (found.level, found.code, found.subject) == ("warning", code, "step 13")
    assert "was not looked at" in found.what
    assert "`counted`" in found.remedy
    planned = make_class_plan(without(the_class(students=2), thing), effort=0.02, solve=False)
    assert code in {each.code for each in planned.findings}


def test_cramps_without_a_reach_are_not_counted_by_it() -> None:
    class_ = the_class()
    counted = {name: replace(each, reach=None) for name, each in class_.workshop.counted.items()}
    assert [each.code for each in not_stated(counting(class_, counted))] == ["cramps-not-counted"]


@pytest.mark.parametrize(("thing", "code"), [("sash-cramp", "too-few-cramps"), ("drying-place", "no-drying-place")])
def test_what_there_is_none_of_is_refused(thing: str, code: str) -> None:
    with pytest.raises(Refused) as error:
        make_class_plan(none_of(the_class(), thing), effort=0.02, solve=False)
    assert [(each.code, each.subject) for each in error.value.findings] == [(code, "step 13")]


def test_days_that_cannot_be_looked_at_are_told() -> None:
    class_ = the_class()
    bench = replace(class_.workshop.stations["gluing"], away=(date(2027, 2, 4),))
    stations = {**class_.workshop.stations, "gluing": bench}
    time = replace(class_.workshop.time, first_date=None)
    (found,) = not_stated(replace(class_, workshop=replace(class_.workshop, stations=stations, time=time)))
    assert (found.code, found.subject) == ("days-not-looked-at", "time")
    assert found.what == (
        "Without `first_date` no lesson has a day: the days on which gluing is away and holidays were not looked at."
    )
    assert not any(each.code == "days-not-looked-at" for each in class_planned().findings)


def taught_by(class_: Class, *adults: Adult) -> Class:
    """A class with other adults."""
    return replace(class_, workshop=replace(class_.workshop, adults=adults))


TEACHER, SECOND = Adult("Teacher", ("all",), teaches=True), Adult("Second teacher", ("all",), teaches=True)
HELPER, AWAY = Adult("Technician", ("benches",)), Adult("Deputy", ("all",), in_lessons=False, teaches=True)


@pytest.mark.parametrize(
    ("students", "adults", "warned"),
    [
        (20, (TEACHER,), False),
        (21, (TEACHER,), True),
        (21, (TEACHER, HELPER), True),
        (24, (TEACHER, AWAY), True),
        (24, (TEACHER, SECOND), False),
        (41, (TEACHER, SECOND), True),
    ],
)
def test_more_than_twenty_students_for_each_teacher_are_warned_of(students: int, adults: tuple[Adult, ...], warned: bool) -> None:
    assert bool(list(many_for_teachers(taught_by(the_class(students=students), *adults)))) == warned


def test_the_warning_of_many_students_defers_to_the_school_and_names_who_is_there() -> None:
    (found,) = many_for_teachers(taught_by(the_class(students=24), TEACHER, HELPER))
    assert (found.level, found.code, found.subject) == ("warning", "many-students-for-teachers", "people")
    assert found.what == (
        "24 students are at practical work with 1 adult who teaches (Teacher): more than 20 for each. Technician is there too "
        "and not said to teach."
    )
    assert "BS 4163:2014 clause 9.1, as quoted in a research briefing" in found.why
    assert found.remedy.startswith("Hold to your school's policy and local law.")


def test_the_warning_of_many_students_stands_in_the_plan_its_text_and_on_the_page_of_the_course() -> None:
    planned = class_planned(students=22)
    (found,) = [each for each in planned.findings if each.code == "many-students-for-teachers"]
    assert found.what in " ".join(class_plan_text(planned).split())
    pages = lesson_plan(Lessons(planned, the_class().plan), "a4")
    said = [line for page in pages if isinstance(page.entries[0], CoursePage) for line in page.entries[0].open_]
    assert f"{found.what} {found.why} {found.remedy}" in said
