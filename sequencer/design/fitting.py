"""What goes into what: sections against grooves, housings and mortises, tenons, halvings, panels between grooves. mm."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from sequencer.design.joining import MOVING_FITS, PANEL_FITS, fit_of, seat_feature, stock_is_solid
from sequencer.design.placement import Bearing, Placement
from sequencer.design.poses import Direction
from sequencer.design.sums import COMMON, panel_most, tenon_most
from sequencer.features.base import NEAR, mm
from sequencer.features.channel import Trenched
from sequencer.features.tongue import Tongue
from sequencer.findings import Finding, Level
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.materials import find_material, largest_movement
from sequencer.knowledge.settings.fits import allowance
from sequencer.knowledge.settings.moisture import MOVEMENT_SOURCE, panel_room
from sequencer.knowledge.working import Working
from sequencer.model.frame import AXIS_WORDS, Axis, FaceName, axis_of, is_high
from sequencer.model.job import Job, Joint, Part


def _alike_once(job: Job) -> Iterator[Joint]:
    """The joints, of those between the same parts by the same features only the first."""
    seen = set()
    part_of = {name: piece.part for name, piece in job.pieces().items()}
    for joint in job.joints.values():
        parts = (part_of.get(joint.enters_piece), part_of.get(joint.seat.piece))
        key = (*parts, joint.its.face, joint.its.feature, joint.seat.face, joint.seat.feature, joint.fit, joint.play)
        if key not in seen:
            seen.add(key)
            yield joint


def sections_by_fit(job: Job, placement: Placement, knowledge: Knowledge) -> Iterator[Finding]:
    """The room a groove, housing or mortise leaves around what enters it, against the fit class or the stated play."""
    for joint in _alike_once(job):
        bearing = placement.bearing(joint.name)
        if bearing is None or joint.crossing or not joint.seat.feature:
            continue
        fit = fit_of(job, joint)
        known = knowledge.fits.get(fit)
        for axis in bearing.seat.bounded:
            there = placement.poses[joint.seat.piece].direction(Direction(axis, 1)).axis
            room, section = _size(bearing.seat_spans[there]), _section(placement, bearing, there)
            play = room - section
            wants = allowance(known, joint.play, moves=fit in MOVING_FITS)
            if wants.holds(play):
                continue
            least, most = wants.least, wants.most
            tight = play < least
            what = f"{joint.its} is {mm(section)} mm and {joint.seat} is {mm(room)} mm: "
            what += f"{mm(-play)} mm too tight" if play < 0 else f"{mm(play)} mm of play"
            wanted = f"{mm(least)} mm" if least == most else f"{mm(max(least, 0))} to {mm(most)} mm"
            yield Finding(
                "error" if play < -NEAR else "warning",
                "too-tight" if tight else "too-loose",
                joint.name,
                f"{what}; a {fit} fit has {wanted}." if known is not None or joint.play is not None else f"{what}.",
                "It does not go in." if tight else "It rattles, and glue does not fill the gap.",
                "Make the cut as wide as the piece measures, or state the fit or the play that is meant.",
                joint.place,
                known.source if known is not None else COMMON,
            )


def _section(placement: Placement, bearing: Bearing, axis: Axis) -> float:
    """Size of the entering piece along an axis where it is in the seat: less what its own cuts take off there."""
    joint, looks = bearing.meeting.joint, bearing.looks.axis
    low, high = bearing.its_spans[axis]
    own = bearing.meeting.entering
    beside = next(other for other in bearing.its_spans if other != axis)
    needed = {beside: bearing.region(beside)}
    if bearing.floor is not None:
        needed[looks] = (min(bearing.face, bearing.floor), max(bearing.face, bearing.floor))
    for feature in own.part.features_of(own.piece.hand):
        if feature.name == joint.its.feature or feature.nature != "cut":
            continue
        for box in own.boxes(feature):
            lies = placement.lying(joint.enters_piece, box)
            if all(lies[other][0] <= span[0] + NEAR and span[1] <= lies[other][1] + NEAR for other, span in needed.items()):
                low = max(low, lies[axis][1]) if lies[axis][0] <= low + NEAR else low
                high = min(high, lies[axis][0]) if lies[axis][1] >= high - NEAR else high
    return max(high - low, 0.0)


def tenons_in_mortises(job: Job, placement: Placement, working: Working) -> Iterator[Finding]:
    """The length of a tenon or tongue against the depth of what it enters."""
    for joint in _alike_once(job):
        bearing = placement.bearing(joint.name)
        if bearing is None or not bearing.its.stands:
            continue
        mortise = job.part_of(joint.seat.piece).features.get(joint.seat.feature)
        if mortise is None:
            continue
        own = bearing.meeting.other
        into = bearing.seat.normal.axis
        depth = max(box.size(into) for box in own.boxes(mortise))
        if depth >= own.block.size(into) - NEAR:
            continue
        tenon, room = bearing.its.stands, depth - bearing.its.stands
        title = "tongue" if isinstance(seat_feature(job, joint.its), Tongue) else "tenon"
        if room < -NEAR:
            yield Finding(
                "error",
                "tenon-too-long",
                joint.name,
                f"The {title} {joint.its} is {mm(tenon)} mm long and {joint.seat} is {mm(depth)} mm deep: {mm(-room)} mm too "
                "long.",
                "It meets the bottom before the shoulder closes.",
                f"Make the tenon at most {mm(tenon_most(depth, working.tenon_room))} mm long, or the mortise deeper."
                if title == "tenon"
                else f"Make the tongue at most {mm(depth)} mm long, or the {mortise.title} deeper.",
                joint.place,
                COMMON,
            )
        elif room < working.least_tenon_room - NEAR and mortise.kind == "mortise":
            yield Finding(
                "warning",
                "tenon-bottoms",
                joint.name,
                f"The tenon {joint.its} is {mm(tenon)} mm long and {joint.seat} is {mm(depth)} mm deep: "
                f"{mm(room)} mm is left for glue.",
                "Glue caught under the tenon keeps the shoulder from closing.",
                f"Leave {mm(working.tenon_room)} mm or a little more: make the tenon "
                f"{mm(tenon_most(depth, working.tenon_room))} mm long.",
                joint.place,
                COMMON,
            )


def halvings_together(job: Job, placement: Placement) -> Iterator[Finding]:
    """Two halvings of one joint: what one leaves standing the other must take."""
    for joint in _alike_once(job):
        its, seat = seat_feature(job, joint.its), seat_feature(job, joint.seat)
        bearing = placement.bearing(joint.name)
        if bearing is None or not isinstance(its, Trenched) or not isinstance(seat, Trenched):
            continue
        if its.kind != "halving" or seat.kind != "halving":
            continue
        mine = bearing.meeting.entering.block.size(bearing.its.normal.axis)
        theirs = bearing.meeting.other.block.size(bearing.seat.normal.axis)
        first, second = its.trench().depth, seat.trench().depth
        if abs(first + second - mine) < 0.05 or abs(first + second - theirs) < 0.05:
            continue
        less = min(mine, theirs)
        yield Finding(
            "error",
            "halvings-do-not-add-up",
            joint.name,
            f"The halvings are {mm(first)} + {mm(second)} = {mm(first + second)} mm deep and the pieces {mm(less)} mm thick.",
            "The faces do not come flush.",
            f"Make the two depths add up to {mm(less)} mm.",
            joint.place,
            COMMON,
        )


def panels_between(job: Job, placement: Placement, knowledge: Knowledge) -> Iterator[Finding]:
    """A piece held by opposite edges in two placed pieces, in grooves that leave it room: is it small enough, does it stay
    in, may it move?"""
    said: set[tuple[str, Axis]] = set()
    for first, second in panel_pairs(job, placement):
        part = job.part_of(first.meeting.joint.enters_piece)
        axis = axis_of(_its_face(first))
        if (part.name, axis) in said:
            continue
        found = list(_panel(job, placement, knowledge, part, axis, first, second))
        if found:
            said.add((part.name, axis))
        yield from found


def panel_pairs(job: Job, placement: Placement) -> Iterator[tuple[Bearing, Bearing]]:
    """Pairs of joints that hold one piece by opposite faces, at least one of them in a fit for panels."""
    by_piece: dict[str, list[Bearing]] = {}
    for joint in job.joints.values():
        bearing = placement.bearing(joint.name)
        if bearing is not None and joint.its.face is not None and bearing.floor is not None:
            by_piece.setdefault(joint.enters_piece, []).append(bearing)
    for bearings in by_piece.values():
        low = [each for each in bearings if not is_high(_its_face(each))]
        high = [each for each in bearings if is_high(_its_face(each))]
        for first, second in product(low, high):
            if axis_of(_its_face(first)) == axis_of(_its_face(second)) and any(
                fit_of(job, each.meeting.joint) in PANEL_FITS for each in (first, second)
            ):
                yield first, second


def _its_face(bearing: Bearing) -> FaceName:
    face = bearing.meeting.joint.its.face
    assert face is not None
    return face


def _panel(
    job: Job, placement: Placement, knowledge: Knowledge, part: Part, axis: Axis, first: Bearing, second: Bearing
) -> Iterator[Finding]:
    size, opening = part.block.size(axis), abs(first.face - second.face)
    most = panel_most(opening, (first.depth, second.depth))
    room, word = most.value - size, AXIS_WORDS[axis]
    between = f"{first.meeting.joint.seat} and {second.meeting.joint.seat}"
    place = first.meeting.joint.place

    def says(level: Level, code: str, what: str, why: str, remedy: str, source: str = COMMON) -> Finding:
        return Finding(level, code, part.name, what, why, remedy, place or part.place, source)

    if room < -0.1:
        yield says(
            "error",
            "panel-too-long",
            f"Between {between} there is room for {most} mm; the {word} of the part is {mm(size)} mm, {mm(-room)} mm too long.",
            "The joints around it do not close.",
            f"Make its {word} at most {mm(most.value)} mm, or the grooves deeper.",
        )
        return
    holds = [size - opening - other.depth for one, other in ((first, second), (second, first)) if one.depth > NEAR]
    hold = knowledge.working.panel_hold
    if holds and min(holds) < hold - NEAR:
        out = min(holds) <= NEAR
        yield says(
            "error" if out else "warning",
            "panel-falls-out" if out else "panel-barely-held",
            f"Between {between} there is room for {most} mm; the {word} of the part is {mm(size)} mm. Pushed to one side it "
            + ("comes out of the other." if out else f"stays only {mm(min(holds))} mm in the other."),
            "It falls out or rattles.",
            f"Make its {word} at least {mm(opening + max(first.depth, second.depth) + hold)} mm, or the grooves deeper.",
        )
    if not stock_is_solid(job, part) or axis == part.grain:
        return
    coefficient, words = coefficient_of(job, part, axis, knowledge)
    need = panel_room(size, coefficient, job.moisture_change)
    if room < need - 0.05:
        yield says(
            "warning",
            "no-room-to-move",
            f"Between {between} there is room for {most} mm; the {word} of the part is {mm(size)} mm, which leaves "
            f"{mm(room)} mm. Across the grain it may swell {mm(need)} mm ({mm(size)} x {coefficient} x "
            f"{mm(job.moisture_change)}, {words}).",
            "A solid panel without room pushes the frame apart.",
            f"Make its {word} at most {mm(most.value - need)} mm, and keep glue out of the grooves.",
            MOVEMENT_SOURCE,
        )


def coefficient_of(job: Job, part: Part, axis: Axis, knowledge: Knowledge) -> tuple[float, str]:
    """Change of a solid part's size along an axis for each 1 % of moisture, and how it was chosen.

    The width of a flat-sawn board changes by the tangential coefficient, of a quarter-sawn one by the radial; unknown
    counts as flat-sawn, the larger. Source: Wood Handbook (FPL-GTR-190), chapter 13. Where no figure is known of the wood the
    largest of any wood on the list counts.
    """
    stock = job.stock[part.stock]
    material = find_material(stock.material, knowledge.materials, stock.botanical).material
    radial = (stock.sawn_as == "quarter") == (axis != "z")
    known = (material.radial, material.tangential) if material is not None else (None, None)
    if radial and known[0] is not None:
        return known[0], "radial"
    if known[1] is not None:
        return known[1], "tangential"
    return largest_movement(knowledge), "the largest on the list, because no figure is known for this wood"


def _size(span: tuple[float, float]) -> float:
    return span[1] - span[0]
