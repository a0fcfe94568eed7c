"""Time of pictures in the round: every part and the whole of each example, on a card and over a page.

Prints the median and the worst, ms, and the slowest few by name. Aims: 10 ms at the median, 150 ms at worst.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Iterator
from pathlib import Path
from statistics import median

from sequencer.design.bodies import Body
from sequencer.design.placing import place
from sequencer.features.base import Feature
from sequencer.model.frame import Point
from sequencer.paper.axonometric import draw_scene
from sequencer.paper.scene import FaceMark, Scene, Size, Thing
from sequencer.reading.job import read_job
from sequencer.solid.parts import blank_solid, feature_solid, part_solid, standing_solids
from sequencer.solid.solids import joined, without

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
ROOMS = ((56.0, 45.0), (86.0, 52.0), (174.0, 80.0))


def scenes() -> Iterator[tuple[str, Scene]]:
    """Each example as it stands; each part finished, and once for each of its features as that is cut."""
    for file in sorted(EXAMPLES.glob("*/job.yaml")):
        name = file.parent.name
        job, _ = read_job(file)
        placement = place(job)
        letters = {part: chr(65 + number % 26) for number, part in enumerate(job.parts)}
        standing = standing_solids(placement).items()
        yield (
            f"{name}: standing",
            Scene(tuple(Thing(solid, letter=letters[placement.bodies[piece].part.name]) for piece, solid in standing)),
        )
        for body in {(body.part.name, body.mirrored): body for body in placement.bodies.values()}.values():
            sizes, marks = _written(body)
            finished = Thing(part_solid(body), letter=letters[body.part.name])
            yield f"{name}: {body.part.name}", Scene((finished,), sizes, marks=marks)
            for feature in body.part.features_of(body.piece.hand):
                yield f"{name}: {body.part.name}/{feature.name}", Scene(_cut(body, feature), sizes, marks=marks)


def _cut(body: Body, feature: Feature) -> tuple[Thing, Thing]:
    blank, cuts = blank_solid(body), feature_solid(body, feature)
    return Thing(without(blank, cuts), letter="A"), Thing(joined(cuts) & blank, "waste")


def _written(body: Body) -> tuple[tuple[Size, ...], tuple[FaceMark, ...]]:
    long, wide, thick = body.block.length, body.block.width, body.block.thickness
    right, left, near = Point(1.0, 0.0, 0.0), Point(-1.0, 0.0, 0.0), Point(0.0, -1.0, 0.0)
    sizes = (
        Size(Point(0.0, 0.0, thick), Point(long, 0.0, thick), f"{long:g}", near),
        Size(Point(long, 0.0, thick), Point(long, wide, thick), f"{wide:g}", right),
        Size(Point(0.0, 0.0, 0.0), Point(0.0, 0.0, thick), f"{thick:g}", left),
    )
    marks = (
        FaceMark("side", Point(long / 2, wide / 2, thick), right, near),
        FaceMark("edge", Point(long / 2, 0.0, thick / 2), right, Point(0.0, 0.0, 1.0)),
    )
    return sizes, marks


def main() -> None:
    """Print the times."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--runs", type=int, default=1, help="the best of so many runs counts")
    runs = options.parse_args().runs
    taken = []
    for name, scene in scenes():
        for width, height in ROOMS:
            best = float("inf")
            for _ in range(runs):
                start = time.perf_counter()
                draw_scene(scene, width, height)
                best = min(best, time.perf_counter() - start)
            taken.append((1000 * best, f"{name} in {width:g} x {height:g}"))
    taken.sort(reverse=True)
    times = [each for each, _ in taken]
    print(f"{len(times)} pictures: median {median(times):.1f} ms, worst {times[0]:.1f} ms")
    for each, name in taken[:8]:
        print(f"{each:8.1f} ms  {name}")


if __name__ == "__main__":
    main()
