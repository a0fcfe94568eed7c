"""What the class has to do: every student's steps, demonstrations, sign-offs, and the staff's work, as activities of a problem of
scheduling with the counted things that they take.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import ceil
from typing import Literal

import networkx as nx

from sequencer.classroom.precedence import befores, waits_after
from sequencer.classroom.sessions import DAY, Sessions, sessions
from sequencer.classroom.slots import stretches, whole_slots
from sequencer.classroom.things import Thing, Things, seats_of
from sequencer.findings import Finding
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.job import Job
from sequencer.model.plan import Plan, Step, Task
from sequencer.model.workshop import Workshop
from sequencer.scheduling.problem import Activity, After, Keep, Need, Problem

LESSONS, STAFF = 0, 1
"""The two calendars."""
STAFF_SEAT = -1
"""Stands for the staff where seats are meant."""
DRYING_PLACE = "drying-place"
TRIED = ("dry-fit", "clean-inside")
"""Kinds of work after which pieces are apart again."""
SPARE_MINUTES = 60
"""Of staff's own time before the first lesson there is so much more than the work there asks for."""

DutyKind = Literal["step", "demonstration", "sign-off", "work", "set-up", "guards-back"]


@dataclass(frozen=True)
class Then:
    """A step that is done at once behind another at the same place, in the last so many minutes of it: oily rags are put away
    as soon as the oil is on."""

    step: Step
    minutes: int


@dataclass(frozen=True)
class Duty:
    """What an activity of the problem is: the seats that do it (none: staff), its step, the part of it, and how much of an adult
    it takes."""

    kind: DutyKind
    seats: tuple[int, ...]
    step: Step
    piece: int = 1
    of: int = 1
    attention: int = 0
    group: int = 0
    """Of a demonstration, which group it is for."""
    then: Then | None = None
    """What is done right behind it, before anything else."""


@dataclass(frozen=True)
class ClassWork:
    """The problem, what its activities and things are, and the calendar."""

    problem: Problem
    duties: tuple[Duty, ...]
    things: tuple[Thing, ...]
    sessions: Sessions
    whole: int
    """The whole of an adult, in parts."""
    at_benches: frozenset[int]
    """The adults who watch the benches together, by thing."""


@dataclass(frozen=True)
class Course:
    """What is free to choose: how many lessons there may be, and whether every one of alike machines is set for a step or one of
    them."""

    lessons: int
    all_machines: bool = False
    for_bounds: bool = False
    """What no course can go below is asked of a looser problem, where adults who watch unlike benches may do the same."""


def class_work(plan: Plan, job: Job, workshop: Workshop, knowledge: Knowledge, course: Course) -> ClassWork:
    """What the class has to do, for a class that `hopeless` finds nothing against."""
    return _Builder(plan, job, workshop, knowledge, course).built()


def at_once_after(step: Step, plan: Plan) -> str | None:
    """The step, by id, that a student's step is done at once behind: the coat before its oily rags. None if it has its own
    time."""
    kinds = {task.id: task.kind for task in plan.tasks}
    if step.who.operator != "student" or not any(kinds[task] == "rags" for task in step.tasks):
        return None
    by_task = {task: each for each in plan.steps if each.kind == "work" for task in each.tasks}
    before = [by_task[reason.before] for reason in plan.reasons if reason.after in step.tasks and reason.before in by_task]
    coats = [each for each in before if each.station == step.station and any(kinds[task] == "coat" for task in each.tasks)]
    return max(coats, key=lambda each: each.number).id if coats else None


def usable(workshop: Workshop, slot: int) -> int:
    """Working minutes of a lesson."""
    time = workshop.time
    room = int(time.lesson - time.settling_in - time.clearing_up)
    return room - room % slot or room


def pieces_of(step: Step, plan: Plan, job: Job, room: int) -> list[int]:
    """The minutes of the parts that a step falls into, none longer than the room where pieces allow it: by pieces of wood, or by
    things that are put together apart from each other. Each part has its own setting out."""
    tasks = [task for task in plan.tasks if task.id in step.tasks]
    if not tasks[0].part:
        apart = max(_apart(task, _together_before(task, plan), job) for task in tasks)
        each = [step.minutes / apart] * apart
    else:
        each = [task.minutes for task in tasks for _ in range(task.quantity)]
    runs: list[float] = []
    for minutes in each:
        if runs and runs[-1] + minutes + step.set_up_minutes <= room:
            runs[-1] += minutes
        else:
            runs.append(minutes)
    return [max(1, ceil(minutes + step.set_up_minutes)) for minutes in runs]


