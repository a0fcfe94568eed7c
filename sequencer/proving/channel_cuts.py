"""What a cutter or blade takes along a fence, an edge guide or a batten: grooves, rebates, housings and dovetailed channels, one
stretch for each pass. In the part's frame, mm.
"""

from __future__ import annotations

from math import radians, tan

from sequencer.model.frame import AXES, FaceName, axis_of, is_high, opposite, others, sign_of
from sequencer.model.marks import Lie, Trough
from sequencer.proving.cuts import OVER, Card, Cut, NoCut, Span, block_of, entered_face, run_over, sunk
from sequencer.proving.workpiece import Workpiece
from sequencer.solid.solids import joined, prism


def _strips(card: Card, marks: Trough) -> list[Span]:
    """The stretches a channel is cut in, as distances from the face it is measured from: one for each pass of a saw."""
    fence = card.setting("fence", card.setting("distance", marks.distance))
    if "batten" in card.settings:
        return _along_batten(card)
    if "packing" in card.settings and "cutter" in card.settings:
        return _drawn_by_packing(fence, card)
    if "passes" in card.settings and "shift" in card.settings:
        kerf = card.settings.get("cutter", card.figures.get("kerf"))
        if kerf is None:
            raise NoCut("the kerf of the blade is not known")
        passes, shift = round(card.settings["passes"]), card.settings["shift"]
        return [(fence + number * shift, fence + number * shift + kerf) for number in range(passes)]
    if card.kind == "dovetail-end" and "fence" in card.settings:
        # At its widest the cutter stands so far out of the false fence, on whichever face is against that.
        return [(marks.distance - fence, marks.distance + marks.width + fence)]
    if card.kind == "rebate" and "fence" in card.settings:
        # A rebate's fence is set to the far side of the cutter or blade, the rest of which stands inside the fence.
        return [(-OVER, fence)]
    if "cutter" in card.settings:
        return [(fence, fence + card.settings["cutter"])]
    width = card.setting("blade", card.setting("width", marks.width))
    return [(fence, fence + width)]


def _cleared(card: Card) -> list[Span]:
    """The channels a straight cutter clears before a dovetail cutter: its middle stands where the card says, moved for each."""
    if "clear" not in card.settings or "middle" not in card.settings:
        return []
    passes, shift = round(card.setting("passes", 1)), card.setting("shift", 0.0)
    half = card.settings["clear"] / 2
    middles = [card.settings["middle"] + number * shift for number in range(passes)]
    return [(middle - half, middle + half) for middle in middles]


def _drawn_by_packing(fence: float, card: Card) -> list[Span]:
    """The stretches a held router cuts along its edge guide: the guide is fixed to the router, so that packing between it and the
    edge draws the cutter nearer to the edge. All of it is in at the first pass, and a piece comes out for each further one."""
    cutter, each, passes = card.settings["cutter"], card.settings["packing"], round(card.setting("passes", 1))
    nears = [fence - pieces * each for pieces in reversed(range(passes))]
    return [(near, near + cutter) for near in nears]


def _along_batten(card: Card) -> list[Span]:
    """The stretches a held router cuts along a batten on its far side, first to last: the last along the batten, each earlier one
    a piece of packing nearer to the face the batten is measured from."""
    base, cutter = card.figures.get("base-width"), card.settings.get("cutter")
    if base is None or cutter is None:
        raise NoCut("the width of the router's base or of its cutter is not known")
    far = card.settings["batten"] - (base - cutter) / 2
    passes, each = round(card.setting("passes", 1)), card.setting("packing", 0.0)
    return [(far - pieces * each - cutter, far - pieces * each) for pieces in reversed(range(passes))]


