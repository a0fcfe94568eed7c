"""The dowels, biscuits, wedges and splines that the joints of a group take, alike ones together. mm."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import ceil
from typing import Literal

from sequencer.design.loose_pieces import pegs, wedges
from sequencer.design.placement import Placement
from sequencer.design.placing import place
from sequencer.design.splines import Spline, splines
from sequencer.model.frame import axis_of
from sequencer.model.job import Allowance, Job, Joint, Part
from sequencer.model.work import WorkKind
from sequencer.planning.going_together import label
from sequencer.planning.groups import Group

LooseKind = Literal["dowel", "biscuit", "wedge", "spline"]
MADE: dict[str, str] = {"dowel": "make-dowels", "wedge": "make-wedges", "spline": "make-splines"}
"""What is made in the workshop, and the kind of work that makes it; biscuits are bought."""


SLOTS = WorkKind("spline-slot", "cut", "Saw the spline slots", "saw slots for splines across glued corners")
"""What the slots are as work: of all features they alone are cut in several parts in one go."""
SPLINE_CURE = "spline-cure"
"""The second wait of a group, for the glue of its splines."""


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
                alike = LooseSet(kind, 0, length, width, thick, depth, bought and kind not in ("wedge", "spline"), ())
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
        for spline in splines(self.job, self.placement, joint):
            yield "spline", round(spline.floor, 1), round(spline.slot.depth, 1), spline.slot.width, round(spline.slot.depth, 1)

    def splines_of(self, group: Group) -> tuple[Spline, ...]:
        """The splines of a group's joints, in the order of the file."""
        return tuple(each for joint in group.joints for each in splines(self.job, self.placement, joint))


def dowelled_words(job: Job, joints: Sequence[Joint]) -> dict[str, str]:
    """For sentences, which pieces enter by dowels, into which these are glued first, and which take them: by the letter of the
    part where all of it do."""
    held = [joint for joint in joints if "dowels" in joint.fixed]
    enters, takes = {joint.enters_piece for joint in held}, {joint.seat.piece for joint in held}
    return {"enters": _letters(job, enters, takes), "takes": _letters(job, takes, enters)}


def gauged_words(job: Job, joints: Sequence[Joint]) -> dict[str, str]:
    """For sentences, the face that the spline slots of some joints are gauged from."""
    found = next((each for joint in joints for each in splines(job, place(job), joint)), None)
    if found is None:
        return {}
    face = "face side" if found.slot.across() == axis_of(job.part_of(found.pieces[0]).face_side) else "face edge"
    return {"from": face, "from-face": face}


def _letters(job: Job, pieces: Collection[str], others: Collection[str]) -> str:
    own = [piece for piece in job.pieces() if job.part_of(piece).name in {job.part_of(each).name for each in pieces}]
    whole = {*own} <= {*pieces} and not {*own} & {*others}
    named = [piece for piece in own if piece in pieces]
    return ", ".join(dict.fromkeys(job.part_of(each).letter if whole else label(job, each) for each in named))


def wedges_in_end(job: Job, part: Part, allowance: Allowance) -> tuple[str, ...]:
    """The joints whose wedges stand in an end that is left over length until they are made: one cut takes off both."""
    return tuple(
        joint.name
        for joint in job.joints.values()
        if allowance.until in (joint.name, joint.assembly) or joint.name in job.assemblies.get(allowance.until, ())
        if job.part_of(joint.enters_piece) == part
        if (found := wedges(job, joint)) is not None and found.tenon.end == allowance.face
    )
