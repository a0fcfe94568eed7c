"""Settings of the spindle moulder. Its cutter is on the side of the fence and widens a groove upwards, so that no pass climbs."""

from __future__ import annotations

from sequencer.knowledge.settings.base import Figure, Given, setting, settings
from sequencer.knowledge.settings.passes import passes_setting, shift_setting, side_by_side, steps
from sequencer.knowledge.settings.speeds import rim_speed
from sequencer.model.plan import Setting


def spindle_speed(diameter: float, steps: tuple[float, ...], slowest: float, fastest: float) -> float | None:
    """The lowest of a spindle's steps, rev/min, at which the rim of a block of a diameter in mm is neither slower than `slowest`,
    for a slow cutter snatches, nor faster than `fastest`, m/s; None if there is none. Never between steps."""
    return min((step for step in steps if slowest <= rim_speed(diameter, step) <= fastest), default=None)


_RIM: dict[str, Figure] = {"block": "station.cutter-diameter", "slowest_rim": None, "fastest_rim": None}


def _block(given: Given, kind: str) -> tuple[Setting, Setting]:
    """The block by the circle its cutters turn in, and the speed of the spindle for it."""
    block, slowest, fastest = (given.figures[name] for name in ("block", "slowest_rim", "fastest_rim"))
    speed = None
    if block is not None and slowest is not None and fastest is not None:
        speed = spindle_speed(block, given.request.speeds, slowest, fastest)
    rim = "" if block is None or speed is None else f", its rim at {round(rim_speed(block, speed))} m/s"
    return (
        setting("block", "block", block, text=f"{kind}, {{}} across, marked MAN"),
        setting("speed", "spindle speed", speed, "rev/min", f"{{}}{rim}, and no more than its mark"),
    )


@settings(
    "spindle-rebate",
    gives=("block", "speed", "fence", "height"),
    figures={**_RIM, "fence": "feature.width", "height": "feature.depth", "deepest_pass": None},
)
def spindle_rebate(given: Given) -> tuple[Setting, ...]:
    """A rebate on a spindle moulder: the cutters as high over the table as it is deep, and as far out of the fence as it is wide,
    reached in equal passes; the fence goes back between them, so that no strip is ever between cutter and fence."""
    fence = given.figures["fence"]
    return (
        *_block(given, "rebate block"),
        setting("fence", "cutters out of the fence", fence, text=steps(fence, given.figures["deepest_pass"])),
        setting("height", "cutters", given.figures["height"], text="{} above the table"),
    )


@settings(
    "spindle-groove",
    gives=("block", "speed", "cutter", "passes", "distance", "shift", "depth"),
    figures={
        **_RIM, "width": "feature.width", "cutter": None, "distance": "feature.distance", "depth": "feature.depth",
        "deepest_pass": None,
    },
)  # fmt: skip
def spindle_groove(given: Given) -> tuple[Setting, ...]:
    """A groove on a spindle moulder by a grooving head as wide as `cutter`: its lower side as high over the table as the groove
    is from the face below, raised for each pass after the first (`side_by_side`); out of the fence as deep as the groove."""
    cutter, depth = given.figures["cutter"], given.figures["depth"]
    passes, shift = side_by_side(given.figures["width"], cutter)
    return (
        *_block(given, "grooving head"),
        setting("cutter", "grooving head cuts", cutter, text="{} wide"),
        passes_setting(passes),
        setting("distance", "table to the lower side of the cutter", given.figures["distance"]),
        shift_setting(shift, "spindle raised for further passes"),
        setting("depth", "cutter out of the fence", depth, text=steps(depth, given.figures["deepest_pass"])),
    )


@settings(
    "spindle-edge",
    gives=("block", "speed", "height"),
    figures={**_RIM, "height": None, "deepest_pass": None},
    words={"kind": None},
)
def spindle_edge(given: Given) -> tuple[Setting, ...]:
    """An edge taken off on a spindle moulder: the shape as high over the table as it is far out of the fence, which goes back for
    each pass."""
    height = given.figures["height"]
    return (
        *_block(given, given.words["kind"]),
        setting(
            "height", "cutters above the table and out of the fence", height, text=steps(height, given.figures["deepest_pass"])
        ),
    )
