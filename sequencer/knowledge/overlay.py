"""What a school's own folder loosens against the shipped knowledge: allowed, and always said."""

from __future__ import annotations

from sequencer.findings import Finding
from sequencer.knowledge.formats import Knowledge, Operation, StationKind
from sequencer.model.workshop import GATES, OPERATORS, SUPERVISIONS


def loosened(shipped: Knowledge, own: Knowledge) -> tuple[Finding, ...]:
    """A warning for every operation that asks for fewer guards, less holding, fewer hazards or looser people than the
    shipped one of the same name, and for every figure of the bench that the school has changed."""
    found = [
        Finding(
            "warning",
            "own-bench-figure",
            name,
            f"The school's own list gives {figure.value:g} for {name} ({figure.means}); the shipped figure is "
            f"{shipped.bench_figures[name].value:g}.",
            "The plan is proved with it.",
            "See that this is meant, and who decided it.",
        )
        for name, figure in own.bench_figures.items()
        if figure.value != shipped.bench_figures[name].value
    ]
    for name, kind in own.stations.items():
        before = shipped.stations.get(name)
        for key, operation in kind.operations.items() if before else ():
            assert before is not None
            was = before.operations.get(key)
            lost = _lost(before, was, kind, operation) if was is not None else []
            if lost:
                found.append(
                    Finding(
                        "warning",
                        "own-knowledge-loosens",
                        key,
                        f"The school's own file for {kind.name} asks for less than the shipped one at {key}: {'; '.join(lost)}.",
                        "Shipped defaults are cautious; what loosens them is the school's decision.",
                        "See that this is meant, and who decided it.",
                    )
                )
    return tuple(found)


def _lost(before: StationKind, was: Operation, kind: StationKind, now: Operation) -> list[str]:
    lost = [
        f"no {what} {name}"
        for what, old, new in (
            ("guard", was.guards.all_of, (*now.guards.all_of, *now.guards.any_of)),
            ("holding", was.holding.all_of, (*now.holding.all_of, *now.holding.any_of)),
            ("hazard", was.hazards, (*now.hazards, *kind.hazards)),
        )
        for name in old
        if name not in new
    ]
    for what, scale in (("operator", OPERATORS), ("supervision", SUPERVISIONS), ("gate", GATES)):
        old = getattr(was.who, what) or getattr(before.who, what)
        new = getattr(now.who, what) or getattr(kind.who, what)
        if old and new and list(scale).index(new) < list(scale).index(old):
            lost.append(f"{what} {new} instead of {old}")
    lost += [f"{len(was.limits) - len(now.limits)} limits fewer"] * (len(now.limits) < len(was.limits))
    return lost
