"""Windows of time in which work is done, and the minutes at work counted through them. Real time is in minutes from any zero."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate


@dataclass(frozen=True)
class Calendar:
    """Windows of real time, rising and apart. Minute `n` at work is the nth one that lies in a window; a moment at the end of a
    window and the one at the start of the next are the same minute at work, told apart by `real` and `real_end`.

    slot
        Work starts at whole slots of a window only, each of so many minutes.
    """

    windows: tuple[tuple[int, int], ...]
    slot: int = 1

    @cached_property
    def firsts(self) -> tuple[int, ...]:
        """The minute at work with which each window starts, and the number of all minutes at the end."""
        return (0, *accumulate(stop - start for start, stop in self.windows))

    @property
    def minutes(self) -> int:
        """All minutes at work."""
        return self.firsts[-1]

    def window(self, minute: int) -> int:
        """The window that a minute at work lies in."""
        return bisect_right(self.firsts, minute) - 1

    def window_of_end(self, minute: int) -> int:
        """The window that ends with, or holds, what is over at a minute at work."""
        return max(bisect_left(self.firsts, minute) - 1, 0)

    def real(self, minute: int) -> int:
        """When a minute at work starts."""
        at = min(self.window(minute), len(self.windows) - 1)
        return self.windows[at][0] + minute - self.firsts[at]

    def real_end(self, minute: int) -> int:
        """When work is over that ends at a minute: the end of a window, not the start of the next."""
        at = self.window_of_end(minute)
        return self.windows[at][0] + minute - self.firsts[at]

    def at(self, real: int) -> int:
        """The first minute at work from a moment on; all of them where none is left."""
        at = bisect_right(self._starts, real) - 1
        if at < 0:
            return 0
        start, stop = self.windows[at]
        return self.firsts[at] + min(real, stop) - start

    @cached_property
    def _starts(self) -> tuple[int, ...]:
        return tuple(start for start, _ in self.windows)
