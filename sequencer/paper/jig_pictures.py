"""Pictures of jigs: their pieces where they stand, drawn from the sizes the plan gives. mm."""

from __future__ import annotations

from sequencer.model.jigs import JigBody, JigLine
from sequencer.model.shapes import Cone
from sequencer.paper.axonometric import draw_scene
from sequencer.paper.scene import Scene, Thing
from sequencer.paper.svg import Picture
from sequencer.solid.solids import Solid, box, prism, shape_solid

_OVER = 1.0
"""How far a hole stands over the faces it breaks, mm."""


def jig_picture(jig: JigLine, width: float, height: float) -> Picture:
    """The jig put together, in the room given, mm."""
    return draw_scene(jig_scene(jig), width, height)


def jig_scene(jig: JigLine) -> Scene:
    """The pieces of a jig where they stand, each with its name."""
    return Scene(
        tuple(
            Thing(body_of(body), name=piece.name.replace("-", " ") if number == 0 else "")
            for piece in jig.pieces
            for number, body in enumerate(piece.bodies)
        )
    )


def body_of(body: JigBody) -> Solid:
    """One piece of a jig as a solid."""
    spans = {axis: (low, low + size) for axis, low, size in zip("xyz", body.low, body.size, strict=True)}
    if body.outline:
        solid = prism(body.along, [body.outline], *spans[body.along])
    else:
        solid = box(body.low, [high for _, high in spans.values()])
    for hole in body.holes:
        start, stop = spans[hole.along]
        radius = hole.diameter / 2
        solid -= shape_solid(Cone(hole.along, hole.at, start - _OVER, stop + _OVER, radius, radius))
    return solid
