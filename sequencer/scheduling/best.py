"""The best schedule that so much effort finds, with what no schedule can beat. Effort is counted in work, never by the clock."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.scheduling import solver
from sequencer.scheduling.bound import lower_bound
from sequencer.scheduling.breeding import best_order
from sequencer.scheduling.problem import Problem, Schedule, ends


@dataclass(frozen=True)
class Found:
    """A schedule and the last minute at work that none ends before."""

    schedule: Schedule
    least: int

    def last(self, problem: Problem) -> int:
        """Its own last minute."""
        return ends(problem, self.schedule)


def best_schedule(problem: Problem, *, schedules: int = 200, effort: float = 0.0, seed: int = 1) -> Found | None:
    """The best of so many schedules; what is open after them goes to the solver, if there is any effort for it (deterministic
    seconds). None if nothing fits the windows. For plain problems; a class has courses to choose from besides."""
    bound = lower_bound(problem).minute

    def enough(schedule: Schedule) -> bool:
        return ends(problem, schedule) <= bound

    found = best_order(problem, schedules=schedules, seed=seed, enough=enough)
    if found is None:
        return None
    best = found.schedule
    if effort and not enough(best) and solver.is_there():
        answer = solver.solve(problem, best, ends(problem, best) - 1, effort=effort)
        best = answer.schedule or best
        bound = max(bound, min(answer.least, ends(problem, best)))
    return Found(best, bound)
