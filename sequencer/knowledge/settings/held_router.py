"""Settings of a router held in the hands. It turns clockwise seen from above and goes from left to right. So that no pass climbs,
each further pass lies away from the edge an edge guide runs along; along a batten beyond the router, nearer to the batten.
Between an edge guide, which is fixed to the router, and the edge, packing draws the cutter towards that edge; between batten and
base it keeps the cutter off the batten. So guide and batten are set for the last pass, all the packing is in at the first, and a
piece comes out for each further one.
"""

from __future__ import annotations

from sequencer.knowledge.settings.base import Figure, Given, setting, settings
from sequencer.knowledge.settings.passes import packing_setting, passes_setting, side_by_side, steps
from sequencer.knowledge.settings.routers import cutter_speed
from sequencer.model.plan import Setting

_ROUTED: dict[str, Figure] = {"width": "feature.width", "depth": "feature.depth", "deepest_pass": None}


def _cutter(given: Given) -> float | None:
    """The largest of the straight cutters that is no wider than the cut."""
    width = given.figures["width"]
    sizes = [float(size) for size in given.words["cutters"].split()]
    return None if width is None else max((size for size in sizes if size <= width + 1e-9), default=None)


def _straight(given: Given, name: str, cutter: float | None) -> Setting:
    return setting(name, "cutter", cutter, text=f"{{}} straight cutter, {cutter_speed(given, cutter)}")


def _depth(given: Given) -> Setting:
    depth = given.figures["depth"]
    return setting("depth", "depth stop", depth, text=steps(depth, given.figures["deepest_pass"]))


@settings(
    "guided-router",
    gives=("cutter", "passes", "fence", "packing", "depth"),
    figures={**_ROUTED, "distance": "feature.distance"},
    words={"cutters": None},
)
def guided_router(given: Given) -> tuple[Setting, ...]:
    """A channel by a held router with its edge guide: the largest cutter of `cutters` (diameters in mm) that goes in, passes
    beside each other away from the guided edge (`side_by_side`), by packing between guide and edge; the depth in equal passes.
    The guide is set for the last pass, a + w - d from the near side of the cutter: a the distance, w the width of the channel,
    d the cutter. Each piece of packing draws the cutter that much nearer to the edge, so that the first pass, with them all in,
    runs along the near side. Plain geometry."""
    cutter = _cutter(given)
    width, distance = given.figures["width"], given.figures["distance"]
    passes, shift = side_by_side(width, cutter)
    fence = None
    if cutter is not None and width is not None and distance is not None:
        fence = distance + width - cutter
    return (
        _straight(given, "cutter", cutter),
        passes_setting(passes),
        setting("fence", "edge guide to the near side of the cutter", fence),
        packing_setting(passes, shift, "packing between guide and edge for the first pass"),
        _depth(given),
    )


@settings(
    "batten-router",
    gives=("cutter", "passes", "batten", "packing", "depth"),
    figures={**_ROUTED, "distance": "feature.distance", "base": "station.base-width"},
    words={"cutters": None},
)
def batten_router(given: Given) -> tuple[Setting, ...]:
    """A channel by a held router along a batten on its far side: the batten stands (b - d) / 2 from the far line, b the width
    of the base and d the cutter; the last pass runs along the batten, each earlier one with one more packing between. Plain
    geometry."""
    cutter, base = _cutter(given), given.figures["base"]
    width, distance = given.figures["width"], given.figures["distance"]
    passes, shift = side_by_side(width, cutter)
    batten = None
    if cutter is not None and base is not None and width is not None and distance is not None:
        batten = distance + width + (base - cutter) / 2
    return (
        _straight(given, "cutter", cutter),
        passes_setting(passes),
        setting("batten", f"batten from the {(given.request.words or {}).get('from', 'end')}", batten),
        packing_setting(passes, shift, "packing between batten and base for the first pass"),
        _depth(given),
    )


@settings(
    "router-rebate",
    gives=("tool", "fence", "depth"),
    figures={"tool": None, "fence": "feature.width", "depth": "feature.depth", "deepest_pass": None},
)
def router_rebate(given: Given) -> tuple[Setting, ...]:
    """A rebate by a held router with its edge guide: a cutter wider than the rebate, as much of which cuts as the rebate is wide;
    the rest of it is over the guide, so that no strip is left between cutter and guide."""
    return (
        _straight(given, "tool", given.figures["tool"]),
        setting("fence", "edge guide to the far side of the cutter", given.figures["fence"]),
        _depth(given),
    )


@settings(
    "router-edge",
    gives=("tool", "height"),
    figures={"tool": None, "height": None, "deepest_pass": None},
    words={"kind": None},
)
def router_edge(given: Given) -> tuple[Setting, ...]:
    """An edge taken off by a held router whose cutter runs along it on its bearing."""
    tool, height = given.figures["tool"], given.figures["height"]
    return (
        setting("tool", "cutter", tool, text=f"{{}} {given.words['kind']}, {cutter_speed(given, tool)}"),
        setting("height", "cutter below the base", height, text=steps(height, given.figures["deepest_pass"])),
    )


@settings("router-slot", gives=("chisel", "depth"), figures=_ROUTED)
def router_slot(given: Given) -> tuple[Setting, ...]:
    """A slot with round ends by a held router: a cutter as wide as the slot, its depth in equal passes."""
    return (_straight(given, "chisel", given.figures["width"]), _depth(given))


@settings(
    "template-router",
    gives=("cutter", "bush", "template", "depth"),
    figures={"cutter": None, "bush": None, "depth": "feature.depth", "deepest_pass": None},
)
def template_router(given: Given) -> tuple[Setting, ...]:
    """A recess by a held router in the window of a template: its edges stand outside the lines by half of what the guide bush is
    wider than the cutter; the depth, which is measured below the template, in equal passes. Plain geometry."""
    cutter, bush = given.figures["cutter"], given.figures["bush"]
    back = None if cutter is None or bush is None or bush <= cutter else (bush - cutter) / 2
    return (
        _straight(given, "cutter", cutter),
        setting("bush", "guide bush", bush, text="{} outside diameter"),
        setting("template", "window of the template outside the lines", back),
        _depth(given),
    )
