"""What no schedule can beat, by a linear program: how much of each kind of work can be done by the end of each window.

Where work at one thing alone has room, work at several together may have none: what can be done early takes little of the one,
and what takes much of it waits for the other. Of each kind of alike activities a share is done by the end of each window. No
schedule does a larger share of a kind than it has done of what the kind waits for, as many windows sooner as lie between the two
at the least; nor more in a window than the things have room for. Where no shares keep that and come to the whole of every kind,
there is no schedule.

It is the time-indexed relaxation of project scheduling (R. H. Möhring, A. S. Schulz, F. Stork, M. Uetz, "Solving project
scheduling problems by minimum cut computations", MIT Sloan working paper 4231-02, 2002), with alike activities taken together and
windows in the place of moments.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from math import ceil

import numpy as np

from sequencer.scheduling.bound import Bound, Ways, fullest
from sequencer.scheduling.kinds import Kinds
from sequencer.scheduling.lags import Lags
from sequencer.scheduling.problem import Keep, Problem
from sequencer.scheduling.program import About, Program, Term

BEYOND = 16
"""So many windows more than another bound asks for are looked at."""
LARGEST = 300_000
"""A program of more terms is not solved: it would take longer than it is worth."""
IN_TURN = (1, 2, 3)
"""Moments of a window, evenly apart, at which long work is counted."""


@dataclass(frozen=True)
class _Row:
    """Of the second kind no share beyond what is done of the first by one window is done by another, counted `times` and
    `shares`: numerator and denominator of how much of the second waits for one of the first at the most."""

    first: int
    by: int
    second: int
    until: int
    times: int
    shares: int


class Flow:
    """The linear programs of a problem, each for so many windows of the first calendar, up to so many."""

    def __init__(self, problem: Problem, most: int) -> None:
        self.problem, self.calendar = problem, problem.calendars[0]
        self.most = min(most, len(self.calendar.windows))
        self.ways, self.kinds = Ways(problem), Kinds(problem)
        self.lags = Lags(self.kinds, self.ways, self.most)
        self._rows = list(self._after())
        self._first = self._firsts()
        self._sets = self._sets_of_things()

    # What waits for what

    def _after(self) -> Iterator[_Row]:
        """All that one kind waits for of another, but for what follows from what stands between the two."""
        sure, lags, most = self.lags.sure, self.lags.after, self.most
        place = {kind: at for at, kind in enumerate(sure)}
        windows = np.full((len(sure), len(sure), most + 1), most, dtype=np.int64)
        shares = np.full((len(sure), len(sure)), np.inf)
        for kind, each in lags.items():
            for other, lag in each.items():
                windows[place[kind], place[other], :most] = np.minimum(lag.windows, most)
                shares[place[kind], place[other]] = float(lag.share)
        for kind, each in lags.items():
            one = place[kind]
            for other, lag in each.items():
                two = place[other]
                own = windows[one, two]
                waits = own[1:] > own[:-1]
                between = np.flatnonzero(shares[one] * shares[:, two] <= shares[one, two] * (1 + 1e-9))
                if len(between):
                    by = windows[between[:, None], two, windows[one, between]]
                    waits &= ~(by[:, 1:] >= own[1:]).any(axis=0)
                for at in np.flatnonzero(waits):
                    yield _Row(kind, int(at), other, int(own[at + 1]) - 1, lag.share.numerator, lag.share.denominator)

    def _firsts(self) -> dict[int, int]:
        """The first window in which there can be work of each kind."""
        found = {kind: self.lags.first_window(kind) for kind in self.lags.sure}
        for kind in self.lags.sure:
            for other, lag in self.lags.after[kind].items():
                by = int(lag.windows[found[kind]]) if found[kind] < self.most else self.most
                found[other] = max(found[other], by)
        return found

    # How much there is room for

    def _sets_of_things(self) -> list[About]:
        """Things, and sets of things of which any serves for some work; two such sets that overlap also as one, and all that are
        one group's own."""
        own = set(self.kinds.own.values())
        needs = (need for kind in self.lags.sure for need in self.kinds.activity(kind).needs)
        found = {tuple(sorted(need.options)) for need in needs if own.isdisjoint(need.options)}
        found |= {tuple(sorted({*one, *two})) for one, two in combinations(sorted(found), 2) if not set(one).isdisjoint(two)}
        return [*sorted(found), *([tuple(sorted(own))] if own else [])]

    def longer_than(self, windows: int) -> Bound | None:
        """That no schedule takes so few windows, with the things that the proof rests on; None where there is no proof."""
        latest = self.ways.latest(self.calendar.firsts[windows])
        shares = _Shares(self._first, {kind: self._last(kind, latest) for kind in self.lags.sure})
        if shares.none:
            return Bound(self.calendar.firsts[windows] + 1, ())
        program = Program(shares.count, shares.whole)
        for kind in self.lags.sure:
            for window in range(shares.first[kind], shares.last[kind]):
                program.at_most([(shares.by(kind, window), 1), (shares.by(kind, window + 1), -1)], 0)
        for row in self._rows:
            if row.by <= shares.last[row.first]:
                program.at_most([(shares.by(row.second, row.until), row.shares), (shares.by(row.first, row.by), -row.times)], 0)
        for things in self._sets:
            self._room(program, shares, things, windows)
        for thing, keeps in self._keeps().items():
            for window in range(windows):
                self._kept(program, shares, thing, keeps, window)
        if program.size > LARGEST:
            return None
        sets = program.proved()
        if sets is None:
            return None
        return Bound(self.calendar.firsts[windows] + 1, tuple(sorted({thing for each in sets for thing in each})), together=sets)

    def _last(self, kind: int, latest: list[int]) -> int:
        """The last window in which there can be work of a kind, by the latest ends of all kinds of ways."""
        end = max(latest[self.ways.kinds[number]] for number in self.kinds.members[kind])
        return self.calendar.window_of_end(end) if end > 0 else -1

    def _room(self, program: Program, shares: _Shares, things: About, windows: int) -> None:
        """What is done in a window takes no more of some things than there is; and of what is so long that it goes on over one or
        more of some moments of the window, no more is at work at these than there are things."""
        work = list(self._work_at(things))
        count = sum(self.problem.counts[thing] for thing in things)
        in_whole = frozenset(self.kinds.activity(kind).minutes for kind, _ in work)
        if any(amount > 1 or self.kinds.activity(kind).splits for kind, amount in work):
            in_whole = frozenset({1})
        for window, (start, stop) in enumerate(self.calendar.windows[:windows]):
            room = stop - start
            most = min(self._there(things, window), count * fullest(room, in_whole))
            minutes = ((kind, amount * self.kinds.activity(kind).minutes) for kind, amount in work)
            program.at_most(self._in_window(shares, minutes, window), most, things)
            for moments in IN_TURN:
                long = [(kind, amount * self._moments(kind, moments, room)) for kind, amount in work]
                program.at_most(self._in_window(shares, long, window), moments * count, things)

    def _work_at(self, things: About) -> Iterator[tuple[int, int]]:
        """The kinds that take some things and nothing else, and how much."""
        for kind in self.lags.sure:
            needs = self.kinds.activity(kind).needs
            if amount := sum(need.amount for need in needs if set(things).issuperset(need.options)):
                yield kind, amount

    def _moments(self, kind: int, moments: int, room: int) -> int:
        """Over how many of so many moments evenly apart in a window of some room a kind surely goes on."""
        activity = self.kinds.activity(kind)
        return 0 if activity.splits else max(0, ceil((moments + 1) * activity.minutes / room) - 1)

    def _there(self, things: About, window: int) -> int:
        """The minutes of a window that some things are there for, all together."""
        start, stop = self.calendar.windows[window]
        found = 0
        for thing in things:
            there = np.full(stop - start, self.problem.counts[thing])
            for gone, amount, low, high in self.problem.away:
                if gone == thing and low < stop and start < high:
                    there[max(low - start, 0) : high - start] -= amount
            found += int(np.maximum(there, 0).sum())
        return found

    def _in_window(self, shares: _Shares, work: Iterable[tuple[int, int]], window: int) -> Iterator[Term]:
        """What is done in a window, so many times for each of a kind."""
        for kind, times in work:
            every = times * len(self.kinds.members[kind])
            yield shares.by(kind, window), every
            yield shares.by(kind, window - 1), -every

    def _keeps(self) -> dict[int, list[tuple[int, Keep]]]:
        """Of each thing that is kept, by which kinds and how."""
        found: dict[int, list[tuple[int, Keep]]] = {}
        for kind in self.lags.sure:
            for keep in self.kinds.activity(kind).keeps:
                found.setdefault(keep.thing, []).append((kind, keep))
        return found

    def _kept(self, program: Program, shares: _Shares, thing: int, keeps: list[tuple[int, Keep]], window: int) -> None:
        """At the end of a window no more of a thing is kept than there is. What was begun by then counts if it is kept until then
        even where it was over as soon as could be."""
        stop = self.calendar.windows[window][1]
        terms: list[Term] = []
        for kind, keep in keeps:
            activity = self.kinds.activity(kind)
            least = keep.minutes + (0 if activity.splits else activity.minutes)
            begun = next(at for at, (start, _) in enumerate(self.calendar.windows) if at == window + 1 or start + least >= stop)
            every = keep.amount * len(self.kinds.members[kind])
            if begun <= window:
                terms += [(shares.by(kind, window), every), (shares.by(kind, begun - 1), -every)]
        program.at_most(terms, self.problem.counts[thing], (thing,))


