"""What is gathered of a class's work so far: its activities, what ends each student's step, and how each machine stands."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from math import ceil

from sequencer.classroom.duties import STAFF_SEAT, Course, Duty
from sequencer.classroom.precedence import waits_after
from sequencer.classroom.things import Things, seats_of
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.job import Job
from sequencer.model.plan import Plan, Step
from sequencer.model.workshop import Workshop
from sequencer.scheduling.problem import Activity, After, Keep, Need

DRYING_PLACE = "drying-place"


class Gathered:
    """The activities of a class so far, each with its duty, and what several kinds of them ask for.

    ended
        Of a step and a seat, the activity that ends it.
    set_for
        Of a step, the activities that set machines for it.
    on
        Of a machine, what was done there with the last setting.
    """

    def __init__(self, plan: Plan, job: Job, workshop: Workshop, knowledge: Knowledge, course: Course) -> None:
        self.plan, self.job, self.workshop, self.course = plan, job, workshop, course
        self.knowledge, self.working = knowledge, knowledge.working
        self.slot, self.least_part = int(knowledge.working.slot), int(knowledge.working.least_part)
        self.things = Things(plan, workshop, knowledge, for_bounds=course.for_bounds)
        self.whole = self.things.whole
        self.seats = range(seats_of(workshop))
        self.each = 2 if workshop.pairs else 1
        """Students of a seat: both of a pair are shown a station, and each shows that they can use it."""
        self.activities: list[Activity] = []
        self.duties: list[Duty] = []
        self.ended: dict[tuple[str, int], int] = {}
        self.set_for: dict[str, list[int]] = {}
        self.on: dict[int, list[int]] = {}

    def add(self, duty: Duty, activity: Activity) -> int:
        """One more activity; gives its number."""
        self.activities.append(activity)
        self.duties.append(duty)
        return len(self.activities) - 1

    def over(self, before: Mapping[str, int], seats: Iterable[int]) -> list[After]:
        """What the steps before are over with: those of these seats, or of the staff."""
        return [
            After(self.ended[name, seat], wait)
            for name, wait in before.items()
            for seat in (*seats, STAFF_SEAT)
            if (name, seat) in self.ended
        ]

    def set_before(self, step: Step) -> list[After]:
        """What sets machines for a step."""
        return [After(number) for number in self.set_for.get(step.id, ())]

    def teaching(self, step: Step, attention: int, shown: str = "") -> tuple[Need, ...]:
        """One of those who show a station and sign off at it, by so much. `shown`: the kind whose tools are shown there."""
        return self.things.held(self.things.teachers(step.station_kind, shown or step.station_kind), attention)

    def machines(self, step: Step) -> tuple[int, ...]:
        """The machines of a step: all alike ones, or one in turn where staff set each for a step of its own."""
        units = self.things.stations[step.station]
        if self.course.all_machines or step.id not in self.turns:
            return units
        return (units[self.turns[step.id] % len(units)],)

    @cached_property
    def turns(self) -> dict[str, int]:
        """The steps of students that staff set a machine for, numbered at each station."""
        found: dict[str, int] = {}
        numbers: dict[str, int] = {}
        for before, step in zip(self.plan.steps, self.plan.steps[1:], strict=False):
            if before.kind == "set-up" and step.who.operator == "student":
                found[step.id] = numbers.get(step.station, 0)
                numbers[step.station] = found[step.id] + 1
        return found

    def keeps(self, step: Step, apart: int) -> Iterator[Keep]:
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
