"""What solid wood does over the year in this room: how damp it should be when it is cut, and the gap that panels and drawers
need. mm, percent, degrees Celsius."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from sequencer.design.fitting import coefficient_of
from sequencer.design.joining import fit_of, stock_is_solid
from sequencer.features.base import mm
from sequencer.findings import Finding
from sequencer.knowledge.settings.moisture import (
    EMC_SOURCE,
    LEAST_KNOWN,
    MOST_KNOWN,
    MOVEMENT_SOURCE,
    Air,
    panel_room,
)
from sequencer.model.frame import AXIS_WORDS, Axis
from sequencer.model.job import Job, Joint, Part
from sequencer.planning.shop import Shop


def room_air(shop: Shop) -> Air | None:
    """The air of the room over the year, if the workshop file states it."""
    humidity, temperature = shop.workshop.humidity, shop.workshop.temperature
    if humidity is None:
        return None
    warmth = shop.knowledge.working.room_warmth if temperature is None else min(max(temperature, 0.0), 50.0)
    return Air(*humidity, warmth)


def swing_of(shop: Shop) -> float:
    """How far the moisture of wood goes in a year, percentage points: the larger of what the room's air gives and what the
    drawing counts on."""
    air = room_air(shop)
    return max(shop.job.moisture_change, air.swing if air is not None else 0.0)


def gap_of(shop: Shop, joint: Joint) -> tuple[Part, Axis, float] | None:
    """The solid part that a joint leaves free to move or lets slide, the axis across its grain on which it moves most, and how
    far, mm. None where nothing moves or the joint holds it."""
    job = shop.job
    part = job.part_of(joint.enters_piece)
    if fit_of(job, joint) not in ("solid-panel", "sliding") or not stock_is_solid(job, part) or part.stock not in job.stock:
        return None
    across = max((axis for axis in AXIS_WORDS if axis != part.grain), key=part.block.size)
    coefficient, _ = coefficient_of(job, part, across, shop.knowledge)
    moves = panel_room(part.block.size(across), coefficient, swing_of(shop))
    return (part, across, moves) if moves >= shop.knowledge.working.least_movement else None


def moving_parts(shop: Shop, names: Iterable[str]) -> dict[str, float]:
    """Letter of each part that the joints named leave free to move, and what to leave on each side in the dry season, mm to one
    decimal, rounded up."""
    found = (gap_of(shop, shop.job.joints[name]) for name in names)
    return {part.letter: -(-moves * 5 // 1) / 10 for part, _, moves in filter(None, found)}


def moving_findings(shop: Shop) -> Iterator[Finding]:
    """How damp the wood should be, a swing that is larger than the drawing counts on, and the gap of every free panel."""
    air = room_air(shop)
    if air is not None and any(stock_is_solid(shop.job, part) for part in shop.job.parts.values()):
        yield from _air_findings(shop.job, air)
    said: set[str] = set()
    for joint in shop.job.joints.values():
        gap = gap_of(shop, joint)
        if gap is not None and gap[0].name not in said:
            said.add(gap[0].name)
            yield _gap_finding(shop, *gap)


def _air_findings(job: Job, air: Air) -> Iterator[Finding]:
    dry, damp = air.moisture
    year = (
        f"The room goes from {mm(air.driest)} to {mm(air.dampest)} % humidity at {mm(air.temperature)} degrees, so that wood in "
        f"it goes from {dry:.1f} to {damp:.1f} % moisture"
    )
    yield Finding(
        "note",
        "wood-moisture",
        "room.humidity",
        f"{year}.",
        "Wood that is wetter or drier than the room moves after it is made.",
        f"Let solid wood lie in the room until it is between {dry:.0f} and {damp:.0f} %, and measure it before it is cut.",
        source=EMC_SOURCE,
    )
    if air.swing > job.moisture_change + 0.05:
        yield Finding(
            "warning",
            "moisture-swing",
            "room.humidity",
            f"{year}: {air.swing:.1f} points. The drawing is checked for {mm(job.moisture_change)}.",
            "Panels and wide boards then move further than the checks of the drawing allow for.",
            f"Write moisture_change: {air.swing:.1f} in the job file and check it again.",
            source=EMC_SOURCE,
        )
    if dry < LEAST_KNOWN or damp > MOST_KNOWN:
        yield Finding(
            "note",
            "moisture-outside",
            "room.humidity",
            f"Wood in this room goes from {dry:.1f} to {damp:.1f} % moisture; what is known of movement holds from 6 to 14 %.",
            "Outside that range the figures are somewhat off.",
            "Leave a little more room than printed.",
            source=MOVEMENT_SOURCE,
        )


def _gap_finding(shop: Shop, part: Part, axis: Axis, moves: float) -> Finding:
    size = part.block.size(axis)
    coefficient, words = coefficient_of(shop.job, part, axis, shop.knowledge)
    return Finding(
        "note",
        "season-gap",
        part.name,
        f"Across the grain its {AXIS_WORDS[axis]} moves {moves:.1f} mm over the year ({mm(size)} x {coefficient} x "
        f"{swing_of(shop):.1f}, {words}).",
        "Solid wood without room pushes its frame apart; wood that shrinks comes out of a shallow groove.",
        f"Fitted in the driest season, leave {moves / 2:.1f} mm on each side. Fitted in the dampest, leave none, and let the "
        f"grooves hold it {moves / 2:.1f} mm deeper on each side.",
        source=MOVEMENT_SOURCE,
    )
