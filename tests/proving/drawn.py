"""The random jobs of the tests, drawn in a process of their own: `python -m tests.proving.drawn` writes them to its output.

What hypothesis draws depends on the numbers that stand in the modules loaded at the time. Here it is given none, so that every
run of the tests has the same jobs, however many workers share it and whatever is changed elsewhere.
"""

from __future__ import annotations

import pickle
import sys
from collections.abc import Iterator
from dataclasses import replace

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as some
from hypothesis.internal.conjecture import providers

from sequencer.model.job import Job
from tests.made import WORKSHOPS
from tests.proving.random_parts import jobs

Drawn = list[tuple[Job, str]]
"""Each job with the name of a workshop."""


TOGETHER = 2
"""Parts of a job: as many as can be joined; a job of a few steps has an order that is proved to be the best."""


def apart(job: Job) -> Iterator[Job]:
    """The parts of a job a few at a time, those that are joined first."""
    joined = {job.part_of(piece).name for joint in job.joints.values() for piece in (joint.enters_piece, joint.seat.piece)}
    names = sorted(job.parts, key=lambda name: name not in joined)
    for at in range(0, len(names), TOGETHER):
        own = {name: job.parts[name] for name in names[at : at + TOGETHER]}
        yield replace(job, parts=own, joints=job.joints if joined & set(own) else {})


def draw() -> Drawn:
    """Random jobs, each for one of the workshops."""
    found: Drawn = []

    @settings(
        max_examples=50,
        deadline=None,
        derandomize=True,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(jobs(), some.sampled_from(WORKSHOPS))
    def take(job: Job, shop: str) -> None:
        found.extend((few, shop) for few in apart(job))

    take()
    return found


if __name__ == "__main__":
    providers._get_local_constants = providers.Constants
    sys.stdout.buffer.write(pickle.dumps(draw()))
