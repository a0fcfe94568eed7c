"""The checker's look at waiting: that whoever waits has something to do, and that it is something they can do then."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.classroom.as_written import Written


def waiting_filled(written: Written) -> Iterator[str]:
    """The minutes of a lesson in which a seat has neither a step nor a task are within those that a student may wait, or the plan
    says that the job has no task for them."""
    longest = written.knowledge.working.longest_idle
    if any(finding.code == "no-waiting-work" for finding in written.class_plan.findings):
        return
    for lesson in written.class_plan.lessons:
        for seat, stints in written.by_seat.items():
            spans = [span for stint in stints for span in stint.spans]
            spans += [idle.span for idle in written.class_plan.idle if idle.seat == seat and idle.does]
            taken = {minute for span in spans if span.session == lesson.number for minute in range(span.start, span.stop)}
            left = len(set(range(lesson.minutes)) - taken)
            if left > longest:
                yield f"Seat {seat} has nothing to do for {left} minutes of lesson {lesson.number}."
