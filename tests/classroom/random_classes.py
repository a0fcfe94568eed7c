"""Small classes made up at random: an example's plan, and a workshop with other counts, adults, times and days."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from random import Random

from sequencer.classroom.course import Class
from sequencer.model.workshop import Adult, Counted, Station, Timetable, Weekly, Workshop
from tests import made

BENCH_HOOK, POT_CROSS, BOARD = (
    f"tests/cases/{name}.yaml" for name in ("s01-bench-hook", "s02-flower-pot-cross", "s03-chopping-board")
)
JOBS = (
    (BENCH_HOOK, "full"),
    (BOARD, "full"),
    ("picture-frame", "well-equipped"),
    (POT_CROSS, "full"),
    ("tests/cases/s09-towel-roller.yaml", "well-equipped"),
    (BOARD, "well-equipped"),
    (BENCH_HOOK, "hand-tools"),
    ("herb-caddy", "well-equipped"),
    (BOARD, "full"),
)
MONDAY = date(2027, 2, 1)


def random_class(seed: int) -> Class:
    """A class of two to four seats."""
    random = Random(seed)
    job, workshop = JOBS[seed % len(JOBS)]
    plan = made.plan(job, workshop)
    used = {step.station for step in plan.steps}
    return Class(plan, made.job(job), _workshop(random, made.workshop(workshop), used), made.knowledge())


def _workshop(random: Random, own: Workshop, used: set[str]) -> Workshop:
    pairs = random.random() < 0.25
    kinds = sorted({station.kind for station in own.stations.values()})
    instructed = tuple(kind for kind in kinds if random.random() < 0.3)
    return replace(
        own,
        stations={name: _station(random, station) if name in used else station for name, station in own.stations.items()},
        counted={name: _counted(random, counted) for name, counted in own.counted.items() if random.random() < 0.85},
        students=random.randint(3, 8) if pairs else random.randint(2, 4),
        pairs=pairs,
        adults=_adults(random, kinds),
        time=_time(random),
        shown_in=random.choice((0, 2, 3, 8)),
        instructed=instructed,
        signed_off=tuple(kind for kind in instructed if random.random() < 0.4),
        all_ready=tuple(kind for kind in kinds if random.random() < 0.1),
    )


def _station(random: Random, station: Station) -> Station:
    away = tuple(MONDAY + timedelta(days=random.randint(0, 40)) for _ in range(3)) if random.random() < 0.3 else ()
    return replace(station, count=random.choice((1, 1, 2, 3)), away=tuple(sorted(away)))


def _counted(random: Random, counted: Counted) -> Counted:
    return replace(counted, count=random.choice((2, 4, 8, 24)))


def _adults(random: Random, kinds: list[str]) -> tuple[Adult, ...]:
    some = tuple(kind for kind in kinds if random.random() < 0.6) + ("benches",) * (random.random() < 0.5)
    others = (
        Adult("Technician", ("all",), random.random() < 0.5, random.random() < 0.5),
        Adult("Technician", some, in_lessons=random.random() < 0.7),
    )
    helper = (Adult("Helper", ()),) if random.random() < 0.3 else ()
    return (Adult("Teacher", ("all",), teaches=True), random.choice(others), *helper)


def _time(random: Random) -> Timetable:
    lesson = random.choice((50, 60, 75, 90, 120))
    if random.random() < 0.3:
        return Timetable(lesson, 5, 10, random.choice((1, 2, 3)))
    days = sorted(random.sample(range(5), random.choice((1, 2, 3))))
    week = tuple(Weekly(day, random.choice((9 * 60, 10 * 60 + 15, 13 * 60 + 30))) for day in days)
    staff = tuple(Weekly(day, 16 * 60, random.choice((60, 90))) for day in sorted(random.sample(range(5), 2)))
    holidays = tuple(sorted(MONDAY + timedelta(days=random.randint(0, 60)) for _ in range(random.randint(0, 5))))
    first = MONDAY + timedelta(days=random.randint(0, 6))
    return Timetable(lesson, 5, 10, len(week), first, holidays, week, staff if random.random() < 0.7 else ())
