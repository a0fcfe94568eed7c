"""Settings of slopes cut by hand: tails, pins, sloped channels."""

from __future__ import annotations

from sequencer.features.base import mm
from sequencer.knowledge.settings.base import Figure, Given, setting, settings
from sequencer.model.plan import Setting

_SLOPED: dict[str, Figure] = {"angle": "feature.angle", "slope": "feature.slope"}


def _slope(given: Given) -> Setting:
    """The slope as a sliding bevel is set to it: from the angle and, where it is known, 1 in how many."""
    angle, slope = given.figures["angle"], given.figures["slope"]
    return setting("angle", "slope", angle, "deg", "{}" if slope is None else f"1 in {mm(slope)}, {{}}")


@settings("sloped-end", gives=("angle", "depth"), figures={**_SLOPED, "depth": "feature.length"})
def sloped_end(given: Given) -> tuple[Setting, ...]:
    """Tails or a sloped end to saw to their lines: slope, and shoulder line from the end. The angle is the one whose tangent
    is 1 in the slope; plain geometry."""
    return (_slope(given), setting("depth", "shoulder line from the end", given.figures["depth"]))


@settings("pins", gives=("angle", "reach"), figures={**_SLOPED, "reach": "feature.length"})
def pins(given: Given) -> tuple[Setting, ...]:
    """Sockets right through, between pins: slope, and how far they go in from the end."""
    return (_slope(given), setting("reach", "sockets from the end", given.figures["reach"]))


@settings(
    "lapped-pins",
    gives=("angle", "reach", "depth"),
    figures={**_SLOPED, "reach": "feature.length", "depth": "feature.depth"},
)
def lapped_pins(given: Given) -> tuple[Setting, ...]:
    """As `pins`, with the depth of the sockets from the face they open in: what is left is the lap."""
    return (*pins(given), setting("depth", "sockets deep", given.figures["depth"]))


@settings(
    "sloped-channel",
    gives=("angle", "depth"),
    figures={**_SLOPED, "depth": "feature.depth"},
)
def sloped_channel(given: Given) -> tuple[Setting, ...]:
    """A channel with sloped sides between its lines on the face: slope and depth."""
    return (_slope(given), setting("depth", "depth", given.figures["depth"]))
