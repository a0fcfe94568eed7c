"""Best-first search over the states of a problem (A*; Hart, Nilsson and Raphael, IEEE Transactions on Systems Science and
Cybernetics 4, 1968), and a beam for what is too large for it."""

from __future__ import annotations

import heapq
from collections.abc import Mapping
from dataclasses import dataclass

from sequencer.ordering.bound import Bound
from sequencer.ordering.problem import Steps
from sequencer.ordering.states import START, Moves, State

Trail = Mapping[State, State]
"""The state before each state."""


@dataclass(frozen=True)
class Found:
    """The best order a search came upon, if it is better than what it was given, and what no order can beat."""

    path: tuple[State, ...]
    least: int


def search(steps: Steps, moves: Moves, bound: Bound, known: int | None, effort: int) -> Found:
    """The best path if it costs less than what is known, else none; `least` is what every order costs at least. After looking
    at `effort` states the search gives up, and `least` is what is known by then."""
    if known is None:
        known = 1 << 62
    everything = steps.all
    station = steps.station
    best: dict[State, int] = {START: 0}
    trail: dict[State, State] = {}
    open_: list[tuple[int, int, int, int, State]] = [(0, 0, 0, 0, START)]
    looked = entered = 0
    while open_:
        least, _, _, cost, state = heapq.heappop(open_)
        if least >= known:
            return Found((), known)
        done, _ = state
        if done == everything:
            return Found(_path(trail, state), least)
        if cost > best[state]:
            continue
        looked += 1
        if looked > effort:
            return Found((), least)
        for toll, then in moves.from_(state):
            new = cost + toll
            if new < best.get(then, known):
                total = new + bound.of(everything & ~then[0], station[then[1]])
                if total < known:
                    best[then] = new
                    trail[then] = state
                    entered += 1
                    heapq.heappush(open_, (total, -then[0].bit_count(), entered, new, then))
    return Found((), known)


def beam(steps: Steps, moves: Moves, bound: Bound, width: int) -> tuple[State, ...]:
    """A good path: of the states with equally many steps done only the `width` most hopeful are followed. Never empty."""
    everything = steps.all
    station = steps.station
    rows: list[dict[State, tuple[int, int]]] = [{} for _ in range(len(steps.before) + 1)]
    rows[0][START] = (0, 0)
    trail: dict[State, State] = {}
    for row in rows[:-1]:
        hopeful = sorted(row.items(), key=lambda each: (each[1], each[0]))[:width]
        for state, (_, cost) in hopeful:
            for toll, then in moves.from_(state):
                new = cost + toll
                there = rows[then[0].bit_count()]
                if then not in there or new < there[then][1]:
                    there[then] = (new + bound.of(everything & ~then[0], station[then[1]]), new)
                    trail[then] = state
    return _path(trail, min(rows[-1], key=lambda state: (rows[-1][state][1], state)))


def _path(trail: Trail, state: State) -> tuple[State, ...]:
    path = [state]
    while state != START:
        state = trail[state]
        path.append(state)
    return tuple(reversed(path))
