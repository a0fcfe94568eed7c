"""What tails and pins have in common: how they are spaced across the width of an end. mm.

Tails are alike and evenly spaced; between two of them stands a pin, at both edges a half pin. A pin is narrowest where the
tips of the tails are, and widens from there to the shoulder of the tails by 1 in `slope` on each side.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan, degrees
from typing import Annotated, ClassVar

from pydantic import Field

from sequencer.features.base import NEAR, Feature, finding, mm, refuse
from sequencer.features.interlocking import Interlocking
from sequencer.features.placing import Span
from sequencer.findings import Finding
from sequencer.model.fields import Length, Slope
from sequencer.model.frame import Axis, Block

SLOPE_SOURCE = "W. Fairham, Woodwork Joints: 1 in 8, not beyond 1 in 6; common practice: 1 in 6 in softwood, 1 in 8 in hardwood"
WIDE_SOURCE = "a joinery textbook on dovetailing: no tail wider than 38 mm, as it shrinks"
PIN_SOURCE = "common practice: no pin under 3 mm in hand work, a half pin no thinner than the pins"
LAP_SOURCE = "common practice: a lap of a quarter to a third of the thickness, never under 3 mm"

WIDEST_TAIL = 38.0
"""A wider tail shrinks loose, mm: a joinery textbook on dovetailing."""
LEAST_PIN = 3.0
"""A thinner pin breaks, mm: common practice."""
STEEPEST, FLATTEST = 6.0, 8.0
"""Beyond 1 in 6 the corners of the tails are short grain; flatter than 1 in 8 holds little."""


@dataclass(frozen=True)
class Spacing:
    """Where tails and pins stand across a width, from the bottom edge.

    tail
        Width of each tail at its tip, where it is widest.
    flare
        How much narrower it is at its shoulder on each side.
    """

    tails: int
    pin: float
    half_pin: float
    tail: float
    flare: float

    @property
    def pitch(self) -> float:
        """From one tail to the next."""
        return self.tail + self.pin

    @property
    def root(self) -> float:
        """Width of a tail at its shoulder."""
        return self.tail - 2 * self.flare

    @property
    def tips(self) -> tuple[Span, ...]:
        """From where to where each tail stands at its tip."""
        starts = (self.half_pin + number * self.pitch for number in range(self.tails))
        return tuple((start, start + self.tail) for start in starts)


@dataclass(frozen=True, kw_only=True)
class Dovetailing(Interlocking):
    """The fields of tails and pins alike, so that both boards of a joint are written with the same figures."""

    gives: ClassVar = (
        "feature.width",
        "feature.depth",
        "feature.length",
        "feature.angle",
        "feature.slope",
        "feature.thickness",
        "feature.remaining",
        "feature.through",
        "feature.count",
    )

    tails: Annotated[int, Field(ge=1, le=40)]
    pin: Length
    half_pin: Length | None = None
    slope: Slope

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.half_pin is not None and self.half_pin > self.pin + NEAR:
            raise refuse(
                f"the half pins are {mm(self.half_pin)} mm wide and the pins {mm(self.pin)} mm; a half pin is at most as wide as "
                "a pin. Make the pins wider or the half pins narrower"
            )

    @property
    def angle(self) -> float:
        """The slope in degrees from the line along the tails."""
        return degrees(atan(1 / self.slope))

    def reach(self, block: Block) -> float:
        """How long the tails are from shoulder to tip."""
        raise NotImplementedError

    def spacing(self, block: Block) -> Spacing:
        """Tails and pins across the width of a board."""
        half = self.pin if self.half_pin is None else self.half_pin
        tail = (block.width - 2 * half - (self.tails - 1) * self.pin) / self.tails
        return Spacing(self.tails, self.pin, half, tail, self.reach(block) / self.slope)

    def no_tails(self, block: Block) -> Iterator[Finding]:
        """An error if the tails have no width left at their shoulder."""
        spacing = self.spacing(block)
        if spacing.root > NEAR:
            return
        yield finding(
            self,
            "error",
            "no-tails",
            f"{self.tails} tails and their pins do not fit on {mm(block.width)} mm: at the shoulder "
            f"{mm(max(spacing.root, 0))} mm is left of each tail.",
            remedy="Draw fewer tails, or narrower pins.",
        )

    def proportions(self, block: Block, grain: Axis) -> Iterator[Finding]:
        """What the trade says about pins, tails and their slope."""
        spacing = self.spacing(block)
        thin = min((spacing.pin, "pins"), (spacing.half_pin, "half pins"))
        if thin[0] < LEAST_PIN - NEAR:
            yield finding(
                self,
                "warning",
                "thin-pin",
                f"The {thin[1]} are only {mm(thin[0])} mm wide at their narrow side.",
                why="A thin pin breaks when the joint is knocked together.",
                remedy=f"Make pins and half pins at least {mm(LEAST_PIN)} mm wide; 5 to 8 mm is easier to cut.",
                source=PIN_SOURCE,
            )
        if spacing.tail > WIDEST_TAIL + NEAR:
            most = next(count for count in range(self.tails + 1, 1000) if self._tail(block, count) <= WIDEST_TAIL)
            yield finding(
                self,
                "warning",
                "wide-tails",
                f"The tails are {mm(spacing.tail)} mm wide at their tips.",
                why="A wide tail shrinks loose, and few pins hold little.",
                remedy=f"Draw {most} tails.",
                source=WIDE_SOURCE,
            )
        yield from slope_of_the_trade(self, self.slope, "tails")
        if grain != "x":
            yield finding(
                self,
                "warning",
                "short-grain",
                f"The {self.title} lie across the grain of their part.",
                why="Short grain breaks away.",
                remedy="Let the grain run along the part.",
                source="common practice",
            )

    def _tail(self, block: Block, count: int) -> float:
        """How wide each of so many tails would be at its tip."""
        half = self.spacing(block).half_pin
        return (block.width - 2 * half - (count - 1) * self.pin) / count


def slope_of_the_trade(feature: Feature, slope: float, what: str) -> Iterator[Finding]:
    """A warning for a slope steeper than 1 in 6 or flatter than 1 in 8."""
    if STEEPEST - NEAR <= slope <= FLATTEST + NEAR:
        return
    yield finding(
        feature,
        "warning",
        "dovetail-slope",
        f"The {what} slope 1 in {mm(slope)}.",
        why="The corners are short grain and break off." if slope < STEEPEST else "So little slope hardly holds.",
        remedy="Slope them 1 in 6 in softwood, 1 in 8 in hardwood.",
        source=SLOPE_SOURCE,
    )
