"""What is left open is handed to a constraint solver (OR-Tools CP-SAT), where that optional library is there.

Every start is a minute at work of a calendar, from the minutes at which it may start; a wait is a difference of real time,
worked out from the window. One worker, a fixed seed and a limit counted in the solver's own deterministic time: equal input
gives equal output.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from importlib.util import find_spec
from itertools import pairwise
from typing import TYPE_CHECKING

from sequencer.scheduling.problem import After, Need, Placed, Problem, Schedule, starts_allowed

if TYPE_CHECKING:
    from ortools.sat.python import cp_model


@cache
def is_there() -> bool:
    """Whether the solver is installed."""
    return find_spec("ortools") is not None


@dataclass(frozen=True)
class Answer:
    """What the solver found: a better schedule or none, the last minute that it proved no schedule ends before, and whether the
    whole question is answered."""

    schedule: Schedule | None
    least: int
    proved: bool


def solve(problem: Problem, hint: Schedule, latest: int, *, effort: float) -> Answer:
    """A schedule that ends at a minute at the latest, as early as is found with so much effort (deterministic seconds). Raises
    ImportError without the library."""
    from ortools.sat.python import cp_model

    model = _Model(problem, latest)
    if model.impossible:
        return Answer(None, latest + 1, True)
    model.hint(hint)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = effort
    status = solver.solve(model.model)
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Answer(model.schedule(solver), round(solver.best_objective_bound), status == cp_model.OPTIMAL)
    return Answer(None, latest + 1 if status == cp_model.INFEASIBLE else 0, status == cp_model.INFEASIBLE)


@dataclass
class _Place:
    """The variables of one activity in one calendar: its start, whether it is there, and the thing it takes for each need."""

    start: cp_model.IntVar
    there: cp_model.IntVar | None
    taken: list[list[tuple[int, cp_model.IntVar | None]]] = field(default_factory=list)


class _Model:
    def __init__(self, problem: Problem, latest: int) -> None:
        from ortools.sat.python import cp_model

        self.problem, self.latest, self.impossible = problem, latest, False
        self.model = cp_model.CpModel()
        self.most = max(calendar.minutes for calendar in problem.calendars)
        self.places: list[dict[int, _Place]] = []
        self.used: dict[tuple[int, int], list[tuple[cp_model.IntervalVar, int]]] = {}
        self.windows: dict[tuple[int, int, bool], cp_model.IntVar] = {}
        self.kept = {keep.thing for activity in problem.activities for keep in activity.keeps}
        self.kept_used: list[tuple[int, int, int, int, cp_model.IntVar | None]] = []
        """Activity, calendar, thing, amount of what is needed of a thing that is kept by others, and whether it is taken."""
        for number in range(len(problem.activities)):
            self._place(number)
            if self.impossible:
                return
        for number, activity in enumerate(problem.activities):
            for each in activity.after:
                self._after(number, each)
        self._keeps()
        self._things()
        self.last = self.model.new_int_var(0, latest, "last")
        for number, activity in enumerate(problem.activities):
            if 0 in self.places[number]:
                place = self.places[number][0]
                self._if(self.model.add(self.last >= place.start + activity.minutes), place)
        self.model.minimize(self.last)

    def _if(self, constraint: cp_model.Constraint, *places: _Place) -> None:
        conditions = [place.there for place in places if place.there is not None]
        if conditions:
            constraint.only_enforce_if(conditions)

    def _place(self, number: int) -> None:
        from ortools.sat.python import cp_model

        activity = self.problem.activities[number]
        found: dict[int, _Place] = {}
        for calendar in activity.calendars:
            bits = starts_allowed(self.problem.calendars[calendar], activity.minutes, activity.splits)
            soonest = self.problem.calendars[calendar].at(activity.soonest)
            bits = bits >> soonest << soonest
            if calendar == 0:
                bits &= (1 << max(self.latest - activity.minutes + 1, 0)) - 1
            if not bits:
                continue
            domain = cp_model.Domain.from_intervals(_stretches(bits))
            start = self.model.new_int_var_from_domain(domain, f"{number}/{calendar}")
            there = self.model.new_bool_var("") if len(activity.calendars) > 1 else None
            place = _Place(start, there)
            for need in activity.needs:
                place.taken.append(self._take(number, place, calendar, need))
            found[calendar] = place
        if not found:
            self.impossible = True
        elif len(activity.calendars) > 1:
            self.model.add_exactly_one([place.there for place in found.values() if place.there is not None])
        self.places.append(found)

    def _take(self, number: int, place: _Place, calendar: int, need: Need) -> list[tuple[int, cp_model.IntVar | None]]:
        """The thing that is taken: one of the options, with an interval at each."""
        taken: list[tuple[int, cp_model.IntVar | None]] = []
        minutes, options = self.problem.activities[number].minutes, need.options
        for thing in options:
            chosen = place.there if len(options) == 1 else self.model.new_bool_var("")
            taken.append((thing, chosen))
            if thing in self.kept:
                self.kept_used.append((number, calendar, thing, need.amount, chosen))
                continue
            if chosen is None:
                interval = self.model.new_fixed_size_interval_var(place.start, minutes, "")
            else:
                interval = self.model.new_optional_fixed_size_interval_var(place.start, minutes, chosen, "")
            self.used.setdefault((calendar, thing), []).append((interval, need.amount))
        if len(options) > 1:
            chosen_ones = [chosen for _, chosen in taken if chosen is not None]
            if place.there is None:
                self.model.add_exactly_one(chosen_ones)
            else:
                self.model.add(sum(chosen_ones) == place.there)
        return taken

    def _moment(self, number: int, calendar: int, *, end: bool) -> cp_model.IntVar:
        """`_real` as a variable of its own."""
        own = self.problem.calendars[calendar].windows
        moment = self.model.new_int_var(own[0][0], own[-1][1], "")
        self.model.add(moment == self._real(number, calendar, end=end))
        return moment

    def _real(self, number: int, calendar: int, *, end: bool) -> cp_model.LinearExprT:
        """The real time at which an activity starts, or is over."""
        own, activity = self.problem.calendars[calendar], self.problem.activities[number]
        place = self.places[number][calendar]
        minute = place.start + (activity.minutes if end else 0)
        if len(own.windows) == 1:
            return minute + own.windows[0][0]
        key = number, calendar, end
        if key not in self.windows:
            at = self.model.new_int_var(0, len(own.windows) - 1, "")
            first, stop = (self.model.new_int_var(0, own.minutes, "") for _ in range(2))
            gone = [start - begin for (start, _), begin in zip(own.windows, own.firsts, strict=False)]
            off = self.model.new_int_var(min(gone), max(gone), "")
            self.model.add_element(at, list(own.firsts[:-1]), first)
            self.model.add_element(at, list(own.firsts[1:]), stop)
            self.model.add_element(at, gone, off)
            self._if(self.model.add(minute >= first + (1 if end else 0)), place)
            self._if(self.model.add(minute <= stop - (0 if end else 1)), place)
            self.windows[key] = off
        return minute + self.windows[key]

    def _after(self, number: int, each: After) -> None:
        for calendar, place in self.places[number].items():
            for other, before in self.places[each.activity].items():
                if not each.wait and calendar == other:
                    minutes = self.problem.activities[each.activity].minutes
                    self._if(self.model.add(place.start >= before.start + minutes), place, before)
                else:
                    start, stop = self._real(number, calendar, end=False), self._real(each.activity, other, end=True)
                    self._if(self.model.add(start >= stop + each.wait), place, before)

    def _keeps(self) -> None:
        """A thing that is kept is counted in real time, also by those who need it for as long as they work."""
        used: dict[int, list[tuple[cp_model.IntervalVar, int]]] = {thing: [] for thing in sorted(self.kept)}
        for number, activity in enumerate(self.problem.activities):
            for keep in activity.keeps:
                for calendar, place in self.places[number].items():
                    used[keep.thing].append((self._real_interval(number, calendar, keep.minutes, place.there), keep.amount))
        for number, calendar, thing, amount, chosen in self.kept_used:
            if self.problem.activities[number].splits:
                used[thing] += [(piece, amount) for piece in self._pieces(number, calendar, chosen)]
            else:
                used[thing].append((self._real_interval(number, calendar, 0, chosen), amount))
        for thing, start, stop, amount in ((thing, start, stop, amount) for thing, amount, start, stop in self.problem.away):
            if thing in used:
                used[thing].append((self.model.new_fixed_size_interval_var(start, stop - start, ""), amount))
        for thing, each in used.items():
            self.model.add_cumulative(
                [interval for interval, _ in each], [amount for _, amount in each], self.problem.counts[thing]
            )

    def _pieces(self, number: int, calendar: int, there: cp_model.IntVar | None) -> Iterator[cp_model.IntervalVar]:
        """What of an activity lies in each window, in real time: what goes on in the next takes nothing between the two."""
        own, minutes = self.problem.calendars[calendar], self.problem.activities[number].minutes
        start = self.places[number][calendar].start
        for (real, _), (first, stop) in zip(own.windows, pairwise(own.firsts), strict=True):
            low, high = (self._within(minute, first, stop) for minute in (start, start + minutes))
            begin, size, end = low + (real - first), self.model.new_int_var(0, stop - first, ""), high + (real - first)
            if there is None:
                yield self.model.new_interval_var(begin, size, end, "")
            else:
                yield self.model.new_optional_interval_var(begin, size, end, there, "")

    def _within(self, minute: cp_model.LinearExprT, first: int, stop: int) -> cp_model.IntVar:
        """A minute, or the end of a stretch that it lies beyond."""
        most, found = self.model.new_int_var(first, self.most, ""), self.model.new_int_var(first, stop, "")
        self.model.add_max_equality(most, [minute, first])
        self.model.add_min_equality(found, [most, stop])
        return found

    def _real_interval(self, number: int, calendar: int, longer: int, there: cp_model.IntVar | None) -> cp_model.IntervalVar:
        """An activity in real time, and so many minutes longer."""
        start, stop = (self._moment(number, calendar, end=end) for end in (False, True))
        windows = self.problem.calendars[calendar].windows
        size = self.model.new_int_var(0, windows[-1][1] - windows[0][0] + longer, "")
        if there is None:
            return self.model.new_interval_var(start, size, stop + longer, "")
        return self.model.new_optional_interval_var(start, size, stop + longer, there, "")

    def _things(self) -> None:
        for (calendar, thing), used in sorted(self.used.items()):
            own = self.problem.calendars[calendar]
            intervals, amounts = [interval for interval, _ in used], [amount for _, amount in used]
            for gone, amount, start, stop in self.problem.away:
                low, high = own.at(start), own.at(stop)
                if gone == thing and low < high:
                    intervals.append(self.model.new_fixed_size_interval_var(low, high - low, ""))
                    amounts.append(amount)
            count = self.problem.counts[thing]
            if count == 1 or min(amounts) * 2 > count:
                self.model.add_no_overlap(intervals)
            elif sum(amounts) > count:
                self.model.add_cumulative(intervals, amounts, count)

    def hint(self, schedule: Schedule) -> None:
        """Start from a schedule."""
        for places, placed in zip(self.places, schedule.placed, strict=True):
            for calendar, place in places.items():
                here = calendar == placed.calendar
                if place.there is not None:
                    self.model.add_hint(place.there, here)
                if here:
                    self.model.add_hint(place.start, placed.start)
                    for options, thing in zip(place.taken, placed.taken, strict=True):
                        for option, chosen in options:
                            if chosen is not None and len(options) > 1:
                                self.model.add_hint(chosen, option == thing)

    def schedule(self, solver: cp_model.CpSolver) -> Schedule:
        """What the solver found."""
        found = []
        for activity, places in zip(self.problem.activities, self.places, strict=True):
            calendar, place = next(
                (calendar, place) for calendar, place in places.items() if place.there is None or solver.value(place.there)
            )
            start = solver.value(place.start)
            taken = tuple(
                next(thing for thing, chosen in options if len(options) == 1 or (chosen is not None and solver.value(chosen)))
                for options in place.taken
            )
            found.append(Placed(calendar, start, start + activity.minutes, taken))
        return Schedule(tuple(found))


def _stretches(bits: int) -> list[list[int]]:
    """The stretches of set bits, first and last of each."""
    found: list[list[int]] = []
    at = 0
    while bits:
        zeros = (bits & -bits).bit_length() - 1
        at, bits = at + zeros, bits >> zeros
        ones = (~bits & (bits + 1)).bit_length() - 1
        found.append([at, at + ones - 1])
        at, bits = at + ones, bits >> ones
    return found
