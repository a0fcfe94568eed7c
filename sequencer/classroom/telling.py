"""Writes a course down as the class plan: who is where when, staff's jobs, what stays taken, who waits, what holds it up."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace

from sequencer.classroom.course import Class, Found
from sequencer.classroom.duties import LESSONS, STAFF, Duty
from sequencer.classroom.holding_up import bottlenecks, chain
from sequencer.classroom.hopeless import too_many_for
from sequencer.classroom.mixed import cautions
from sequencer.classroom.sessions import clock
from sequencer.classroom.shown import title
from sequencer.classroom.waiting_work import Waiting
from sequencer.findings import Finding
from sequencer.model.class_plan import (
    CLASS_PLAN_VERSION,
    NO_TIMETABLE,
    ClassPlan,
    Idle,
    JobKind,
    Session,
    Span,
    StaffJob,
    Stint,
    StintKind,
    Taken,
)
from sequencer.scheduling.problem import Placed

STINTS: dict[str, StintKind] = {"step": "step", "demonstration": "demonstration"}
JOBS: dict[str, JobKind] = {"work": "work", "set-up": "set-up", "guards-back": "guards-back"}


def class_plan(class_: Class, found: Found) -> ClassPlan:
    """The class plan of a course; without what would help and before it has been checked."""
    return _Teller(class_, found).told()


class _Teller:
    def __init__(self, class_: Class, found: Found) -> None:
        self.class_, self.found = class_, found
        self.work, self.schedule = found.work, found.schedule
        self.calendars = self.work.problem.calendars
        self.lessons = found.lessons
        staff = [each.stop for each in self.schedule.placed if each.calendar == STAFF]
        self.staff_sessions = self.calendars[STAFF].window_of_end(max(staff)) + 1 if staff else 0

    def told(self) -> ClassPlan:
        plan, workshop = self.class_.plan, self.class_.workshop
        stints = tuple(
            sorted(self._stints(), key=lambda stint: (stint.spans[0].session, stint.spans[0].start, stint.seats, stint.number))
        )
        jobs = tuple(sorted(self._jobs(), key=lambda job: (job.in_lesson, job.spans[0].session, job.spans[0].start, job.number)))
        lessons, staff_sessions = self._sessions(LESSONS, self.lessons), self._sessions(STAFF, self.staff_sessions)
        seats = tuple(thing.name for thing in self.work.things if thing.kind == "seat")
        known = (*workshop.instructed, *workshop.signed_off)
        careful = cautions(stints, plan, workshop.adults, seats, self.class_.knowledge, jobs, known)
        lessons = tuple(replace(each, cautions=careful.get(each.number, ())) for each in lessons)
        idle = tuple(Waiting(self.class_, stints, jobs, lessons, staff_sessions).idle())
        return ClassPlan(
            CLASS_PLAN_VERSION,
            plan.job,
            plan.job_file,
            plan.workshop_file,
            plan.fingerprints.get("job", ""),
            seats,
            workshop.pairs,
            tuple(adult.role for adult in workshop.adults),
            workshop.time.lesson,
            workshop.time.settling_in,
            workshop.time.clearing_up,
            lessons,
            staff_sessions,
            self.work.sessions.stated,
            stints,
            jobs,
            tuple(self._taken()),
            idle,
            self.found.least,
            tuple(bottlenecks(self.found)),
            tuple(chain(self.found)),
            (),
            (*self._findings(idle), *too_many_for(workshop)),
            (self.found.schedules, self.found.solved),
            workshop.all_ready,
            at_benches=tuple(self.work.things[number].name for number in sorted(self.work.at_benches)),
            done=tuple(max(each.spans[-1].session for each in stints if seat in each.seats) for seat in seats),
        )

    def _sessions(self, calendar: int, count: int) -> tuple[Session, ...]:
        windows = self.calendars[calendar].windows[:count]
        listed = tuple(self.work.sessions.session(window, number) for number, window in enumerate(windows, 1))
        if calendar == LESSONS:
            return listed
        starts = [start for start, _ in self.calendars[LESSONS].windows[: self.lessons]]
        following = [next((number for number, start in enumerate(starts, 1) if start >= stop), 0) for _, stop in windows]
        return tuple(replace(session, before=lesson) for session, lesson in zip(listed, following, strict=True))

    def _spans(self, place: Placed) -> tuple[Span, ...]:
        """The stretches of an activity, one for each session it is in."""
        calendar = self.calendars[place.calendar]
        found, minute = [], place.start
        while minute < place.stop:
            at = calendar.window(minute)
            stop = min(place.stop, calendar.firsts[at + 1])
            found.append(Span(at + 1, minute - calendar.firsts[at], stop - calendar.firsts[at]))
            minute = stop
        return tuple(found)

    def _adult(self, place: Placed) -> str:
        return next((self.work.things[thing].name for thing in place.taken if self.work.things[thing].kind == "adult"), "")

    def _place(self, duty: Duty, place: Placed) -> str:
        taken = (self.work.things[thing] for thing in place.taken)
        return next((thing.name for thing in taken if thing.kind == "station"), duty.step.station)

    def _stints(self) -> Iterator[Stint]:
        """Every stint; parts of a step that follow each other without a break are one."""
        runs: dict[tuple[str, tuple[int, ...], str, tuple[str, ...]], list[tuple[Duty, Placed]]] = defaultdict(list)
        for duty, place in zip(self.work.duties, self.schedule.placed, strict=True):
            if duty.kind in STINTS:
                runs[duty.kind, duty.seats, duty.step.id, duty.shows].append((duty, place))
        for each in runs.values():
            joined: list[tuple[Duty, Placed]] = []
            for duty, place in sorted(each, key=lambda one: one[1].start):
                if joined and duty.attention == joined[-1][0].attention and self._goes_on(joined[-1][1], place):
                    joined[-1] = joined[-1][0], joined[-1][1]._replace(stop=place.stop)
                else:
                    joined.append((duty, place))
            for piece, (duty, place) in enumerate(joined, 1):
                own = _own(duty, place)
                if duty.sign_off:
                    yield self._stint("sign-off", duty, place._replace(stop=own.start))
                yield self._stint(STINTS[duty.kind], duty, own, piece, len(joined))
                if duty.then is not None:
                    follows = replace(duty, step=duty.then.step)
                    yield self._stint("step", follows, place._replace(start=own.stop), piece, len(joined))

    def _goes_on(self, before: Placed, place: Placed) -> bool:
        """Whether a part of a step follows another without a break: not over the end of a lesson, where one starts afresh."""
        calendar = self.calendars[place.calendar]
        within = calendar.window_of_end(before.stop) == calendar.window(place.start)
        return before.stop == place.start and before.taken == place.taken and within

    def _stint(self, kind: StintKind, duty: Duty, place: Placed, piece: int = 1, of: int = 1) -> Stint:
        seats = tuple(self.work.things[seat].name for seat in duty.seats)
        return Stint(
            kind,
            seats,
            duty.step.id,
            duty.step.number,
            duty.step.title if kind == "step" else title(duty.shows, duty.step, self.class_.knowledge),
            self._place(duty, place),
            self._adult(place),
            round(duty.attention / self.work.whole, 3),
            self._spans(place),
            piece,
            of,
            duty.shows,
        )

    def _jobs(self) -> Iterator[StaffJob]:
        """Staff's jobs; what nobody ever works at is not set."""
        both = list(zip(self.work.duties, self.schedule.placed, strict=True))
        used = {self._place(duty, place) for duty, place in both if duty.kind in ("step", "work")}
        for duty, place in both:
            if duty.kind in JOBS and (duty.kind != "set-up" or self._place(duty, place) in used):
                yield StaffJob(
                    JOBS[duty.kind],
                    duty.step.id,
                    duty.step.number,
                    duty.step.title,
                    self._place(duty, place),
                    self._adult(place),
                    self._spans(place),
                    place.calendar == LESSONS,
                    sum(thing.kind == "seat" for thing in self.work.things) if duty.kind == "work" else 1,
                )

    def _taken(self) -> Iterator[Taken]:
        for number, (duty, place) in enumerate(zip(self.work.duties, self.schedule.placed, strict=True)):
            calendar = self.calendars[place.calendar]
            place = _own(duty, place)
            for keep in self.work.problem.activities[number].keeps:
                real = calendar.real_end(place.stop) + keep.minutes
                lesson = self.calendars[LESSONS].window(self.calendars[LESSONS].at(real)) + 1
                seat = self.work.things[duty.seats[0]].name if duty.seats else ""
                yield Taken(
                    self.work.things[keep.thing].name,
                    keep.amount,
                    seat,
                    duty.step.id,
                    self._spans(place)[0],
                    self._moment(real),
                    lesson if lesson <= self.lessons else 0,
                )

    def _moment(self, real: int) -> str:
        day = self.work.sessions.day(real)
        return f"{day.isoformat()} {clock(real)}" if day else f"day {real // 1440 + 1}, {clock(real)}"

    def _findings(self, idle: Sequence[Idle]) -> Iterator[Finding]:
        given = {each.does for each in idle}
        for task in self.class_.plan.waiting:
            if idle and task.own and task.does not in given:
                yield Finding(
                    "note", "waiting-work-not-given", "extension",
                    f"In no lesson does anybody wait who can do this then: '{task.does}'",
                    "What it needs is not shown or made by then, takes somebody to watch, or all places are taken.",
                    "Write one more task for pencil and paper under `extension` in the job file, if that matters.",
                )  # fmt: skip
        time = self.class_.workshop.time
        if not time.week or time.first_date is None:
            yield Finding(
                "note", NO_TIMETABLE, "time",
                "The workshop file does not say on which days and at what time the lessons are; they are taken to be spread over "
                "the week, at nine o'clock.",
                "Whether glue has set until the next lesson depends on it.",
                "Write `week` and `first_date` under `time`.",
            )  # fmt: skip
        if not time.staff_time and any(self._jobs()):
            yield Finding(
                "note", "staff-time-not-stated", "time",
                "The workshop file does not say when staff prepare; that there is time enough before each lesson was "
                "not looked at.",
                "A machine that is not set, or wood that is not sawn, holds up the class.",
                "Write `staff_time` under `time`.",
            )  # fmt: skip
        without = [each for each in idle if not each.does]
        if without:
            worst = max(without, key=lambda each: each.span.stop - each.span.start)
            yield Finding(
                "warning", "no-waiting-work", "the class",
                f"Students wait longer than {self.class_.knowledge.working.longest_idle:g} minutes of a lesson, at most "
                f"{worst.span.stop - worst.span.start} in one go in lesson {worst.span.session}, and no task is there for it.",
                "Whoever has nothing to do disturbs others at work.",
                "Write a task for pencil and paper under `extension` in the job file.",
            )  # fmt: skip


def _own(duty: Duty, place: Placed) -> Placed:
    """The time of a step itself, without the sign-off before it and what is done right behind it."""
    return place._replace(start=place.start + duty.sign_off, stop=place.stop - (duty.then.minutes if duty.then else 0))
