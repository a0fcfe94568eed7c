"""What comes of every feature kind in a full and in a bare workshop, and when each guard is missing in turn: every way of making
it, sound or not possible and why. `python -m tests.outcomes [KIND ...]` prints the table for reading; `test_outcomes.py` holds
every line of it to what is true.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cache

from sequencer.design.checking import check_design
from sequencer.features.base import Feature
from sequencer.findings import Finding, Refused, has_errors
from sequencer.knowledge.forms.operations import Operation
from sequencer.model.job import Decision, Job, Part, Stock
from sequencer.model.plan import Plan, Step
from sequencer.model.workshop import Workshop
from sequencer.planning.planner import make_plan, ways_of
from sequencer.planning.ways import Way
from sequencer.proving.making import carry_out
from tests.features.samples import SAMPLES, block_of, make
from tests.made import knowledge, without_guard, workshop

SHOPS = ("well-equipped", "hand-tools")
SUBJECT = "part/cut/cut"


@dataclass(frozen=True, eq=False)
class Case:
    """One typical feature alone on a board or rod."""

    kind: str
    number: int
    job: Job

    @property
    def name(self) -> str:
        """Kind and number, as tests and the table show it."""
        return f"{self.kind} {self.number}"


@cache
def cases() -> tuple[Case, ...]:
    """Every sample of every kind that its own checks find nothing wrong with on its board."""
    return tuple(
        Case(kind, number, job)
        for kind, samples in SAMPLES.items()
        for number, fields in enumerate(samples, 1)
        for job in [_job(replace(make(kind, **fields), name="cut"))]
        if not has_errors(check_design(job, knowledge()))
    )


def _job(feature: Feature) -> Job:
    block = block_of(feature.kind)
    part = Part("part", "A", 2, "stock", block.length, block.width, block.thickness, {"cut": feature})
    stock = Stock("stock", "radiata pine", "board", block.width, block.thickness, (2400.0,))
    return Job("Outcome", {}, {"stock": stock}, {"part": part}, {})


@cache
def operations() -> dict[str, Operation]:
    """Every operation by its name."""
    return {name: operation for kind in knowledge().stations.values() for name, operation in kind.operations.items()}


def ways(job: Job, shop: Workshop) -> tuple[Way, ...]:
    """Every way meant for the feature, possible or not."""
    ((_, found, _),) = ways_of(SUBJECT, job, shop, knowledge())
    return tuple(way for way in found if way.meant)


@cache
def ways_of_case(case: Case, shop: str) -> tuple[Way, ...]:
    """Every way meant for the feature of a case in an example workshop, found once."""
    return ways(case.job, workshop(shop))


@dataclass(frozen=True)
class Outcome:
    """What a plan took, or the errors it was refused for; whether its proof held."""

    plan: Plan | None
    held: bool
    errors: tuple[Finding, ...]

    @property
    def way(self) -> str:
        """The operation that was taken; empty where the plan was refused."""
        return next(task.operation for task in self.plan.tasks if task.id == SUBJECT) if self.plan else ""

    @property
    def in_the_long(self) -> bool:
        """Whether that is done in the long."""
        return any(task.in_the_long for task in self.plan.tasks if task.id == SUBJECT) if self.plan else False

    @property
    def step(self) -> Step | None:
        """The step that cuts the feature."""
        steps = self.plan.steps if self.plan else ()
        return next((step for step in steps if SUBJECT in step.tasks and step.kind == "work"), None)


def outcome(job: Job, shop: Workshop, way: str = "") -> Outcome:
    """The plan of a job in a workshop, carried out; or why there is none. `way` is what the teacher decides for."""
    if way:
        job = replace(job, decisions=(Decision(SUBJECT, "Head of technology", "to see what comes of it", way=way),))
    try:
        plan = make_plan(job, shop, knowledge())
    except Refused as refused:
        return Outcome(None, False, tuple(each for each in refused.findings if each.level == "error"))
    return Outcome(plan, carry_out(plan, job).proof.held, ())


def guards_asked(found: Iterable[Way]) -> tuple[str, ...]:
    """The guards that those of some ways ask for which are possible."""
    asked = (operations()[way.operation].guards for way in found if way.possible)
    return tuple(sorted({name for guards in asked for name in (*guards.all_of, *guards.any_of)}))


def _says(case: Case, name: str) -> Iterator[str]:
    """The lines of the table for one feature in one workshop."""
    job, shop, found = case.job, workshop(name), ways_of_case(case, name)
    taken = outcome(job, shop)
    if not taken.plan:
        yield "REFUSED"
    for way in found:
        operation = operations()[way.operation]
        long = ", in the long" if way.in_the_long else ""
        if not way.possible:
            yield f"  no  {way.operation}{long}: {' '.join(each.what for each in way.obstacles)}"
            continue
        forced = outcome(job, shop, way.operation)
        mark = "TAKE" if (way.operation, way.in_the_long) == (taken.way, taken.in_the_long) else " or "
        step = forced.step
        if step is None:
            yield f"{mark}  {way.operation}{long}: REFUSED WHEN DECIDED: {' | '.join(each.what for each in forced.errors)}"
            continue
        who = "staff" if step.who.operator == "staff" else f"student, {step.who.supervision}, {step.who.gate}"
        guards = ", ".join(each.name for each in step.guards) or "-"
        holding = ", ".join(each.name for each in step.holding) or "-"
        off = f"; OFF {', '.join(operation.guards_off)}" if operation.guards_off else ""
        settings = "; ".join(f"{each.label} {each.text}" for each in step.settings) or "-"
        proof = "" if forced.held else "  NOT PROVED"
        yield f"{mark}  {way.operation}{long} ({who}; {guards}{off}; held by {holding}): {settings}{proof}"
    for guard in guards_asked(found):
        without = outcome(job, without_guard(shop, guard))
        if without.way != taken.way:
            yield f"      without {guard}: {without.way or 'REFUSED'}"


def main() -> None:
    """Print the table."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("kinds", nargs="*", help="these kinds only")
    wanted = options.parse_args().kinds
    for case in cases():
        if wanted and case.kind not in wanted:
            continue
        print(f"\n{case.name}: {SAMPLES[case.kind][case.number - 1]}", flush=True)
        for name in SHOPS:
            print(f"  {name}", flush=True)
            for line in _says(case, name):
                print(f"    {line}", flush=True)


if __name__ == "__main__":
    main()
