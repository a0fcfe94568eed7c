"""What makes one schedule better than another."""

from __future__ import annotations

from sequencer.scheduling.problem import Problem, Schedule, ends

STEEP = 6
"""Late ends weigh by this power: the last of all counts most, and a little is gained by every other."""


def worth(problem: Problem, schedule: Schedule) -> tuple[int, float]:
    """What is made small: the windows that are used, and the ends of all groups, late ones weighing most."""
    calendar = problem.calendars[0]
    last: dict[int, int] = {}
    for activity, place in zip(problem.activities, schedule.placed, strict=True):
        if place.calendar == 0 and place.stop > last.get(activity.group, 0):
            last[activity.group] = place.stop
    whole = calendar.windows[0][1] - calendar.windows[0][0]
    return calendar.window_of_end(ends(problem, schedule)), sum((stop / whole) ** STEEP for stop in last.values())