class _Shares:
    """The variables: of each kind its share that is done by the end of each window from the first with work of it to the last."""

    def __init__(self, first: dict[int, int], last: dict[int, int]) -> None:
        self.first, self.last = first, last
        self.none = any(first[kind] > last[kind] for kind in first)
        self._start: dict[int, int] = {}
        self.count = 0
        for kind in first:
            self._start[kind] = self.count
            self.count += last[kind] - first[kind] + 1

    @property
    def whole(self) -> Iterator[int]:
        """The last of each kind."""
        return (start + self.last[kind] - self.first[kind] for kind, start in self._start.items())

    def by(self, kind: int, window: int) -> int | None:
        """What is done of a kind by the end of a window; None where there can be nothing yet."""
        if window < self.first[kind]:
            return None
        return self._start[kind] + min(window, self.last[kind]) - self.first[kind]


@lru_cache(maxsize=4)
def fewest(asked: tuple[tuple[Problem, int], ...]) -> tuple[int, int, Bound | None]:
    """Of several problems, any of which will do, and the windows that each asks for by another bound: the number of the one that
    asks for fewest, how many, and the bound, where it is more than by the other one."""
    best: tuple[int, int, Bound | None] | None = None
    for at, (problem, windows) in sorted(enumerate(asked), key=lambda each: (each[1][1], each[0])):
        if best is not None and windows >= best[1]:
            break
        most = windows + BEYOND if best is None else min(windows + BEYOND, best[1] - 1)
        least, bound = _least(Flow(problem, most), windows)
        if best is None or least < best[1]:
            best = at, least, bound
    assert best is not None
    return best


def _least(flow: Flow, windows: int) -> tuple[int, Bound | None]:
    """The windows that a program shows to be the least, no fewer than are known to be, and the bound that shows it, if one does.
    The steps double until one shows nothing; then the middle is tried."""
    shown, open_, step = windows - 1, flow.most + 1, 1
    best: Bound | None = None
    while shown + 1 < open_:
        at = min(shown + step, flow.most) if open_ > flow.most else (shown + open_) // 2
        bound = flow.longer_than(at)
        if bound is None:
            open_ = at
        else:
            shown, best, step = at, bound, 2 * step
    return shown + 1, best
