"""What a workshop file says nothing of, so that a plan of lessons did not look at it; what it says there is none of; and a class
that is large for those who teach it."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.classroom.course import Class
from sequencer.classroom.gathered import DRYING_PLACE
from sequencer.classroom.precedence import waits_after
from sequencer.findings import Finding
from sequencer.model.plan import Step
from sequencer.model.workshop import Workshop


def not_stated(class_: Class) -> Iterator[Finding]:
    """What was not looked at, as warnings."""
    workshop, (cramped, dried) = class_.workshop, _asking(class_)
    for step in [step for step in cramped if not _cramps(workshop, step)][:1]:
        yield Finding(
            "warning", "cramps-not-counted", f"step {step.number}",
            f"{step.title} takes cramps, and the workshop file does not say how many there are of which reach; that there are "
            "enough was not looked at.", "A joint that is not pressed while its glue sets does not hold.",
            "Write the cramps under `counted`, each with `count`, `reach` and `kind`.",
        )  # fmt: skip
    if dried and not _places(workshop):
        yield Finding(
            "warning", "drying-places-not-counted", f"step {dried[0].number}",
            f"After {dried[0].title} the things of the whole class lie still, and the workshop file does not say how many have "
            "room; that there is room was not looked at.", "What is moved or stacked before it has set comes apart or sticks.",
            f"Write `{DRYING_PLACE}` with its `count` under `counted`.",
        )  # fmt: skip
    away = sorted({step.station for step in class_.plan.steps if step.kind != "wait" and workshop.stations[step.station].away})
    ignored = [f"the days on which {' and '.join(away)} {'is' if len(away) == 1 else 'are'} away"] if away else []
    ignored += ["holidays"] if workshop.time.holidays else []
    if ignored and workshop.time.first_date is None:
        yield Finding(
            "warning", "days-not-looked-at", "time",
            f"Without `first_date` no lesson has a day: {' and '.join(ignored)} were not looked at.",
            "The plan may use what is not there.", "Write `first_date` under `time`.",
        )  # fmt: skip


def many_for_teachers(class_: Class) -> Iterator[Finding]:
    """A warning where each adult in lessons who teaches has more students than `one-teacher` of the working figures, whose source
    stands in the list. It stops nothing: how many one adult may have is for law and the school's policy to say."""
    workshop, most = class_.workshop, class_.knowledge.working.one_teacher
    there = [adult for adult in workshop.adults if adult.in_lessons]
    teachers = [adult.role for adult in there if adult.teaches]
    if not teachers or workshop.students <= most * len(teachers):
        return
    others = [adult.role for adult in there if not adult.teaches]
    beside = f" {' and '.join(others)} {'is' if len(others) == 1 else 'are'} there too and not said to teach." if others else ""
    count = f"{len(teachers)} adult{'s' if len(teachers) > 1 else ''} who teach{'' if len(teachers) > 1 else 'es'}"
    known = class_.knowledge.working_figures["one-teacher"]
    yield Finding(
        "warning", "many-students-for-teachers", "people",
        f"{workshop.students} students are at practical work with {count} ({' and '.join(teachers)}): more than {most:g} for "
        f"each.{beside}",
        f"Nobody sees all of a large class. The figure: {known.source}.",
        "Hold to your school's policy and local law. Ask for one more adult who teaches, or split the class.",
        source=known.source,
    )  # fmt: skip


def none_there(class_: Class) -> Iterator[Finding]:
    """What a step needs and the workshop file says there is none of, as errors."""
    cramped, dried = _asking(class_)
    for step in cramped:
        if (have := _cramps(class_.workshop, step)) and not any(have):
            yield Finding(
                "error", "too-few-cramps", f"step {step.number}", f"{step.title} takes cramps, and the workshop has none for it.",
                "A joint that is not pressed while its glue sets does not hold.",
                "Borrow cramps and count them under `counted`, or fix the joint in another way.",
            )  # fmt: skip
    places = _places(class_.workshop)
    if dried and places and not any(places):
        yield Finding(
            "error", "no-drying-place", f"step {dried[0].number}",
            f"After {dried[0].title} things lie still, and the workshop has no drying place.",
            "What is moved or stacked before it has set comes apart or sticks.",
            f"Find room for them and count it as `{DRYING_PLACE}` under `counted`.",
        )  # fmt: skip


def _asking(class_: Class) -> tuple[list[Step], list[Step]]:
    """The steps that take cramps until glue has set, and those after which something lies still."""
    waits = waits_after(class_.plan)
    work = [step for step in class_.plan.steps if step.kind == "work"]
    cramped = [step for step in work if any(each.name == "cramps" and each.value for each in step.settings)]
    return cramped, [step for step in work if waits.get(step.id)]


def _cramps(workshop: Workshop, step: Step) -> list[int]:
    """How many cramps of each reach the workshop file counts for a step; also of none whose reach it leaves out."""
    held = {each.name for each in step.holding}
    own = [each for each in workshop.counted.values() if (each.kind or each.name) in held]
    return [each.count for each in own if each.reach is not None or not each.count]


def _places(workshop: Workshop) -> list[int]:
    return [each.count for each in workshop.counted.values() if (each.kind or each.name) == DRYING_PLACE]
