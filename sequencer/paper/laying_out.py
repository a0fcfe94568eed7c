"""What is laid out for a lesson: each tool of its steps, as many as are in use at one time."""

from __future__ import annotations

from collections import defaultdict

from sequencer.model.class_plan import Session
from sequencer.paper.course_words import Course


def laid_out_tools(course: Course, lesson: Session) -> tuple[str, ...]:
    """`tenon saw × 4`: the tools of the steps done in a lesson, with the most that are in use at one minute of it.

    A demonstration uses one of each. A tool whose number for one student the plan does not say counts once.
    """
    each = {tool.name: tool.each for tool in course.plan.tools}
    events: dict[str, list[tuple[int, int]]] = defaultdict(list)
    for stint, span in course.stints(lesson.number):
        users = len(stint.seats) if stint.kind == "step" else 1
        for tool in course.steps[stint.step].tools:
            count = users * each.get(tool, 1)
            events[tool] += [(span.start, count), (span.stop, -count)]
    return tuple(f"{tool} × {_most(found)}" for tool, found in sorted(events.items()))


def _most(events: list[tuple[int, int]]) -> int:
    """The highest sum; what ends at a minute is laid down before what starts at it is taken up."""
    most = now = 0
    for _, change in sorted(events):
        now += change
        most = max(most, now)
    return most
