"""The course on a page: who it is for, every lesson with its aim and how many are done after it, what the files do not settle."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sequencer.paper import wording
from sequencer.paper.course_words import Lessons
from sequencer.paper.fitting import filled, height
from sequencer.paper.lesson_aim import Aim, aim_words, finished_by

_POINTS, _TITLE = 10.0, 6.4


@dataclass(frozen=True)
class CourseRow:
    """A lesson on the page of the course."""

    number: int
    day: str
    aim: str
    finished: str


@dataclass(frozen=True)
class CoursePage:
    """The course on a page: who it is for, every lesson with its aim, what the files do not settle."""

    class_: str
    work: str
    pace: str
    rows: tuple[CourseRow, ...]
    open_: tuple[str, ...]
    holds_up: tuple[str, ...] = ()
    helps: tuple[str, ...] = ()
    """What would help, and last what was tried and does not."""


def course_pages(course: Lessons, found: dict[int, Aim], width: float, high: float) -> list[CoursePage]:
    """The lessons of a course with their aims; more than a page where one does not hold them. `width` and `high` in mm."""
    made = course.classes
    who = f"{len(made.seats)} {'pairs' if made.pairs else 'students'}, a seat code each; {', '.join(made.adults)}"
    rows = []
    for lesson in made.lessons:
        aim = found.get(lesson.number)
        what = f"{wording.heading(aim_words(aim))}{', again' if aim.again else ''}" if aim else ""
        rows.append(CourseRow(lesson.number, course.short_day(lesson), what, str(finished_by(course, lesson))))
    unsettled = tuple(
        " ".join(text for text in (each.what, each.why if each.level == "warning" else "", each.remedy) if text)
        for each in made.findings
    )
    over = 30.0 + height(course.plan.learning_aim, width, _POINTS)
    over += sum(height(text, width, _POINTS) + 0.6 for text in unsettled)

    def tall(row: CourseRow) -> float:
        return 1.2 + 0.96 * height(row.aim, width * 0.62, _POINTS)

    holds_up, helps = tuple(each.says for each in made.bottlenecks), tuple(_helps(course))
    over += sum(_TITLE + sum(height(text, width, _POINTS) + 0.6 for text in some) for some in (holds_up, helps) if some)
    groups = filled(rows, tall, high - over, high - 24.0)
    pace = _pace(course)
    return [
        CoursePage(who, course.plan.learning_aim, pace, tuple(group), unsettled, holds_up, helps)
        if number == 0
        else CoursePage(who, course.plan.learning_aim, "", tuple(group), ())
        for number, group in enumerate(groups)
    ]


def _helps(course: Lessons) -> Iterator[str]:
    """Each change that saves lessons with how many there are then; then those that do not, in one line."""
    for each in course.classes.remedies:
        yield f"{wording.heading(each.change)}: {each.lessons} lessons, {each.saves} fewer."
    if course.classes.in_vain:
        yield f"Tried, and no lesson fewer was found: {'; '.join(course.classes.in_vain)}."


def _pace(course: Lessons) -> str:
    """By which lesson half of the class is done, and nine in ten."""
    seats = len(course.classes.seats)
    done = {lesson.number: finished_by(course, lesson) for lesson in course.classes.lessons}
    half = next((number for number, count in done.items() if count >= seats / 2), len(done))
    most = next((number for number, count in done.items() if count >= 0.9 * seats), len(done))
    return f"Half of the class is done by lesson {half}, nine in ten by lesson {most}, all by lesson {len(done)}."
