"""What a joint is, read from its two seats: its fit, its two features, which piece a screw head sits on."""

from __future__ import annotations

from sequencer.features.base import Feature
from sequencer.model.frame import axis_of
from sequencer.model.job import Fit, Job, Joint, Part, Seat

PANEL_FITS: tuple[Fit, ...] = ("sheet-panel", "sheet-panel-glued", "solid-panel")
"""Fits that hold a panel by its edges and leave it room."""

MOVING_FITS: tuple[Fit, ...] = ("sliding", "loose-pivot")
"""Fits in which one piece is to move in the other."""

RIGID = ("glue", "screws", "nails")
"""Fixings that let nothing move."""


def seat_feature(job: Job, seat: Seat) -> Feature | None:
    """The feature a seat names, or None if it is a face."""
    return job.part_of(seat.piece).features.get(seat.feature) if seat.feature else None


def fit_of(job: Job, joint: Joint) -> Fit:
    """The fit as stated, else the usual one: a groove holds a panel, a housing or mortise what is housed in it."""
    if joint.fit is not None:
        return joint.fit
    if joint.crossing:
        return "lapped"
    its, seat = seat_feature(job, joint.its), seat_feature(job, joint.seat)
    if its is not None and its.kind == "tenon":
        return "housed"
    if seat is None:
        return "face"
    if seat.kind == "groove" and its is None:
        return "sheet-panel" if not job.stock[job.part_of(joint.enters_piece).stock].solid else "solid-panel"
    if seat.kind == "halving":
        return "lapped"
    if seat.kind == "rebate" and joint.its.face is not None and axis_of(joint.its.face) == "z":
        return "face"
    return "housed"


def stock_is_solid(job: Job, part: Part) -> bool:
    """Whether the part moves across its grain; a part whose stock is unknown does."""
    stock = job.stock.get(part.stock)
    return stock is None or (stock.solid and stock.form != "bought")
