"""The job with each other size that it lets students choose, mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sequencer.findings import Unusable
from sequencer.model.job import Choice, Job
from sequencer.reading.job import job_of
from sequencer.reading.tree import read_tree


@dataclass(frozen=True)
class Offered:
    """A size that students may choose besides the one drawn, mm, and the job with it; None where that is no job any more."""

    name: str
    value: float
    job: Job | None


def offered_jobs(path: Path, job: Job) -> Iterator[Offered]:
    """The job of a file with every other size on its lists of choices; of a range with its least and its most."""
    if not any(choice.name in job.sizes for choice in job.choices):
        return
    tree = read_tree(path)
    for choice in job.choices:
        for value in _values(choice):
            if choice.name in job.sizes and value != job.sizes[choice.name]:
                try:
                    drawn, _ = job_of(tree, {choice.name: f"{value} mm"})
                except Unusable:
                    yield Offered(choice.name, value, None)
                else:
                    yield Offered(choice.name, value, drawn)


def _values(choice: Choice) -> tuple[float, ...]:
    return choice.options or tuple(value for value in (choice.least, choice.most) if value is not None)
