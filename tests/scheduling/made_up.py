"""Problems made up at random, small enough to be solved to the end."""

from __future__ import annotations

from random import Random

from sequencer.scheduling.calendar import Calendar
from sequencer.scheduling.problem import Activity, After, Keep, Need, Problem


def problem(seed: int, *, groups: int = 3, steps: int = 4, windows: int = 14) -> Problem:
    """A few alike groups with a step or two that share things; waits, splits, things that are kept, things that are away."""
    random = Random(seed)
    long = random.choice((20, 30, 40))
    gap = random.choice((60, 500, 1440))
    calendar = Calendar(tuple((number * (long + gap), number * (long + gap) + long) for number in range(windows)))
    staff = Calendar(tuple((start - 50, start - 10) for start, _ in calendar.windows))
    counts = [1] * groups + [random.randint(1, 2) for _ in range(3)] + [4]
    stations, attention = range(groups, groups + 3), groups + 3
    activities: list[Activity] = []
    shape = [
        (
            random.randint(3, long),
            random.choice(list(stations)),
            random.random() < 0.4,
            random.choice((0, 0, 0, 30, gap + 10)),
            random.choice((0, 0, 1, 2, 4)),
            random.random() < 0.3,
        )
        for _ in range(steps)
    ]
    befores = [[other for other in range(step) if random.random() < 0.5] for step in range(steps)]
    prepared = [len(activities)]
    activities.append(Activity("prepare", random.randint(5, 60), (Need((attention,), 4),), (), (), (1,), 5, -1))
    for group in range(groups):
        first = len(activities)
        for step, (minutes, station, splits, _, watched, kept) in enumerate(shape):
            options = (station,) if random.random() < 0.7 else tuple(stations)
            needs = [Need((group,)), Need(options)]
            needs += [Need((attention,), watched)] if watched else []
            keeps = (Keep(stations[0], 1, random.choice((10, gap))),) if kept and stations[0] not in options else ()
            after = [After(first + other, shape[other][3]) for other in befores[step]]
            after += [After(prepared[0])] if not befores[step] else []
            activities.append(
                Activity(
                    f"{group}.{step}", minutes, tuple(needs), keeps, tuple(after), (0,), 5 * (splits and minutes >= 10), group
                )
            )
    away = ((stations[1], 1, calendar.windows[1][0], calendar.windows[1][1]),) if random.random() < 0.5 else ()
    return Problem(tuple(activities), tuple(counts), (calendar, staff), away)
