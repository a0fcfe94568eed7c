"""Round work: rods held to be sawn, lines of the octagon on a square stick, and speeds of the lathe."""

from __future__ import annotations

from math import sqrt

from sequencer.knowledge.settings.base import Given, setting, settings
from sequencer.knowledge.settings.speeds import most_turns, step_at_or_below
from sequencer.model.plan import Setting

FLAT = 1 - 1 / sqrt(2)
"""Of the width of a square: from each corner to where a flat of the octagon in it begins. Plain geometry; the trade's 7 in 24."""


@settings("octagon", gives=("gauge", "diameter"), figures={"across": "feature.diameter", "diameter": "feature.diameter"})
def octagon(given: Given) -> tuple[Setting, ...]:
    """Gauge lines for the octagon on a stick that is planed round: from each edge 0.293 of the width of the square, so that
    each of the eight sides is 0.414 of it. Plain geometry."""
    across = given.figures["across"]
    return (
        setting("gauge", "gauge from each edge", None if across is None else FLAT * across),
        setting("diameter", "finished diameter", given.figures["diameter"]),
    )


@settings("held-rod", gives=("clear",), figures={"clear": None})
def held_rod(given: Given) -> tuple[Setting, ...]:
    """A short piece sawn off a rod, which is held: how much of the rod lies beside the cut. The piece drops free."""
    return (setting("clear", "rod held beside the cut", given.figures["clear"], text="at least {}"),)


@settings(
    "turning",
    gives=("roughing", "speed", "diameter"),
    figures={
        "across": "blank.width",
        "diameter": "feature.diameter",
        "rough_rim": None,
        "rough_most": None,
        "rim": None,
        "most": None,
    },
)
def turning(given: Given) -> tuple[Setting, ...]:
    """Speeds of the lathe for a stick that is so much across: until it is round, and to shape it. Each is the speed at which its
    outside runs at the rim speed v, n = 60 000 v / (pi d) with v in m/s and d in mm, but no more than the most; then the
    nearest step of the machine that is not above it. Where even the lowest step is faster, staff decide. The diameter is what
    callipers are set to where it is thickest."""
    return (
        _speed(given, "roughing", "speed until it is round", "rough_rim", "rough_most"),
        _speed(given, "speed", "speed to shape it", "rim", "most"),
        setting("diameter", "largest finished diameter", given.figures["diameter"]),
    )


def _speed(given: Given, name: str, label: str, rim: str, most: str) -> Setting:
    across, metres, fastest = given.figures["across"], given.figures[rim], given.figures[most]
    if not across or metres is None or fastest is None:
        return setting(name, label, None, "rev/min")
    advised = min(fastest, most_turns(metres, across))
    steps = given.request.speeds
    if not steps:
        return setting(name, label, float(int(advised)), "rev/min", "at most {}")
    return setting(name, label, step_at_or_below(advised, steps), "rev/min")
