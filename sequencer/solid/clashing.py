"""Pieces that stand in each other where the joints put them. mm, mm3."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sequencer.design.joining import fit_of, seat_feature
from sequencer.design.placement import Placement
from sequencer.design.sums import COMMON
from sequencer.features.base import mm
from sequencer.findings import Finding
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.settings.fits import allowance
from sequencer.model.job import Job, Joint
from sequencer.reading.words import listed
from sequencer.solid.solids import Solid
from sequencer.solid.sweeping import LEAST_THICKNESS, beyond_a_touch
from sequencer.solid.whereabouts import place_on, sizes


@dataclass(frozen=True, eq=False)
class Clash:
    """Two pieces that stand in each other: `solid` is what they share, where it is in their group."""

    pieces: tuple[str, str]
    solid: Solid

    @property
    def volume(self) -> float:
        """mm3."""
        return self.solid.volume


def clashes(placement: Placement, standing: Mapping[str, Solid]) -> tuple[Clash, ...]:
    """Every two pieces of one group that share more than a touch, in the order they were placed, meant or not."""
    found = []
    for group in placement.groups:
        for first, second in _near_pairs([standing[name] for name in group]):
            one, other = group[first], group[second]
            shared = beyond_a_touch(standing[one] & standing[other])
            if shared is not None:
                found.append(Clash((one, other), shared))
    return tuple(found)


def _near_pairs(solids: Sequence[Solid]) -> Iterator[tuple[int, int]]:
    """Pairs of bodies whose boxes share more than a touch."""
    low = np.array([solid.bounds.low for solid in solids])
    high = np.array([solid.bounds.high for solid in solids])
    for first in range(len(solids) - 1):
        shared = np.minimum(high[first], high[first + 1 :]) - np.maximum(low[first], low[first + 1 :])
        for step in np.flatnonzero(np.all(shared > LEAST_THICKNESS, axis=1)):
            yield first, first + 1 + int(step)


def unmeant(job: Job, knowledge: Knowledge, found: Sequence[Clash]) -> tuple[Clash, ...]:
    """The clashes that nobody means: without a driven fit's tightness and without what a key or wedge pulls up."""
    return tuple(each for each in found if not _driven(job, knowledge, each) and not _draws(job, knowledge, each))


def clash_findings(job: Job, placement: Placement, knowledge: Knowledge, found: Sequence[Clash]) -> Iterator[Finding]:
    """An error for each clash nobody means, a note for each key drawn into what it pulls up; alike ones said once."""
    wrong = unmeant(job, knowledge, found)
    for alike in _alike(job, wrong):
        yield _clash(job, placement, alike)
    for alike in _alike(job, [each for each in found if _draws(job, knowledge, each)]):
        yield _drawn_up(job, alike)


def _between(job: Job, clash: Clash) -> Iterator[Joint]:
    return (joint for joint in job.joints.values() if {joint.enters_piece, joint.seat.piece} == set(clash.pieces))


def _driven(job: Job, knowledge: Knowledge, clash: Clash) -> bool:
    """Whether the two are driven into each other no tighter than that fit is."""
    if not any(fit_of(job, joint) == "driven" for joint in _between(job, clash)):
        return False
    tight = -allowance(knowledge.fits.get("driven"), None, moves=False).least
    return all(body.thickness <= tight + LEAST_THICKNESS for body in clash.solid.pieces())


def _draws(job: Job, knowledge: Knowledge, clash: Clash) -> bool:
    """Whether one is a key driven through the piece that the other is keyed to, and shallow enough to pull it up."""
    if any(
        min(body.bounds.size(axis) for axis in ("x", "y", "z")) > knowledge.working.most_draw for body in clash.solid.pieces()
    ):
        return False
    return any(_key_through(job, key, other) for key, other in (clash.pieces, clash.pieces[::-1]))


def _key_through(job: Job, key: str, other: str) -> bool:
    through = {joint.seat.piece for joint in job.joints.values() if joint.enters_piece == key and fit_of(job, joint) == "driven"}
    return any(
        {"key", "wedge"} & set(joint.fixed) and {joint.enters_piece, joint.seat.piece} in [{other, each} for each in through]
        for joint in job.joints.values()
    )


def _alike(job: Job, found: Sequence[Clash]) -> list[list[Clash]]:
    """Clashes of pieces of the same two parts that share as much."""
    alike: dict[tuple[object, ...], list[Clash]] = {}
    for each in found:
        parts = tuple(sorted(job.pieces()[name].part for name in each.pieces))
        alike.setdefault((*parts, round(each.volume)), []).append(each)
    return list(alike.values())


def _clash(job: Job, placement: Placement, alike: Sequence[Clash]) -> Finding:
    first, *more = alike
    one, other = first.pieces
    box = first.solid.pieces()[0].bounds
    what = f"{one} and {other} stand in each other: they share {sizes(box)}, {first.volume:.0f} mm3, "
    what += f"{place_on(placement, one, box)} and {place_on(placement, other, box)}."
    if more:
        what += f" So do {listed([' and '.join(each.pieces) for each in more])}."
    joint = next(_between(job, first), None)
    shared = _same_seat(job, one, other)
    if shared:
        remedy = f"Both go to the same place of {shared}: draw one more there, or leave one piece out."
    elif _tenoned(job, one) & _tenoned(job, other):
        remedy = "Make the tenons shorter, mitre their ends, or set one higher than the other."
    elif joint is not None:
        remedy = f"Make room at {joint.seat}, or make {joint.enters_piece} smaller there."
    else:
        remedy = "Shorten one, cut one out for the other, or correct the sizes that put them there."
    part = job.part_of(one)
    return Finding(
        "error",
        "clash",
        joint.name if joint else part.name,
        what,
        "Two pieces cannot be in one place: the thing cannot be put together as drawn.",
        remedy,
        joint.place if joint else part.place,
        COMMON,
    )


def _same_seat(job: Job, one: str, other: str) -> str:
    """The feature that both pieces are let into, or nothing."""
    seats = [
        {str(joint.seat) for joint in job.joints.values() if joint.enters_piece == piece and joint.seat.feature}
        for piece in (one, other)
    ]
    return min(seats[0] & seats[1], default="")


def _tenoned(job: Job, piece: str) -> set[str]:
    """The pieces that a piece goes into by a tenon."""
    tenons = (joint for joint in job.joints.values() if joint.enters_piece == piece)
    return {joint.seat.piece for joint in tenons if (its := seat_feature(job, joint.its)) is not None and its.kind == "tenon"}


def _drawn_up(job: Job, alike: Sequence[Clash]) -> Finding:
    first, *more = alike
    key, other = first.pieces if _key_through(job, *first.pieces) else first.pieces[::-1]
    deep = max(min(body.bounds.size(axis) for axis in ("x", "y", "z")) for body in first.solid.pieces())
    what = f"{key} is drawn {mm(deep)} mm into {other}"
    if more:
        what += f", and so are {listed([' and '.join(each.pieces) for each in more])}"
    joint = next(joint for joint in job.joints.values() if joint.enters_piece == key and fit_of(job, joint) == "driven")
    return Finding(
        "note",
        "draws-tight",
        joint.name,
        f"{what}: driven home, it pulls the joint tight and stands that much less far in.",
        "",
        "Try it before it is cut to its length.",
        joint.place,
        COMMON,
    )
