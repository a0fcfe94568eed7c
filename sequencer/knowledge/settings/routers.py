"""Settings of cutters that turn fast: router table and slot cutter."""

from __future__ import annotations

from collections.abc import Collection
from math import ceil, radians, tan

from sequencer.knowledge.settings.base import Given, setting, settings, spoken
from sequencer.knowledge.settings.passes import passes_setting, shift_setting, side_by_side, steps
from sequencer.knowledge.settings.speeds import step_at_or_below
from sequencer.model.plan import Setting


@settings(
    "router-passes",
    gives=("cutter", "passes", "fence", "height"),
    figures={"cutter": "feature.width", "fence": "feature.distance", "height": "feature.depth", "deepest_pass": None},
    words={"kind": "straight cutter", "to": "the near side of the cutter"},
)
def router_passes(given: Given) -> tuple[Setting, ...]:
    """Cutter, fence and height on a router table. The depth is reached in n = ceil(depth / deepest pass) equal passes. The
    cutter's text names the highest speed for its diameter (`lists/cutter-speeds.yaml`); its own mark wins.
    """
    cutter, height, deepest = given.figures["cutter"], given.figures["height"], given.figures["deepest_pass"]
    passes = None if height is None or not deepest else max(1, ceil(round(height / deepest, 9)))
    heights = "{} above the table"
    if height is not None and passes is not None and passes > 1:
        heights = ", ".join(spoken(height * number / passes, "mm") for number in range(1, passes)) + ", then {} above the table"
    return (
        setting("cutter", "cutter", cutter, text=f"{{}} {given.words['kind']}, {cutter_speed(given, cutter)}"),
        setting("passes", "passes", passes, ""),
        setting("fence", f"fence to {given.words['to']}", given.figures["fence"]),
        setting("height", "cutter height", height, text=heights),
    )


@settings(
    "router-tongue",
    gives=("cutter", "fence", "height", "height-behind"),
    figures={
        "cutter": None,
        "fence": "feature.length",
        "height": "feature.shoulder",
        "height-behind": "feature.shoulder-behind",
        "deepest_pass": None,
    },
    optional=("height-behind",),
)
def router_tongue(given: Given) -> tuple[Setting, ...]:
    """A tongue at the router table: the false fence lets as much of the cutter show as the tongue is long; the height for each
    face that is down, as deep as the shoulder in it, in equal passes. A bare-faced tongue has one shoulder only."""
    figures, words = given.figures, given.request.words or {}
    cutter, deepest = figures["cutter"], figures["deepest_pass"]
    height, behind = figures["height"], figures["height-behind"] or None
    face, other = words.get("face", "first"), words.get("behind", "other")
    return (
        setting("cutter", "cutter", cutter, text=f"{{}} straight cutter, {cutter_speed(given, cutter)}"),
        setting("fence", "false fence to the outside of the cutter", figures["fence"]),
        setting("height", f"height, {face} face down", height, text=steps(height, deepest)),
        setting("height-behind", f"height, {other} face down", behind, text=steps(behind, deepest)),
    )


@settings(
    "router-groove",
    gives=("cutter", "passes", "fence", "shift", "height"),
    figures={"width": "feature.width", "fence": "feature.distance", "height": "feature.depth", "deepest_pass": None},
    optional=("shift",),
)
def router_groove(given: Given) -> tuple[Setting, ...]:
    """A groove by a straight cutter of its width, in passes of rising height. Where the station lists its cutters and none is as
    wide, by the widest narrower one, passes beside each other (`side_by_side`), each at every height: the first beside the fence,
    the fence moved out for each further one, so that the cutter finds new wood only on its side away from the fence, which works
    against the feed. `passes` then counts those."""
    width, fence = given.figures["width"], given.figures["fence"]
    cutter = _cutter_for(width, given.request.sizes.get("cutters", ()), given.request.within.get("cutters", 0.0))
    figures = {"cutter": cutter, "fence": fence, "height": given.figures["height"], "deepest_pass": given.figures["deepest_pass"]}
    words = {"kind": "straight cutter", "to": "the near side of the cutter"}
    chosen, rising, near, height = router_passes(Given(given.request, figures, words))
    passes, shift = side_by_side(width, cutter)
    if passes is None or fence is None or not shift:
        return chosen, rising, near, height
    places = [spoken(fence + number * shift, "mm") for number in range(round(passes))]
    return (
        chosen,
        passes_setting(passes),
        setting("fence", near.label, fence, text=f"{', '.join(places[:-1])}, then {places[-1]}"),
        shift_setting(shift, "fence moved out for further passes"),
        height,
    )


def _cutter_for(width: float | None, sizes: Collection[float], within: float) -> float | None:
    """The cutter for a groove: of its width, unless the station lists only others; then the widest that is narrower."""
    if width is None or not sizes or any(abs(size - width) <= within + 1e-6 for size in sizes):
        return width
    return max((size for size in sizes if size < width), default=width)


