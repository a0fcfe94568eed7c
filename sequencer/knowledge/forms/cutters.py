"""The forms of what cuts: drill bits, router cutters, blades, abrasive paper, tools that come in sizes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from pydantic import Field

from sequencer.knowledge.forms.fields import Positive, Text
from sequencer.model.fields import STRICT, Plain


@dataclass(frozen=True, kw_only=True)
class DrillSpeed:
    """Highest speed advised for a bit up to a diameter, mm and rev/min. Sheet counts as hardwood: the slower."""

    __pydantic_config__ = STRICT
    up_to: Positive
    softwood: Positive
    hardwood: Positive
    source: Text


@dataclass(frozen=True, kw_only=True)
class DrillPoint:
    """How far the point of a bit goes below the full depth of its hole: a share of its diameter."""

    __pydantic_config__ = STRICT
    share: Annotated[Plain, Field(ge=0, le=1)]
    source: Text


@dataclass(frozen=True, kw_only=True)
class Flutes:
    """How long the flutes of a bit are from a diameter on, mm. Deeper than that its chips do not come out."""

    __pydantic_config__ = STRICT
    from_: Annotated[Positive, Field(alias="from")]
    long: Positive
    source: Text


@dataclass(frozen=True, kw_only=True)
class DrillBit:
    """A kind of drill bit (`lists/drill-bits.yaml`) with its point, its speeds, smallest diameter first, none for a bit
    that is turned by hand, and how deep its flutes let it drill, smallest diameter first, where that matters."""

    __pydantic_config__ = STRICT
    name: Text
    point: DrillPoint
    speeds: tuple[DrillSpeed, ...] = ()
    flutes: tuple[Flutes, ...] = ()

    def drills(self, diameter: float) -> float | None:
        """How deep a bit of a diameter drills before its chips jam, mm; None where the list does not say."""
        reached = [row.long for row in self.flutes if row.from_ <= diameter + 1e-6]
        return max(reached, default=None)


@dataclass(frozen=True, kw_only=True)
class SizedTools:
    """Tools that come in sizes (`lists/tool-sizes.yaml`): how far one may be off, mm; `narrowest`, the figure of a station
    that the smallest of them states."""

    __pydantic_config__ = STRICT
    name: Text
    within: Annotated[Plain, Field(ge=0, le=1)]
    narrowest: str = ""
    source: Text


@dataclass(frozen=True, kw_only=True)
class CutterSpeed:
    """Highest speed of a router cutter up to a diameter (`lists/cutter-speeds.yaml`), mm and rev/min."""

    __pydantic_config__ = STRICT
    up_to: Positive
    most: Positive
    source: Text


@dataclass(frozen=True, kw_only=True)
class BandBlade:
    """The tightest curve that a band-saw blade up to a width follows (`lists/band-saw-blades.yaml`), mm."""

    __pydantic_config__ = STRICT
    up_to: Positive
    radius: Positive
    source: Text


@dataclass(frozen=True, kw_only=True)
class AbrasiveGrade:
    """A grade of abrasive paper (`lists/abrasives.yaml`): the size of its grains, micrometres."""

    __pydantic_config__ = STRICT
    grain: Positive
    source: Text
