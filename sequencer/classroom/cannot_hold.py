"""Why a class does not get done within so many lessons: the smallest set of things that cannot all hold, found by leaving out one
after the other, and which of them, changed alone, is enough.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sequencer.classroom.course import Class, Say, bounds_of, lessons_of, lessons_text
from sequencer.classroom.helping import Change, longer, more_adults, more_of, quick_course
from sequencer.classroom.holding_up import TOGETHER
from sequencer.model.class_plan import ClassPlan

LOOKED_AT = 4
"""So many bottlenecks are looked at."""
FREELY = 3
"""So many more of a thing, where it is to hold nothing up."""
AN_HOUR = 60


@dataclass(frozen=True)
class Held:
    """One thing that holds: in words, the class without it, and by how much it may be eased, least first."""

    says: str
    freed: Callable[[Class], Class]
    eased: tuple[Change, ...]


@dataclass(frozen=True)
class Clash:
    """What cannot all hold, besides the number of lessons; and the changes of which each is enough, found by planning with it.

    proved
        Whether no plan at all keeps them; else none was found.
    """

    held: tuple[str, ...]
    enough: tuple[Change, ...]
    proved: bool


def clash(class_: Class, planned: ClassPlan, within: int, *, effort: float = 1.0, say: Say | None = None) -> Clash:
    """The smallest set of things that keep a class from getting done within so many lessons."""

    def fits(tried: Class) -> bool:
        course = quick_course(tried, fewer_than=within + 1, effort=effort)
        return course is not None and course[1] <= within

    def without(left: list[Held]) -> Class:
        freed = class_
        for each in all_held:
            if each not in left:
                freed = each.freed(freed)
        return freed

    if say is not None:
        say(f"looking for what keeps it from fitting into {lessons_text(within)}")
    all_held = _held(class_, planned)
    left = list(all_held)
    for each in all_held:
        fewer = [other for other in left if other is not each]
        if not fits(without(fewer)):
            left = fewer
    if not left:
        left = [Held(_even_freed(without([]), within), lambda each: each, ())]
    enough = [next((change for change in each.eased if fits(change.class_)), None) for each in left]
    proved = bounds_of(without(left))[1] > within
    return Clash(tuple(each.says for each in left), tuple(change for change in enough if change is not None), proved)


def _even_freed(freed: Class, within: int) -> str:
    """What holds where a class does not fit either with more of everything that was looked at, in words."""
    bounds, _, work = bounds_of(freed)
    own = max((bound.minute for bound in bounds if not bound.things), default=0)
    even = f"lessons of {freed.workshop.time.lesson:g} minutes"
    if lessons_of(work.problem, own) > within:
        return f"the work of one student with its waits, even in {even}"
    return f"what there is, even with {FREELY} more of what most wait for, in {even}"


def _held(class_: Class, planned: ClassPlan) -> list[Held]:
    """What could be freed: the bottlenecks and the minutes of a lesson, the least of them first, so that the worst are kept."""
    workshop, found = class_.workshop, list[Held]()
    adults_held = False
    for name in [each.name for each in planned.bottlenecks if each.name != TOGETHER][:LOOKED_AT]:
        if name in workshop.stations or name in workshop.counted:
            count = (workshop.stations.get(name) or workshop.counted[name]).count
            eased = tuple(more_of(class_, name, more) for more in range(1, FREELY + 1))
            found.append(Held(f"{count} of {name}", _freed(name), eased))
        elif name.startswith("the ") and not adults_held:
            adults_held = True
            there = sum(adult.in_lessons for adult in workshop.adults)
            adults = f"{there} adult{'s' if there > 1 else ''} in lessons"
            eased = tuple(more_adults(class_, more) for more in range(1, FREELY + 1))
            found.append(Held(adults, lambda each: more_adults(each, FREELY).class_, eased))
    eased = tuple(longer(class_, minutes) for minutes in (10, 20, 30, 45, AN_HOUR))
    found.append(Held(f"lessons of {workshop.time.lesson:g} minutes", lambda each: longer(each, AN_HOUR).class_, eased))
    return found[::-1]


def _freed(name: str) -> Callable[[Class], Class]:
    return lambda each: more_of(each, name, FREELY).class_
