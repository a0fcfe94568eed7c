"""What is known of the mitres of a glue-up: of a frame or of a box, closed in a ring or not, and the blocks that fit round their
corners. mm.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from sequencer.features.base import NEAR
from sequencer.features.mitre import Mitre
from sequencer.knowledge.working import Working
from sequencer.model.job import Job, Joint, Part
from sequencer.model.quantities import Figures

SQUARE_CORNER = 45.0
"""The angle of the mitres that meet in a square corner, degrees: plane geometry."""


def mitred(job: Job, joint: Joint) -> bool:
    """Whether a joint is of two slopes, which cramps push along each other unless something holds the corner."""
    ends = ((joint.enters_piece, joint.its.feature), (joint.seat.piece, joint.seat.feature))
    return any(feature and job.part_of(piece).features[feature].ends_part() for piece, feature in ends)


def mitres_of(job: Job, joint: Joint) -> Iterator[tuple[str, Part, Mitre]]:
    """The mitres that meet in a joint, each with its piece and part."""
    for piece, name in ((joint.enters_piece, joint.its.feature), (joint.seat.piece, joint.seat.feature)):
        part = job.part_of(piece)
        feature = part.features.get(name)
        if isinstance(feature, Mitre):
            yield piece, part, feature


def mitre_figures(job: Job, glued: Sequence[Joint], times: int, working: Working | None) -> Figures:
    """The `joint.mitre…` figures of the joints that a group glues, which makes so many alike sub-assemblies; zeros where none of
    them is a mitre."""
    mitres = [joint for joint in glued if mitred(job, joint)]
    ends = [each for joint in mitres for each in mitres_of(job, joint)]
    box = sum(any(mitre.across() == "z" for _, _, mitre in mitres_of(job, joint)) for joint in mitres)
    odd = sum(any(abs(mitre.angle - SQUARE_CORNER) > NEAR for _, _, mitre in mitres_of(job, joint)) for joint in mitres)
    figures = {
        "joint.mitred": len(mitres) / times,
        "joint.mitred-box": box / times,
        "joint.mitred-frame": (len(mitres) - box) / times,
        "joint.mitred-odd": odd / times,
        "joint.mitred-ring": float(len(mitres) == len(glued) and _is_ring(mitres)),
        "joint.mitre-side": min((part.block.length for _, part, _ in ends), default=0.0),
        "joint.mitre-high": max((part.block.size(mitre.through()) for _, part, mitre in ends), default=0.0),
        "joint.mitre-thick": max((part.block.size(mitre.across()) for _, part, mitre in ends), default=0.0),
    }
    if working is not None and ends:
        # In whole millimetres, as a block is sawn.
        figures["joint.corner-block"] = float(
            int(min(working.corner_block, working.corner_block_share * figures["joint.mitre-side"]))
        )
    return figures


def _is_ring(mitres: Sequence[Joint]) -> bool:
    """Whether every piece stands between two others."""
    meets = Counter(piece for joint in mitres for piece in (joint.enters_piece, joint.seat.piece))
    return bool(meets) and set(meets.values()) == {2}
