"""Whether round wood really lies in the V that is to keep it from rolling: where the cut is, along both sides of the V. mm."""

from __future__ import annotations

from math import cos, pi, sin

from sequencer.features.base import mm
from sequencer.model.frame import AXES, Axis, FaceName, axis_of, others, sign_of
from sequencer.model.proof import Looked
from sequencer.model.shapes import Cone
from sequencer.proving.cuts import FAR, Span, block_of
from sequencer.proving.workpiece import Workpiece
from sequencer.solid.solids import Solid, prism, shape_solid

SKIN = 0.5
"""How much of the outside of a round bears on a V, mm: the chords of a solid round lie within it."""
HALF_SLICE = 1.0
"""Half of the length over which it is seen how thick a round is at a place, mm."""
PROUD = 2.0
"""Wood that stands out of the round by less than this keeps nothing off a V, mm3."""
TURN = pi / 12
"""To either side of its line a V is looked at so far round: the lines lie 45 degrees from the lowest, radians."""


def lies_in_cradle(piece: Workpiece, down: FaceName, cut: Span, through: bool, long: float, share: float) -> Looked:
    """A round in a V that is `long`, its lowest side `down`, for a cut over a span of its length: somewhere under the cut (beside
    it, where it goes `through`) the V touches round wood along at least a `share` of its length, and nothing thicker, such as a
    flange or an end that is still square, keeps the wood off it."""
    low, high = piece.spans["x"]
    start, stop = max(cut[0], low), min(cut[1], high)
    middle = (start + stop) / 2
    if through:
        places: tuple[Span, ...] = ((start - long, start), (stop, stop + long))
    else:
        places = ((middle - long / 2, middle + long / 2), (start, start + long), (stop - long, stop))
    found = [_faults(piece, down, (max(one, low), min(other, high)), share) for one, other in places]
    if any(not fault for fault in found):
        return Looked("lies", True, "it lies in the V")
    return Looked("lies", False, f"it does not lie in the V: {next((fault for fault in found if fault), '')}")


def _faults(piece: Workpiece, down: FaceName, span: Span, share: float) -> str:
    """What keeps the wood from lying in a V over a span; empty if nothing does."""
    first, last = span
    if last - first < 2 * HALF_SLICE:
        return "no wood is left beside the cut to lie in it"
    ends = [_thick(piece, at) for at in (first + HALF_SLICE, last - HALF_SLICE)]
    if min(ends) <= 0:
        return "no wood is left there to lie in it"
    out = piece.body & block_of(dict.fromkeys(AXES, (-FAR, FAR)) | {"x": span})
    proud = (out - _round(piece, span, ends, SKIN)).volume
    if proud > PROUD:
        return f"{proud:.0f} mm3 of thicker or square wood keeps it off, {mm(first)} to {mm(last)} mm along"
    sides = _sides(piece, down)
    skin = (_round(piece, span, ends, 0.0) - _round(piece, span, ends, -SKIN)) & sides
    there = (skin & piece.body).volume / skin.volume
    return "" if there >= share else f"it touches along {there * 100:.0f} % of it, {mm(first)} to {mm(last)} mm along"


def _middle(piece: Workpiece) -> dict[Axis, float]:
    """The line through the middle of a round piece: that of the section it is drawn with."""
    return {"y": piece.part.width / 2, "z": piece.part.thickness / 2}


def _thick(piece: Workpiece, at: float) -> float:
    """How far from its middle line a piece reaches at a place of its length, mm."""
    slice_ = piece.body & block_of(dict.fromkeys(AXES, (-FAR, FAR)) | {"x": (at - HALF_SLICE, at + HALF_SLICE)})
    if slice_.empty:
        return 0.0
    middle, bounds = _middle(piece), slice_.bounds
    return max(abs(edge - middle[axis]) for axis in others("x") for edge in bounds.span(axis))


def _round(piece: Workpiece, span: Span, ends: list[float], more: float) -> Solid:
    """The round that reaches from end to end of a span, so much more in radius."""
    middle = _middle(piece)
    radii = (max(radius + more, 0.0) for radius in ends)
    return shape_solid(Cone("x", (middle["y"], middle["z"]), *span, *radii))


def _sides(piece: Workpiece, down: FaceName) -> Solid:
    """All that lies about the two lines along which a V touches a round."""
    middle = _middle(piece)
    lowest = {"y": 0.0, "z": pi / 2}[axis_of(down)] + (pi if sign_of(down) < 0 else 0.0) if axis_of(down) != "x" else 0.0
    outlines = []
    for line in (lowest - pi / 4, lowest + pi / 4):
        corners = [(middle["y"], middle["z"])]
        corners += [
            (middle["y"] + FAR / 100 * cos(turn), middle["z"] + FAR / 100 * sin(turn)) for turn in (line - TURN, line + TURN)
        ]
        outlines.append(corners)
    return prism("x", outlines, -FAR, FAR)
