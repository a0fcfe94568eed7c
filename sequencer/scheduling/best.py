"""The best schedule that so much effort finds, with what no schedule can beat. Effort is counted in work, never by the clock."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sequencer.scheduling import solver
from sequencer.scheduling.bound import lower_bound
from sequencer.scheduling.problem import Problem, Schedule, ends
from sequencer.scheduling.rules import best_by_rules

Say = Callable[[str], None]


@dataclass(frozen=True)
class Found:
    """A schedule and the last minute at work that none ends before."""

    schedule: Schedule
    least: int

    def last(self, problem: Problem) -> int:
        """Its own last minute."""
        return ends(problem, self.schedule)


def best_schedule(
    problem: Problem,
    *,
    schedules: int = 100,
    effort: float = 0.0,
    seed: int = 1,
    by_windows: bool = False,
    say: Say | None = None,
) -> Found | None:
    """The best of so many schedules by rules; what is open after them goes to the solver, if there is any effort for it
    (deterministic seconds). `by_windows`: good enough is what ends in the window of the bound. None if nothing fits the
    windows."""
    bound = lower_bound(problem).minute
    calendar = problem.calendars[0]

    def enough(schedule: Schedule) -> bool:
        last = ends(problem, schedule)
        return last <= bound or (by_windows and calendar.window_of_end(last) <= calendar.window_of_end(bound))

    best = best_by_rules(problem, schedules=schedules, seed=seed, enough=enough, say=say)
    if best is None:
        return None
    if effort and not enough(best) and solver.is_there():
        latest = ends(problem, best) - 1
        if by_windows:
            latest = calendar.firsts[calendar.window_of_end(latest + 1)]
        answer = solver.solve(problem, best, latest, effort=effort)
        best, bound = answer.schedule or best, max(bound, min(answer.least, ends(problem, answer.schedule or best)))
    return Found(best, bound)
