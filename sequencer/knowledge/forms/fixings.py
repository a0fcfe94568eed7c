"""The forms of what joints are made with: fits, nails, screws."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from pydantic import Field

from sequencer.knowledge.forms.fields import Positive, Text
from sequencer.model.fields import STRICT, Plain


@dataclass(frozen=True, kw_only=True)
class FitClass:
    """Room left in a fit (`lists/fits.yaml`), mm: least and most play that still counts as this fit."""

    __pydantic_config__ = STRICT
    name: Text
    play: Plain
    least: Plain
    most: Plain
    says: Text
    source: Text


@dataclass(frozen=True, kw_only=True)
class FastenerRule:
    """How long nails or screws are (`lists/fasteners.yaml`), mm.

    times
        Their length over the thickness they hold: 3 puts two thirds of it in the second piece.
    point_room
        Wood to leave before the point.
    usual_share, least_share
        Share of it in the second piece, where that is thick enough: under the first it is short, under the second it holds
        little.
    lengths
        Lengths that they are sold in, rising.
    """

    __pydantic_config__ = STRICT
    times: Positive
    point_room: Positive
    usual_share: Positive
    least_share: Positive
    lengths: Annotated[tuple[Positive, ...], Field(min_length=1)]
    source: Text


@dataclass(frozen=True, kw_only=True)
class ScrewGauge:
    """A wood screw gauge (`lists/screws.yaml`), mm."""

    __pydantic_config__ = STRICT
    shank: Positive
    head: Positive
    clearance: Positive
    pilot_softwood: Positive
    pilot_hardwood: Positive
    source: Text
