"""The random jobs of the tests, drawn in a process of their own: `python -m tests.proving.drawn` writes them to its output.

What hypothesis draws depends on the numbers that stand in the modules loaded at the time. Here it is given none, so that every
run of the tests has the same jobs, however many workers share it and whatever is changed elsewhere.
"""

from __future__ import annotations

import pickle
import sys

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as some
from hypothesis.internal.conjecture import providers

from sequencer.model.job import Job
from tests.made import WORKSHOPS
from tests.proving.random_parts import jobs

Drawn = list[tuple[Job, str]]
"""Each job with the name of a workshop."""


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
        found.append((job, shop))

    take()
    return found


if __name__ == "__main__":
    providers._get_local_constants = providers.Constants
    sys.stdout.buffer.write(pickle.dumps(draw()))
