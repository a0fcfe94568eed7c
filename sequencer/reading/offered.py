"""The job with each other size that it lets students choose, mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sequencer.findings import Finding, Unusable
from sequencer.model.job import Choice, Job
from sequencer.reading.job import job_of
from sequencer.reading.tree import read_tree
from sequencer.reading.words import listed


@dataclass(frozen=True)
class Offered:
    """A size that students may choose besides the one drawn, mm, and the job with it; None where that is no job any more."""

    name: str
    value: float
    job: Job | None


def offered_jobs(path: Path, job: Job) -> Iterator[Offered]:
    """The job of a file with every other size on its lists of choices; of a range with its least, its middle and its most."""
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


def not_tried(job: Job) -> Finding | None:
    """A note where some of what students may choose is not tried: sizes inside a range, several at once. None where all is."""
    own = [choice for choice in job.choices if choice.name in job.sizes]
    ranges = [choice.name for choice in own if not choice.options]
    left = [f"other sizes inside the range of {listed(ranges)}"] if ranges else []
    left += [f"several of {listed([choice.name for choice in own])} changed at once"] if len(own) > 1 else []
    if not left:
        return None
    return Finding(
        "note",
        "offered-size",
        "choices",
        f"Of the sizes that students may choose, {' and '.join(left)} were not tried. Each size on a list was, and of a range "
        "its ends and its middle, with all others as drawn.",
        "Where two sizes meet in the wood, a choice of both may leave none between them.",
        "Draw and plan what a student chooses before anything is cut.",
    )


def _values(choice: Choice) -> tuple[float, ...]:
    if choice.options or choice.least is None or choice.most is None:
        return choice.options or tuple(value for value in (choice.least, choice.most) if value is not None)
    return (choice.least, (choice.least + choice.most) / 2, choice.most)
