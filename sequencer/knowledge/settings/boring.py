"""Settings of boring: bit, spindle speed, depth stop, chisel of a mortise."""

from __future__ import annotations

from sequencer.knowledge.forms.cutters import DrillBit, DrillSpeed
from sequencer.knowledge.settings.base import STAFF_DECIDE, Given, setting, settings, spoken
from sequencer.knowledge.settings.speeds import cutting_speed, step_at_or_below, turns_for
from sequencer.model.plan import Setting


@settings(
    "drill",
    gives=("bit", "speed", "depth"),
    figures={"diameter": "feature.diameter", "depth": "feature.depth"},
    words={"bit": None, "lowest_step": "refused"},
)
def drill(given: Given) -> tuple[Setting, ...]:
    """Bit, spindle speed and depth stop. The speed is the one advised for kind of bit, diameter and hardness
    (`lists/drill-bits.yaml`), brought down to the nearest step of the machine, never up. Where even the lowest step is
    faster, staff decide unless the operation says `lowest_step: allowed`.
    """
    bit = given.request.drill_bits.get(given.words["bit"])
    return (
        bit_setting(given),
        spindle_speed(given, bit, given.figures["diameter"]),
        setting("depth", "depth stop", given.figures["depth"]),
    )


@settings(
    "bore-by-hand",
    gives=("bit", "depth"),
    figures={"diameter": "feature.diameter", "depth": "feature.depth"},
    words={"bit": None},
)
def bore_by_hand(given: Given) -> tuple[Setting, ...]:
    """Bit and depth for brace or hand drill: the sizes of the hole itself; no speed to set."""
    return (bit_setting(given), setting("depth", "depth", given.figures["depth"]))


@settings("mortise", gives=("chisel", "depth"), figures={"chisel": "feature.width", "depth": "feature.depth"})
def mortise(given: Given) -> tuple[Setting, ...]:
    """Chisel as wide as the mortise, depth stop at its depth."""
    return (
        setting("chisel", "chisel width", given.figures["chisel"]),
        setting("depth", "depth stop", given.figures["depth"]),
    )


def bit_setting(given: Given) -> Setting:
    """The bit by its diameter and kind."""
    bit = given.request.drill_bits.get(given.words["bit"])
    return setting("bit", "bit", given.figures["diameter"], text=f"{{}} {bit.name}" if bit else "{}")


def spindle_speed(given: Given, bit: DrillBit | None, diameter: float | None) -> Setting:
    """The speed advised for the bit, then the nearest step of the machine that is not above it. For a bit larger than the list
    has, staff decide, and are told the speed at which its rim is no faster than that of the largest listed, n = 1000 v / (pi d)
    with v = pi D N / 1000."""
    if bit is None or diameter is None or not bit.speeds:
        return setting("speed", "speed", None, "rev/min")
    row = next((row for row in bit.speeds if diameter <= row.up_to), None)
    if row is None:
        largest = bit.speeds[-1]
        most = turns_for(cutting_speed(largest.up_to, _advised(largest, given.request.hardness)), diameter)
        text = f"{STAFF_DECIDE}, at most {spoken(float(int(most)), 'rev/min')}"
        return Setting("speed", "speed", text, None, "rev/min")
    advised = _advised(row, given.request.hardness)
    steps = given.request.speeds
    if not steps:
        return setting("speed", "speed", advised, "rev/min", "at most {}")
    step = step_at_or_below(advised, steps)
    if step is None and given.words["lowest_step"] == "allowed":
        step = min(steps)
    return setting("speed", "speed", step, "rev/min")


def _advised(row: DrillSpeed, hardness: str) -> float:
    """The speed of a row for a hardness, rev/min; the lower where that is not known."""
    return {"softwood": row.softwood, "hardwood": row.hardwood, "sheet": row.hardwood}.get(
        hardness, min(row.softwood, row.hardwood)
    )
