"""What would help a class that is held up: each change tried with the lessons that no plan can then go below and with a quickly
found course. Only what saves lessons is told. Where much of the time is waiting, the best of them are tried two at a time.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import NamedTuple

from sequencer.classroom.course import Class, Found, Say, best_course, bounds_of
from sequencer.classroom.holding_up import TOGETHER
from sequencer.classroom.hopeless import hopeless
from sequencer.model.class_plan import ClassPlan, Remedy
from sequencer.model.plan import Plan, Step
from sequencer.model.workshop import Adult

ByHand = Callable[[str], Class | None]
"""Plans the job again without a kind of station; None where no other way is known."""

QUICK = 0.1
"""Of the effort of the plan itself."""
MUCH_WAITING = 0.25
"""Share of the time at work; beyond it two changes at a time are tried."""
PAIRED, FOUND_FOR = 4, 2
"""Of so many changes, the best ones, all pairs are tried by their bounds; for so many pairs a course is looked for."""
LOOKED_AT = 3
"""So many bottlenecks, the worst first."""
TEN = 10


@dataclass(frozen=True)
class Change:
    """What could be different, in words, and the class with it.

    to
        Makes the same change in another class.
    about
        The station or thing that it is about; empty for what is about the whole class.
    anew
        Whether the job is planned anew, so that other changes of its steps come after.
    """

    says: str
    class_: Class
    to: Callable[[Class], Class]
    about: str = ""
    anew: bool = False


class Looked(NamedTuple):
    """What would save lessons, the most first, and what was tried alone and saves none."""

    helps: list[Remedy]
    in_vain: list[str]


def remedies(class_: Class, planned: ClassPlan, by_hand: ByHand, *, effort: float = 1.0, say: Say | None = None) -> list[Remedy]:
    """What would save lessons, the most first. An interrupt ends the looking with what is found by then."""
    return looked_for(class_, planned, by_hand, effort=effort, say=say).helps


def looked_for(class_: Class, planned: ClassPlan, by_hand: ByHand, *, effort: float = 1.0, say: Say | None = None) -> Looked:
    """The same, with what was tried and does not help."""
    found: list[Remedy] = []
    in_vain: list[str] = []
    try:
        for each in _found(class_, planned, by_hand, effort, say or (lambda _: None)):
            if isinstance(each, Remedy):
                found.append(each)
            else:
                in_vain.append(each)
    except KeyboardInterrupt:
        pass
    return Looked(sorted(found, key=lambda each: (-each.saves, each.least, each.change)), in_vain)


def _found(class_: Class, planned: ClassPlan, by_hand: ByHand, effort: float, say: Say) -> Iterator[Remedy | str]:
    """What would save lessons, one change after the other, and by its words what does not; then the best pair of them, where much
    is waiting."""
    tried: list[tuple[tuple[int, int], Change]] = []
    lessons = fewest = len(planned.lessons)
    for change in changes(class_, planned, by_hand):
        say(f"what would help: {change.says}")
        course = quick_course(change.class_, fewer_than=lessons, effort=effort)
        tried.append(((course[1], course[0]) if course is not None else (lessons, lessons), change))
        if course is not None and course[1] < lessons:
            fewest = min(fewest, course[1])
            yield Remedy(change.says, course[0], course[1], lessons - course[1])
        else:
            yield change.says
    if planned.waiting > MUCH_WAITING:
        best = [change for _, change in sorted(tried, key=lambda each: each[0])][:PAIRED]
        yield from _best_pair(best, lessons, fewest, effort, say)


def _best_pair(best: Sequence[Change], lessons: int, fewest: int, effort: float, say: Say) -> list[Remedy]:
    """The pair of changes that saves most, if it saves more than every one alone. `fewest`: lessons with the best alone."""
    pairs = [both(one, other) for one, other in combinations(best, 2) if not one.about or one.about != other.about]
    open_to = [pair for pair in pairs if not _hopeless(pair.class_)]
    by_bound = sorted(((bounds_of(pair.class_)[1], number) for number, pair in enumerate(open_to)))
    found: list[Remedy] = []
    for least, number in by_bound[:FOUND_FOR]:
        pair = open_to[number]
        if least >= fewest:
            break
        say(f"what would help: {pair.says}")
        course = _quickly(pair.class_, effort)
        if course is not None and course.lessons < fewest:
            fewest = course.lessons
            found = [Remedy(pair.says, course.least, course.lessons, lessons - course.lessons)]
    return found


def both(one: Change, other: Change) -> Change:
    """Two changes at once."""
    first, second = (other, one) if other.anew else (one, other)
    return Change(f"{one.says}, and {other.says}", second.to(first.class_), lambda class_: second.to(first.to(class_)))


def quick_course(class_: Class, *, fewer_than: int, effort: float = 1.0) -> tuple[int, int] | None:
    """The lessons that no plan of a class goes below, and those of a course quickly found; None where there is no plan, or none
    of fewer lessons than so many."""
    if _hopeless(class_):
        return None
    _, least, _ = bounds_of(class_)
    if least >= fewer_than:
        return None
    found = _quickly(class_, effort)
    return (found.least, found.lessons) if found is not None else None


def _quickly(class_: Class, effort: float) -> Found | None:
    """A course quickly found. Whoever interrupts it wants no other looked for: raises KeyboardInterrupt."""
    found = best_course(class_, effort=QUICK * effort, solve=False)
    if found is not None and found.stopped:
        raise KeyboardInterrupt
    return found


def _hopeless(class_: Class) -> bool:
    return bool(hopeless(class_.plan, class_.job, class_.workshop, class_.knowledge))


def changes(class_: Class, planned: ClassPlan, by_hand: ByHand) -> Iterator[Change]:
    """Everything that is tried."""
    names = [each.name for each in planned.bottlenecks if each.name != TOGETHER][:LOOKED_AT]
    workshop = class_.workshop
    for name in names:
        if name in workshop.stations or name in workshop.counted:
            yield more_of(class_, name)
        if name in workshop.stations:
            kind = workshop.stations[name].kind
            if class_.knowledge.stations[kind].power not in ("hand", "bench") and (other := by_hand(kind)) is not None:
                yield _by_another_way(class_, name, other)
            yield from _by_staff(class_, name)
    if any(_is_adults(name) for name in names):
        yield more_adults(class_)
    if not workshop.pairs and workshop.students > 1:
        yield _change("students work in pairs", class_, _in_pairs)
    if any(stint.kind == "demonstration" and len(stint.seats) < len(planned.seats) for stint in planned.stints):
        yield at_once(class_)
    yield longer(class_, TEN)
    if any(each.thing in workshop.counted and workshop.counted[each.thing].reach for each in planned.taken):
        yield _change("ten more cramps of each size", class_, _ten_cramps)


def _change(says: str, class_: Class, to: Callable[[Class], Class], about: str = "") -> Change:
    return Change(says, to(class_), to, about)


def at_once(class_: Class) -> Change:
    """Each station shown to the whole class at once."""

    def to(each: Class) -> Class:
        return replace(each, workshop=replace(each.workshop, shown_in=each.workshop.students))

    return _change("each station shown to the whole class at once, where all of them see it", class_, to)


def _in_pairs(class_: Class) -> Class:
    return replace(class_, workshop=replace(class_.workshop, pairs=True))


def _ten_cramps(class_: Class) -> Class:
    counted = class_.workshop.counted.items()
    more = {name: replace(each, count=each.count + TEN) if each.reach else each for name, each in counted}
    return replace(class_, workshop=replace(class_.workshop, counted=more))


def _by_another_way(class_: Class, name: str, other: Class) -> Change:
    """The job planned without a kind of station."""
    kind = class_.workshop.stations[name].kind

    def to(each: Class) -> Class:
        left = {name: station for name, station in each.workshop.stations.items() if station.kind != kind}
        return replace(each, plan=other.plan, workshop=replace(each.workshop, stations=left))

    return Change(f"work by another way in place of the {name}", other, to, name, anew=True)


def _is_adults(name: str) -> bool:
    return name.startswith("the ")


def more_of(class_: Class, name: str, more: int = 1) -> Change:
    """More of a station or of a counted thing."""

    def to(each: Class) -> Class:
        workshop = each.workshop
        if name in workshop.stations:
            station = workshop.stations[name]
            stations = {**workshop.stations, name: replace(station, count=station.count + more)}
            return replace(each, workshop=replace(workshop, stations=stations))
        if name not in workshop.counted:
            return each
        counted = workshop.counted[name]
        return replace(
            each, workshop=replace(workshop, counted={**workshop.counted, name: replace(counted, count=counted.count + more)})
        )

    return _change(f"{'one' if more == 1 else more} more {_called(class_, name, more)}", class_, to, name)


def _called(class_: Class, name: str, more: int) -> str:
    """What there is more of: `scroll saw`; of a bench `place for gluing`."""
    said, station = name.replace("-", " "), class_.workshop.stations.get(name)
    if station is not None and class_.knowledge.stations[station.kind].power in ("hand", "bench"):
        return f"place{'s' * (more > 1)} for {said}"
    return said


def more_adults(class_: Class, more: int = 1) -> Change:
    """More adults in lessons, each of whom teaches and is authorised for every station."""
    added = tuple(Adult(f"Further adult {number + 1}", ("all",), teaches=True) for number in range(more))

    def to(each: Class) -> Class:
        return replace(each, workshop=replace(each.workshop, adults=(*each.workshop.adults, *added)))

    who = "one more adult in lessons who teaches" if more == 1 else f"{more} more adults in lessons who teach"
    return _change(f"{who}, authorised for every station", class_, to)


def longer(class_: Class, minutes: int) -> Change:
    """Longer lessons."""

    def to(each: Class) -> Class:
        time = each.workshop.time
        return replace(each, workshop=replace(each.workshop, time=replace(time, lesson=time.lesson + minutes)))

    many = "ten minutes" if minutes == TEN else f"{minutes} minutes"
    return _change(f"{many} more a lesson", class_, to)


def _by_staff(class_: Class, station: str) -> Iterator[Change]:
    """Staff prepare what students would do to single parts at a station."""

    def staffs(step: Step, plan: Plan) -> bool:
        tasks = {task.id: task for task in plan.tasks}
        single = bool(step.tasks) and all(tasks[task].part for task in step.tasks if task in tasks)
        return step.station == station and step.kind == "work" and step.who.operator == "student" and single

    def to(each: Class) -> Class:
        steps = tuple(
            replace(step, who=replace(step.who, operator="staff")) if staffs(step, each.plan) else step
            for step in each.plan.steps
        )
        return replace(each, plan=replace(each.plan, steps=steps))

    numbers = [step.number for step in class_.plan.steps if staffs(step, class_.plan)]
    if numbers:
        which = ", ".join(str(number) for number in numbers)
        says = f"staff prepare what is done at the {station} (step{'s' * (len(numbers) > 1)} {which})"
        yield _change(says, class_, to, station)
