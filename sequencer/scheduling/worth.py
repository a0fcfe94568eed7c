"""What makes one schedule better than another."""

from __future__ import annotations

import numpy as np

from sequencer.scheduling.greedy import Places
from sequencer.scheduling.problem import Problem

STEEP = 6
"""Late ends weigh by this power: the last of all counts most, and a little is gained by every other."""


class Worth:
    """What schedules of a problem are worth: the less the better."""

    def __init__(self, problem: Problem) -> None:
        self._calendar = problem.calendars[0]
        start, stop = self._calendar.windows[0]
        self._whole = stop - start
        _, self._group = np.unique([activity.group for activity in problem.activities], return_inverse=True)

    def of(self, places: Places) -> tuple[int, float]:
        """What is made small: the number of the last window that is used, and the ends of all groups, late ones weighing most."""
        stops = np.where(places.calendar == 0, places.stop, 0)
        last = np.zeros(int(self._group.max(initial=0)) + 1, dtype=np.int64)
        np.maximum.at(last, self._group, stops)
        return self._calendar.window_of_end(int(last.max())), float(((last / self._whole) ** STEEP).sum())
