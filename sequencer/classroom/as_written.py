"""A class plan as it is written down, told in real time for the checker: sessions, stints, what stays taken. It knows nothing of
how the plan was found. Real time in minutes from midnight before the Monday of the first week.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from math import ceil

from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.class_plan import ClassPlan, Session, Span, StaffJob, Stint
from sequencer.model.job import Job
from sequencer.model.plan import Plan, Step, Task
from sequencer.model.workshop import Adult, Workshop

DAY = 24 * 60
FOREVER = 10**9


@dataclass(frozen=True)
class Written:
    """A class plan with what it is made from."""

    class_plan: ClassPlan
    plan: Plan
    job: Job
    workshop: Workshop
    knowledge: Knowledge

    @cached_property
    def steps(self) -> dict[str, Step]:
        """Every step by its id."""
        return {step.id: step for step in self.plan.steps}

    @cached_property
    def students(self) -> tuple[Step, ...]:
        """The steps that each student does."""
        return tuple(step for step in self.plan.steps if step.kind == "work" and step.who.operator == "student")

    @cached_property
    def adults(self) -> dict[str, Adult]:
        """The adults by role."""
        return {adult.role: adult for adult in self.workshop.adults}

    @cached_property
    def lessons(self) -> dict[int, Session]:
        """Lessons by number."""
        return {each.number: each for each in self.class_plan.lessons}

    @cached_property
    def own_time(self) -> dict[int, Session]:
        """Stretches of staff's own time by number."""
        return {each.number: each for each in self.class_plan.staff_sessions}

    @cached_property
    def monday(self) -> date | None:
        """The day from which real time counts."""
        first = self.workshop.time.first_date
        return first - timedelta(days=first.weekday()) if first else None

    def power(self, step: Step) -> str:
        """What drives the tools of a step's station: hand, bench, powered-hand, machine."""
        return self.knowledge.stations[step.station_kind].power

    def kind(self, stint: Stint) -> str:
        """The kind of station of a stint; empty where its step is none of the plan."""
        return self.steps[stint.step].station_kind if stint.step in self.steps else ""

    def by_hand(self, step: Step) -> bool:
        """Whether nothing there has a motor."""
        return self.power(step) in ("hand", "bench")

    def may(self, adult: Adult, step: Step) -> bool:
        """Whether an adult is authorised for the station of a step."""
        return self.may_at(adult, step.station_kind)

    def may_at(self, adult: Adult, kind: str) -> bool:
        """Whether an adult is authorised for a kind of station: by name, as one of the benches of students, or for all."""
        known = self.knowledge.stations[kind]
        bench = known.who.operator == "student" and known.power in ("hand", "bench")
        return not {"all", kind, *(("benches",) if bench else ())}.isdisjoint(adult.authorised)

    @cached_property
    def at_benches(self) -> set[str]:
        """The roles of adults in lessons who may watch some bench of the plan, or whose being in the room is enough there."""
        shared = [step for step in self.students if step.who.supervision == "room" or self.by_hand(step)]
        return {
            role
            for role, adult in self.adults.items()
            for step in shared
            if adult.in_lessons and step.who.supervision != "beside" and (step.who.supervision == "room" or self.may(adult, step))
        }

    def benches(self, step: Step) -> list[str]:
        """The kinds of station without a motor whose tools a step at one of them uses: its own, and those whose own tools it
        names."""
        named = [tool.split(",")[0] for tool in step.tools]
        others = (kind for kind, station in self.knowledge.stations.items() if any(tool in station.own_tools for tool in named))
        return [step.station_kind, *(kind for kind in others if kind != step.station_kind)]

    def kinds(self, step: Step) -> set[str]:
        """The kinds of work of a step."""
        return {task.kind for task in self.plan.tasks if task.id in step.tasks}

    def pieces(self, step: Step) -> list[float]:
        """The minutes of each thing that a step may be left off after: a piece of wood, or what is put together apart."""
        tasks = [task for task in self.plan.tasks if task.id in step.tasks]
        if tasks and tasks[0].part:
            return [task.minutes for task in tasks for _ in range(task.quantity)]
        apart = max((self._apart(task) for task in tasks), default=1)
        return [step.minutes / apart] * apart

    def _apart(self, task: Task) -> int:
        """How many things the joints of a task put together that have no piece in common, with what is together before it."""
        number = {name: step.number for step in self.plan.steps for name in step.tasks}
        tries = task.kind in ("dry-fit", "clean-inside")
        before = [
            each
            for each in self.plan.tasks
            if number.get(each.id, 0) < number.get(task.id, 0) and (tries or each.kind not in ("dry-fit", "clean-inside"))
        ]
        things: list[set[str]] = []
        for joint in (self.job.joints[name] for each in (*before, task) for name in each.joints):
            own = {joint.enters_piece, joint.seat.piece}
            met = [thing for thing in things if thing & own]
            things = [thing for thing in things if not thing & own] + [own.union(*met)]
        new = {piece for name in task.joints for piece in (self.job.joints[name].enters_piece, self.job.joints[name].seat.piece)}
        return max(1, sum(bool(thing & new) for thing in things))

    def real(self, spans: Sequence[Span], *, in_lesson: bool = True) -> list[tuple[int, int]]:
        """Stretches of real time; those of sessions that there are."""
        sessions = self.lessons if in_lesson else self.own_time
        found = [(sessions[span.session].starts, span) for span in spans if span.session in sessions]
        return [(start + span.start, start + span.stop) for start, span in found]

    def who(self, stint: Stint) -> str:
        """The seats of a stint, to start a sentence with."""
        return f"Seat {', '.join(stint.seats)}" if stint.seats else "Nobody"

    @cached_property
    def known_jobs(self) -> tuple[StaffJob, ...]:
        """The jobs of staff's at steps that there are."""
        return tuple(job for job in self.class_plan.staff_jobs if job.step in self.steps)

    def start(self, stint: Stint) -> int:
        """When a stint starts."""
        return min((start for start, _ in self.real(stint.spans)), default=FOREVER)

    def stop(self, stint: Stint) -> int:
        """When it is over."""
        return max((stop for _, stop in self.real(stint.spans)), default=-FOREVER)

    def job_real(self, job: StaffJob) -> list[tuple[int, int]]:
        """Stretches of real time of a job of staff's."""
        return self.real(job.spans, in_lesson=job.in_lesson)

    @cached_property
    def by_seat(self) -> dict[str, list[Stint]]:
        """Every seat's stints in the order of time."""
        found: dict[str, list[Stint]] = {seat: [] for seat in self.class_plan.seats}
        for stint in self.class_plan.stints:
            for seat in stint.seats:
                found.setdefault(seat, []).append(stint)
        return {seat: sorted(each, key=self.start) for seat, each in found.items()}

    @cached_property
    def parts(self) -> dict[tuple[str, str], list[Stint]]:
        """The stints of a seat at a step, in the order of time."""
        found: dict[tuple[str, str], list[Stint]] = defaultdict(list)
        for seat, stints in self.by_seat.items():
            for stint in stints:
                if stint.kind == "step":
                    found[seat, stint.step].append(stint)
        return found

    @cached_property
    def waits(self) -> dict[str, dict[str, int]]:
        """Of each step of work, the steps of work that must be over before, and the minutes of real time between."""
        step_of = {task: step.id for step in self.plan.steps if step.kind in ("work", "wait") for task in step.tasks}
        before: dict[str, set[str]] = defaultdict(set)
        for reason in self.plan.reasons:
            first, then = step_of.get(reason.before), step_of.get(reason.after)
            if first and then and first != then:
                before[then].add(first)

        def over(name: str, wait: int) -> Iterator[tuple[str, int]]:
            for first in before[name]:
                if self.steps[first].kind == "wait":
                    yield from over(first, wait + ceil(self.steps[first].minutes))
                else:
                    yield first, wait

        found: dict[str, dict[str, int]] = {}
        for step in self.plan.steps:
            if step.kind == "work":
                found[step.id] = {}
                for first, wait in over(step.id, 0):
                    found[step.id][first] = max(wait, found[step.id].get(first, 0))
        return found

    @cached_property
    def rests(self) -> dict[str, int]:
        """Of a step after which glue sets or finish dries, for how long, min."""
        step_of = {task: step for step in self.plan.steps for task in step.tasks}
        found: dict[str, int] = {}
        for reason in self.plan.reasons:
            first, then = step_of.get(reason.before), step_of.get(reason.after)
            if reason.kind == "cure" and first and then and first.kind == "work" and then.kind == "wait":
                found[first.id] = max(found.get(first.id, 0), ceil(then.minutes))
        return found

    def moment(self, text: str) -> int | None:
        """A moment that the class plan writes as text, `2027-02-04 09:40` or `day 3, 9:40`; None if it is neither."""
        day, _, clock = text.rpartition(" ")
        try:
            hours, minutes = (int(each) for each in clock.split(":"))
            if day.startswith("day "):
                days = int(day.removeprefix("day ").removesuffix(",")) - 1
            elif self.monday is not None:
                days = (date.fromisoformat(day) - self.monday).days
            else:
                return None
        except ValueError:
            return None
        return days * DAY + hours * 60 + minutes

    def given_back(self, moment: int) -> int:
        """The first moment from one on at which somebody is there to give a thing back."""
        later = [
            max(each.starts, moment)
            for each in (*self.class_plan.lessons, *self.class_plan.staff_sessions)
            if each.starts + each.minutes > moment
        ]
        return min(later, default=FOREVER)

    def place(self, place: str) -> str:
        """The workshop file's name of a place: `pillar-drill` of `pillar-drill 2`."""
        name, _, number = place.rpartition(" ")
        return name if number.isdigit() and name in self.workshop.stations else place

    def at(self, real: int) -> str:
        """A moment in words."""
        for each in self.class_plan.lessons:
            if each.starts <= real < each.starts + each.minutes:
                return f"in lesson {each.number} at minute {real - each.starts}"
        day = f"on {self.monday + timedelta(days=real // DAY)}" if self.monday else f"on day {real // DAY + 1}"
        return f"{day} at {real % DAY // 60}:{real % 60:02}"


def fullest(taken: Iterable[tuple[int, int, float]], room: float) -> tuple[int, float] | None:
    """The first moment at which more is taken than there is room for, and how much is taken then; None if there is none."""
    changes: dict[int, float] = defaultdict(float)
    for start, stop, amount in taken:
        if start < stop:
            changes[start] += amount
            changes[stop] -= amount
    level = 0.0
    for moment in sorted(changes):
        level += changes[moment]
        if level > room + 1e-6:
            return moment, level
    return None
