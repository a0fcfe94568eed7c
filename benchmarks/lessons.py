"""Lessons for classes: the examples with 16, 24 and 28 students, one and two pillar drills, lessons of 45 and 60 minutes; and
public instances of scheduling.

`python benchmarks/lessons.py` prints the first table; with `--instances FOLDER` (folders `j30`, `j60` of PSPLIB files,
`jobshop`, and a README.md with a table of best known values) the second too. Every plan is gone over by the checker that knows
nothing of the search.
"""

from __future__ import annotations

import argparse
import re
import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

from sequencer.classroom.course import Class, best_course
from sequencer.classroom.hopeless import hopeless
from sequencer.pipeline import check, plan
from sequencer.scheduling.best import best_schedule
from sequencer.scheduling.calendar import Calendar
from sequencer.scheduling.checked import faults
from sequencer.scheduling.problem import Activity, After, Need, Problem

ROOT = Path(__file__).resolve().parent.parent
EXAMPLES = ("herb-caddy", "nest-box", "step-stool", "picture-frame")
DRILL = "pillar-drill"


def main() -> None:
    """Print the tables."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--effort", type=float, default=1.0, help="how long to look, as a multiple of the usual")
    options.add_argument("--workshop", default="well-equipped", help="an example workshop")
    options.add_argument("--no-solver", action="store_true", help="rules only")
    options.add_argument("--instances", type=Path, help="folder of public instances")
    options.add_argument("--solving", type=float, default=6.0, help="the solver's deterministic seconds for a public instance")
    given = options.parse_args()
    classes(given.workshop, given.effort, not given.no_solver)
    if given.instances is not None:
        public(given.instances, given.solving)


def classes(workshop: str, effort: float, solve: bool) -> None:
    """Print the table of the examples."""
    print("job            students drills lesson  lessons  at least  seconds  checker")
    for name in EXAMPLES:
        checked = check(ROOT / "examples" / name / "job.yaml", ROOT / "examples" / "workshops" / f"{workshop}.yaml")
        made = plan(checked, day=date(2027, 2, 1))
        for students in (16, 24, 28):
            for drills in (1, 2):
                for lesson in (45.0, 60.0):
                    shop = replace(
                        checked.workshop, students=students, places=None, time=replace(checked.workshop.time, lesson=lesson)
                    )
                    if DRILL in shop.stations:
                        shop = replace(shop, stations={**shop.stations, DRILL: replace(shop.stations[DRILL], count=drills)})
                    row = f"{name:14} {students:8} {drills:6} {lesson:6g}"
                    if against := hopeless(made, checked.job, shop, checked.knowledge):
                        print(f"{row}  cannot: {against[0].what}", flush=True)
                        continue
                    start = time.process_time()
                    found = best_course(Class(made, checked.job, shop, checked.knowledge), effort=effort, solve=solve)
                    seconds = time.process_time() - start
                    if found is None:
                        print(f"{row}  none found", flush=True)
                        continue
                    word = (faults(found.work.problem, found.schedule) or ["right"])[0]
                    print(f"{row} {found.lessons:8} {found.least:9} {seconds:8.1f}  {word}", flush=True)


def public(folder: Path, solving: float) -> None:
    """Print the table of the public instances, and the mean gaps."""
    print("\ninstance   work     end    best    gap %  at least  seconds  checker")
    gaps: dict[str, list[float]] = {}
    for kind, name, problem, best in instances(folder):
        start = time.process_time()
        found = best_schedule(problem, schedules=4000, effort=solving)
        seconds = time.process_time() - start
        if found is None:
            print(f"{name:10} none found", flush=True)
            continue
        word = (faults(problem, found.schedule) or ["right"])[0]
        gap = 100 * (found.last(problem) - best) / best
        gaps.setdefault(kind, []).append(gap)
        size = len(problem.activities)
        print(
            f"{name:10} {size:4} {found.last(problem):7} {best:7} {gap:8.2f} {found.least:9} {seconds:8.1f}  {word}", flush=True
        )
    for kind, each in gaps.items():
        print(f"{kind}: mean gap {sum(each) / len(each):.2f} %, worst {max(each):.2f} %")


def instances(folder: Path) -> Iterator[tuple[str, str, Problem, int]]:
    """Every instance of the folder that the table of best known values names, with its value."""
    rows = re.findall(r"^\| (\S+) \| [\dx ]+ \| (\d+) \|", (folder / "README.md").read_text(encoding="utf-8"), re.MULTILINE)
    known = {name: int(value) for name, value in rows}
    for file in sorted((*folder.rglob("*.sm"), *folder.glob("jobshop/*.txt"))):
        problem = project(file) if file.suffix == ".sm" else job_shop(file)
        yield file.parent.name, file.stem, problem, known[file.stem]


def project(file: Path) -> Problem:
    """A resource-constrained project in the form of PSPLIB, its two dummies left out."""
    text = file.read_text(encoding="utf-8")
    after = [line.split()[3:] for line in _section(text, "PRECEDENCE RELATIONS:")[1:]]
    asked = [[int(word) for word in line.split()] for line in _section(text, "REQUESTS/DURATIONS:")[2:]]
    counts = tuple(int(word) for word in _section(text, "RESOURCEAVAILABILITIES:")[1].split())
    number: dict[int, int] = {}
    activities: list[Activity] = []
    for at in _in_order([[int(word) - 1 for word in line] for line in after]):
        minutes, needs = asked[at][2], asked[at][3:]
        if minutes:
            number[at] = len(activities)
            before = (After(number[other]) for other, line in enumerate(after) if str(at + 1) in line and other in number)
            wanted = tuple(Need((thing,), amount) for thing, amount in enumerate(needs) if amount)
            activities.append(Activity(str(at + 1), minutes, wanted, after=tuple(before)))
    return Problem(tuple(activities), counts, (Calendar(((0, sum(each.minutes for each in activities)),)),))


def _section(text: str, title: str) -> list[str]:
    return text.split(title)[1].split("***")[0].strip().splitlines()


def _in_order(followers: list[list[int]]) -> list[int]:
    """The activities of a project, each after those before it."""
    left = [sum(number in line for line in followers) for number in range(len(followers))]
    found = [number for number, count in enumerate(left) if not count]
    for number in found:
        for follower in followers[number]:
            left[follower] -= 1
            if not left[follower]:
                found.append(follower)
    return found


def job_shop(file: Path) -> Problem:
    """A job shop: pairs of machine and duration, a line a job."""
    lines = [line for line in file.read_text(encoding="utf-8").splitlines() if line.strip() and not line.startswith("#")]
    jobs, machines = map(int, lines[0].split())
    activities: list[Activity] = []
    for job, line in enumerate(lines[1 : jobs + 1]):
        words = [int(word) for word in line.split()]
        for step, (machine, minutes) in enumerate(zip(words[::2], words[1::2], strict=True)):
            before = (After(len(activities) - 1),) if step else ()
            activities.append(Activity(f"{job}.{step}", minutes, (Need((machine,)),), after=before, group=job))
    return Problem(tuple(activities), (1,) * machines, (Calendar(((0, sum(each.minutes for each in activities)),)),))


if __name__ == "__main__":
    main()
