"""Reading takes next to nothing beside planning. Limits are many times what it takes, so that a busy machine passes."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from sequencer.findings import Unusable
from sequencer.reading.job import job_of, read_job
from sequencer.reading.tree import parse_tree

EXAMPLES = Path(__file__).resolve().parent.parent.parent / "examples"


def test_the_caddy_in_a_moment() -> None:
    read_job(EXAMPLES / "herb-caddy" / "job.yaml")  # what is built once
    start = time.process_time()
    read_job(EXAMPLES / "herb-caddy" / "job.yaml")
    assert time.process_time() - start < 0.1


def test_two_hundred_parts_each_with_something_wrong() -> None:
    part = "{stock: plank, length: long, colour: red, features: {g: {kind: groove, face: frnt, from: bottom, width: 3}}}"
    text = "job: Large\nsizes: {long: 320}\nstock: {plank: {material: pine, width: 90, thickness: 15}}\nparts:\n" + "".join(
        f"  part-{number}: {part}\n" for number in range(200)
    )
    start = time.process_time()
    with pytest.raises(Unusable) as error:
        job_of(parse_tree(text, "large.yaml"))
    assert time.process_time() - start < 3
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
    start = time.process_time()
    job, _ = job_of(parse_tree(text, "large.yaml"))
    assert time.process_time() - start < 1.5
    assert sum(len(part.features) for part in job.parts.values()) == 1200
