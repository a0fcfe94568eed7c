"""What each adult does in a lesson, in a few words: shows, sets, signs off, stays beside, watches, helps."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from sequencer.model.class_plan import Session, Span, Stint
from sequencer.paper import wording
from sequencer.paper.course_words import Lessons

BENCHES = "watches the benches"


@dataclass(frozen=True)
class StaffLine:
    """An adult by the role, and what is to do."""

    adult: str
    does: str


def staff_lines(course: Lessons, lesson: Session) -> tuple[StaffLine, ...]:
    """A line for each adult of the class plan who has something to do in a lesson; who has none is not said to be there."""
    benches = any(stint.attention and not stint.adult for stint, _ in course.stints(lesson.number))
    found = []
    for adult in course.classes.adults:
        said = "; ".join(_does(course, lesson, adult))
        watches = benches and adult in course.classes.at_benches
        if said:
            found.append(StaffLine(adult, f"{wording.heading(said)}; {BENCHES if watches else 'helps'} where no time is given."))
        elif watches:
            found.append(StaffLine(adult, f"{wording.heading(BENCHES)}."))
    return tuple(found)


def _does(course: Lessons, lesson: Session, adult: str) -> Iterator[str]:
    mine = [(stint, span) for stint, span in course.stints(lesson.number) if stint.adult == adult]
    shown = [
        f"{wording.within_sentence(course.shown(stint))} to {course.seats(stint.seats)} ({course.slot(lesson, span.start)})"
        for stint, span in mine
        if stint.kind == "demonstration"
    ]
    if shown:
        yield f"shows {', '.join(shown)}"
    for job in course.classes.staff_jobs:
        for span in job.spans:
            if job.in_lesson and job.adult == adult and span.session == lesson.number:
                place = wording.within_sentence(course.place(job.step, job.place))
                yield f"step {job.number} at the {place}, students away from it ({course.slots(lesson, span)})"
    signed = [each for each in mine if each[0].kind == "sign-off"]
    yield from _seen(course, lesson, "signs off and stays for the first piece at", signed)
    at_once = {(stint.seats, span.stop) for stint, span in signed}
    steps = [each for each in mine if each[0].kind == "step" and (each[0].seats, each[1].start) not in at_once]
    yield from _seen(course, lesson, "stays beside at", [each for each in steps if each[0].attention >= 1])
    watched: dict[str, list[Span]] = defaultdict(list)
    motors = {card.station for card in course.plan.stations if card.machine}
    for stint, span in steps:
        if stint.attention < 1:
            first = "" if course.steps[stint.step].station in motors else "the first work at "
            watched[f"{first}{_place(course, stint)}"].append(span)
    if watched:
        said = [f"{place}{_while(course, lesson, spans)}" for place, spans in watched.items()]
        yield f"watches {', '.join(said)}"


def _seen(course: Lessons, lesson: Session, verb: str, stints: list[tuple[Stint, Span]]) -> Iterator[str]:
    """Seats one after the other at each place: `signs off at pillar drill 1: 8 (13:55), 11 (14:10)`."""
    found: dict[str, dict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
    for stint, span in stints:
        found[_place(course, stint)][course.slot(lesson, span.start)] += stint.seats
    for place, times in found.items():
        yield f"{verb} {place}: {', '.join(f'{course.seats(seats)} ({time})' for time, seats in times.items())}"


def _while(course: Lessons, lesson: Session, spans: list[Span]) -> str:
    """From when until when; nothing where it is as good as the whole lesson."""
    whole = Span(lesson.number, min(span.start for span in spans), max(span.stop for span in spans))
    slot = course.slot
    start, stop = (slot(lesson, whole.start) != slot(lesson, 0), slot(lesson, whole.stop) != slot(lesson, lesson.minutes))
    if start and stop:
        return f" ({course.slots(lesson, whole)})"
    return f" (from {slot(lesson, whole.start)})" if start else f" (until {slot(lesson, whole.stop)})" if stop else ""


def _place(course: Lessons, stint: Stint) -> str:
    return wording.within_sentence(course.place(stint.step, stint.place))
