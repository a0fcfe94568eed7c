"""Square sticks made round about their middle: the shared shape of rounding and turned profile."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, degrees
from typing import ClassVar

from sequencer.features.base import NEAR, Dimension, Feature, finding, mm
from sequencer.features.checks import COMMON
from sequencer.features.placing import point, without_repeats
from sequencer.findings import Finding
from sequencer.model.frame import Axis, Block, FaceName
from sequencer.model.marks import Marks, Profile
from sequencer.model.shapes import Rind, Shape

LONG_FACES: tuple[FaceName, ...] = ("inside", "top", "bottom", "outside")
"""The four faces of a stick, of which nothing is left."""
OFF_SQUARE = 0.5
"""A stick whose width and thickness differ by more is not square, mm: what a rule shows."""

Station = tuple[float, float]
"""A place along the length from the left, and the diameter there, mm."""


@dataclass(frozen=True, kw_only=True)
class Revolved(Feature):
    """Round about the middle of the section, along the length. Its kind says how thick where."""

    gives: ClassVar[tuple[str, ...]] = (
        "feature.diameter",
        "feature.neck",
        "feature.length",
        "feature.depth",
        "feature.angle",
        "feature.stopped",
        "feature.count",
    )
    nature: ClassVar = "shape"
    shape_left: ClassVar = "round"

    def stations(self, block: Block) -> tuple[Station, ...]:
        """Where it is how thick, from left to right; straight between."""
        raise NotImplementedError

    def removes(self, block: Block) -> tuple[Shape, ...]:
        centre, high = (block.width / 2, block.thickness / 2), (block.width, block.thickness)
        return tuple(
            Rind("x", centre, start, stop, first / 2, second / 2, (0.0, 0.0), high)
            for (start, first), (stop, second) in pairwise(self.stations(block))
            if stop - start > NEAR
        )

    def marks(self, block: Block) -> Marks:
        return Profile("left", self.stations(block))

    def steepest(self, block: Block) -> float:
        """The steepest slope of its outline from its middle line, degrees; 90 at a step."""
        slopes = (
            degrees(atan2(abs(second - first) / 2, stop - start))
            for (start, first), (stop, second) in pairwise(self.stations(block))
            if abs(second - first) > NEAR
        )
        return max(slopes, default=0.0)

    def figures(self, block: Block) -> dict[str, float]:
        """`feature.depth` is what comes off the middle of a face at its thinnest place."""
        stations = self.stations(block)
        least = min(across for _, across in stations)
        start, stop = stations[0][0], stations[-1][0]
        return {
            "feature.diameter": max(across for _, across in stations),
            "feature.neck": least,
            "feature.length": stop - start,
            "feature.depth": max(max(block.width, block.thickness) / 2 - least / 2, 0.0),
            "feature.angle": self.steepest(block),
            "feature.stopped": float((start > NEAR) + (stop < block.length - NEAR)),
            "feature.count": 1.0,
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        """Each station from the left, and each diameter."""
        sizes = []
        for at, across in self.stations(block):
            low, high = (block.width - across) / 2, (block.width + across) / 2
            spot: dict[Axis, float] = {"x": at, "y": low, "z": block.thickness / 2}
            if NEAR < at < block.length - NEAR:
                sizes.append(Dimension("x", point(spot | {"x": 0.0}), point(spot), mm(at)))
            sizes.append(Dimension("y", point(spot), point(spot | {"y": high}), f"diameter {mm(across)}"))
        return without_repeats(sizes)

    def opens(self) -> tuple[FaceName, ...]:
        return LONG_FACES

    def measured_from(self) -> tuple[FaceName, ...]:
        return ("left", *LONG_FACES)

    def spoils(self) -> tuple[FaceName, ...]:
        return LONG_FACES

    def lengthwise(self, block: Block) -> bool:
        return False

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        figures = self.figures(block)
        if abs(block.width - block.thickness) > OFF_SQUARE:
            yield finding(
                self,
                "error",
                "not-square",
                f"A {self.title} needs a square stick; this one is {mm(block.width)} by {mm(block.thickness)} mm.",
                why="The middle of the ends is found, and the corners come off evenly, only on a square.",
                remedy="Make the width and the thickness the same.",
                source=COMMON,
            )
        if figures["feature.diameter"] > min(block.width, block.thickness) + NEAR:
            yield finding(
                self,
                "error",
                "too-thick",
                f"The {self.title} is {mm(figures['feature.diameter'])} mm across, and the stick only "
                f"{mm(min(block.width, block.thickness))} mm.",
                remedy="Make the stick thicker or the round thinner.",
            )
        if grain != "x":
            yield finding(
                self,
                "error",
                "across-the-grain",
                f"The {self.title} is made along the length, and the grain runs across it.",
                why="Such short grain breaks under plane or chisel.",
                remedy="Let the grain run along the length.",
                source=COMMON,
            )