def trough_cut(card: Card, marks: Trough, lie: Lie, piece: Workpiece) -> Cut:
    """A channel along the fence, or between gauge lines where nothing guides it."""
    beside = lie.against if lie.against is not None and "fence" in card.settings else marks.beside
    opened = entered_face(lie, marks.face)
    if lie.tool == "fence" and opened == lie.against:
        # Its height is set from the table.
        beside = lie.down
    if axis_of(opened) == axis_of(beside):
        raise NoCut(f"the {opened} is worked and the {beside} guides it: they do not meet")
    deep = card.setting("height", card.setting("depth", marks.depth))
    depth, floor = sunk(piece, opened, deep)
    run = next(axis for axis in AXES if axis not in (axis_of(opened), axis_of(beside)))
    along = list(piece.spans[run])
    along = [along[0] - OVER, along[1] + OVER]
    for face, gap in marks.stops:
        if gap and axis_of(face) == run:
            along[is_high(face)] = piece.level(face) - sign_of(face) * gap
    if marks.reach is not None and axis_of(marks.reach[0]) == run:
        face = marks.reach[0]
        along[not is_high(face)] = piece.level(face) - sign_of(face) * card.setting("reach", marks.reach[1])
    if along[0] >= along[1]:
        raise NoCut("what is set out leaves nothing to cut")
    pitch = card.setting("pitch", marks.pitch)
    strips = [
        (near + number * pitch, far + number * pitch) for number in range(marks.count) for near, far in _strips(card, marks)
    ]
    # An end that stands against a high fence is no channel beside it.
    fenced = lie.tool == "below" and beside == lie.against and card.kind != "dovetail-end"
    guided = lie.tool == "above" and "packing" in card.settings
    passes = tuple(strips) if guided or (fenced and "fence" in card.settings) else ()
    if any(marks.leans):
        leaning = [_leaning(card, marks, piece, beside, opened, strip) for strip in strips]
        bodies = [prism(run, [outline], along[0], along[1]) for outline in leaning]
        for near, far in _cleared(card):
            clear = {axis_of(beside): piece.inside(beside, near, far)}
            height = {axis_of(opened): sunk(piece, opened, card.setting("clearing", 0.0))[0]}
            bodies.append(block_of({run: (along[0], along[1]), **clear, **height}))
        return Cut(joined(bodies), opened, floor, passes=passes)
    depths = [depth, sunk(piece, opposite(opened), deep)[0]] if marks.twin else [depth]
    bodies = []
    for near, far in strips:
        low, high = piece.inside(beside, near, far)
        across = run_over(piece, axis_of(beside), (low, high))
        bodies += [block_of({run: (along[0], along[1]), axis_of(beside): across, axis_of(opened): each}) for each in depths]
    # Under a cut from both faces the wood is what stays between them, which the finished piece is held against.
    return Cut(joined(bodies), opened, None if marks.twin else floor, passes=passes)


def _leaning(
    card: Card, marks: Trough, piece: Workpiece, beside: FaceName, opened: FaceName, strip: Span
) -> list[tuple[float, float]]:
    """The section of a channel whose sides lean outwards below the face, square to its run; it stands a little over the face.
    A cutter of that shape is set by where it is widest, at the floor."""
    depth = card.setting("height", card.setting("depth", marks.depth))
    slopes = [tan(radians(card.setting("angle", lean))) if lean else 0.0 for lean in marks.leans]
    over = -OVER
    low, high = piece.spans[axis_of(opened)]
    down = depth if depth < high - low - 1e-6 else high - low + OVER
    near, far = strip
    if "cutter" in card.settings:
        near, far = near + depth * slopes[0], far - depth * slopes[1]
    corners = [
        (near - over * slopes[0], over),
        (far + over * slopes[1], over),
        (far + down * slopes[1], down),
        (near - down * slopes[0], down),
    ]
    if corners[0][0] >= corners[1][0]:
        raise NoCut("the sides of the cut meet below its face")
    first = others(next(axis for axis in AXES if axis not in (axis_of(opened), axis_of(beside))))[0]
    top = piece.spans[axis_of(opened)][is_high(opened)]
    outline = []
    for across, into in corners:
        side, level = piece.level(beside) - sign_of(beside) * across, top - sign_of(opened) * into
        outline.append((side, level) if axis_of(beside) == first else (level, side))
    return outline
