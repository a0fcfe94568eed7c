"""What is at hand in a lesson: machines that are checked before and isolated after it, what is dry by now, what is put away."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from sequencer.model.class_plan import Session, Taken
from sequencer.model.plan import Step
from sequencer.paper import wording
from sequencer.paper.course_words import Lessons

OILY_RAGS = "oily-rags"
"""The hazard of rags that heat up by themselves."""


NO_STEP_YET = "for showing and trying on waste, set as its station card says"


def machines_used(course: Lessons, lesson: Session) -> dict[str, list[Step]]:
    """The places with a motor that students are at in a lesson, by the names they print under, with the steps done there; none
    where a machine is shown only, or students are signed off."""
    motors = {card.station for card in course.plan.stations if card.machine}
    found: dict[str, dict[str, Step]] = defaultdict(dict)
    for stint, _ in course.stints(lesson.number):
        step = course.steps[stint.step]
        if step.station in motors:
            there = found[wording.within_sentence(course.place(stint.step, stint.place))]
            if stint.kind == "step":
                there[step.id] = step
    return {place: sorted(steps.values(), key=lambda step: step.number) for place, steps in sorted(found.items())}


def settings_to_check(course: Lessons, lesson: Session) -> Iterator[tuple[str, str]]:
    """What each machine must stand at before students come to it: `pillar drill 1`, `bit 20 mm, speed 750 rev/min (step 22)`.
    What is only shown that day, or tried on waste for a sign-off, is not set for a step yet."""
    for place, steps in machines_used(course, lesson).items():
        said = "; ".join(f"{_settings(step)} (step {step.number})" for step in steps)
        yield place, f"guards on; {said or NO_STEP_YET}"


def _settings(step: Step) -> str:
    return ", ".join(f"{setting.label} {setting.text}" for setting in step.settings) or "as its station card says"


def has_machines(course: Lessons) -> bool:
    """Whether anything with a motor is used for this job, by whomever."""
    return any(card.machine for card in course.plan.stations)


def rags_today(course: Lessons, lesson: Session) -> str:
    """What students know of oily rags, where there are any today; else empty."""
    for stint, _ in course.stints(lesson.number):
        for line in course.steps[stint.step].hazards:
            if line.name == OILY_RAGS:
                return line.short
    return ""


def dry_by_now(course: Lessons, lesson: Session) -> Iterator[str]:
    """What was put away in earlier lessons and is free by this one: the step, whose, since when."""
    found: dict[str, list[Taken]] = defaultdict(list)
    for each in course.classes.taken:
        if each.seat and each.until_lesson == lesson.number and each.span.session < lesson.number:
            found[each.step].append(each)
    for step, taken in sorted(found.items(), key=lambda each: course.steps[each[0]].number):
        since = wording.numbers_words(each.span.session for each in taken)
        seats = course.seat_words(each.seat for each in taken)
        yield f"{course.steps[step].number} {course.short_name(step)}: {seats} (lesson {since})"


def put_away(course: Lessons, lesson: Session) -> Iterator[str]:
    """What sets or dries after the work of this lesson: the step, whose, and by which lesson it is ready."""
    found: dict[str, list[Taken]] = defaultdict(list)
    for each in course.classes.taken:
        if each.seat and each.span.session == lesson.number:
            found[each.step].append(each)
    for step, taken in sorted(found.items(), key=lambda each: course.steps[each[0]].number):
        last = max(each.until_lesson or len(course.classes.lessons) + 1 for each in taken)
        by = f"by lesson {last}" if last <= len(course.classes.lessons) else "after the last lesson"
        seats = course.seat_words(each.seat for each in taken)
        yield f"{course.steps[step].number} {course.short_name(step)}: {seats}; ready {by}"
