"""The forms of jigs, and of how a shape is held."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated

from pydantic import Field

from sequencer.knowledge.forms.fields import Text
from sequencer.model.fields import STRICT
from sequencer.model.frame import Axis


@dataclass(frozen=True, kw_only=True)
class HeldShape:
    """How a piece is held by a face that a shape has taken (`lists/shapes.yaml`).

    says
        What it does otherwise: completes “A piece that is tapered …”.
    holding
        Ways of holding that grip it, besides what the operation asks for; the first at hand is used, else the first made.
    enough
        Ways of holding that grip it where the operation itself rests on them.
    """

    __pydantic_config__ = STRICT
    name: Text
    says: Text
    holding: Annotated[tuple[str, ...], Field(min_length=1)]
    enough: tuple[str, ...] = ()
    source: Text


Sum = Text
"""A number or an expression of figures of the part and the feature, mm."""


@dataclass(frozen=True, kw_only=True)
class JigHole:
    """A hole right through a piece of a jig: the axis it runs along, and its middle by the two other axes in alphabetical
    order from the piece's own near lower left corner."""

    __pydantic_config__ = STRICT
    along: Axis
    at: tuple[Sum, Sum]
    diameter: Sum


@dataclass(frozen=True, kw_only=True)
class JigPiece:
    """A piece of a jig.

    size
        Along x (to the right), y (away) and z (up), mm.
    at
        The near lower left corner of each such piece, in the jig's frame.
    along, outline
        Where it is no plain block: its outline by the two other axes in alphabetical order, from that corner, and the axis
        it runs along.
    cut_from
        Length, width and thickness of the wood it is made of, where that is not its size: it stands askew.
    """

    __pydantic_config__ = STRICT
    size: tuple[Sum, Sum, Sum]
    at: Annotated[tuple[tuple[Sum, Sum, Sum], ...], Field(min_length=1)]
    along: Axis = "x"
    outline: tuple[tuple[Sum, Sum], ...] = ()
    holes: tuple[JigHole, ...] = ()
    cut_from: tuple[Sum, Sum, Sum] | None = None
    stock: Text


@dataclass(frozen=True, kw_only=True)
class Jig:
    """A jig (`lists/jigs.yaml`): what it is, its pieces, how they are fastened, how it is checked.

    serves_as
        The way of holding it is, where it is one: then it is not made where the workshop has that at hand.
    """

    __pydantic_config__ = STRICT
    name: Text
    what: Text
    serves_as: str = ""
    pieces: Annotated[Mapping[str, JigPiece], Field(min_length=1)]
    fastening: Text
    checks: Annotated[tuple[Text, ...], Field(min_length=1)]
    source: Text

    def sums(self) -> Iterator[tuple[tuple[str | int, ...], str]]:
        """Every expression of its sizes and places, with its place in the file below the jig's name."""
        for name, piece in self.pieces.items():
            at = ("pieces", name)
            yield from (((*at, "size", number), text) for number, text in enumerate(piece.size))
            yield from (((*at, "cut_from", number), text) for number, text in enumerate(piece.cut_from or ()))
            yield from (
                ((*at, key, number, axis), text)
                for key, places in (("at", piece.at), ("outline", piece.outline))
                for number, place in enumerate(places)
                for axis, text in enumerate(place)
            )
            for number, hole in enumerate(piece.holes):
                yield from (((*at, "holes", number, "at", axis), text) for axis, text in enumerate(hole.at))
                yield (*at, "holes", number, "diameter"), hole.diameter
