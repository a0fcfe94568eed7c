"""The counted things of a class: seats, adults, stations and machines, what is counted out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, lcm
from typing import Literal

from sequencer.classroom.shown import kinds_used
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.plan import Plan, Step
from sequencer.model.workshop import Adult, Workshop
from sequencer.scheduling.problem import Need

MOST_PARTS = 720
"""An adult is taken in no more parts than so many."""


@dataclass(frozen=True)
class Thing:
    """A counted thing: a seat, an adult, those who watch the benches together, a station or one of several
    alike machines, something counted out.

    about
        The kind of station, or what the counted thing serves as.
    reach
        Of cramps, mm.
    """

    kind: Literal["seat", "adult", "benches", "station", "counted"]
    name: str
    count: int
    about: str = ""
    reach: float | None = None

    @property
    def says(self) -> str:
        """What it is called in a sentence; of an adult what is taken is parts of ATTENTION."""
        parts = f"parts of {self.name}"
        return {"seat": f"seat {self.name}", "adult": parts, "benches": parts}.get(self.kind, self.name)


def seats_of(workshop: Workshop) -> int:
    """Those who make one thing each: students, or pairs of them."""
    return ceil(workshop.students / 2) if workshop.pairs else workshop.students


class Things:
    """All counted things of a class, by number, and which a step takes."""

    def __init__(self, plan: Plan, workshop: Workshop, knowledge: Knowledge, *, for_bounds: bool = False) -> None:
        self.knowledge, self.workshop, self.for_bounds = knowledge, workshop, for_bounds
        self.all: list[Thing] = [Thing("seat", str(number + 1), 1) for number in range(seats_of(workshop))]
        steps = [step for step in plan.steps if step.kind == "work" and step.who.operator == "student"]
        self.whole = min(MOST_PARTS, lcm(*(self._watched_at_a_time(step) for step in steps)))
        """The whole of an adult, in parts: a number that all figures of watching divide, as long as it is not too large. Every
        student at work whom nobody is beside takes some of an adult, so that one is left who is not wholly held."""
        self.adults: dict[int, Adult] = {}
        for adult in workshop.adults:
            self.adults[len(self.all)] = adult
            self.all.append(Thing("adult", adult.role, self.whole))
        there = sum(adult.in_lessons for adult in workshop.adults)
        self.settings = len(self.all) if there > 1 else None
        """Adults who may set machines at one time while the class is there, so that one is left to watch it; None if there is
        only one."""
        if there > 1:
            self.all.append(Thing("counted", "adults to set machines", there - 1))
        self.at_benches: dict[frozenset[int], int] = {}
        """Sets of adults who watch benches together, with the thing that they watch by."""
        for adults in self._sets_at_benches(steps):
            self.at_benches[adults] = len(self.all)
            roles = " and ".join(self.all[number].name.lower() for number in sorted(adults))
            name = "adults" if len(adults) == there else roles
            self.all.append(Thing("benches", name, self.whole * len(adults)))
        self.stations: dict[str, tuple[int, ...]] = {}
        for name in dict.fromkeys(step.station for step in plan.steps if step.kind != "wait"):
            self._add_station(name)
        self.counted: dict[str, list[int]] = {}
        for counted in workshop.counted.values():
            if counted.count:
                self.counted.setdefault(counted.kind or counted.name, []).append(len(self.all))
                self.all.append(Thing("counted", counted.name, counted.count, counted.kind or counted.name, counted.reach))

    def _add_station(self, name: str) -> None:
        """Alike machines are told apart, since each is set by itself; a bench is so many places."""
        station = self.workshop.stations[name]
        units = station.count if self.is_machine(station.kind) else 1
        self.stations[name] = tuple(range(len(self.all), len(self.all) + units))
        for unit in range(units):
            called = f"{name} {unit + 1}" if units > 1 else name
            self.all.append(Thing("station", called, 1 if units > 1 else station.count, station.kind))

    def is_machine(self, kind: str) -> bool:
        """Whether a kind of station is fixed and powered."""
        return self.knowledge.stations[kind].power == "machine"

    def by_hand(self, kind: str) -> bool:
        """Whether nothing at a kind of station has a motor."""
        return self.knowledge.stations[kind].power in ("hand", "bench")

    def _sets_at_benches(self, steps: Sequence[Step]) -> list[frozenset[int]]:
        """Those who may watch some bench of the class, and those who may watch some of several: where as much is left of each
        such set as its benches ask for, all benches are watched at once (P. Hall, Journal of the London Mathematical Society 10,
        1935)."""
        found: list[frozenset[int]] = []
        for step in steps:
            if (own := frozenset(self.watchers(step))) and self._together(step):
                found += [each for each in {own, *(own | other for other in found)} if each not in found]
        return sorted(found, key=sorted)

    def _together(self, step: Step) -> bool:
        """Whether those who may watch a step do so together: at benches, and where one in the room is enough."""
        return step.who.supervision != "beside" and (step.who.supervision == "room" or self.by_hand(step.station_kind))

    @property
    def bench_watchers(self) -> frozenset[int]:
        """Everyone who watches benches with others."""
        return frozenset().union(*self.at_benches)

    def watching(self, step: Step, attention: int) -> tuple[Need, ...]:
        """Who watches a student at a step, by so much of an adult: at a bench all who may do so together, elsewhere one adult,
        who is away from the benches by as much."""
        if self._together(step):
            may = frozenset(self.watchers(step))
            return tuple(Need((thing,), attention) for adults, thing in self.at_benches.items() if may <= adults)
        return self.held(self.watchers(step), attention)

    def watchers(self, step: Step) -> tuple[int, ...]:
        """The adults who may watch a student at a step: anyone there where one in the room is enough."""
        if step.who.supervision == "room":
            return tuple(number for number, adult in self.adults.items() if adult.in_lessons)
        return self.adults_for(step.station_kind, in_lessons=True)

    def held(self, adults: tuple[int, ...], attention: int) -> tuple[Need, ...]:
        """One of some adults by so much, who is away from the benches by as much. Of adults who watch unlike benches those do it
        who watch fewest; for bounds any of them, and only what all of them watch is taken."""
        sets = {number: [thing for each, thing in self.at_benches.items() if number in each] for number in adults}
        if not self.for_bounds:
            fewest = min(sets.values(), key=lambda things: (len(things), things), default=[])
            adults = tuple(number for number in adults if sets[number] == fewest)
        away = [thing for thing in self.at_benches.values() if all(thing in sets[number] for number in adults)]
        return (Need(adults, attention), *(Need((thing,), attention) for thing in away if adults))

    def adults_for(self, kind: str, *, in_lessons: bool, teaching: bool = False) -> tuple[int, ...]:
        """The adults who may watch or use a kind of station, or show it and sign students off. At benches those who teach come
        first, at what has a motor the others; of these whoever may do least, so that those who may do more are left for it."""
        found = [
            number
            for number, adult in self.adults.items()
            if (adult.in_lessons or not in_lessons) and (adult.teaches or not teaching) and self._may(adult, kind)
        ]

        def later(number: int) -> tuple[bool, bool, int]:
            adult = self.adults[number]
            return adult.teaches != self.by_hand(kind), "all" in adult.authorised, len(adult.authorised)

        return tuple(sorted(found, key=later))

    def teachers(self, *kinds: str) -> tuple[int, ...]:
        """The adults in lessons who teach and are authorised for all of some kinds of station."""
        found = self.adults_for(kinds[0], in_lessons=True, teaching=True)
        return tuple(number for number in found if all(self._may(self.adults[number], kind) for kind in kinds))

    def _may(self, adult: Adult, kind: str) -> bool:
        """Whether an adult is authorised for a kind of station."""
        bench = self.by_hand(kind) and self.knowledge.stations[kind].who.operator == "student"
        return "all" in adult.authorised or kind in adult.authorised or (bench and "benches" in adult.authorised)

    def attention(self, step: Step) -> int:
        """How much of an adult a student's step takes, in parts of the whole."""
        return self.whole if step.who.supervision == "beside" else ceil(self.whole / self._watched_at_a_time(step))

    def _watched_at_a_time(self, step: Step) -> int:
        """How many students at such work one adult watches at a time."""
        working = self.knowledge.working
        if step.who.supervision == "room":
            return max(1, floor(working.watched_benches))
        kind = self.knowledge.stations[step.station_kind]
        stations = [self.knowledge.stations[each] for each in self.kinds_of(step)]
        by_power = {"machine": working.watched_machines, "powered-hand": working.watched_powered}
        by_hand = {
            "edge-tools": working.watched_edge_tools,
            "hand-saws": working.watched_hand_saws,
            "gluing": working.watched_gluing,
            "benches": working.watched_benches,
        }
        watched = by_power.get(kind.power) or min(by_hand.get(each.watched, min(by_hand.values())) for each in stations)
        return max(1, floor(watched))

    def kinds_of(self, step: Step) -> list[str]:
        """The kind of station of a step, and at a bench those whose own tools are used at it too."""
        return kinds_used(step, self.knowledge)

    def cramps(self, names: Sequence[str]) -> str:
        """Of some ways of holding the one that is cramps, counted by reach; empty if there is none."""
        return next((name for name in names if name in self.counted and self.all[self.counted[name][0]].reach is not None), "")

    def cramp(self, name: str, opening: float, count: int) -> int:
        """The smallest cramps that open more than so far, mm, of which there are enough; the largest where none are."""
        by_reach = sorted(self.counted[name], key=lambda number: self.all[number].reach or 0.0)
        fits = [number for number in by_reach if (self.all[number].reach or 0.0) >= opening and self.all[number].count >= count]
        return (fits or by_reach[-1:])[0]
