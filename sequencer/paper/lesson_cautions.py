"""The cautions of a lesson: few, and of what this class does today. Cards and the risk assessment keep all of them."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from sequencer.model.class_plan import Care, Session
from sequencer.model.plan import Step
from sequencer.model.protection import GRAVEST_FIRST, HazardLine, Wear
from sequencer.paper import wording
from sequencer.paper.course_words import Lessons
from sequencer.reading.words import listed

MOST = 5
"""So many at the most: a teacher reads them at the door (common practice)."""
_MOST = 0.5


@dataclass(frozen=True)
class Caution:
    """What it is about, and what is said of it."""

    lead: str
    text: str


@dataclass
class _There:
    """Who is at a kind of station today, and in which step how many."""

    seats: set[str]
    steps: dict[str, set[str]]


def cautions(course: Lessons, lesson: Session) -> tuple[Caution, ...]:
    """First dust beside wet finish; then that of each station itself, new ones before others, those with most students first,
    stations with the same one together; then what else comes first at the step that most are at; last the gravest of what is not
    said yet."""
    there = _stations(course, lesson)
    before = {course.steps[stint.step].station_kind for number in range(1, lesson.number) for stint, _ in course.stints(number)}
    order = sorted(there, key=lambda kind: (kind in before, -len(there[kind].seats)))
    own = {card.kind: card.own_hazard for card in course.plan.stations}
    said: dict[str, tuple[HazardLine, list[str]]] = {}
    also: dict[str, tuple[HazardLine, list[str]]] = {}
    for kind in order:
        step = _busiest(course, there[kind])
        first = next(iter(card_hazards(step)), None)
        line = next(
            (line for each in there[kind].steps for line in course.steps[each].hazards if line.name == own.get(kind)), first
        )
        title = wording.within_sentence(step.station_title)
        if line is not None:
            said.setdefault(line.name, (line, []))[1].append(f"{title}{'' if kind in before else ' (new today)'}")
        if first is not None and first is not line:
            also.setdefault(first.name, (first, []))[1].append(title)
    dust = _dust_and_finish(course, lesson)
    every = [*said.values(), *(each for name, each in also.items() if name not in said)]
    shown = every[: MOST - 1 - len(dust)]
    found = [Caution(wording.heading(", ".join(leads)), line.short) for line, leads in shown]
    return (*dust, *found, *_gravest(course, lesson, {line.name for line, _ in shown}))


def card_hazards(step: Step) -> tuple[HazardLine, ...]:
    """The hazards that a student's card names at a step, in its order."""
    named = [line for line in step.hazards if line.short in step.hazard_line]
    return tuple(sorted(named, key=lambda line: step.hazard_line.index(line.short)))


def _stations(course: Lessons, lesson: Session) -> dict[str, _There]:
    found: dict[str, _There] = {}
    for stint, _ in course.stints(lesson.number):
        kind = course.steps[stint.step].station_kind
        at = found.setdefault(kind, _There(set(), defaultdict(set)))
        at.seats.update(stint.seats)
        at.steps[stint.step].update(stint.seats)
    return found


def _busiest(course: Lessons, at: _There) -> Step:
    """The step that most seats are at, the first of those."""
    return course.steps[max(at.steps, key=lambda step: (len(at.steps[step]), -course.steps[step].number))]


def _gravest(course: Lessons, lesson: Session, said: set[str]) -> tuple[Caution, ...]:
    """The gravest hazard that a card of today names and that is not said yet; among equals what stands in fewest steps of the
    plan, which is least in everybody's mind."""
    rows = {row.hazard: (GRAVEST_FIRST.index(row.severity), len(row.steps), row.hazard) for row in course.plan.risks}
    left = {
        line.name: (line, step)
        for stint, _ in course.stints(lesson.number)
        for step in (course.steps[stint.step],)
        for line in card_hazards(step)
        if line.name not in said and line.name in rows
    }
    if not left:
        return ()
    line, step = left[min(left, key=rows.__getitem__)]
    return (Caution(wording.heading(step.station_title), line.short),)


def _dust_and_finish(course: Lessons, lesson: Session) -> tuple[Caution, ...]:
    """Where some sand and some put on finish in the same lesson: when, and how they are kept apart."""
    return tuple(
        Caution("Dust and finish", f"{wording.heading(_when(course, lesson, care))}. {care.says}")
        for care in lesson.cautions
        if care.kind == "dust-and-finish"
    )


def for_adults(course: Lessons, lesson: Session) -> tuple[Caution, ...]:
    """What the adults of a lesson are asked to: to show again what was shown long ago; who has the room while the only one who
    teaches is held; who watches work with a motor and the benches at once; who uses a saw or an edge tool that is new to them."""
    leads = {"teacher-held": "", "motor-and-benches": "Motor and benches at once, "}
    held = [
        Caution(f"{leads[care.kind]}{_when(course, lesson, care)}", care.says) for care in lesson.cautions if care.kind in leads
    ]
    again = [
        f"{care.what} to {course.seats(care.seats)} (seen in lesson {care.since})"
        for care in lesson.cautions
        if care.kind == "show-again"
    ]
    tools: dict[tuple[str, ...], list[str]] = defaultdict(list)
    for care in lesson.cautions:
        if care.kind == "new-tool":
            tools[care.seats].append(care.what)
    new = [f"{listed(names)}: {course.seats(seats)}" for seats, names in tools.items()]
    lines = (("New today, watch the first cuts", new), ("Show again, in a few words", again))
    return (*held, *(Caution(lead, f"{'; '.join(some)}.") for lead, some in lines if some))


def _when(course: Lessons, lesson: Session, care: Care) -> str:
    """What goes on from when until when: `sanding 10:25 to 10:45, finish 10:45 to 11:05`."""
    return ", ".join(f"{each.what} {' and '.join(course.slots(lesson, span) for span in each.spans)}" for each in care.when)


def worn(course: Lessons, lesson: Session) -> str:
    """What is worn today and what is kept off, and where: `Everyone: apron, closed shoes. Eye protection: pillar drill.`

    What more than half of the stations ask for everyone wears, so that nobody has to change it on the way from one to the next.
    """
    places: dict[Wear, list[str]] = defaultdict(list)
    stations: list[str] = []
    for stint, _ in course.stints(lesson.number):
        step = course.steps[stint.step]
        station = wording.within_sentence(step.station_title)
        if station not in stations:
            stations.append(station)
        for each in step.wear:
            if station not in places[each]:
                places[each].append(station)
    where: dict[tuple[str, ...], list[Wear]] = defaultdict(list)
    for item, found in places.items():
        where[tuple(found)].append(item)
    most = [found for found, some in where.items() if len(found) / len(stations) > _MOST and not any(map(_kept_off, some))]
    everywhere = [*where.pop(tuple(stations), []), *(each for found in most for each in where.pop(found, []))]
    shared = [f"Everyone: {wording.within_sentence(wording.wear_words(everywhere))}"] if everywhere else []
    said = sorted(where.items(), key=lambda each: (-len(each[0]), each[0]))
    return " ".join([*shared, *(f"{wording.wear_words(some).rstrip('.')}: {', '.join(found)}." for found, some in said)])


def _kept_off(item: Wear) -> bool:
    """Whether it is not for everyone: what is forbidden at one station, and what one station asks for and another forbids."""
    return item.forbidden or item.name == "gloves"
