"""What whoever waits does: of the plan's tasks for it, one that this student can do at that minute. The job's own come first for
as long as they last, then seated work in turn.

At a bench a waiting student takes a place, is in the room of an adult who is not wholly held, and has been shown the station.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from functools import cached_property

from sequencer.classroom.course import Class
from sequencer.classroom.gaps import gaps, to_fill
from sequencer.classroom.precedence import waits_after
from sequencer.model.class_plan import Idle, Session, Span, StaffJob, Stint
from sequencer.model.plan import WaitingTask
from sequencer.planning.waiting_tasks import in_the_room
from sequencer.planning.who import makes_dust

Minute = tuple[int, int]
"""A lesson by number and a minute of it."""


class Waiting:
    """Who waits in a course as it is written down, and what they do meanwhile."""

    def __init__(
        self,
        class_: Class,
        stints: Sequence[Stint],
        jobs: Sequence[StaffJob],
        lessons: Sequence[Session],
        staff_sessions: Sequence[Session],
    ) -> None:
        self.class_, self.plan = class_, class_.plan
        self.lessons = {each.number: each for each in lessons}
        self.own_time = {each.number: each for each in staff_sessions}
        self.steps = {step.id: step for step in self.plan.steps}
        self.rests = waits_after(self.plan)
        self.own: dict[str, list[Stint]] = defaultdict(list)
        self.busy: Counter[tuple[str, Minute]] = Counter()
        """How many are at a kind of station in a minute, whoever waits there too."""
        self.held: dict[tuple[str, Minute], float] = defaultdict(float)
        """How much of an adult is taken in a minute."""
        self.wet: set[Minute] = set()
        """Minutes in which somebody puts finish on, or shows how."""
        kinds = {task.id: task.kind for task in self.plan.tasks}
        for stint in stints:
            step = self.steps[stint.step]
            for seat in stint.seats:
                self.own[seat].append(stint)
            for at in _minutes(stint.spans):
                self.busy[step.station_kind, at] += 1
                self.held[stint.adult, at] += stint.attention
                if any(kinds[task] == "coat" for task in step.tasks):
                    self.wet.add(at)
        for job in jobs:
            for at in _minutes(job.spans) if job.in_lesson else ():
                self.held[job.adult, at] += 1.0
        self.prepared = {job.step: self._last(job) for job in jobs if job.kind == "work"}
        """When staff have done a step for everyone, in real time."""

    def idle(self) -> Iterator[Idle]:
        """What is done in each stretch that a task is named for, in order of time."""
        longest = self.class_.knowledge.working.longest_idle
        found = [
            (gap, seat)
            for seat in self.own
            for lesson in self.lessons.values()
            for gap in to_fill(tuple(gaps(seat, self.own[seat], lesson)), longest)
        ]
        order = {seat: number for number, seat in enumerate(self.own)}
        spent: Counter[tuple[str, int]] = Counter()
        given: Counter[tuple[str, int]] = Counter()
        for gap, seat in sorted(found, key=lambda each: (each[0].session, each[0].start, order[each[1]])):
            fitting = [number for number, task in enumerate(self.plan.waiting) if self._fits(task, seat, gap)]
            if not fitting:
                yield Idle(seat, gap, "")
                continue
            chosen = min(fitting, key=lambda number: self._rank(number, gap, spent[seat, number], given[seat, number]))
            spent[seat, chosen] += gap.stop - gap.start
            given[seat, chosen] += 1
            for kind in self.plan.waiting[chosen].stations:
                self.busy.update((kind, at) for at in _minutes((gap,)))
            yield Idle(seat, gap, self.plan.waiting[chosen].does)

    def _rank(self, number: int, gap: Span, spent: int, given: int) -> tuple[bool, int, bool, int]:
        """The job's own tasks for as long as they last; of the others the least often given, long enough if there is one."""
        task = self.plan.waiting[number]
        first = task.own and not (task.minutes and spent >= task.minutes)
        return not first, given, 0 < task.minutes < gap.stop - gap.start, number

    def _fits(self, task: WaitingTask, seat: str, gap: Span) -> bool:
        """Whether a seat can do a task in a stretch."""
        start = self._real(gap.session, gap.start)
        steps = [stint for stint in self.own[seat] if stint.kind == "step"]
        first, last = min(map(self._first_over, steps)), max(map(self._stop, steps))
        of_time = {
            "any-time": True,
            "begun": first <= start,
            "unfinished": last > start,
            "made": last <= start and self._dry(seat, gap),
        }
        over = {stint.step: self._stop(stint) for stint in steps} | self.prepared
        done = all(over[step] <= start for step in task.after)
        return (
            of_time[task.when]
            and done
            and (not task.after or self._dry(seat, gap))
            and all(self._at_bench(kind, seat, gap) for kind in task.stations)
        )

    def _dry(self, seat: str, gap: Span) -> bool:
        """Whether nothing of a seat's sets or dries in a stretch."""
        start, stop = self._real(gap.session, gap.start), self._real(gap.session, gap.stop)
        over = {stint.step: self._stop(stint) for stint in self.own[seat] if stint.kind == "step"}
        over |= self.prepared
        return not any(over[step] < stop and start < over[step] + wait for step, wait in self.rests.items() if step in over)

    def _at_bench(self, kind: str, seat: str, gap: Span) -> bool:
        """Whether a seat may work at a kind of station in a stretch, and has a place there."""
        workshop = self.class_.workshop
        shown = kind in workshop.instructed or kind in workshop.signed_off
        start = self._real(gap.session, gap.start)
        shown = shown or any(kind in stint.shows and self._stop(stint) <= start for stint in self.own[seat])
        return (
            shown
            and in_the_room(kind, self.plan.steps)
            and all(self.busy[kind, at] < self._places[kind] and self._eyes(at) for at in _minutes((gap,)))
            and not (self._dusty(kind) and any(at in self.wet for at in _minutes((gap,))))
        )

    def _eyes(self, at: Minute) -> bool:
        """Whether an adult is there who is not wholly held."""
        return any(adult.in_lessons and self.held.get((adult.role, at), 0.0) < 1 for adult in self.class_.workshop.adults)

    def _dusty(self, kind: str) -> bool:
        known = self.class_.knowledge.stations[kind]
        return any(makes_dust(known, operation) for operation in known.operations.values())

    @cached_property
    def _places(self) -> Counter[str]:
        """Places at each kind of station that the plan uses."""
        names = {step.station: step.station_kind for step in self.plan.steps if step.station in self.class_.workshop.stations}
        found: Counter[str] = Counter()
        for name, kind in names.items():
            found[kind] += self.class_.workshop.stations[name].count
        return found

    def _real(self, lesson: int, minute: int) -> int:
        return self.lessons[lesson].starts + minute

    def _stop(self, stint: Stint) -> int:
        return self._real(stint.spans[-1].session, stint.spans[-1].stop)

    def _first_over(self, stint: Stint) -> int:
        """When a stint that ends a step is over; one that goes on ends none."""
        return self._stop(stint) if stint.piece == stint.of else 10**9

    def _last(self, job: StaffJob) -> int:
        span = job.spans[-1]
        return self.own_time[span.session].starts + span.stop


def _minutes(spans: Sequence[Span]) -> Iterator[Minute]:
    return ((span.session, minute) for span in spans for minute in range(span.start, span.stop))
