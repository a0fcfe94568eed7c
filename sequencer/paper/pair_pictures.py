"""The two pieces of a pair side by side with their face marks, face edges together and first ends at one side. mm."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.frame import Hand
from sequencer.model.job import Part
from sequencer.paper.scene import Arrow, FaceMark, Scene
from sequencer.solid.solids import joined

_APART = 1.5
"""Between the two pieces, so that they are seen to be two, mm."""
_SHAFT = 28.0
"""How long the arrow to the first ends is drawn, mm."""


def still_a_pair(part: Part) -> bool:
    """Whether left and right pieces come apart only by the end that is squared first: their faces are marked before."""
    ends = {end for feature in part.features.values() for end in feature.ends_part()}
    broad = part.face_side in ("inside", "outside") and part.face_edge in ("top", "bottom")
    return part.handed and "left" not in ends and broad


def hand_behind(part: Part) -> Hand:
    """The hand whose first end is to the left, face side up and face edge in front. Left of the drawn piece is left there where
    its inside is up and its bottom edge in front, or both are otherwise."""
    return "left" if (part.face_side == "inside") == (part.face_edge == "bottom") else "right"


def pair_scene(marked: Scene, part: Part) -> Scene:
    """The pair from the picture of one piece that lies face side up, its face edge towards the viewer. Turned so that the edges
    meet, the other lies before it; their first ends are level at the left."""
    wood = [thing for thing in marked.things if thing.look == "wood"]
    bounds = joined(thing.solid for thing in wood).bounds
    behind, before = ("left hand", "right hand") if hand_behind(part) == "left" else ("right hand", "left hand")
    over = -(bounds.size("y") + _APART)
    front = bounds.low.y
    things = [replace(thing, name=behind if number == 0 else "") for number, thing in enumerate(wood)]
    things += [
        replace(thing, solid=thing.solid.moved(y=over), name=before if number == 0 else "") for number, thing in enumerate(wood)
    ]
    marks = (*marked.marks, *(_turned(mark, front - _APART / 2) for mark in marked.marks if mark.kind == "side"))
    low, top = bounds.low.x, bounds.high.z
    middle = front - _APART / 2
    at = bounds.low._replace(x=low - _SHAFT, y=middle, z=top / 2), bounds.low._replace(x=low - 2.0, y=middle, z=top / 2)
    return replace(marked, things=tuple(things), marks=marks, arrows=(Arrow(*at, "first ends"),))


def _turned(mark: FaceMark, edge: float) -> FaceMark:
    """A mark on the upper face of the piece before, as far from where the edges meet."""
    up = mark.up._replace(y=-mark.up.y)
    return replace(mark, at=mark.at._replace(y=2 * edge - mark.at.y), up=up)
