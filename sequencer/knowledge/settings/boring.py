"""Settings of boring: bit, spindle speed, depth stop, chisel of a mortise."""

from __future__ import annotations

from sequencer.knowledge.formats import DrillBit
from sequencer.knowledge.settings.base import Given, setting, settings
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
    """The speed advised for the bit, then the nearest step of the machine that is not above it."""
    row = None
    if bit is not None and diameter is not None:
        row = next((row for row in bit.speeds if diameter <= row.up_to), None)
    if row is None:
        return setting("speed", "speed", None, "rev/min")
    advised = {"softwood": row.softwood, "hardwood": row.hardwood, "sheet": row.hardwood}.get(
        given.request.hardness, min(row.softwood, row.hardwood)
    )
    steps = given.request.speeds
    if not steps:
        return setting("speed", "speed", advised, "rev/min", "at most {}")
    slower = [step for step in steps if step <= advised]
    if slower:
        return setting("speed", "speed", max(slower), "rev/min")
    allowed = given.words["lowest_step"] == "allowed"
    return setting("speed", "speed", min(steps) if allowed else None, "rev/min")
