"""Pieces for the tests of solids: features on one board, and the closed forms they are held against. mm, mm2, mm3."""

from __future__ import annotations

from math import pi, sin
from typing import Any

import trimesh

from sequencer.design.bodies import Body
from sequencer.features import Feature
from sequencer.model.frame import Block, Hand
from sequencer.model.job import Part, Piece
from sequencer.solid.solids import CHORDS, Solid
from tests.features.samples import BOARD, block_of, make

WHOLE = BOARD.length * BOARD.width * BOARD.thickness


def piece(*features: Feature, block: Block = BOARD, hand: Hand | None = None, **more: Any) -> Body:
    """A piece with these features."""
    drawn = {f"feature-{number}": each for number, each in enumerate(features)}
    part = Part("part", "A", 1, "board", block.length, block.width, block.thickness, drawn, **more)
    return Body(Piece("part", "part", hand), part)


def piece_with(kind: str, **fields: Any) -> Body:
    """A piece of the usual board or stick with one feature as a person types it."""
    return piece(make(kind, **fields), block=block_of(kind))


def disc(radius: float) -> float:
    """Area of a full turn by its chords: n/2 r2 sin(2 pi/n), the regular polygon."""
    return CHORDS / 2 * radius**2 * sin(2 * pi / CHORDS)


def cylinder(diameter: float, deep: float) -> float:
    """Volume of a round hole by its chords."""
    return disc(diameter / 2) * deep


def frustum(first: float, second: float, deep: float) -> float:
    """Volume of a countersink between two diameters by its chords: h/3 (A + sqrt(AB) + B)."""
    one, two = disc(first / 2), disc(second / 2)
    return deep / 3 * (one + (one * two) ** 0.5 + two)


def quarter(radius: float, chords: int = 16) -> float:
    """Area of a quarter disc by its chords."""
    return chords / 2 * radius**2 * sin(pi / 2 / chords)


def fillet(radius: float) -> float:
    """What rounding one corner takes away, mm2: the square less the quarter disc."""
    return radius**2 - quarter(radius)


def trimesh_of(solid: Solid) -> trimesh.Trimesh:
    """The surface in the hands of another library. Nothing is merged or mended on the way."""
    return trimesh.Trimesh(vertices=solid.mesh.corners, faces=solid.mesh.triangles, process=False)
