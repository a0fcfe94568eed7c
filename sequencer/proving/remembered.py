"""What has been made and seen already: the same work on the same piece gives the same, so that it is done once.

A plan that differs from another in a few tasks is carried out by doing anew what these change, and taking the rest from the
other's memory. Pieces are told apart by identity: every piece a memory has given stays in it as long as it lasts.
"""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Callable, Hashable
from typing import Any, TypeVar

from sequencer.model.job import Job
from sequencer.proving.workpiece import Workpiece
from sequencer.solid.blocking import Question

_T = TypeVar("_T")


class Remembered:
    """The memory of one making. `earlier` is that of another, which is looked into and never added to; it counts for nothing
    where parts, joints or stock of that job are others."""

    def __init__(self, job: Job, earlier: Remembered | None = None) -> None:
        self._of = job.parts, job.joints, job.stock
        alike = earlier is not None and all(one is two for one, two in zip(self._of, earlier._of, strict=True))
        self._earlier = earlier if alike else None
        self._known: dict[Hashable, Any] = {}
        self.met: ChainMap[Question, bool] = ChainMap({}, *(self._earlier.met.maps if self._earlier else ()))
        """Which pieces meet on which way, those of the earlier making behind its own."""

    def once(self, what: Hashable, act: Callable[[], _T]) -> _T:
        """What an act gives, from memory where it was done before. `what` names the act and all that it depends on."""
        memory: Remembered | None = self
        while memory is not None:
            if what in memory._known:
                found: _T = memory._known[what]
                return found
            memory = memory._earlier
        self._known[what] = made = act()
        return made

    def piece(self, made: Workpiece, *, new: bool = False) -> Workpiece:
        """The one piece that stands for all alike. Of a `new` one the body is a plain block or rod, told by its bounds."""
        body = made.body.bounds if new else id(made.body)
        state = (made.marked, made.long, made.blank, made.yields, made.others, made.sound)
        residue = tuple((what, id(solid)) for what, solid in made.residue)
        left_on = tuple(sorted(made.left_on.items()))
        return self.once(("piece", id(made.part), made.hand, body, made.made, left_on, *state, residue), lambda: made)
