"""What comes before the first use of a station: it is shown to groups, and students are signed off at it."""

from __future__ import annotations

from math import ceil

from sequencer.classroom.duties import STAFF_SEAT, Duty
from sequencer.classroom.gathered import Gathered
from sequencer.classroom.slots import whole_slots
from sequencer.model.plan import Step
from sequencer.scheduling.problem import Activity, After, Need


class FirstUse:
    """The demonstrations and sign-offs of a class, each as it is first asked for."""

    def __init__(self, gathered: Gathered) -> None:
        self.gathered = gathered
        self._shown: dict[tuple[str, int], int] = {}
        self.signed: dict[tuple[str, int], int] = {}
        """Of a kind of station and a seat, the sign-off."""

    def before(self, step: Step, seat: int) -> list[After]:
        """What a seat has seen and shown before it does a step."""
        found = []
        for each in (step, *self._tools_shown(step)):
            if each.who.gate != "none" and (shown := self._showing(each, seat)) is not None:
                found.append(After(shown))
        if step.who.gate == "signed-off" and step.station_kind not in self.gathered.workshop.signed_off:
            found.append(After(self._signing(step, seat)))
        return found

    def _showing(self, step: Step, seat: int) -> int | None:
        """The demonstration of a kind of station to the group of a seat; None where the school's record says it has been
        shown."""
        gathered, kind = self.gathered, step.station_kind
        if kind in gathered.workshop.instructed or kind in gathered.workshop.signed_off:
            return None
        group = self._group(seat)
        if (kind, group) not in self._shown:
            seats = tuple(each for each in gathered.seats if self._group(each) == group)
            needs = (
                *(Need((each,)) for each in seats),
                *gathered.teaching(step),
                Need(gathered.things.stations[step.station]),
            )
            name, long = f"demonstration: {kind} {group + 1}", whole_slots(gathered.working.demonstration, gathered.slot)
            activity = Activity(name, long, needs, group=STAFF_SEAT)
            duty = Duty("demonstration", seats, step, attention=gathered.whole, group=group)
            self._shown[kind, group] = gathered.add(duty, activity)
        return self._shown[kind, group]

    def _group(self, seat: int) -> int:
        """The group in which a seat is shown stations: as few groups as their greatest size allows, as equal as can be, so that
        nobody is shown a station almost alone while the others lack an adult."""
        gathered = self.gathered
        largest = max(1, (gathered.workshop.shown_in or int(gathered.working.shown_in)) // gathered.each)
        groups = ceil(len(gathered.seats) / largest)
        return seat * groups // len(gathered.seats)

    def _tools_shown(self, step: Step) -> list[Step]:
        """The first steps of students that ask to be shown the other benches whose own tools a step uses."""
        kinds = self.gathered.things.kinds_of(step)[1:]
        first = {
            each.station_kind: each
            for each in reversed(self.gathered.plan.steps)
            if each.kind == "work" and each.who.operator == "student" and each.who.gate != "none"
        }
        return [first[kind] for kind in kinds if kind in first]

    def _signing(self, step: Step, seat: int) -> int:
        """The sign-off of a seat at a kind of station."""
        gathered, key = self.gathered, (step.station_kind, seat)
        if key not in self.signed:
            after = gathered.set_before(step)
            if (shown := self._showing(step, seat)) is not None:
                after.append(After(shown))
            needs = (Need((seat,)), Need(gathered.machines(step)), *gathered.teaching(step))
            name = f"seat {seat + 1}: sign-off {step.station_kind}"
            long = whole_slots(gathered.each * gathered.working.sign_off, gathered.slot)
            activity = Activity(name, long, needs, after=tuple(after), group=seat)
            self.signed[key] = gathered.add(Duty("sign-off", (seat,), step, attention=gathered.whole), activity)
        return self.signed[key]