@settings(
    "dovetail-passes",
    gives=("clear", "middle", "clearing", "cutter", "passes", "fence", "shift", "height", "angle"),
    figures={
        "cutter": "station.dovetail-cutter",
        "width": "feature.width",
        "fence": "feature.distance",
        "height": "feature.depth",
        "angle": "feature.angle",
        "deepest_pass": None,
    },
)
def dovetail_passes(given: Given) -> tuple[Setting, ...]:
    """A dovetail housing w wide at its floor by passes of a dovetail cutter of diameter d at full height h: its neck is
    k = d - 2 h tan(angle), so n = 1 + ceil((w - d) / k) passes, the fence moved by (w - d) / (n - 1) between them, leave no
    ridge. A straight cutter no wider than the neck clears every one of these channels first, in passes of rising height up to
    1 mm short of the floor, its middle where that of the dovetail cutter will be, a + d / 2 from the fence at distance a; the
    fence moves by the same amounts for both. Plain geometry. Not possible if w < d or k <= 0.

    The order never climbs. Seen from above the cutter turns anticlockwise and the wood, its edge against the fence behind the
    cutter, goes from right to left: on the side away from the fence the edges run against the wood, on the fence's side with
    it. Each further pass has the fence further out, which carries the wood away from the cutter's fence side, so that only the
    far side has wood left to cut. The channel always has wood between fence and cutter, which is lower than the wood is thick,
    so nothing is trapped.
    """
    cutter, width, height, angle = (given.figures[name] for name in ("cutter", "width", "height", "angle"))
    neck = passes = shift = None
    fence = given.figures["fence"]
    middle = None if cutter is None or fence is None else fence + cutter / 2
    clearing = None if height is None else max(height - 1.0, height / 2)
    if cutter is not None and width is not None and height is not None and angle is not None:
        narrow = cutter - 2 * height * tan(radians(angle))
        if narrow > 0 and width >= cutter:
            neck = float(int(narrow))
            passes = 1 + ceil(round((width - cutter) / narrow, 9))
            shift = (width - cutter) / (passes - 1) if passes > 1 else 0.0
    return (
        setting("clear", "first", neck, text=f"{{}} straight cutter or narrower, {cutter_speed(given, neck)}"),
        setting("middle", "fence to the middle of either cutter", middle),
        setting(
            "clearing", "height of the first", clearing, text=f"{steps(clearing, given.figures['deepest_pass'])} above the table"
        ),
        setting("cutter", "then", cutter, text=f"{{}} dovetail cutter, at its widest, {cutter_speed(given, cutter)}"),
        setting("passes", "passes", None if passes is None else float(passes), ""),
        setting("fence", "fence to the near side of the cutter, at its widest", fence),
        setting("shift", "fence moved out for each further pass", shift, text="{}" if shift else "none, one pass"),
        setting("height", "cutter height", height, text="{} above the table, in one pass"),
        setting("angle", "sides of the cutter", angle, "deg"),
    )


@settings(
    "dovetail-end-passes",
    gives=("cutter", "fence", "height", "angle"),
    figures={
        "cutter": "station.dovetail-cutter",
        "fence": "feature.depth",
        "height": "feature.length",
        "angle": "feature.angle",
    },
)
def dovetail_end_passes(given: Given) -> tuple[Setting, ...]:
    """A sloped end by a dovetail cutter, the piece upright along a false fence: as much of the cutter shows, at its widest, as
    the slope runs in; its height is the length of the end. Plain geometry."""
    cutter = given.figures["cutter"]
    return (
        setting("cutter", "cutter", cutter, text=f"dovetail cutter, {{}} at its widest, {cutter_speed(given, cutter)}"),
        setting("fence", "false fence to the outside of the cutter, at its widest", given.figures["fence"]),
        setting("height", "cutter height", given.figures["height"], text="{} above the table, in one pass"),
        setting("angle", "sides of the cutter", given.figures["angle"], "deg"),
    )


@settings(
    "disc-slots",
    gives=("depth", "disc", "cutter", "batten"),
    figures={"depth": "feature.depth", "disc": "station.cutter-diameter", "cutter": "station.cutter-width", "batten": 0.0},
    optional=("batten",),
)
def disc_slots(given: Given) -> tuple[Setting, ...]:
    """How deep the disc of a slot cutter is plunged; its diameter, which makes the length of the slot, and its width. In a
    broad face the base stands against a batten: how far the batten's edge is from where the slots are measured, which is
    their distance less what the sole of the base reaches to the disc. Plain geometry."""
    batten = given.figures["batten"]
    return (
        setting("depth", "depth stop", given.figures["depth"]),
        setting("disc", "disc across", given.figures["disc"]),
        setting("cutter", "disc cuts a slot of", given.figures["cutter"]),
        setting("batten", "batten for the base of the slot cutter", batten if batten and batten > 0 else None),
    )


def cutter_speed(given: Given, cutter: float | None) -> str:
    """The highest speed for a cutter of a diameter, in words: that of `lists/cutter-speeds.yaml`, and where the router's own
    steps are known the nearest of them that is not above it. Staff decide where the list has no cutter so large, or every step
    is faster."""
    fastest = next((row.most for row in given.request.cutter_speeds if cutter is not None and cutter <= row.up_to), None)
    if fastest is not None and given.request.speeds:
        fastest = step_at_or_below(fastest, given.request.speeds)
    return "staff decide the speed" if fastest is None else f"at most {spoken(fastest, 'rev/min')}, and no more than its mark"
