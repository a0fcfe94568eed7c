"""A piece of wood while it is being made: its body, and which of its faces are true. In the part's frame, mm.

The frame is laid out on the wood: the face side, the face edge and the first end fix it when they are made. Distances are
taken from where the wood really ends, less what is left on there until later, as a ruler would take them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from sequencer.model.frame import AXES, FACES, Axis, FaceName, Hand, axis_of, is_high, mirrored, others, sign_of
from sequencer.model.job import Part
from sequencer.solid.solids import Floats, Solid

FLAT = 0.01
"""A surface nearer than this to the plane of a face lies in it, mm."""


@dataclass(frozen=True, eq=False)
class Surface:
    """What is left of a face: the triangles of the body that lie in its plane, as spans along its two axes, and its area."""

    spans: Mapping[Axis, Floats]
    area: float

    def reach(self, axis: Axis) -> float:
        """From the first to the last of it along an axis, mm: what a straight edge laid on it bears on."""
        spans = self.spans[axis]
        return float(spans[:, 1].max() - spans[:, 0].min()) if len(spans) else 0.0

    def covered(self, axis: Axis, low: float, high: float) -> float:
        """The share of a stretch of an axis along which there is any of it."""
        if high - low < FLAT or axis not in self.spans:
            return 1.0 if self.area > 0 else 0.0
        total, reached = 0.0, low
        for start, stop in self.spans[axis]:
            start, stop = max(float(start), reached), min(float(stop), high)
            if stop > start:
                total += stop - start
                reached = stop
        return total / (high - low)


@dataclass(frozen=True, eq=False)
class Workpiece:
    """One piece of one hand of a part, as it is now.

    made
        Faces that are true: measured from, marked on, laid against a fence.
    left_on
        Waste left on until later, by face, mm.
    marked
        Whether the features have been set out on it.
    long
        Whether it is still part of a longer piece.
    blank, yields, others
        How long the blank is that it is cut from, how many of its part that gives, and the lengths of the other parts' pieces
        that come out of it.
    sound
        From where to where along x the planed faces are to size; planers leave the ends thinner.
    residue
        What operations have left behind: what, and the body of wood too much taken or left.
    """

    part: Part
    hand: Hand | None
    body: Solid
    made: frozenset[FaceName] = frozenset()
    left_on: Mapping[FaceName, float] = field(default_factory=dict)
    marked: bool = False
    long: bool = False
    blank: float = 0.0
    yields: int = 1
    others: tuple[float, ...] = ()
    sound: tuple[float, float] | None = None
    residue: tuple[tuple[str, Solid], ...] = ()

    @cached_property
    def spans(self) -> dict[Axis, tuple[float, float]]:
        """Where the wood starts and ends along each axis."""
        bounds = self.body.bounds
        return {axis: bounds.span(axis) for axis in AXES}

    def size(self, axis: Axis) -> float:
        """How long, wide or thick it is now."""
        low, high = self.spans[axis]
        return high - low

    @cached_property
    def laid_out(self) -> frozenset[FaceName]:
        """Ends that a feature makes and that are not cut yet: their line is on the wood, and stands for them."""
        ends = {end for feature in self.part.features_of(self.hand) for end in feature.ends_part()}
        return frozenset(mirrored(end) if self.hand == "right" else end for end in ends) - self.made

    def level(self, face: FaceName) -> float:
        """Where a face is measured from: the end of the wood there, less what is left on until later; or its line."""
        if face in self.laid_out:
            return self.part.block.level(face)
        return self.spans[axis_of(face)][is_high(face)] - sign_of(face) * self.left_on.get(face, 0.0)

    def inside(self, face: FaceName, near: float, far: float) -> tuple[float, float]:
        """Low and high coordinate of the layer from `near` to `far` mm inside a face, as it would be measured."""
        first, second = (self.level(face) - sign_of(face) * distance for distance in (near, far))
        return min(first, second), max(first, second)

    @cached_property
    def _triangles(self) -> tuple[Floats, Floats]:
        """Corners of every triangle (m x 3 x 3) and twice its area by axis (m x 3)."""
        mesh = self.body.mesh
        corners = mesh.corners[mesh.triangles]
        return corners, np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])

    @cached_property
    def surfaces(self) -> dict[FaceName, Surface]:
        """What is left of each of the six faces."""
        corners, normals = self._triangles
        lows, highs = corners.min(axis=1), corners.max(axis=1)
        found = {}
        for face in FACES:
            axis = AXES.index(axis_of(face))
            level = self.spans[axis_of(face)][is_high(face)]
            flat = (np.abs(lows[:, axis] - level) < FLAT) & (np.abs(highs[:, axis] - level) < FLAT)
            flat &= normals[:, axis] * sign_of(face) > 0
            spans = {}
            for other in others(axis_of(face)):
                index = AXES.index(other)
                pairs = np.stack([lows[flat, index], highs[flat, index]], axis=1)
                spans[other] = pairs[np.lexsort((pairs[:, 1], pairs[:, 0]))]
            found[face] = Surface(spans, float(np.abs(normals[flat, axis]).sum() / 2))
        return found
