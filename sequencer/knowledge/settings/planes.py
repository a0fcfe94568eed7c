"""Settings of planes: fence, blade, depth stop, finished size."""

from __future__ import annotations

from sequencer.knowledge.settings.base import Given, setting, settings
from sequencer.model.plan import Setting


@settings(
    "plough",
    gives=("blade", "fence", "depth"),
    figures={"blade": "feature.width", "fence": "feature.distance", "depth": "feature.depth"},
)
def plough(given: Given) -> tuple[Setting, ...]:
    """Blade, fence and depth stop of a plough: the sizes of the cut itself."""
    return (
        setting("blade", "blade width", given.figures["blade"]),
        setting("fence", "fence to the near side of the blade", given.figures["fence"]),
        setting("depth", "depth stop", given.figures["depth"]),
    )


@settings("rebate-plane", gives=("fence", "depth"), figures={"fence": "feature.width", "depth": "feature.depth"})
def rebate_plane(given: Given) -> tuple[Setting, ...]:
    """Fence and depth stop of a rebate plane, whose blade is wider than the rebate: the fence lets as much of it cut as the
    rebate is wide."""
    return (
        setting("fence", "fence to the far side of the cut", given.figures["fence"]),
        setting("depth", "depth stop", given.figures["depth"]),
    )


@settings("plane-to", gives=("size",), figures={"size": "part.thickness"})
def plane_to(given: Given) -> tuple[Setting, ...]:
    """The finished size to plane, thickness or sand to."""
    return (setting("size", "finished size", given.figures["size"]),)
