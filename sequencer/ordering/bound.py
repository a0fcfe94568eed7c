"""What the changes still to come cost at least: no order can beat it.

Along any chain of demands the set-ups come in a fixed order, and every return to a set-up is an entry to be paid. So the chain
that visits a set-up most often says how often it is entered at least; likewise for a station, whose entry from outside costs
more than a change within. Entries into different set-ups are different entries, so their least costs add up.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sequencer.ordering.problem import Steps, any_order, members

Toll = tuple[int, int]
"""A set of steps and a cost: to be paid as long as a step of the set is left."""


@dataclass(frozen=True)
class Bound:
    """The tolls of a problem for each station that may be mounted: the entries of all set-ups, and for every station what coming
    from outside adds, at the mounted one only when it has been left."""

    tolls: tuple[tuple[Toll, ...], ...]

    def of(self, left: int, station: int) -> int:
        """The least cost of doing the steps that are left, when none of them can be done in the set-up mounted at a station."""
        return sum([toll for steps, toll in self.tolls[station] if steps & left])


def bound_of(steps: Steps) -> Bound:
    """The tolls of a problem."""
    set_ups = range(len(steps.first))
    station = steps.station
    into = [min((steps.change[a][b] for a in set_ups if a != b), default=0) for b in set_ups]
    outside = [min((steps.change[a][b] for a in set_ups if station[a] != station[b]), default=into[b]) for b in set_ups]
    entries: list[Toll] = []
    for set_up in set_ups:
        visits = _visits(steps, [own == set_up for own in steps.set_up])
        entries += ((many, into[set_up]) for many in _levels(visits))
    stations = range(max(station) + 1)
    arrivals: list[list[Toll]] = []
    returns: list[list[Toll]] = []
    for number in stations:
        dearer = min((outside[b] - into[b] for b in set_ups if station[b] == number), default=0)
        there = [station[set_up] == number for set_up in steps.set_up]
        visits = _visits(steps, there)
        again = [visit - here for visit, here in zip(visits, there, strict=True)]
        arrivals.append([(many, dearer) for many in _levels(visits)])
        returns.append([(many, dearer) for many in _levels(again)])
    tolls = [
        [*entries, *(toll for number in stations for toll in (returns if number == mounted else arrivals)[number])]
        for mounted in stations
    ]
    return Bound(tuple(tuple(toll for toll in own if toll[1]) for own in tolls))


def _visits(steps: Steps, there: Sequence[bool]) -> list[int]:
    """For each step how often some chain of demands that starts with it comes to a place: stays in a row count once. `there` says
    of each step whether it is done at the place."""
    visits = [0] * len(steps.before)
    for step in reversed(any_order(steps.before)):
        here = there[step]
        visits[step] = max(int(here), *(visits[later] + (here and not there[later]) for later in members(steps.after[step])), 0)
    return visits


def _levels(visits: Sequence[int]) -> list[int]:
    """For 1, 2, 3 ... the set of steps from which so many visits are to come."""
    return [sum(1 << step for step, many in enumerate(visits) if many >= level) for level in range(1, max(visits, default=0) + 1)]
