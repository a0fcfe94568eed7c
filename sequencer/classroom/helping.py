"""What would help a class that is held up: each change tried with the lessons that no plan can then go below and with a quickly
found course. Only what saves lessons is told.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from sequencer.classroom.course import Class, Say, best_course, bounds_of
from sequencer.classroom.duties import hopeless
from sequencer.model.class_plan import ClassPlan, Remedy
from sequencer.model.plan import Step
from sequencer.model.workshop import Adult

ByHand = Callable[[str], Class | None]
"""Plans the job again without a kind of station; None where no other way is known."""

QUICK = 0.15
"""Of the effort of the plan itself."""
LOOKED_AT = 3
"""So many bottlenecks, the worst first."""
TEN = 10


@dataclass(frozen=True)
class Change:
    """What could be different, in words, and the class with it."""

    says: str
    class_: Class


def remedies(class_: Class, planned: ClassPlan, by_hand: ByHand, *, effort: float = 1.0, say: Say | None = None) -> list[Remedy]:
    """What would save lessons, the most first."""
    found: list[Remedy] = []
    lessons = len(planned.lessons)
    for change in changes(class_, planned, by_hand):
        if say is not None:
            say(f"what would help: {change.says}")
        course = quick_course(change.class_, fewer_than=lessons, effort=effort)
        if course is not None and course[1] < lessons:
            found.append(Remedy(change.says, course[0], course[1], lessons - course[1]))
    return sorted(found, key=lambda each: (-each.saves, each.least, each.change))


def quick_course(class_: Class, *, fewer_than: int, effort: float = 1.0) -> tuple[int, int] | None:
    """The lessons that no plan of a class goes below, and those of a course quickly found; None where there is no plan, or none
    of fewer lessons than so many."""
    if hopeless(class_.plan, class_.job, class_.workshop, class_.knowledge):
        return None
    _, least, _ = bounds_of(class_)
    if least >= fewer_than:
        return None
    found = best_course(class_, effort=QUICK * effort, solve=False)
    return (found.least, found.lessons) if found is not None else None


def changes(class_: Class, planned: ClassPlan, by_hand: ByHand) -> Iterator[Change]:
    """Everything that is tried."""
    names = [each.name for each in planned.bottlenecks][:LOOKED_AT]
    workshop = class_.workshop
    for name in names:
        if name in workshop.stations or name in workshop.counted:
            yield more_of(class_, name)
        if name in workshop.stations:
            kind = workshop.stations[name].kind
            if class_.knowledge.stations[kind].power not in ("hand", "bench") and (other := by_hand(kind)) is not None:
                yield Change(f"work by another way in place of the {name}", other)
            yield from _by_staff(class_, name)
    if any(_is_adults(name) for name in names):
        yield more_adults(class_)
    if not workshop.pairs and workshop.students > 1:
        yield Change("students work in pairs", replace(class_, workshop=replace(workshop, pairs=True)))
    yield longer(class_, TEN)
    if any(each.thing in workshop.counted and workshop.counted[each.thing].reach for each in planned.taken):
        counted = {name: replace(each, count=each.count + TEN) if each.reach else each for name, each in workshop.counted.items()}
        yield Change("ten more cramps of each size", replace(class_, workshop=replace(workshop, counted=counted)))


def _is_adults(name: str) -> bool:
    return name.startswith("the ")


def more_of(class_: Class, name: str, more: int = 1) -> Change:
    """More of a station or of a counted thing."""
    workshop = class_.workshop
    if name in workshop.stations:
        station = workshop.stations[name]
        stations = {**workshop.stations, name: replace(station, count=station.count + more)}
        changed = replace(workshop, stations=stations)
    else:
        counted = workshop.counted[name]
        changed = replace(workshop, counted={**workshop.counted, name: replace(counted, count=counted.count + more)})
    return Change(f"{'one' if more == 1 else more} more {name}", replace(class_, workshop=changed))


def more_adults(class_: Class, more: int = 1) -> Change:
    """More adults in lessons, each of whom teaches and is authorised for every station."""
    added = tuple(Adult(f"Further adult {number + 1}", ("all",), teaches=True) for number in range(more))
    workshop = replace(class_.workshop, adults=(*class_.workshop.adults, *added))
    who = "one more adult in lessons who teaches" if more == 1 else f"{more} more adults in lessons who teach"
    return Change(f"{who}, authorised for every station", replace(class_, workshop=workshop))


def longer(class_: Class, minutes: int) -> Change:
    """Longer lessons."""
    time = class_.workshop.time
    workshop = replace(class_.workshop, time=replace(time, lesson=time.lesson + minutes))
    many = "ten minutes" if minutes == TEN else f"{minutes} minutes"
    return Change(f"{many} more a lesson", replace(class_, workshop=workshop))


def _by_staff(class_: Class, station: str) -> Iterator[Change]:
    """Staff prepare what students would do to single parts at a station."""
    tasks = {task.id: task for task in class_.plan.tasks}

    def staffs(step: Step) -> bool:
        single = bool(step.tasks) and all(tasks[task].part for task in step.tasks if task in tasks)
        return step.station == station and step.kind == "work" and step.who.operator == "student" and single

    numbers = [step.number for step in class_.plan.steps if staffs(step)]
    if numbers:
        steps = tuple(
            replace(step, who=replace(step.who, operator="staff")) if staffs(step) else step for step in class_.plan.steps
        )
        which = ", ".join(str(number) for number in numbers)
        changed = replace(class_, plan=replace(class_.plan, steps=steps))
        yield Change(f"staff prepare what is done at the {station} (step{'s' * (len(numbers) > 1)} {which})", changed)
