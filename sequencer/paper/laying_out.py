"""What is laid out for a lesson: each tool of its steps, as many as are in use at one time."""

from __future__ import annotations

from collections import defaultdict

from sequencer.model.class_plan import Session
from sequencer.paper.course_words import Lessons
from sequencer.planning.strips import WASTE


def laid_out_tools(course: Lessons, lesson: Session) -> tuple[str, ...]:
    """`tenon saw × 4`: the tools of the steps done in a lesson, with the most that are in use at one minute of it, though never
    more than the staff sheet lists for the class.

    What is cut into for a test is used up: each user has one. A demonstration uses one of each. A tool whose number for one
    student the plan does not say counts once.
    """
    listed = {tool.name: tool for tool in course.plan.tools}
    cramps = _kept_on(course)
    events: dict[str, list[tuple[int, int]]] = defaultdict(list)
    for stint, span in course.stints(lesson.number):
        users = len(stint.seats) if stint.kind == "step" else 1
        for tool in course.steps[stint.step].tools:
            kept = cramps.get(tool, {})
            each = kept.get(stint.step) or max(kept.values(), default=listed[tool].each if tool in listed else 1)
            events[tool].append((span.start, users * each))
            if not tool.startswith(WASTE):
                events[tool].append((span.stop, -users * each))
    return tuple(
        f"{tool} × {min(_most(found), listed[tool].total) if tool in listed else _most(found)}"
        for tool, found in sorted(events.items())
    )


def _kept_on(course: Lessons) -> dict[str, dict[str, int]]:
    """Tools that stay on the work after a step, cramps: how many each step keeps, as the class plan counts them. Its things are
    called by tool and reach: `sash-cramp-600`."""
    found: dict[str, dict[str, int]] = defaultdict(dict)
    for tool in course.plan.tools:
        for taken in course.classes.taken:
            if taken.thing.startswith(f"{tool.name.replace(' ', '-')}-"):
                found[tool.name][taken.step] = max(taken.count, found[tool.name].get(taken.step, 0))
    return found


def _most(events: list[tuple[int, int]]) -> int:
    """The highest sum; what ends at a minute is laid down before what starts at it is taken up."""
    most = now = 0
    for _, change in sorted(events):
        now += change
        most = max(most, now)
    return most
