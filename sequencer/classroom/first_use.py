"""What comes before the first use of a station: it is shown to groups, and students are signed off with their first piece."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from sequencer.classroom.duties import STAFF_SEAT, Duty
from sequencer.classroom.gathered import Gathered
from sequencer.classroom.shown import asked_for, by_kind, kind_of, on_record
from sequencer.classroom.slots import whole_slots
from sequencer.model.plan import Step
from sequencer.scheduling.problem import Activity, After, Need

CUTTING = "cutting by hand"
"""Stands for edge tools and saws of all benches."""


class FirstUse:
    """The demonstrations and sign-offs of a class, each as it is first asked for, and who is by at a first use.

    What the same step is the first to ask for is shown in one go: a station, and the way of work there that is taught by itself.
    A bench whose own tools are used elsewhere is shown where students come to stand; where they never stand there, at the bench
    of the step that uses the tools.
    Nobody is signed off long before the first piece: the sign-off is the start of the first part of the first step there. The
    very first part with an edge tool or a saw is watched by an adult who teaches. First is what the plan has first: all other
    such steps come after it.
    """

    def __init__(self, gathered: Gathered) -> None:
        self.gathered = gathered
        self._asked = asked_for(gathered.plan, gathered.knowledge)
        self._stands = {step.station_kind: step for step in reversed(gathered.plan.steps) if self._asked.get(step.id)}
        """Of each kind of station that students stand at and are shown, their first step there."""
        self._shown: dict[tuple[str, int], int] = {}
        """Of what is shown and a group, the demonstration."""
        self._begun: dict[tuple[str, int], int] = {}
        """Of what an adult who teaches is by at first and a seat, the part of a step that it is."""

    def before(self, step: Step, seat: int) -> list[After]:
        """What a seat has seen, and begun with somebody by, before it does a step."""
        found: list[After] = []
        for kind, names in by_kind(self._asked[step.id]).items():
            at = step if kind == step.station_kind else self._stands.get(kind, step)
            found += self._showing(at, names, seat)
        if (begun := self._begun.get((self._kind(step), seat))) is not None:
            found.append(After(begun))
        return found

    def sign_off(self, step: Step, seat: int) -> int:
        """The minutes of the sign-off that the first part of a step begins with, in all; 0 for who is signed off by then."""
        kind = self._kind(step)
        return ceil(self.gathered.each * self.gathered.working.sign_off) if self._first(kind, seat) and kind != CUTTING else 0

    def by_teacher(self, step: Step, seat: int) -> tuple[Need, ...]:
        """Who is by at the first part of a step, where somebody who teaches must be: wholly held by a sign-off, else watching."""
        gathered, kind = self.gathered, self._kind(step)
        if not self._first(kind, seat):
            return ()
        return gathered.teaching(step, gathered.things.attention(step) if kind == CUTTING else gathered.whole)

    def begun(self, step: Step, seat: int, activity: int) -> None:
        """Remember the part of a step at which somebody who teaches was by."""
        self._begun[self._kind(step), seat] = activity

    def _first(self, kind: str, seat: int) -> bool:
        return bool(kind) and (kind, seat) not in self._begun

    def _kind(self, step: Step) -> str:
        """What a step may be the first of that an adult who teaches is by at: a kind of station that asks for a sign-off, or work
        with edge tools and saws, at whichever bench, for a class that is new to them; empty for any other."""
        workshop, stations = self.gathered.workshop, self.gathered.knowledge.stations
        if step.who.gate == "signed-off":
            return "" if step.station_kind in workshop.signed_off else step.station_kind
        known = (*workshop.instructed, *workshop.signed_off)
        if step.who.gate == "none" or any(stations[kind].cuts_by_hand for kind in known if kind in stations):
            return ""
        return CUTTING if any(stations[kind].cuts_by_hand for kind in self.gathered.things.kinds_of(step)) else ""

    def _showing(self, step: Step, names: Sequence[str], seat: int) -> list[After]:
        """The demonstrations of some names to the group of a seat, but for what the school's record says has been shown."""
        workshop, group = self.gathered.workshop, self._group(seat)
        asked = [name for name in names if not on_record(name, workshop)]
        earlier = [self._shown[name, group] for name in asked if (name, group) in self._shown]
        if new := tuple(name for name in asked if (name, group) not in self._shown):
            number = self._demonstration(step, new, group, earlier)
            self._shown |= {(name, group): number for name in new}
        return [After(number) for number in dict.fromkeys(self._shown[name, group] for name in asked)]

    def _demonstration(self, step: Step, names: tuple[str, ...], group: int, after: Sequence[int]) -> int:
        """A group is shown something at the station of a step, in one go, after some other demonstrations."""
        gathered = self.gathered
        seats = tuple(each for each in gathered.seats if self._group(each) == group)
        needs = (
            *(Need((each,)) for each in seats),
            *gathered.teaching(step, gathered.whole, kind_of(names[0])),
            Need(gathered.things.stations[step.station]),
        )
        minutes = sum(gathered.working.way_shown if "/" in name else gathered.working.demonstration for name in names)
        activity = Activity(
            f"demonstration: {' '.join(names)} {group + 1}",
            whole_slots(minutes, gathered.slot),
            needs,
            after=tuple(map(After, after)),
            group=STAFF_SEAT,
        )
        duty = Duty("demonstration", seats, step, attention=gathered.whole, group=group, shows=names)
        return gathered.add(duty, activity)

    def _group(self, seat: int) -> int:
        """The group in which a seat is shown stations: as few groups as their greatest size allows, as equal as can be, so that
        nobody is shown a station almost alone while the others lack an adult."""
        gathered = self.gathered
        largest = max(1, (gathered.workshop.shown_in or int(gathered.working.shown_in)) // gathered.each)
        groups = ceil(len(gathered.seats) / largest)
        return seat * groups // len(gathered.seats)
