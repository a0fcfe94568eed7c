"""Moulding: edges cut to a named profile."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import ClassVar, Literal

from sequencer.features.arris import Pair, each_once
from sequencer.features.base import NEAR, finding, mm, refuse, register
from sequencer.features.checks import COMMON, ENOUGH_LEFT
from sequencer.features.profiled import Profiled, Section
from sequencer.findings import Finding
from sequencer.model.fields import Distance, Edges, Length
from sequencer.model.frame import Axis, Block, axis_of
from sequencer.model.shapes import arc


def _cove(size: float, step: float) -> Section:
    """A hollow quarter: its centre is the corner that is cut away."""
    curve = arc((step, step), size, 90, 0)
    return ((0.0, step + size), *curve, (step + size, 0.0)) if step else tuple(curve)


def _ovolo(size: float, step: float) -> Section:
    """A round quarter between two small steps."""
    far = step + size
    return ((0.0, far), *arc((far, far), size, 180, 270), (far, 0.0))


def _ogee(size: float, step: float) -> Section:
    """A round below running into a hollow above, each half as high as the whole."""
    half = size / 2
    low = arc((half + step, size + step), half, 180, 270)
    high = arc((half + step, step), half, 90, 0)
    curve = (*low, *high[1:])
    return ((0.0, size + step), *curve, (size + step, 0.0)) if step else curve


SECTIONS: Mapping[str, Callable[[float, float], Section]] = MappingProxyType({"ovolo": _ovolo, "cove": _cove, "ogee": _ogee})
"""Each named profile by its size and the step beside it."""


@register
@dataclass(frozen=True, kw_only=True)
class Moulding(Profiled):
    """`edges` such as inside/top, or a face for the four round it, cut to a `profile`: a round (`ovolo`), a hollow (`cove`) or
    a round running into a hollow (`ogee`), `size` high and wide, with a `step` beside it at face and edge. Of an edge the
    first face is the one the profile is seen in."""

    gives: ClassVar[tuple[str, ...]] = (*Profiled.gives, "feature.radius")

    kind: ClassVar = "moulding"
    title: ClassVar = "moulding"
    says: ClassVar = "edges cut to a named profile: ovolo, cove or ogee"

    edges: Edges
    profile: Literal["ovolo", "cove", "ogee"]
    size: Length
    step: Distance = 0.0

    def __post_init__(self) -> None:
        if self.profile == "ovolo" and self.step == 0:
            raise refuse("an ovolo has a `step` beside its round; without one it is a round-over")

    def cut_edges(self) -> tuple[Pair, ...]:
        return each_once(self.edges)

    def section(self) -> Section:
        return SECTIONS[self.profile](self.size, self.step)

    def figures(self, block: Block) -> dict[str, float]:
        return super().figures(block) | {"feature.radius": self.size / 2 if self.profile == "ogee" else self.size}

    def label(self) -> str:
        return f"{self.profile} {mm(self.reach()[0])}"

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from super().check(block, grain)
        thin = min(block.size(axis_of(side)) for pair in self.cut_edges() for side in pair)
        left = thin - self.reach()[1]
        if NEAR < left < ENOUGH_LEFT - NEAR:
            yield finding(
                self,
                "warning",
                "thin-beside-cut",
                f"The moulding leaves only {mm(left)} mm of square edge.",
                why="So thin an edge breaks, and nothing is left for a cutter's bearing or a fence to run on.",
                remedy=f"Leave at least {mm(ENOUGH_LEFT)} mm.",
                source=COMMON,
            )
