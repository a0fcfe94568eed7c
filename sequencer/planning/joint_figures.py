"""What is known of a group of joints: how many of which kind, what holds them, and the cramps that close them. mm."""

from __future__ import annotations

from collections.abc import Sequence

from sequencer.design.fixing import pinned_in_rebate
from sequencer.design.placement import Placement
from sequencer.features.tongue import Tongue
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.working import Working
from sequencer.model.frame import AXES, axis_of
from sequencer.model.job import Job, Joint
from sequencer.model.quantities import Figures
from sequencer.planning.fastening import fastener_figures, metal_in
from sequencer.planning.glue_words import blind
from sequencer.planning.groups import Group, fixing_of, kept_in, laid_in
from sequencer.planning.loose import LooseSet
from sequencer.planning.mitred_corners import mitre_figures, mitred
from sequencer.planning.offsets import placed_by_size
from sequencer.planning.pressing import cramps_along, is_lap, presses
from sequencer.planning.squareness import square_figures


def joint_figures(
    job: Job,
    group: Group,
    placement: Placement,
    loose: Sequence[LooseSet],
    earlier: Sequence[Group],
    knowledge: Knowledge | None,
) -> dict[str, float]:
    """The `joint.*` figures of a group. `loose`: the loose pieces in its joints; `earlier`: the groups that are closed before;
    without `knowledge` neither fasteners nor squareness nor who can close it alone are known."""
    working = knowledge.working if knowledge is not None else None
    figures: dict[str, float] = {
        "joint.count": len(group.joints) / group.times,
        **_cramp_figures(job, group, placement, working),
        "joint.alike": float(group.times),
        "joint.placed": float(placed_by_size(job, group.joints)),
        "joint.lies-in": sum(1.0 for joint in group.joints if joint.name in kept_in(job)),
        "joint.laid-in": float(len(group.joints) if all(laid_in(job, joint) for joint in group.joints) else 0),
        "joint.glued": sum(1.0 for joint in group.joints if fixing_of(joint) == "glue"),
        "joint.blind": sum(1.0 for joint in group.joints if blind(job, joint)),
        "joint.captured": float(len(group.captured)),
        "joint.moving": sum(1.0 for joint in group.joints if joint.fit in ("sliding", "loose-pivot")),
        "joint.nailed": sum(1.0 for joint in group.joints if "nails" in joint.fixed),
        "joint.nailed-mitres": sum(1.0 for joint in group.joints if "nails" in joint.fixed and mitred(job, joint)),
        "joint.rebated": sum(1.0 for joint in group.joints if pinned_in_rebate(job, joint)),
    }
    if knowledge is not None and working is not None:
        figures |= square_figures(job, group, placement, working, earlier)
        if metal_in(group):
            figures |= fastener_figures(job, group, placement, knowledge.fasteners, working)
    figures["joint.dowelled"] = float(sum(each.count for each in loose if each.kind == "dowel"))
    figures["joint.wedged"] = float(sum(len(each.joints) for each in loose if each.kind == "wedge"))
    if working is not None:
        alone = figures["joint.cramps"] <= working.alone_cramps and figures["joint.count"] <= working.alone_joints
        figures["joint.partner"] = float(not alone)
    return figures


def _cramp_figures(job: Job, group: Group, placement: Placement, working: Working | None) -> Figures:
    """Cramps for one glue-up, of all that are glued alike in it, and how far they open, mm; mitres among the joints of one of
    these, which take a cramp each, or as many as their corner is high for.
    A joint whose pieces have no place is taken to need one."""
    glued = [joint for joint in group.joints if fixing_of(joint) == "glue" and _cramped(job, joint)]
    if working is None:
        return {"joint.reach": _reach(job, glued), "joint.cramps": float(len(glued)), "joint.mitred": 0.0}
    corners_of = mitre_figures(job, glued, group.times, working)
    along = cramps_along(corners_of["joint.mitre-high"], working) if corners_of["joint.mitred-box"] else 1
    mitres = [joint for joint in glued if mitred(job, joint)]
    unplaced = [joint for joint in glued if joint not in mitres and placement.bearing(joint.name) is None]
    found = list(presses(job, group.joints, placement, working))
    openings = [press.opening for press in found]
    corners = [piece for joint in mitres for piece in (joint.enters_piece, joint.seat.piece) if piece in placement.poses]
    for axis in AXES if corners else ():
        spans = [placement.span(piece, axis) for piece in corners]
        openings.append(max(high for _, high in spans) - min(low for low, _ in spans))
    return {
        "joint.reach": max((*openings, _reach(job, unplaced) + 2 * working.jaw_block if unplaced else 0.0), default=0.0),
        "joint.block": working.jaw_block,
        "joint.cramps": float(sum(press.number for press in found) + len(unplaced) + along * len(mitres)),
        **corners_of,
    }


def _cramped(job: Job, joint: Joint) -> bool:
    """Whether anything is drawn up at a joint: a rod is only pushed in."""
    return job.part_of(joint.enters_piece).section != "round"


def _reach(job: Job, joints: Sequence[Joint]) -> float:
    """Longest cramp needed, mm: a glued piece is cramped over its own size in the direction it enters, plus the thickness
    of the pieces on both sides; the longest of these."""
    longest = 0.0
    for joint in joints:
        part = job.part_of(joint.enters_piece)
        if is_lap(joint):
            own = part.features[joint.its.feature]
            along = axis_of(own.opens()[0])
            # Cramped over both pieces where they cross: the entering one is let in by the depth of its own lap.
            inside = own.figures(part.block).get("feature.depth", 0.0)
            longest = max(longest, part.block.size(along) - inside + _beyond(job, joint))
            continue
        tongue = part.features.get(joint.its.feature)
        along = axis_of(joint.its.face or (tongue.edge if isinstance(tongue, Tongue) else "left"))
        longest = max(longest, part.block.size(along) + 2 * _beyond(job, joint))
    return longest


def _beyond(job: Job, joint: Joint) -> float:
    """How much of the taking piece lies beyond the entering one in the direction it enters, mm."""
    taking = job.part_of(joint.seat.piece)
    if joint.seat.face:
        return taking.block.size(axis_of(joint.seat.face))
    feature = taking.features[joint.seat.feature]
    if feature.kind == "bridle":
        return taking.block.size(axis_of(feature.opens()[1]))
    return taking.block.size(axis_of(feature.opens()[0])) - feature.figures(taking.block).get("feature.depth", 0.0)
