"""What comes of every feature kind in every workshop, and when each guard is missing in turn: a method, or a refusal with its
reasons. `python -m tests.outcomes` prints the table for reading; the tests hold every line of it to what is true.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import dataclass, replace

from sequencer.design.checking import check_design
from sequencer.features.base import Feature
from sequencer.findings import Finding, Refused, has_errors
from sequencer.model.job import Job, Part, Stock
from sequencer.model.plan import Plan, Task
from sequencer.model.workshop import Workshop
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from tests.features.samples import BOARD, SAMPLES, make
from tests.made import knowledge, workshop

SHOPS = ("well-equipped", "full", "hand-tools")


@dataclass(frozen=True)
class Case:
    """One typical feature alone on a board or rod."""

    kind: str
    number: int
    feature: Feature
    job: Job

    @property
    def subject(self) -> str:
        """The task that cuts it."""
        return f"part/{self.feature.name}/cut"


@dataclass(frozen=True)
class Outcome:
    """What came of a case in a workshop: a plan with the task that cuts the feature, or the errors of the refusal."""

    plan: Plan | None
    task: Task | None
    held: bool
    errors: tuple[Finding, ...]

    @property
    def says(self) -> str:
        """In one line."""
        if self.task is None or self.plan is None:
            return "refused: " + " | ".join(f"{each.what} -> {each.remedy}" for each in self.errors)
        step = next(step for step in self.plan.steps if self.task.id in step.tasks)
        guards = ", ".join(guard.title for guard in step.guards) or "no guard"
        who = step.who.operator if step.who.operator == "staff" else f"student, {step.who.supervision}, {step.who.gate}"
        long = ", in the long" if self.task.in_the_long else ""
        proof = "" if self.held else "  NOT PROVED"
        return f"{self.task.operation} at {self.task.station} ({who}{long}; {guards}){proof}"


def cases() -> Iterator[Case]:
    """Every sample of every kind that its own checks find nothing wrong with on its board."""
    for kind, samples in SAMPLES.items():
        for number, fields in enumerate(samples, 1):
            feature = replace(make(kind, **fields), name="cut")
            part = Part("part", "A", 2, "stock", BOARD.length, BOARD.width, BOARD.thickness, {"cut": feature})
            stock = Stock("stock", "radiata pine", "board", BOARD.width, BOARD.thickness, (2400.0,))
            job = Job("Outcome", {}, {"stock": stock}, {"part": part}, {})
            if not has_errors(check_design(job, knowledge())):
                yield Case(kind, number, feature, job)


def outcome(case: Case, shop: Workshop) -> Outcome:
    """The plan of a case in a workshop, carried out; or why there is none."""
    try:
        plan = make_plan(case.job, shop, knowledge())
    except Refused as refused:
        return Outcome(None, None, False, tuple(each for each in refused.findings if each.level == "error"))
    task = next(task for task in plan.tasks if task.id == case.subject)
    return Outcome(plan, task, carry_out(plan, case.job).proof.held, ())


def guards_of(shop: Workshop) -> tuple[str, ...]:
    """Every guard fitted anywhere, extraction among them."""
    fitted = {guard for station in shop.stations.values() for guard in station.guards}
    return (*sorted(fitted), *(["dust-extraction"] if any(each.extraction for each in shop.stations.values()) else []))


def without_guard(shop: Workshop, guard: str) -> Workshop:
    """The workshop with a guard taken off every station."""
    stations = {
        name: replace(
            station,
            guards=tuple(each for each in station.guards if each != guard),
            extraction=station.extraction and guard != "dust-extraction",
        )
        for name, station in shop.stations.items()
    }
    return replace(shop, stations=stations)


def main() -> None:
    """Print the table: only what a missing guard changes is said."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("kinds", nargs="*", help="these kinds only")
    wanted = options.parse_args().kinds
    for case in cases():
        if wanted and case.kind not in wanted:
            continue
        print(f"\n{case.kind} {case.number}: {SAMPLES[case.kind][case.number - 1]}", flush=True)
        for name in SHOPS:
            whole = outcome(case, workshop(name))
            print(f"  {name}: {whole.says}", flush=True)
            for guard in guards_of(workshop(name)):
                changed = outcome(case, without_guard(workshop(name), guard))
                if changed.says != whole.says:
                    print(f"    without {guard}: {changed.says}", flush=True)


if __name__ == "__main__":
    main()
