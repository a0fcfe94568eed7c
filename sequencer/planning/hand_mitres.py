"""Mitres of boxes that students plane by eye: how far their corners may gape, and what helps. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import atan, degrees, sqrt

from sequencer.features.base import NEAR, mm
from sequencer.findings import Finding
from sequencer.model.plan import Step
from sequencer.planning.mitred_corners import mitres_of
from sequencer.planning.shop import Shop
from sequencer.planning.ways import Way
from sequencer.reading.words import listed

TRIMMING = "mitre-shooting-board"
"""The way of holding in which a mitre is planed true by more than the eye."""


def hand_mitre_findings(shop: Shop, ways: Mapping[str, Way], steps: Sequence[Step]) -> Iterator[Finding]:
    """A warning where students saw and plane mitres through the thickness of a box's sides with nothing that guides the plane:
    two faces, each out by `mitre_leans` of its length in the same sense, gape by twice that (plane geometry)."""
    tasks = {
        f"{part.name}/{mitre.name}/cut": part
        for joint in shop.job.joints.values()
        if len(met := list(mitres_of(shop.job, joint))) == 2
        for _, part, mitre in met
        if mitre.figures(part.block)["feature.width"] < part.thickness + NEAR
    }
    by_eye = [
        step
        for step in steps
        if step.kind == "work" and step.who.operator == "student" and TRIMMING not in {each.name for each in step.holding}
        if any(task in tasks and task in ways and ways[task].by_hand for task in step.tasks)
    ]
    if not by_eye:
        return
    parts = {tasks[task].name: tasks[task] for step in by_eye for task in step.tasks if task in tasks}
    thick = max(part.thickness for part in parts.values())
    leans = shop.knowledge.working.mitre_leans
    gap, angle = 2 * thick * sqrt(2) * leans, round(degrees(atan(leans)), 1)
    yield Finding(
        "warning",
        "hand-mitres",
        next(iter(parts)),
        f"Step{'s' if len(by_eye) > 1 else ''} {listed([str(step.number) for step in by_eye])}: the mitres of "
        f"{listed([part.letter for part in parts.values()])} go through the thickness and are sawn and planed by eye. "
        f"Two that are each out by {mm(angle)} degree{'' if angle == 1 else 's'} gape {mm(round(gap, 1))} mm over "
        f"{mm(thick)} mm, and few students come closer.",
        "Tape and glue do not close what gapes, and hands cannot press it home.",
        "Make or borrow a shooting board that carries the end at 45 degrees (a donkey's ear): saw 1 mm over, trim on it. Or let "
        "staff saw these mitres at a machine. Either way, make one corner in waste wood first.",
        next(iter(parts.values())).place,
        "common practice; plane geometry",
    )
