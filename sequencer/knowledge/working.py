"""The form of `lists/working-figures.yaml`: figures of the trade that belong to no one station, wood, glue or fitting."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import Field

from sequencer.model.fields import STRICT, Plain

WorkingName = Literal[
    "over-length",
    "least-over",
    "planed-end",
    "least-planed",
    "over-width",
    "gauge-reach",
    "partner-holds",
    "start-hole",
    "least-start-hole",
    "start-hole-beside",
    "strip-end",
    "strip-kerf",
    "hand-cut-trim",
    "stick-gap",
    "short-part",
    "stick-slender",
    "strip-at-bench",
    "strip-saves",
    "sawn-step",
    "most-left-on",
    "least-spares",
    "spare-share",
    "glue-warmth",
    "glue-cooler",
    "glue-warmer",
    "glue-doubles",
    "cramp-apart",
    "cramp-from-end",
    "cramp-span",
    "cramp-jaw",
    "jaw-block",
    "corner-block",
    "corner-block-share",
    "alone-cramps",
    "alone-joints",
    "square-within",
    "mitre-leans",
    "narrow-sheet",
    "jaw-meets",
    "wedge-offcut",
    "spline-over",
    "sawn-over",
    "pilot-share",
    "pilot-least",
    "many-beside",
    "seen-at-sign-off",
    "room-warmth",
    "least-movement",
    "tenon-room",
    "least-tenon-room",
    "panel-hold",
    "least-wall",
    "least-end-wall",
    "small-bore",
    "slot-cheek",
    "most-draw",
    "fastener-step",
    "fixed-width",
    "moves-much",
    "outdoor-class",
    "watched-machines",
    "watched-powered",
    "watched-edge-tools",
    "watched-hand-saws",
    "watched-gluing",
    "watched-benches",
    "one-teacher",
    "shown-in",
    "demonstration",
    "way-shown",
    "sign-off",
    "seen-long-ago",
    "held-long",
    "longest-idle",
    "turn-at-machine",
    "slot",
    "stretch",
    "least-part",
    "square-least",
    "out-of-square",
    "free-ends",
]


@dataclass(frozen=True, kw_only=True)
class WorkingFigure:
    """A figure of the trade: mm, a share from 0 to 1, degrees Celsius, minutes, or a number of things."""

    __pydantic_config__ = STRICT
    value: Annotated[Plain, Field(gt=0)]
    unit: Literal["mm", "share", "degrees", "number", "min"]
    means: Annotated[str, Field(min_length=1)]
    source: Annotated[str, Field(min_length=1)]


@dataclass(frozen=True, kw_only=True)
class Working:
    """The figures by name, as planning takes them; the list says what each means and where it is from. mm, shares, degrees
    Celsius, numbers of things.
    """

    over_length: float
    least_over: float
    planed_end: float
    least_planed: float
    over_width: float
    gauge_reach: float
    start_hole: float
    least_start_hole: float
    start_hole_beside: float
    strip_end: float
    strip_kerf: float
    hand_cut_trim: float
    stick_gap: float
    partner_holds: float
    short_part: float
    stick_slender: float
    strip_at_bench: float
    strip_saves: float
    sawn_step: float
    most_left_on: float
    least_spares: float
    spare_share: float
    glue_warmth: float
    glue_cooler: float
    glue_warmer: float
    glue_doubles: float
    cramp_apart: float
    cramp_from_end: float
    cramp_span: float
    cramp_jaw: float
    jaw_block: float
    corner_block: float
    corner_block_share: float
    alone_cramps: float
    alone_joints: float
    square_within: float
    mitre_leans: float
    narrow_sheet: float
    jaw_meets: float
    wedge_offcut: float
    spline_over: float
    sawn_over: float
    pilot_share: float
    pilot_least: float
    many_beside: float
    seen_at_sign_off: float
    room_warmth: float
    least_movement: float
    tenon_room: float
    least_tenon_room: float
    panel_hold: float
    least_wall: float
    least_end_wall: float
    small_bore: float
    slot_cheek: float
    most_draw: float
    fastener_step: float
    fixed_width: float
    moves_much: float
    outdoor_class: float
    watched_machines: float
    watched_powered: float
    watched_edge_tools: float
    watched_hand_saws: float
    watched_gluing: float
    watched_benches: float
    one_teacher: float
    shown_in: float
    demonstration: float
    way_shown: float
    sign_off: float
    seen_long_ago: float
    held_long: float
    longest_idle: float
    turn_at_machine: float
    slot: float
    stretch: float
    least_part: float
    square_least: float
    out_of_square: float
    free_ends: float
