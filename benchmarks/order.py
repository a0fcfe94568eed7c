"""Orders of least changing: jobs of workshop structure made at random, and public instances of sequential ordering.

`python benchmarks/order.py` prints the first table; with `--instances FOLDER` (files `*.sop` and a README.md with a table of best
known values) the second too. Every order is checked, and its cost counted again, by code of this file that knows nothing of
the search.
"""

from __future__ import annotations

import argparse
import re
import time
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from random import Random
from typing import TypeVar

from sequencer.ordering.general import arrange
from sequencer.ordering.least import least_changing
from sequencer.ordering.problem import Nodes, Steps, closed

SIZES = ((20, 6), (40, 8), (60, 10), (80, 12), (100, 14))
SMALL = 25
"""Nodes up to which the best order is to be proved."""
ROUNDS = 4000


def main() -> None:
    """Print the tables."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--seeds", type=int, default=3, help="jobs made up of every size")
    options.add_argument("--instances", type=Path, help="folder of public instances")
    given = options.parse_args()
    print("steps set-ups seed    cost  at least  proved  seconds  checker")
    for count, set_ups in SIZES:
        for seed in range(given.seeds):
            steps = made_up(count, set_ups, seed)
            seconds, answer = timed(partial(least_changing, steps))
            word = checked(answer.order, answer.cost, steps.before, partial(walked, steps))
            proved = "yes" if answer.proved else "no"
            print(
                f"{count:5} {set_ups:7} {seed:4} {answer.cost:7} {answer.least:9} {proved:>7} {seconds:8.2f}  {word}",
                flush=True,
            )
    if given.instances is not None:
        public(given.instances)


def public(folder: Path) -> None:
    """Print the table of the public instances, and the mean and worst gap."""
    print("\ninstance   nodes     cost     best    gap %  proved  seconds  checker")
    gaps = []
    for name, best in best_known(folder).items():
        instance = read(folder / f"{name}.sop")
        nodes = Nodes(instance.cost, closed(instance.before))
        effort = 3_000_000 if len(nodes.cost) <= SMALL else 0
        seconds, answer = timed(partial(arrange, nodes, rounds=ROUNDS, effort=effort))
        word = checked(answer.order, answer.cost, instance.before, partial(travelled, instance))
        gap = 100 * (answer.cost - best) / best
        gaps.append(gap)
        proved = "yes" if answer.proved else "no"
        print(f"{name:9} {len(nodes.cost):6} {answer.cost:8} {best:8} {gap:8.2f} {proved:>7} {seconds:8.2f}  {word}", flush=True)
    print(f"mean gap {sum(gaps) / len(gaps):.2f} %, worst {max(gaps):.2f} %")


Answer = TypeVar("Answer")


def timed(work: Callable[[], Answer]) -> tuple[float, Answer]:
    """Seconds of processor time, and the answer."""
    start = time.process_time()
    answer = work()
    return time.process_time() - start, answer


@dataclass(frozen=True)
class Instance:
    """A public instance as its file gives it: costs, and which nodes come before each."""

    cost: tuple[tuple[int, ...], ...]
    before: tuple[int, ...]


def read(file: Path) -> Instance:
    """An instance in the TSPLIB form for sequential ordering: a matrix in which -1 says that the column comes before the row."""
    numbers = [int(word) for word in file.read_text(encoding="utf-8").split("EDGE_WEIGHT_SECTION")[1].split() if word != "EOF"]
    count, rest = numbers[0], numbers[1:]
    rows = [rest[count * row : count * (row + 1)] for row in range(count)]
    before = tuple(sum(1 << column for column, cost in enumerate(row) if cost < 0) for row in rows)
    return Instance(tuple(tuple(max(cost, 0) for cost in row) for row in rows), before)


def best_known(folder: Path) -> dict[str, int]:
    """The best known values of the table in a folder's README.md: name, nodes, precedences, value."""
    rows = re.findall(r"^\| (\S+) \| \d+ \| \d+ \| (\d+) \|", (folder / "README.md").read_text(encoding="utf-8"), re.MULTILINE)
    return {name: int(value) for name, value in rows}


def checked(order: Sequence[int], claimed: int, before: Sequence[int], count: Callable[[Sequence[int]], int]) -> str:
    """The independent word on an answer."""
    if sorted(order) != list(range(len(before))):
        return "WRONG: not every step once"
    done: set[int] = set()
    for step in order:
        if any(before[step] >> other & 1 and other not in done for other in range(len(before))):
            return f"WRONG: {step} too early"
        done.add(step)
    return "right" if count(order) == claimed else f"WRONG: costs {count(order)}"


def walked(steps: Steps, order: Iterable[int]) -> int:
    """What the changes of an order cost."""
    total, mounted = 0, -1
    for step in order:
        set_up = steps.set_up[step]
        total += steps.first[set_up] if mounted < 0 else steps.change[mounted][set_up]
        mounted = set_up
    return total


def travelled(instance: Instance, order: Sequence[int]) -> int:
    """What an order of nodes costs."""
    return sum(instance.cost[order[at]][order[at + 1]] for at in range(len(order) - 1))


def made_up(count: int, set_ups: int, seed: int) -> Steps:
    """A job of workshop structure: chains of 3 to 7 steps for each part, some demands between parts, one assembly at the end, and
    set-ups at random, which is harder than in real jobs. A change takes 2 to 4 minutes at a station, 6 to 8 between stations,
    so that no detour pays."""
    random = Random(seed)
    station = tuple(random.randrange(max(2, set_ups // 2)) for _ in range(set_ups))
    change = tuple(
        tuple(0 if a == b else random.randint(2, 4) if station[a] == station[b] else random.randint(6, 8) for b in range(set_ups))
        for a in range(set_ups)
    )
    before, chains, last = [0] * count, [], count - 1
    while sum(len(chain) for chain in chains) < last:
        start = sum(len(chain) for chain in chains)
        chains.append(range(start, min(last, start + random.randint(3, 7))))
    for chain in chains:
        for step in chain[1:]:
            before[step] |= 1 << (step - 1)
        before[last] |= 1 << chain[-1]
    for _ in range(count // 8):
        one, other = sorted(random.sample(range(last), 2))
        before[other] |= 1 << one
    own = tuple(random.randrange(set_ups) for _ in range(count))
    return Steps(own, tuple(before), change, (6,) * set_ups, station)


if __name__ == "__main__":
    main()
