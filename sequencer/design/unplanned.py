"""What the job file can say and the planning does not use yet: said aloud, never dropped."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.design.marked_together import marked_together
from sequencer.features.base import mm
from sequencer.findings import Finding
from sequencer.model.job import Choice, Job


def format_only_findings(job: Job) -> tuple[Finding, ...]:
    """A warning for each thing in the job that staff must see to by hand, in the order of the file."""
    return tuple(_all(job))


def _all(job: Job) -> Iterator[Finding]:
    beside = marked_together(job)
    for part in job.parts.values():
        if part.together:
            until = f" until {part.together_until}" if part.together_until else ""
            marked = "they are marked out side by side, and what is cut into them is" if part.name in beside else "the steps are"
            yield Finding(
                "warning",
                "not-planned",
                part.name,
                f"It is to be worked together with {' and '.join(part.together)}{until}; {marked} planned for each part alone.",
                "Parts worked together come out alike only if the steps are done on all of them at once.",
                "Tell the students which parts to fix together, and when to take them apart.",
                part.place,
            )
        if part.outlines_vary:
            yield Finding(
                "warning",
                "not-planned",
                part.name,
                "Students choose its outline; the steps and times are planned for the outline drawn.",
                "Another outline may need another blade, more time or another way of holding.",
                "Look at each student's outline before it is cut.",
                part.place,
            )
    for choice in job.choices:
        yield Finding(
            "warning",
            "not-planned",
            choice.name,
            f"Students may choose {choice.name} ({_range(choice)}); the plan is worked out for the size drawn.",
            "Settings and blanks on the sheets hold for that size only.",
            "Work out settings and stop positions for the other sizes, and mark them on the sheets by hand.",
        )


def _range(choice: Choice) -> str:
    if choice.options:
        return ", ".join(mm(option) for option in choice.options) + " mm"
    if choice.least is None or choice.most is None:
        return "no limits given"
    return f"{mm(choice.least)} to {mm(choice.most)} mm"