def _apart(task: Task, before: Iterable[Task], job: Job) -> int:
    """How many things its joints put together that have nothing to do with each other, after some tasks: two end frames."""
    graph: nx.Graph[str] = nx.Graph((job.joints[name].enters_piece, job.joints[name].seat.piece) for name in task.joints)
    own = set(graph)
    for each in before:
        graph.add_edges_from((job.joints[name].enters_piece, job.joints[name].seat.piece) for name in each.joints)
    return max(1, sum(not own.isdisjoint(thing) for thing in nx.connected_components(graph)))


def _together_before(task: Task, plan: Plan) -> list[Task]:
    """The tasks that put pieces together before a task: of a trial the trials too."""
    numbers = {name: step.number for step in plan.steps for name in step.tasks}
    apart = () if task.kind in TRIED else TRIED
    return [
        each
        for each in plan.tasks
        if each.joints and each.kind not in apart and numbers.get(each.id, 0) < numbers.get(task.id, 0)
    ]


class _Builder:
    def __init__(self, plan: Plan, job: Job, workshop: Workshop, knowledge: Knowledge, course: Course) -> None:
        self.plan, self.job, self.workshop, self.course = plan, job, workshop, course
        self.working, self.holding = knowledge.working, knowledge.holding
        self.least_part = int(knowledge.working.least_part)
        self.slot = int(knowledge.working.slot)
        self.things = Things(plan, workshop, knowledge, for_bounds=course.for_bounds)
        self.whole = self.things.whole
        self.seats = range(seats_of(workshop))
        self.each = 2 if workshop.pairs else 1
        """Students of a seat: both of a pair are shown a station, and each shows that they can use it."""
        self.activities: list[Activity] = []
        self.duties: list[Duty] = []
        self.ended: dict[tuple[str, int], int] = {}
        """Of a step and a seat, the activity that ends it."""
        self.set_for: dict[str, list[int]] = {}
        """Of a step, the activities that set machines for it."""
        self.on: dict[int, list[int]] = {}
        """Of a machine, what was done there with the last setting."""
        self.shown: dict[tuple[str, int], int] = {}
        self.signed: dict[tuple[str, int], int] = {}
        self.then = {before: step for step in plan.steps if (before := at_once_after(step, plan))}
        """Of a step, by id, the one that is done at once behind it."""
        self.ready: dict[str, list[After]] = {}
        """Of a kind of station, what the whole class has done before anybody starts there."""

    def built(self) -> ClassWork:
        """The whole problem."""
        before = befores(self.plan)
        for step in self.plan.steps:
            if step in self.then.values():
                continue
            if step.kind == "work" and step.who.operator == "student":
                for seat in self.seats:
                    self._student_step(step, seat, before[step.id])
                self._on_machines(step)
            elif step.kind == "work":
                self._staff_step(step, before[step.id])
            elif step.kind == "set-up":
                self._set_up(step)
            elif step.kind == "guards-back":
                self._guards_back(step)
        preparing = self._preparing()
        calendar = sessions(self.workshop.time, self.course.lessons, preparing + SPARE_MINUTES, self.slot)
        counts = tuple(thing.count for thing in self.things.all)
        names = tuple(thing.says for thing in self.things.all)
        problem = Problem(tuple(self.activities), counts, calendar.calendars, tuple(self._away(calendar)), names)
        return ClassWork(problem, tuple(self.duties), tuple(self.things.all), calendar, self.whole, self.things.bench_watchers)

    def _preparing(self) -> int:
        """Minutes of staff's work that comes after no work of students."""
        first: set[int] = set()
        for number, activity in enumerate(self.activities):
            if STAFF in activity.calendars and first.issuperset(each.activity for each in activity.after):
                first.add(number)
        return sum(self.activities[number].minutes for number in first)

    def _add(self, duty: Duty, activity: Activity) -> int:
        self.activities.append(activity)
        self.duties.append(duty)
        return len(self.activities) - 1

    # Students

    def _student_step(self, step: Step, seat: int, before: Mapping[str, int]) -> None:
        after = [*self._over(before, (seat,)), *(After(number) for number in self.set_for.get(step.id, ()))]
        if step.station_kind in self.workshop.all_ready:
            after += self.ready.setdefault(step.station_kind, self._over(before, self.seats))
        for each in (step, *self._tools_shown(step)):
            if each.who.gate != "none" and (shown := self._shown(each, seat)) is not None:
                after.append(After(shown))
        if step.who.gate == "signed-off" and step.station_kind not in self.workshop.signed_off:
            after.append(After(self._signed(step, seat)))
        attention = self.things.attention(step)
        watched = self.things.watching(step, attention)
        needs = (Need((seat,)), Need(self._machines(step)), *watched, *self._holding(step))
        if not step.one_go:
            minutes = stretches(whole_slots(step.minutes + step.set_up_minutes, self.slot), self.working.stretch, self.slot)
        else:
            room = min(usable(self.workshop, self.slot), int(self.working.turn_at_machine))
            minutes = [whole_slots(each, self.slot) for each in pieces_of(step, self.plan, self.job, room)]
        then = None
        if follows := self.then.get(step.id):
            then = Then(follows, whole_slots(follows.minutes + follows.set_up_minutes, self.slot))
            minutes = [sum(minutes) + then.minutes]
        for number, long in enumerate(minutes, 1):
            duty = Duty("step", (seat,), step, number, len(minutes), attention, then=then)
            keeps = tuple(self._keeps(step, len(minutes)))
            name = f"seat {seat + 1}: {step.id} {number}"
            splits = 0 if step.one_go or long < 2 * self.least_part else self.least_part
            at = self._add(duty, Activity(name, long, needs, keeps, tuple(after), (LESSONS,), splits, seat))
            after = [After(at)]
        self.ended[step.id, seat] = after[0].activity
        if then is not None:
            self.ended[then.step.id, seat] = after[0].activity

    def _over(self, before: Mapping[str, int], seats: Iterable[int]) -> list[After]:
        """What the steps before are over with: those of these seats, or of the staff."""
        return [
            After(self.ended[name, seat], wait)
            for name, wait in before.items()
            for seat in (*seats, STAFF_SEAT)
            if (name, seat) in self.ended
        ]

    def _teaching(self, step: Step) -> tuple[Need, ...]:
        """Whoever shows a station or signs off at it."""
        return self.things.held(self.things.adults_for(step.station_kind, in_lessons=True, teaching=True), self.whole)

    def _holding(self, step: Step) -> Iterator[Need]:
        """What is counted out for a step and given back after it."""
        kept = {self.things.all[keep.thing].about for keep in self._keeps(step, 1)}
        for held in step.holding:
            if held.name in self.things.counted and held.name not in kept and not self.holding[held.name].shared:
                yield Need(tuple(self.things.counted[held.name]))

    def _keeps(self, step: Step, apart: int) -> Iterator[Keep]:
        """Cramps for as long as they stay on, a drying place for as long as glue or finish takes."""
        values = {setting.name: setting.value for setting in step.settings}
        count, minutes = values.get("cramps"), values.get("cramp-time")
        name = self.things.cramps([held.name for held in step.holding])
        if count and minutes and name:
            each = ceil(count / apart)
            yield Keep(self.things.cramp(name, values.get("open") or 0.0, each), each, ceil(minutes))
        if (wait := self._waits.get(step.id, 0)) and DRYING_PLACE in self.things.counted:
            yield Keep(self.things.counted[DRYING_PLACE][0], 1, wait)

    @cached_property
    def _waits(self) -> dict[str, int]:
        return waits_after(self.plan)

    # Before a station is used for the first time

    def _shown(self, step: Step, seat: int) -> int | None:
        """The demonstration of a kind of station to the group of a seat; None where the school's record says it has been
        shown."""
        kind = step.station_kind
        if kind in self.workshop.instructed or kind in self.workshop.signed_off:
            return None
        group = self._group(seat)
        if (kind, group) not in self.shown:
            seats = tuple(each for each in self.seats if self._group(each) == group)
            needs = (
                *(Need((each,)) for each in seats),
                *self._teaching(step),
                Need(self.things.stations[step.station]),
            )
            name, long = f"demonstration: {kind} {group + 1}", whole_slots(self.working.demonstration, self.slot)
            activity = Activity(name, long, needs, group=STAFF_SEAT)
            self.shown[kind, group] = self._add(Duty("demonstration", seats, step, attention=self.whole, group=group), activity)
        return self.shown[kind, group]

    def _group(self, seat: int) -> int:
        """The group in which a seat is shown stations: as few groups as their greatest size allows, as equal as can be, so that
        nobody is shown a station almost alone while the others lack an adult."""
        largest = max(1, (self.workshop.shown_in or int(self.working.shown_in)) // self.each)
        groups = ceil(len(self.seats) / largest)
        return seat * groups // len(self.seats)

    def _tools_shown(self, step: Step) -> list[Step]:
        """The first steps of students that ask to be shown the other benches whose own tools a step uses."""
        kinds = self.things.kinds_of(step)[1:]
        first = {
            each.station_kind: each
            for each in reversed(self.plan.steps)
            if each.kind == "work" and each.who.operator == "student" and each.who.gate != "none"
        }
        return [first[kind] for kind in kinds if kind in first]

    def _signed(self, step: Step, seat: int) -> int:
        """The sign-off of a seat at a kind of station."""
        key = step.station_kind, seat
        if key not in self.signed:
            after = [After(number) for number in self.set_for.get(step.id, ())]
            if (shown := self._shown(step, seat)) is not None:
                after.append(After(shown))
            needs = (Need((seat,)), Need(self._machines(step)), *self._teaching(step))
            name = f"seat {seat + 1}: sign-off {step.station_kind}"
            long = whole_slots(self.each * self.working.sign_off, self.slot)
            activity = Activity(name, long, needs, after=tuple(after), group=seat)
            self.signed[key] = self._add(Duty("sign-off", (seat,), step, attention=self.whole), activity)
        return self.signed[key]

    # Machines and staff

    def _machines(self, step: Step) -> tuple[int, ...]:
        """The machines of a step: all alike ones, or one in turn where staff set each for a step of its own."""
        units = self.things.stations[step.station]
        if self.course.all_machines or step.id not in self._turns:
            return units
        return (units[self._turns[step.id] % len(units)],)

    @cached_property
    def _turns(self) -> dict[str, int]:
        """The steps of students that staff set a machine for, numbered at each station."""
        found: dict[str, int] = {}
        numbers: dict[str, int] = {}
        for before, step in zip(self.plan.steps, self.plan.steps[1:], strict=False):
            if before.kind == "set-up" and step.who.operator == "student":
                found[step.id] = numbers.get(step.station, 0)
                numbers[step.station] = found[step.id] + 1
        return found

    def _on_machines(self, step: Step) -> None:
        """Remember who uses a machine as it is set, so that nobody sets it anew before."""
        if step.id in self._turns:
            signed = [self.signed[step.station_kind, seat] for seat in self.seats if (step.station_kind, seat) in self.signed]
            for unit in self._machines(step):
                self.on[unit] = [*(self.ended[step.id, seat] for seat in self.seats), *signed]

    def _set_up(self, step: Step) -> None:
        """Staff set every machine that the step behind needs: in their own time, or while the class is there if an adult is left
        to watch it."""
        work = step.id.removesuffix("/set-up")
        own = next(each for each in self.plan.steps if each.id == work)
        there = self.things.adults_for(step.station_kind, in_lessons=True)
        free = own.who.operator == "student" and bool(there) and self.things.settings is not None
        adults = there if free else self.things.adults_for(step.station_kind, in_lessons=False)
        units = self._machines(own)
        for unit in units if own.who.operator == "student" else units[:1]:
            after = tuple(After(number) for number in self.on.get(unit, ()))
            left = (Need((self.things.settings,)),) if free and self.things.settings else ()
            needs = (*(self.things.held(adults, self.whole) if free else (Need(adults, self.whole),)), Need((unit,)), *left)
            activity = Activity(
                f"{step.id} {unit}",
                max(1, ceil(step.minutes)),
                needs,
                (),
                after,
                (STAFF, LESSONS) if free else (STAFF,),
                group=STAFF_SEAT,
            )
            number = self._add(Duty("set-up", (), step, attention=self.whole), activity)
            self.set_for.setdefault(work, []).append(number)
            self.on[unit] = [number]

    def _staff_step(self, step: Step, before: Mapping[str, int]) -> None:
        """Staff do a step for the whole class in one go."""
        count = len(self.seats)
        minutes = max(1, ceil(step.minutes * count + step.set_up_minutes))
        unit = self.things.stations[step.station][0]
        after = [*self._over(before, self.seats), *(After(number) for number in self.set_for.get(step.id, ()))]
        if not self.set_for.get(step.id) and self.things.is_machine(step.station_kind):
            after += [After(number) for number in self.on.get(unit, ())]
        needs = (Need(self.things.adults_for(step.station_kind, in_lessons=False), self.whole), Need((unit,)))
        keeps = tuple(self._for_all(keep) for keep in self._keeps(step, 1))
        activity = Activity(step.id, minutes, needs, keeps, tuple(after), (STAFF,), self.least_part, STAFF_SEAT)
        self.ended[step.id, STAFF_SEAT] = self._add(Duty("work", (), step, attention=self.whole), activity)
        if self.things.is_machine(step.station_kind):
            self.on[unit] = [self.ended[step.id, STAFF_SEAT]]

    def _for_all(self, keep: Keep) -> Keep:
        """The same for everybody's things at once; all there are, where that is fewer: staff then work in turns."""
        return replace(keep, amount=min(keep.amount * len(self.seats), self.things.all[keep.thing].count))

    def _guards_back(self, step: Step) -> None:
        work = step.id.removesuffix("/guards-back")
        unit = self.things.stations[step.station][0]
        seats = [seat for seat in (*self.seats, STAFF_SEAT) if (work, seat) in self.ended]
        after = tuple(After(self.ended[work, seat]) for seat in seats)
        needs = (Need(self.things.adults_for(step.station_kind, in_lessons=False), self.whole), Need((unit,)))
        activity = Activity(step.id, max(1, ceil(step.minutes)), needs, (), after, (STAFF,), group=STAFF_SEAT)
        self.on[unit] = [self._add(Duty("guards-back", (), step, attention=self.whole), activity)]

    def _away(self, calendar: Sessions) -> Iterator[tuple[int, int, int, int]]:
        """Stations on the days on which they are not there."""
        if calendar.monday is None:
            return
        for name, units in self.things.stations.items():
            for day in sorted(set(self.workshop.stations[name].away)):
                start = (day - calendar.monday).days * DAY
                for unit in units:
                    yield unit, self.things.all[unit].count, start, start + DAY


def hopeless(plan: Plan, job: Job, workshop: Workshop, knowledge: Knowledge) -> list[Finding]:
    """What stands in the way of any plan, however many lessons there are."""
    things, room = Things(plan, workshop, knowledge), usable(workshop, int(knowledge.working.slot))
    found: list[Finding] = []
    if not any(adult.in_lessons for adult in workshop.adults):
        found.append(_nobody_there())
    if not any(step.kind == "work" and step.who.operator == "student" for step in plan.steps):
        found.append(_nothing_to_do())
    for step in plan.steps:
        if step.kind == "wait":
            continue
        if step.kind == "work" and step.who.operator == "student":
            found += _against_student_step(step, plan, job, things, room)
            found += _nobody_to_show(step, things)
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


def _nobody_to_show(step: Step, things: Things) -> Iterator[Finding]:
    workshop, kind = things.workshop, step.station_kind
    shown = step.who.gate == "none" or kind in workshop.instructed or kind in workshop.signed_off
    signed = step.who.gate != "signed-off" or kind in workshop.signed_off
    if not (shown and signed) and not things.adults_for(kind, in_lessons=True, teaching=True):
        yield Finding(
            "error",
            "nobody-to-show",
            f"step {step.number}",
            f"{step.title}: no adult in lessons who teaches is authorised for the {step.station_title}.",
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
