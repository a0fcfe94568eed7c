"""Hundreds of random parts are made as planned and come out as drawn; made in a wrong order they do not."""

from __future__ import annotations

import pickle
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise

import pytest

from sequencer.model.job import Job
from sequencer.model.plan import Plan, Reason, Task
from sequencer.model.work import WORK_KINDS
from sequencer.planning.changing import SECONDS, SetUp, set_ups_of
from sequencer.proving.making import carry_out
from sequencer.proving.outcome import SAME
from tests.made import ROOT, knowledge
from tests.proving import damage
from tests.proving.drawn import Drawn
from tests.proving.random_parts import planned

FEWEST_JOBS, FEWEST_PARTS, FEWEST_CUTS = 300, 500, 3.0
"""Jobs that must really be planned, parts made in them, and cuts each has on average."""
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
    assert len(plans()) >= FEWEST_JOBS
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


def test_no_single_step_of_a_random_job_could_stand_better() -> None:
    """Where the order is said to need the least changing, no move of one step that the reasons allow makes it cheaper."""
    claimed = 0
    for plan, _ in plans():
        place = {task.id: at for at, task in enumerate(plan.tasks)}
        assert [reason for reason in plan.reasons if place[reason.before] >= place[reason.after]] == []
        set_ups = set_ups_of(plan.tasks, knowledge())
        cost = _changing([set_ups[task.set_up] for task in plan.tasks])
        assert plan.changing.minutes == round(cost / SECONDS, 1)
        if plan.changing.least < plan.changing.minutes:
            continue
        claimed += 1
        for moved in _moves(plan):
            assert _changing([set_ups[task.set_up] for task in moved]) >= cost, [task.id for task in moved]
    assert claimed >= 0.95 * len(plans())


def _changing(set_ups: Sequence[SetUp]) -> int:
    """What going through the set-ups in turn takes, seconds."""
    return sum(each.after(before) for before, each in pairwise([None, *set_ups]) if each is not None)


def _moves(plan: Plan) -> Iterator[list[Task]]:
    """The tasks of a plan with one of them moved, everywhere the reasons allow."""
    place = {task.id: at for at, task in enumerate(plan.tasks)}
    for at, task in enumerate(plan.tasks):
        others = [*plan.tasks[:at], *plan.tasks[at + 1 :]]
        first = max((place[reason.before] + 1 for reason in plan.reasons if reason.after == task.id), default=0)
        last = min((place[reason.after] for reason in plan.reasons if reason.before == task.id), default=len(plan.tasks))
        for to in range(first, last):
            if to != at:
                yield [*others[:to], task, *others[to:]]


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
