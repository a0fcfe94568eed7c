"""Settings of a glue-up."""

from __future__ import annotations

from math import ceil

from sequencer.knowledge.settings.base import Given, setting, settings
from sequencer.model.plan import Setting


@settings(
    "glue-up",
    gives=("cramps", "open", "cramp-time"),
    figures={"cramps": "joint.cramps", "open": "joint.reach", "cramp_time": "station.cramp-time"},
)
def glue_up(given: Given) -> tuple[Setting, ...]:
    """Cramps to lay ready, how far they must open, and how long they stay on."""
    cramps = given.figures["cramps"]
    return (
        setting("cramps", "cramps", None if cramps is None else ceil(cramps), ""),
        setting("open", "cramps open", given.figures["open"], text="more than {}"),
        setting("cramp-time", "cramps stay on", given.figures["cramp_time"], "min", "at least {}"),
    )
