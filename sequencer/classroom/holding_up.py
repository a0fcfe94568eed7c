"""What holds a class up: the bottlenecks by their bounds, the queues before them, and the chain that the end hangs on."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

import numpy as np

from sequencer.classroom.course import Found, lessons_of, lessons_text
from sequencer.classroom.duties import LESSONS, ClassWork
from sequencer.model.class_plan import Bottleneck, ChainLink
from sequencer.scheduling.bound import Bound
from sequencer.scheduling.problem import ends

MOST_BOTTLENECKS = 5
LONGEST_CHAIN = 60
TOGETHER = "several things together"
"""The name of what is due to more than one thing."""


def name_of(bound: Bound, work: ClassWork) -> str:
    """What a bound is about, in words: `pillar-drill`, `the adults`, `one student's own work`."""
    if len(_names(bound, work)) > 1:
        return TOGETHER
    things = [work.things[thing] for thing in bound.things]
    if _is_own(bound, work):
        return "one student's own work"
    if things[0].kind == "adult":
        return "the adults" if len(things) > 1 else f"the {things[0].name.lower()}"
    if things[0].kind == "benches":
        return f"the {things[0].name}"
    names = [thing.name.rpartition(" ")[0] or thing.name for thing in things] if len(things) > 1 else [things[0].name]
    return names[0]


def _is_own(bound: Bound, work: ClassWork) -> bool:
    return not bound.things or work.things[bound.things[0]].kind == "seat"


def bottlenecks(found: Found) -> Iterator[Bottleneck]:
    """What asks for most lessons, each once, the worst first. What asks for no more than the way of one student does is told with
    the lessons that its work alone fills."""
    work, said = found.work, set[str]()
    longest = max((bound.minute for bound in found.bounds if not bound.things), default=0)

    def minute(bound: Bound) -> int:
        return bound.minute if bound.minute > longest or _is_own(bound, work) else ceil(bound.work)

    for bound in sorted(found.bounds, key=lambda bound: (-minute(bound), not _is_own(bound, work), -bound.work)):
        name = name_of(bound, work)
        if name in said or len(said) == MOST_BOTTLENECKS or not (bound.work or bound.together or not bound.things):
            continue
        said.add(name)
        if name == TOGETHER:
            yield _together(bound, work)
            continue
        least = lessons_of(work.problem, minute(bound))
        queue = 0 if _is_own(bound, work) else _queue(bound, found)
        load = round(bound.work or max(each.work for each in found.bounds if name_of(each, work) == name))
        called = name.replace("-", " ")
        says = f"{called[:1].upper()}{called[1:]}: not in fewer than {lessons_text(least)}"
        says += f", with {load} minutes of work{_for_each(bound, work)}" if load else ""
        if load and least > lessons_of(work.problem, load):
            says += "; the rest goes by in waits" if _is_own(bound, work) else f"; {_place(bound, work)}"
        says += f"; {queue} students wait for it at one time." if queue > 1 else "."
        yield Bottleneck(name, least, float(load), queue, says)


def _together(bound: Bound, work: ClassWork) -> Bottleneck:
    """What several things ask for at once."""
    least, names = lessons_of(work.problem, bound.minute), _names(bound, work)
    said = [name.replace("-", " ") for name in names]
    says = f"{', '.join(said[:-1])} and {said[-1]} together: not in fewer than {lessons_text(least)}"
    return Bottleneck(TOGETHER, least, 0.0, 0, f"{says[:1].upper()}{says[1:]}; to have more of one alone may not help.")


def _for_each(bound: Bound, work: ClassWork) -> str:
    """For how many the minutes are meant: nothing for what there is one of, or what is told of one student."""
    things = [work.things[thing] for thing in bound.things]
    one = work.whole if things and things[0].kind in ("adult", "benches") else 1
    if _is_own(bound, work) or (len(things) == 1 and things[0].count == one):
        return ""
    whose = {"adult": " for each adult", "benches": " for each adult", "station": " at each place"}
    return whose.get(things[0].kind, " for each")


def _names(bound: Bound, work: ClassWork) -> list[str]:
    """The names of all that a bound is due to together, the heaviest first; what is part of another set goes by its name."""
    sets = [things for things in bound.together if not any(set(things) < set(other) for other in bound.together)]
    return list(dict.fromkeys(name_of(Bound(0, things), work) for things in sets))


def _place(bound: Bound, work: ClassWork) -> str:
    """Why work at some things asks for more lessons than it fills: it comes late, or much comes after it."""
    numbers = _steps_at(bound, work)
    heads, dried = _heads(work)
    behind = _behind(work)
    first = min(numbers, key=lambda number: (heads[number], number))
    after = min(behind[number] for number in numbers)
    place = "it comes last" if not after else "it comes late" if heads[first] > after else "much comes after it"
    return f"{place}, after drying" if dried[first] and heads[first] > after else place


def _steps_at(bound: Bound, work: ClassWork) -> list[int]:
    """The work of students that takes or keeps some of these things and nothing else will do; where only staff work or show, all
    of it."""
    things = set(bound.things)
    taking = [
        number
        for number, activity in enumerate(work.problem.activities)
        if activity.calendars == (LESSONS,)
        and (
            any(things.issuperset(need.options) for need in activity.needs)
            or any(keep.thing in things for keep in activity.keeps)
        )
    ]
    return [number for number in taking if work.duties[number].kind == "step"] or taking


def _heads(work: ClassWork) -> tuple[list[int], list[bool]]:
    """The minute at work at which each activity can start at the earliest, and whether something dries on the way there."""
    calendar = work.problem.calendars[LESSONS]
    stops, heads, dried = list[int](), list[int](), list[bool]()
    for activity in work.problem.activities:
        own = activity.calendars == (LESSONS,)
        ready = [
            (calendar.at(calendar.real_end(stops[each.activity]) + each.wait) if each.wait else stops[each.activity], each)
            for each in activity.after
        ]
        head, each = max(ready, key=lambda one: one[0], default=(0, None))
        heads.append(head)
        dried.append(each is not None and head > 0 and (each.wait > 0 or dried[each.activity]))
        stops.append(head + activity.minutes if own else head)
    return heads, dried


def _behind(work: ClassWork) -> list[int]:
    """Minutes at work that come after each activity at the least."""
    found = [0] * len(work.problem.activities)
    for number in reversed(range(len(found))):
        for each in work.problem.followers[number]:
            own = work.problem.activities[each.activity]
            found[number] = max(found[number], found[each.activity] + (own.minutes if own.calendars == (LESSONS,) else 0))
    return found


def _queue(bound: Bound, found: Found) -> int:
    """The most seats that stand ready for some things at one moment and have nothing else to do."""
    problem, placed = found.work.problem, found.schedule.placed
    calendar, minutes = problem.calendars[LESSONS], problem.calendars[LESSONS].minutes
    busy = {seat: np.zeros(minutes + 1, dtype=bool) for seat, thing in enumerate(found.work.things) if thing.kind == "seat"}
    for duty, place in zip(found.work.duties, placed, strict=True):
        for seat in duty.seats:
            busy[seat][place.start : place.stop] = True
    waiting = {seat: np.zeros(minutes + 1, dtype=bool) for seat in busy}
    for number, (duty, place) in enumerate(zip(found.work.duties, placed, strict=True)):
        if len(duty.seats) != 1 or not set(place.taken) & set(bound.things):
            continue
        befores = [(placed[each.activity], each.wait) for each in problem.activities[number].after]
        ready = max(
            (calendar.at(problem.calendars[each.calendar].real_end(each.stop) + wait) for each, wait in befores), default=0
        )
        waiting[duty.seats[0]][ready : place.start] = True
    return int(np.sum([waiting[seat] & ~busy[seat] for seat in busy], axis=0).max(initial=0))


def chain(found: Found) -> Iterator[ChainLink]:
    """What the end hangs on, from the end back: each waited for the one behind it, or for what that one had taken."""
    problem, placed, work = found.work.problem, found.schedule.placed, found.work
    last = ends(problem, found.schedule)
    number = next((each for each, place in enumerate(placed) if place.calendar == LESSONS and place.stop == last), None)
    if number is None:
        return
    links = [ChainLink(_did(work, number), _lesson(found, number))]
    for _ in range(LONGEST_CHAIN):
        before = _held_by(found, number)
        if before is None:
            break
        number, why = before
        links.append(ChainLink(f"{why} {_did(work, number)}", _lesson(found, number)))
    yield from links


def _lesson(found: Found, number: int) -> int:
    place = found.schedule.placed[number]
    if place.calendar == LESSONS:
        return found.work.problem.calendars[LESSONS].window(place.start) + 1
    real = found.work.problem.calendars[place.calendar].real(place.start)
    calendar = found.work.problem.calendars[LESSONS]
    return calendar.window(min(calendar.at(real), calendar.minutes - 1)) + 1


def _did(work: ClassWork, number: int) -> str:
    duty = work.duties[number]
    who = (
        f"seat {work.things[duty.seats[0]].name}"
        if len(duty.seats) == 1
        else f"{len(duty.seats)} seats"
        if duty.seats
        else "staff"
    )
    if duty.kind == "demonstration":
        return f"{who}: are shown the {duty.step.station_title}"
    return f"{who}: {'sign-off and ' if duty.sign_off else ''}step {duty.step.number}, {duty.step.title}"


def _both_take(found: Found, one: int, other: int) -> set[int]:
    """What two activities take of both; everyone at work is watched, so that those who watch the benches count where one
    holds an adult wholly."""
    work, placed = found.work, found.schedule.placed
    held = work.whole in (work.duties[one].attention, work.duties[other].attention)
    common = set(placed[one].taken) & set(placed[other].taken)
    return {thing for thing in common if held or work.things[thing].kind != "benches"}


def _held_by(found: Found, number: int) -> tuple[int, str] | None:
    """What an activity waited for, and why, if it waited for anything."""
    problem, placed = found.work.problem, found.schedule.placed
    place = placed[number]
    calendar = problem.calendars[place.calendar]
    best: tuple[int, int, int, str] | None = None
    for each in problem.activities[number].after:
        own = placed[each.activity]
        at = calendar.at(problem.calendars[own.calendar].real_end(own.stop) + each.wait)
        candidate = at, 1, each.activity, "after the wait behind" if each.wait else "after"
        best = max(best, candidate) if best else candidate
    for other, own in enumerate(placed):
        if other == number or own.calendar != place.calendar or own.stop != place.start:
            continue
        if common := _both_take(found, other, number):
            shared = found.work.things[min(common)]
            why = "when free of" if shared.kind == "seat" else f"when the {shared.name} was free of"
            candidate = own.stop, 0, other, why
            best = max(best, candidate) if best else candidate
    if best is None or (best[0] == 0 and place.start == 0):
        return None
    return best[2], best[3]
