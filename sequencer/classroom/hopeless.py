"""What stands in the way of any plan of lessons, however many there are."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from math import ceil

from sequencer.classroom.shown import asked_for, kind_of, on_record
from sequencer.classroom.student_steps import pieces_of, usable
from sequencer.classroom.things import Things
from sequencer.findings import Finding
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.job import Job
from sequencer.model.plan import Plan, Step
from sequencer.model.workshop import Workshop


def hopeless(plan: Plan, job: Job, workshop: Workshop, knowledge: Knowledge) -> list[Finding]:
    """What stands in the way of any plan, however many lessons there are."""
    things, room = Things(plan, workshop, knowledge), usable(workshop, int(knowledge.working.slot))
    found: list[Finding] = []
    asked = asked_for(plan, knowledge)
    stood = {step.station_kind for step in plan.steps if asked.get(step.id)}
    if not any(adult.in_lessons for adult in workshop.adults):
        found.append(_nobody_there())
    if not any(step.kind == "work" and step.who.operator == "student" for step in plan.steps):
        found.append(_nothing_to_do())
    for step in plan.steps:
        if step.kind == "wait":
            continue
        if step.kind == "work" and step.who.operator == "student":
            found += _against_student_step(step, plan, job, things, room)
            found += _nobody_to_show(step, asked[step.id], stood, things)
        elif not things.by_hand(step.station_kind) and len(workshop.adults) < 2:
            found.append(
                Finding(
                    "error",
                    "staff-alone",
                    f"step {step.number}",
                    f"{step.title}: staff do this at the {step.station_title}, and the workshop file has one adult only.",
                    "Nobody works at a machine alone.",
                    "Name a second adult under `people: adults`, or let the wood be bought cut and take the machine "
                    "out of the file.",
                )
            )
        elif not things.adults_for(step.station_kind, in_lessons=False):
            found.append(
                Finding(
                    "error",
                    "nobody-authorised",
                    f"step {step.number}",
                    f"{step.title}: no adult of the workshop file is authorised for the {step.station_title}.",
                    "Only those trained for a machine may use it.",
                    "Name the station under `authorised` of whoever is.",
                )
            )
    return list({(finding.code, finding.subject): finding for finding in found}.values())


def _nothing_to_do() -> Finding:
    return Finding(
        "error",
        "nothing-to-do",
        "the class",
        "No step of the plan is one for students.",
        "Lessons are planned for what students do.",
        "Take from the job what is bought or made by staff, or let students do a step under `policy` or `decisions`.",
    )


def _nobody_there() -> Finding:
    return Finding(
        "error",
        "nobody-in-lessons",
        "the class",
        "No adult of the workshop file is there in lessons.",
        "Students never work without an adult in the room.",
        "Take `in_lessons: no` from an adult under `people: adults` who is there.",
    )


def _nobody_to_show(step: Step, asked: Sequence[str], stood: Collection[str], things: Things) -> Iterator[Finding]:
    """`asked`: what has been shown to whoever does a step. `stood`: the kinds of station at which students come to stand; tools
    of others are shown at the step, by who may show both."""
    workshop, kind = things.workshop, step.station_kind
    signed = step.who.gate != "signed-off" or kind in workshop.signed_off
    needed = dict.fromkeys((*(kind_of(name) for name in asked if not on_record(name, workshop)), *(() if signed else (kind,))))
    for each in needed:
        both = (each,) if each in stood else (each, kind)
        if things.teachers(*both):
            continue
        names = " and ".join(f"the {things.knowledge.stations[one].name}" for one in both if not things.teachers(one)) or (
            f"both the {things.knowledge.stations[each].name} and the {things.knowledge.stations[kind].name}"
        )
        yield Finding(
            "error",
            "nobody-to-show",
            f"step {step.number}",
            f"{step.title}: no adult in lessons who teaches is authorised for {names}.",
            "A station is shown to students, and they are signed off at it, by someone who teaches and is trained for it.",
            "Write `teaches: yes` for that adult under `people: adults`, and name the station under `authorised`.",
        )


def _against_student_step(step: Step, plan: Plan, job: Job, things: Things, room: int) -> Iterator[Finding]:
    pieces = pieces_of(step, plan, job, room)
    if step.one_go and max(pieces) > room:
        yield Finding(
            "error",
            "longer-than-a-lesson",
            f"step {step.number}",
            f"{step.title} takes {max(pieces)} minutes in one go, and a lesson has {room} to work in.",
            "Glue, finish and what is at a machine cannot be left half done.",
            "Plan a longer lesson for it, such as two lessons in one, or decide a shorter time for it under `decisions`.",
        )
    if not things.watchers(step):
        yield Finding(
            "error",
            "nobody-to-watch",
            f"step {step.number}",
            f"{step.title}: no adult who is there in lessons is authorised for the {step.station_title}.",
            "A student is watched by an adult who is trained for the station.",
            "Name the station, or `benches` for all without a motor, under `authorised` of an adult who is in lessons.",
        )
    values = {setting.name: setting.value for setting in step.settings}
    name = things.cramps([held.name for held in step.holding])
    if name and (count := values.get("cramps")):
        each = ceil(count / len(pieces))
        have = max(things.all[number].count for number in things.counted[name])
        if each > have:
            yield Finding(
                "error",
                "too-few-cramps",
                f"step {step.number}",
                f"{step.title} takes {each} cramps for one student, and of one size the workshop has {have}.",
                "A joint that is not pressed while its glue sets does not hold.",
                "Borrow cramps, or glue in two goes: write `after` for one of the joints.",
            )


def too_many_for(workshop: Workshop) -> Sequence[Finding]:
    """A warning where there are more students than places in the room."""
    if workshop.places is None or workshop.students <= workshop.places:
        return ()
    return (
        Finding(
            "warning",
            "more-students-than-places",
            "room",
            f"The class has {workshop.students} students and the room has {workshop.places} places.",
            "Whoever has no place stands in the way of others at work.",
            "Split the class, or work in another room.",
        ),
    )
