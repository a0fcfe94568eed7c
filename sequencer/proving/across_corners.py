"""One saw cut across a glued corner, made from the card in what is joined there: what it takes from each piece, how the corner is
held in the vice, what stays under the cut. mm, mm3.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import sqrt

from sequencer.design.splines import Spline, true_face
from sequencer.features.base import mm
from sequencer.features.mitre import Mitre
from sequencer.model.frame import AXES, Axis, FaceName, axis_of, is_high, opposite, others, sign_of
from sequencer.model.plan import Bench, Task
from sequencer.model.proof import Looked
from sequencer.proving.cuts import DUST, FAR, NoCut, block_of, card_of
from sequencer.proving.workpiece import FLAT, Workpiece
from sequencer.solid.solids import Solid, prism


@dataclass(frozen=True, eq=False)
class AcrossCorner:
    """A cut across a corner, in the frame of the piece it is set out on.

    face
        The true face that the slot is gauged from.
    body
        What the saw passes through.
    """

    end: FaceName
    long: FaceName
    face: FaceName
    body: Solid
    leg: float
    band: tuple[float, float]
    piece: Workpiece

    def region(self, near: float, far: float, band: tuple[float, float]) -> Solid:
        """What lies between two lines parallel to the floor, each by where it meets the outer faces, over a band of the width."""
        return _between(self.piece, (self.end, self.long), (near, far), band)

    def inside(self, band: tuple[float, float]) -> Solid:
        """All that lies inwards of both outer faces, over a band of the width."""
        spans: dict[Axis, tuple[float, float]] = {axis_of(self.face): band}
        for face in (self.end, self.long):
            level = self.piece.spans[axis_of(face)][is_high(face)]
            spans[axis_of(face)] = (level - FAR, level) if is_high(face) else (level, level + FAR)
        return block_of(spans)

    @property
    def thick(self) -> tuple[float, float]:
        """From where to where the piece reaches across the slot."""
        return self.piece.spans[axis_of(self.face)]


def cut_across(task: Task, spline: Spline, mitre: Mitre, piece: Workpiece, figures: Mapping[str, float]) -> AcrossCorner:
    """The cut of a card in the piece that it is set out on: as far from its true face, as wide and as deep at the corner as the
    card says. NoCut if the card does not say it."""
    settings = card_of(task, figures).settings
    lacking = [name for name in ("distance", "width", "depth") if name not in settings]
    if lacking:
        raise NoCut(f"the card does not say the {' and the '.join(lacking)}")
    face = true_face(piece.part, spline.slot)
    axis, leg = axis_of(face), settings["depth"] * sqrt(2)
    level, sign = piece.spans[axis][is_high(face)], sign_of(face)
    ends = (level - sign * settings["distance"], level - sign * (settings["distance"] + settings["width"]))
    band = min(ends), max(ends)
    (end,) = mitre.ends_part() if piece.hand != "right" else (_other(mitre.end),)
    body = _between(piece, (end, mitre.long), (-FAR, leg), band)
    return AcrossCorner(end, mitre.long, face, body, leg, band, piece)


def _other(end: FaceName) -> FaceName:
    return "right" if end == "left" else "left"


def _between(piece: Workpiece, faces: tuple[FaceName, FaceName], lines: tuple[float, float], band: tuple[float, float]) -> Solid:
    """What lies between two lines across a corner. From the corner `along` both faces inwards their sum is the same."""
    end, long = faces
    run = next(axis for axis in AXES if axis not in (axis_of(end), axis_of(long)))
    near, far = lines
    beyond = abs(near) + abs(far) if abs(near) < FAR else FAR
    first, second = others(run)
    outline = []
    # From one line to the other, far out to both sides of the corner.
    for out, total in ((-beyond, near), (beyond, near), (beyond, far), (-beyond, far)):
        along = {end: total / 2 + out, long: total / 2 - out}
        at = {axis_of(face): piece.spans[axis_of(face)][is_high(face)] - sign_of(face) * inward for face, inward in along.items()}
        outline.append((at[first], at[second]))
    return prism(run, [outline], *band)


def across_looked(
    cut: AcrossCorner,
    standing: Mapping[str, Solid],
    members: tuple[str, str],
    taken: Mapping[str, float],
    bench: Bench,
) -> Iterator[Looked]:
    """What is looked at before the cut. All in the frame of the piece it is set out on. `standing`: what hangs together there,
    by piece; `members`: the two pieces of the corner; `taken`: what the cut takes from each, where it has not been made alike."""
    yield _held(cut, standing, members, bench)
    low, high = cut.band
    half = cut.leg**2 / 4 * (high - low)
    for name, volume in taken.items():
        share = volume / half if half else 0.0
        says = f"{share:.0%} of what it would cut in {name} is there, {volume:.0f} mm3"
        yield Looked("there", share >= bench.wood_share, says)
    yield _stays_under(cut, standing, members, bench)
    yield _stands_beside(cut, standing, members, bench)
    yield _has_room(cut, standing, members, bench)


def _held(cut: AcrossCorner, standing: Mapping[str, Solid], members: Sequence[str], bench: Bench) -> Looked:
    """The vice grips both pieces of the corner under the cut, by the faces that the slot lies between, which come flush."""
    low, high = cut.thick
    if high - low > bench.vice_opens:
        says = f"the corner is {mm(high - low)} mm across the jaws, and the vice opens {mm(bench.vice_opens)} mm"
        return Looked("held", False, says)
    near = cut.leg + 2.0
    grip = cut.region(near, near + bench.tool_room * sqrt(2), (low - FLAT, high + FLAT))
    least = FAR
    for name in members:
        gripped = standing[name] & grip
        span = (0.0, 0.0) if gripped.empty else gripped.bounds.span(axis_of(cut.face))
        if abs(span[0] - low) > FLAT or abs(span[1] - high) > FLAT:
            return Looked("held", False, f"the jaws do not close on both faces of {name}: the pieces do not come flush there")
        least = min(least, max(gripped.bounds.size(axis_of(face)) for face in (cut.end, cut.long)))
    held = least >= bench.face_share * bench.tool_room
    return Looked("held", held, f"the vice grips {mm(least)} mm of each piece under the cut, corner up")


def _stays_under(cut: AcrossCorner, standing: Mapping[str, Solid], members: Sequence[str], bench: Bench) -> Looked:
    """The wood under the floor of the slot, from one outer face to the other."""
    far = cut.leg + bench.least_under * sqrt(2)
    under = cut.region(cut.leg, far, cut.band)
    there = sum((standing[name] & under).volume for name in members)
    low, high = cut.band
    whole = (far**2 - cut.leg**2) / 2 * (high - low)
    held = there >= 0.99 * whole
    says = f"at least {mm(bench.least_under)} mm of wood stay under it"
    if not held:
        one, other = members
        says = f"it comes through at the {cut.end} end of {one}, on its {opposite(cut.long)} face, in the corner with {other}"
    return Looked("thickness", held, says)


def _stands_beside(cut: AcrossCorner, standing: Mapping[str, Solid], members: Sequence[str], bench: Bench) -> Looked:
    """The wood on both sides of the slot, along all of its broad faces."""
    low, high = cut.band
    for band in ((low - bench.least_under, low), (high, high + bench.least_under)):
        beside = cut.region(-FAR, cut.leg, band) & cut.inside(band)
        there = sum((standing[name] & beside).volume for name in members)
        whole = cut.leg**2 / 2 * bench.least_under
        if there < 0.5 * whole:
            return Looked("thickness", False, f"wood stands beside {there / whole:.0%} of one side of the slot")
    return Looked("thickness", True, "wood stands on both sides of the slot")


def _has_room(cut: AcrossCorner, standing: Mapping[str, Solid], members: Sequence[str], bench: Bench) -> Looked:
    """The saw comes down on the corner from outside: nothing else stands there or beside its back."""
    low, high = cut.band
    beside = (low - bench.tool_room / 2, high + bench.tool_room / 2)
    # Under the outer faces the saw takes no more room than its cut.
    room = cut.region(-bench.tool_room * sqrt(2), cut.leg, beside) - cut.inside(beside)
    room = room + cut.region(-bench.tool_room * sqrt(2), cut.leg, cut.band)
    for name, solid in standing.items():
        if name not in members and (blocked := (room & solid).volume) > 1.0:
            return Looked("approach", False, f"{name} stands in the way of the saw ({blocked:.0f} mm3 of it)")
    return Looked("approach", True, "the saw has room")


def bitten(cut: Solid, body: Solid) -> tuple[Solid, float]:
    """What a cut leaves of a body, and how much it takes."""
    left = body - cut
    taken = body.volume - left.volume
    return left, taken if taken > DUST else 0.0
