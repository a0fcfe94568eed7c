"""Settings to set out by, and of work that has none."""

from __future__ import annotations

from sequencer.knowledge.settings.base import Given, setting, settings
from sequencer.model.plan import Setting


@settings("none")
def none(given: Given) -> tuple[Setting, ...]:
    """Nothing to set."""
    return ()


@settings(
    "gauge",
    gives=("distance", "width", "depth"),
    figures={"distance": "feature.distance", "width": "feature.width", "depth": "feature.depth"},
    optional=("distance", "width", "depth"),
)
def gauge(given: Given) -> tuple[Setting, ...]:
    """Sizes to mark: of the three, those the work has."""
    return (
        setting("distance", "distance", given.figures["distance"]),
        setting("width", "width", given.figures["width"]),
        setting("depth", "depth", given.figures["depth"]),
    )


@settings("angle", gives=("angle",), figures={"angle": "feature.angle"})
def angle(given: Given) -> tuple[Setting, ...]:
    """An angle to set, degrees from square."""
    return (setting("angle", "angle", given.figures["angle"], "deg", "{} from square"),)
