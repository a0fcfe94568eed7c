"""Jobs of two hundred parts are read whole, and everything that is wrong in them is said."""

from __future__ import annotations

from pathlib import Path

import pytest

from sequencer.findings import Unusable
from sequencer.reading.job import job_of
from sequencer.reading.tree import parse_tree

EXAMPLES = Path(__file__).resolve().parent.parent.parent / "examples"


def test_two_hundred_parts_each_with_something_wrong() -> None:
    part = "{stock: plank, length: long, colour: red, features: {g: {kind: groove, face: frnt, from: bottom, width: 3}}}"
    text = "job: Large\nsizes: {long: 320}\nstock: {plank: {material: pine, width: 90, thickness: 15}}\nparts:\n" + "".join(
        f"  part-{number}: {part}\n" for number in range(200)
    )
    with pytest.raises(Unusable) as error:
        job_of(parse_tree(text, "large.yaml"))
    assert len(error.value.findings) == 200 * 4


def test_two_hundred_parts_with_six_features_each() -> None:
    grooves = "".join(
        f"      groove-{number}: {{kind: groove, face: inside, from: left, distance: {20 + 40 * number} + inner/10, "
        "width: 6 + 1/2, depth: board/3}\n"
        for number in range(6)
    )
    text = (
        "job: Large\nsizes: {long: 320, board: 15, inner: long - 2*board}\n"
        "stock: {plank: {material: pine, width: 90, thickness: board}}\nparts:\n"
        + "".join(f"  part-{n}:\n    stock: plank\n    length: long\n    features:\n{grooves}" for n in range(200))
        + "joints:\n"
        + "".join(f"  joint-{n}: {{part: part-{n}, its: left, into: part-{n + 1}/groove-2, fixed: glue}}\n" for n in range(199))
    )
    job, _ = job_of(parse_tree(text, "large.yaml"))
    assert sum(len(part.features) for part in job.parts.values()) == 1200
