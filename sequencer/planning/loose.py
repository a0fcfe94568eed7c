"""The dowels, biscuits and wedges that the joints of a group take, alike ones together. mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from math import ceil
from typing import Literal

from sequencer.design.loose_pieces import pegs, wedges
from sequencer.design.placement import Placement
from sequencer.design.placing import place
from sequencer.model.job import Allowance, Job, Part
from sequencer.planning.groups import Group

LooseKind = Literal["dowel", "biscuit", "wedge"]
MADE: dict[str, str] = {"dowel": "make-dowels", "wedge": "make-wedges"}
"""What is made in the workshop, and the kind of work that makes it; biscuits are bought."""


@dataclass(frozen=True)
class LooseSet:
    """Loose pieces of one size in the joints of a group; `bought` if the drawing names them among its hardware."""

    kind: LooseKind
    count: int
    length: float
    width: float
    thick: float
    depth: float
    bought: bool
    joints: tuple[str, ...]

    @property
    def figures(self) -> dict[str, float]:
        return {
            "joint.loose": float(self.count),
            "joint.loose-length": self.length,
            "joint.loose-width": self.width,
            "joint.loose-thickness": self.thick,
            "joint.loose-depth": self.depth,
        }

    @property
    def pairs(self) -> int:
        """How often two are put in: the figures of the trade are for two at a time."""
        return ceil(self.count / 2)


class LoosePieces:
    """What loose pieces the groups of a job take, its biscuits `biscuit` mm thick. Where the pieces lie is worked out only if
    it is asked for."""

    def __init__(self, job: Job, biscuit: float = 0.0) -> None:
        self.job = job
        self.biscuit = biscuit

    @cached_property
    def placement(self) -> Placement:
        """Where the pieces lie."""
        return place(self.job)

    def of(self, group: Group) -> tuple[LooseSet, ...]:
        """The loose pieces of a group's joints, alike ones together."""
        found: dict[LooseSet, tuple[int, list[str]]] = {}
        for joint in group.joints:
            bought = joint.hardware in self.job.hardware
            for kind, length, width, thick, depth in self._sizes(joint.name):
                alike = LooseSet(kind, 0, length, width, thick, depth, bought and kind != "wedge", ())
                count, joints = found.get(alike, (0, []))
                found[alike] = count + 1, list(dict.fromkeys([*joints, joint.name]))
        return tuple(replace(alike, count=count, joints=tuple(joints)) for alike, (count, joints) in found.items())

    def none_for(self, joint: str, fixing: str) -> bool:
        """Whether the drawing gives a joint nothing for these: no holes that meet, no flare."""
        kinds = {each[0] for each in self._sizes(joint)}
        return not any(f"{kind}s".startswith(fixing) for kind in kinds)

    def _sizes(self, name: str) -> Iterator[tuple[LooseKind, float, float, float, float]]:
        joint = self.job.joints[name]
        if "dowels" in joint.fixed:
            for peg in pegs(self.job, self.placement, joint, "dowel"):
                yield "dowel", peg.length, peg.size, peg.size, round(peg.into[0], 1)
        if "biscuits" in joint.fixed:
            for peg in pegs(self.job, self.placement, joint, "biscuit"):
                yield "biscuit", peg.length, peg.size, self.biscuit, round(peg.into[0], 1)
        if (found := wedges(self.job, joint)) is not None:
            for _ in range(found.count):
                yield "wedge", round(found.length, 1), found.width, round(found.thick, 1), round(found.length, 1)


def wedges_in_end(job: Job, part: Part, allowance: Allowance) -> tuple[str, ...]:
    """The joints whose wedges stand in an end that is left over length until they are made: one cut takes off both."""
    return tuple(
        joint.name
        for joint in job.joints.values()
        if allowance.until in (joint.name, joint.assembly) or joint.name in job.assemblies.get(allowance.until, ())
        if job.part_of(joint.enters_piece) == part
        if (found := wedges(job, joint)) is not None and found.tenon.end == allowance.face
    )
