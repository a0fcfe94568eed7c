"""What is laid out for a lesson: each tool of its steps, as many as are in use at one time."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from sequencer.model.class_plan import Session
from sequencer.paper.course_words import Lessons
from sequencer.planning.strips import WASTE


@dataclass(frozen=True)
class LaidOut:
    """A tool and how many. `reaches`: of cramps that stay on the work, of which reach how many, as the workshop file names them.

    given_back
        Whether it is counted in at the end; what is cut into for a test is used up.
    """

    name: str
    count: int
    reaches: tuple[tuple[str, int], ...] = ()
    given_back: bool = True

    @property
    def said(self) -> str:
        """`tenon saw × 4`, `sash cramp × 8 (600: 4, 900: 4)`."""
        more = ", ".join(f"{reach}: {count}" for reach, count in self.reaches)
        return f"{self.name} × {self.count}{f' ({more})' if more else ''}"


def laid_out(course: Lessons, lesson: Session) -> tuple[LaidOut, ...]:
    """The tools of the steps done in a lesson, with the most that are in use at one minute of it, though never more than the
    staff sheet lists for the class; of what stays on the work after its step, cramps, as many as the lesson takes, if that
    is more.

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
    found = []
    for tool, changes in sorted(events.items()):
        count = min(_most(changes), listed[tool].total) if tool in listed else _most(changes)
        reaches = _taken(course, lesson, tool)
        found.append(LaidOut(tool, max(count, sum(many for _, many in reaches)), reaches, given_back=not tool.startswith(WASTE)))
    return tuple(found)


def laid_out_tools(course: Lessons, lesson: Session) -> tuple[str, ...]:
    """The same, a text each."""
    return tuple(each.said for each in laid_out(course, lesson))


def tools_in_all(course: Lessons, lesson: Session) -> int:
    """How many things are counted out and, but for what stays on the work, in again."""
    return sum(each.count for each in laid_out(course, lesson) if each.given_back)


def is_of(thing: str, tool: str) -> bool:
    """Whether a counted thing is a tool with its reach: `sash-cramp-600` is a sash cramp."""
    return thing.startswith(f"{tool.replace(' ', '-')}-")


def _taken(course: Lessons, lesson: Session, tool: str) -> tuple[tuple[str, int], ...]:
    """How many of a tool stay taken after stints of a lesson, by reach."""
    counts: dict[str, int] = defaultdict(int)
    for each in course.classes.taken:
        if each.span.session == lesson.number and is_of(each.thing, tool):
            counts[each.thing.removeprefix(f"{tool.replace(' ', '-')}-")] += each.count
    return tuple(sorted(counts.items()))


def _kept_on(course: Lessons) -> dict[str, dict[str, int]]:
    """Tools that stay on the work after a step, cramps: how many each step keeps, as the class plan counts them. Its things are
    called by tool and reach: `sash-cramp-600`."""
    found: dict[str, dict[str, int]] = defaultdict(dict)
    for tool in course.plan.tools:
        for taken in course.classes.taken:
            if is_of(taken.thing, tool.name):
                found[tool.name][taken.step] = max(taken.count, found[tool.name].get(taken.step, 0))
    return found


def _most(events: list[tuple[int, int]]) -> int:
    """The highest sum; what ends at a minute is laid down before what starts at it is taken up."""
    most = now = 0
    for _, change in sorted(events):
        now += change
        most = max(most, now)
    return most
