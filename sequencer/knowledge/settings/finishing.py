"""Settings of coats of finish, and of bought-in hardware."""

from __future__ import annotations

from sequencer.knowledge.settings.base import Given, setting, settings
from sequencer.model.plan import Setting


@settings(
    "coats",
    gives=("coats", "dry-time"),
    figures={"coats": "finish.coats", "dry_time": "finish.dry-time"},
    words={"finishes": None},
)
def coats(given: Given) -> tuple[Setting, ...]:
    """How many coats, and how long each dries. `finishes` says which kind of finish the operation puts on."""
    return (
        setting("coats", "coats", given.figures["coats"], ""),
        setting("dry-time", "drying between coats", given.figures["dry_time"], "min", "at least {}"),
    )


@settings("hardware", words={"things": None})
def hardware(given: Given) -> tuple[Setting, ...]:
    """Nothing to set. `things` says which sort of bought-in thing the operation fixes."""
    return ()
