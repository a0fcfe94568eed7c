"""Turned profile: a square stick turned to an outline, whole or in part."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Annotated, ClassVar

from pydantic import Field

from sequencer.features.base import NEAR, finding, mm, refuse, register
from sequencer.features.checks import COMMON
from sequencer.features.revolved import Revolved, Station
from sequencer.findings import Finding
from sequencer.model.fields import STRICT, Distance, Length
from sequencer.model.frame import Axis, Block

THINNEST = 8.0
"""A neck thinner than this breaks under the tool, mm: common practice with classes."""


@dataclass(frozen=True, kw_only=True)
class TurnedStation:
    """A place along the length: so far from the left end it has this diameter."""

    __pydantic_config__ = STRICT

    left: Distance
    diameter: Length


@register
@dataclass(frozen=True, kw_only=True)
class TurnedProfile(Revolved):
    """At each of `stations`, from left to right, the stick has a diameter; straight from one to the next, two at one place
    make a step. Before the first and beyond the last it stays square. A curve is written as several stations."""

    kind: ClassVar = "turned-profile"
    title: ClassVar = "turned profile"
    says: ClassVar = "a square stick turned round to diameters at stations along it, with square ends where it is not"

    turned: Annotated[tuple[TurnedStation, ...], Field(alias="stations", min_length=2, max_length=40)]

    def __post_init__(self) -> None:
        places = [each.left for each in self.turned]
        if places != sorted(places) or places[0] == places[-1]:
            raise refuse("the stations of a turned profile are written from left to right")
        if any(places.count(place) > 2 for place in places):
            raise refuse("no more than two stations of a turned profile lie at one place; two make a step")

    def stations(self, block: Block) -> tuple[Station, ...]:
        return tuple((each.left, each.diameter) for each in self.turned)

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from super().check(block, grain)
        last = self.turned[-1].left
        if last > block.length + NEAR:
            yield finding(
                self,
                "error",
                "outside-part",
                f"The last station of the turned profile is {mm(last)} mm from the left; the part is {mm(block.length)} mm long.",
                remedy="Correct its stations.",
            )
        neck = min(each.diameter for each in self.turned)
        if neck < THINNEST - NEAR:
            yield finding(
                self,
                "warning",
                "thin-neck",
                f"At its thinnest the turned profile is {mm(neck)} mm across.",
                why="So thin a neck whips and breaks under the tool.",
                remedy=f"Leave at least {mm(THINNEST)} mm.",
                source=COMMON,
            )
        yield from self._square_ends(block)

    def _square_ends(self, block: Block) -> Iterator[Finding]:
        """A stick turned all over cannot come out as thick as it was square: the drawing asks for a thicker blank."""
        full = min(block.width, block.thickness)
        for (start, first), (stop, second) in pairwise(self.stations(block)):
            if stop > start and first > full - 1.0 + NEAR and second > full - 1.0 + NEAR:
                yield finding(
                    self,
                    "warning",
                    "nothing-to-turn",
                    f"From {mm(start)} to {mm(stop)} mm it is as thick as the stick, {mm(full)} mm.",
                    why="Flats of the square stay where the stick runs a little out of true between its centres.",
                    remedy="Draw the stick at least 2 mm thicker than the round.",
                    source=COMMON,
                )
                return
