"""Settings of holes for wood screws, by gauge."""

from __future__ import annotations

from dataclasses import replace
from math import ceil

from sequencer.knowledge.settings.base import Given, setting, settings
from sequencer.knowledge.settings.boring import spindle_speed
from sequencer.knowledge.settings.fasteners import fastener_setting
from sequencer.model.plan import Setting


@settings(
    "screw-holes",
    gives=("clearance", "pilot", "countersink", "speed"),
    figures={"gauge": "feature.gauge", "hole": "feature.diameter", "bit_step": 0.0},
    words={"bit": "twist", "lowest_step": "refused"},
)
def screw_holes(given: Given) -> tuple[Setting, ...]:
    """Holes for a wood screw by its gauge (`lists/screws.yaml`): clearance hole in the first piece, pilot hole in the
    second by hardness, countersink to the head. With `bit_step` the sizes go to what a bit set holds: the clearance hole
    up, the pilot hole to the nearest step. The speed is that of the larger bit, which is the lower one.
    """
    bit = given.request.drill_bits.get(given.words["bit"])
    clearance, *others = _screw_sizes(given)
    sizes = (replace(clearance, label=f"{clearance.label}, {bit.name}") if bit else clearance, *others)
    return (*sizes, spindle_speed(given, bit, sizes[0].value))


@settings(
    "screw-holes-by-hand",
    gives=("clearance", "pilot", "countersink"),
    figures={"gauge": "feature.gauge", "hole": "feature.diameter", "bit_step": 0.0},
)
def screw_holes_by_hand(given: Given) -> tuple[Setting, ...]:
    """As `screw-holes`, for a hand drill: no speed to set."""
    return _screw_sizes(given)


@settings(
    "pilot-holes",
    gives=("length", "pilot", "depth"),
    figures={
        "gauge": "feature.gauge",
        "bit_step": 0.5,
        "length": "joint.fastener",
        "held": "joint.held",
        "depth": "joint.pilot-depth",
        "least": "joint.pilot-least",
        "hole": 0.0,
    },
    words={"bit": "twist"},
    optional=("length",),
)
def pilot_holes(given: Given) -> tuple[Setting, ...]:
    """Length of the screws, the hole for their thread in the second piece, by gauge and hardness, and where the tape sits on its
    bit: no farther than its flutes reach (`lists/drill-bits.yaml`), and where that is not enough staff decide."""
    pilot = _screw_sizes(given)[1]
    return (
        fastener_setting(given, "screws"),
        pilot,
        setting("depth", "tape on the pilot bit", _drilled(given, pilot.value), text="{} from the point"),
    )


def _drilled(given: Given, pilot: float | None) -> float | None:
    """How deep a pilot hole is drilled, mm; None where the screw or the bit is not known, or the bit is too short."""
    bit = given.request.drill_bits.get(given.words["bit"])
    reach = None if bit is None or pilot is None else bit.drills(pilot)
    depth, least = given.figures["depth"], given.figures["least"]
    if reach is None or depth is None or least is None or reach < least:
        return None
    return min(depth, reach)


def _screw_sizes(given: Given) -> tuple[Setting, Setting, Setting]:
    """Clearance hole, pilot hole and countersink of a wood screw."""
    gauge, step = given.figures["gauge"], given.figures["bit_step"]
    screw = None if gauge is None else given.request.screws.get(round(gauge))
    clearance = pilot = head = None
    if screw is not None:
        clearance, head = screw.clearance, screw.head
        pilot = {"softwood": screw.pilot_softwood, "sheet": screw.pilot_softwood, "hardwood": screw.pilot_hardwood}.get(
            given.request.hardness
        )
        if step:
            clearance = ceil(round(clearance / step, 9)) * step
            pilot = None if pilot is None else round(pilot / step) * step
    clearance = clearance if given.figures["hole"] is None else given.figures["hole"]
    return (
        setting("clearance", "clearance hole", clearance),
        setting("pilot", "pilot hole", pilot),
        setting("countersink", "countersink across", head),
    )
