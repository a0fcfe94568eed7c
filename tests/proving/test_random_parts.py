"""Hundreds of random parts are made as planned and come out as drawn; made in a wrong order they do not."""

from __future__ import annotations

import pickle
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest

from sequencer.model.job import Job
from sequencer.model.plan import Plan, Reason
from sequencer.model.work import WORK_KINDS
from sequencer.proving.making import SAME, carry_out
from tests.made import ROOT
from tests.proving import damage
from tests.proving.drawn import Drawn
from tests.proving.random_parts import planned

FEWEST_PARTS, FEWEST_CUTS = 500, 3.0
"""Parts that must really be made, and cuts each has on average."""
EVERY = 18
"""One reason in so many is broken."""
Planned = tuple[Plan, Job]


@cache
def plans() -> tuple[Planned, ...]:
    """Random jobs planned, in both workshops, each without what the workshop has no way for."""
    drawn = subprocess.run([sys.executable, "-m", "tests.proving.drawn"], cwd=ROOT, check=True, capture_output=True)
    jobs: Drawn = pickle.loads(drawn.stdout)
    return tuple(planned(job, shop) for job, shop in jobs)


def test_random_parts_come_out_as_drawn() -> None:
    parts = cuts = 0
    for plan, job in plans():
        proof = carry_out(plan, job).proof
        drawn = {name: list(part.features.values()) for name, part in job.parts.items()}
        assert proof.held, ([look.says for look in proof.failures], drawn)
        assert max((part.difference for part in proof.parts), default=0.0) <= SAME
        parts += len(job.parts)
        cuts += sum(len(features) for features in drawn.values())
    assert parts >= FEWEST_PARTS
    assert cuts >= FEWEST_CUTS * parts


def test_the_random_parts_are_of_every_sort() -> None:
    made = [(job, part) for _, job in plans() for part in job.parts.values()]
    kinds = Counter(feature.kind for _, part in made for feature in part.features.values())
    assert len(kinds) == 18
    assert min(kinds.values()) >= 10
    stocks = {(job.stock[part.stock].form, job.stock[part.stock].surface) for job, part in made}
    assert stocks >= {("board", "planed"), ("board", "sawn"), ("square", "planed"), ("round", "planed"), ("sheet", "planed")}
    assert {part.handed for _, part in made} == {True, False}
    assert any(part.allowances and part.handed for _, part in made)


def alone(plan: Plan, job: Job) -> Iterator[Planned]:
    """The plan of each part that is in no joint, by itself: it is made without the others."""
    joined = {job.part_of(piece).name for joint in job.joints.values() for piece in (joint.enters_piece, joint.seat.piece)}
    for name, part in job.parts.items():
        if name not in joined:
            tasks = tuple(task for task in plan.tasks if task.part == name)
            own = {task.id for task in tasks}
            reasons = tuple(reason for reason in plan.reasons if {reason.before, reason.after} <= own)
            yield replace(plan, tasks=tasks, reasons=reasons), replace(job, parts={name: part}, joints={})


def _broken(kind: str) -> Iterator[tuple[Reason, Plan, Job]]:
    """Reasons of a kind that rest on the stock, the lines or the ends of a part, one in so many, with the plan of the part."""
    number = 0
    for plan, job in plans():
        for own, drawn in alone(plan, job):
            prepared = {task.id for task in own.tasks if task.kind in WORK_KINDS}
            for reason in own.reasons:
                if reason.kind == kind and reason.before in prepared and not reason.harm:
                    number += 1
                    if number % EVERY == 0:
                        yield reason, own, drawn


@pytest.mark.parametrize("kind", ["reference", "support"])
def test_work_in_the_wrong_order_is_noticed(kind: str) -> None:
    missed, broken = [], 0
    for reason, plan, job in _broken(kind):
        for damaged in (
            damage.swapped(plan, reason.before, reason.after),
            damage.moved_before(plan, reason.after, reason.before),
        ):
            broken += 1
            if carry_out(damaged, job).proof.held:
                missed.append(f"{reason.sentence} ({reason.before}, {reason.after})")
    assert broken >= 40
    assert missed == []
