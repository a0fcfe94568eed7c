"""What follows from a drawing alone is worked out once for it, whatever is decided of how it is made and finished."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from functools import wraps
from typing import TypeVar

from sequencer.model.job import Job

_T = TypeVar("_T")

KEPT = 32
"""Drawings of which is known what was worked out, those that were asked for last."""
DRAWN = ("stock", "parts", "joints", "hardware", "assemblies", "moisture_change")
"""What of a job is the drawing: nothing that is remembered may ask for more."""


def once_for_a_drawing(work_out: Callable[[Job], _T]) -> Callable[[Job], _T]:
    """A function of a job, remembered for jobs that have the drawing in common, by identity: a job never changes."""
    known: OrderedDict[tuple[int, ...], tuple[Job, _T]] = OrderedDict()

    @wraps(work_out)
    def remembered(job: Job) -> _T:
        drawing = tuple(id(getattr(job, name)) for name in DRAWN)
        if drawing not in known:
            known[drawing] = job, work_out(job)  # the job is kept: while it lasts no other can have its identities
        known.move_to_end(drawing)
        if len(known) > KEPT:
            known.popitem(last=False)
        return known[drawing][1]

    return remembered
