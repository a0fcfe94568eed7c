"""Settings of a glue-up, and how long glue takes in a cooler or warmer room. Minutes, degrees Celsius."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil

from sequencer.knowledge.forms.glues import CrampTime, Glue
from sequencer.knowledge.settings.base import Given, setting, settings
from sequencer.knowledge.working import Working
from sequencer.model.plan import Setting

TO_THE_NEXT = 5.0
"""Times are rounded to whole five minutes, to the cautious side."""


@dataclass(frozen=True)
class GlueTimes:
    """Minutes: to close the joints in, with the cramps on, and until the joint may be worked or loaded."""

    open: float
    cramped: float
    cured: float


def glue_times(glue: Glue, temperature: float | None, working: Working) -> GlueTimes:
    """The times of a glue in a room, never shorter in the cramps and never longer open than stated for it.

    Cooler than `glue_cooler` below what its times are for (`at`, else `glue_warmth`): cramps and cure take twice as long for each
    `glue_doubles` degrees, 2^((at - cooler - T) / doubles). Warmer than `glue_warmer` above: the glue stays open half as long
    for each, 2^((T - at - warmer) / doubles). The figures and their sources stand in `lists/working-figures.yaml`.
    Where the maker states times in the cramps by temperature (`cramp_times`), the one for the room counts instead: that of the
    nearest stated temperature that is not above it. The stated times hold where the room's temperature is not known. Below
    the glue's coldest temperature nothing is glued; this function does not ask.
    """
    times = GlueTimes(glue.open_time, glue.cramp_time, glue.cure_time)
    if temperature is None:
        return times
    meant = working.glue_warmth if glue.at is None else glue.at
    slower = 2 ** (max(0.0, meant - working.glue_cooler - temperature) / working.glue_doubles)
    quicker = 2 ** (max(0.0, temperature - meant - working.glue_warmer) / working.glue_doubles)
    stated = _stated(glue.cramp_times, temperature)
    return replace(
        times,
        open=times.open / quicker if quicker == 1 else min(times.open, max(1.0, float(int(times.open / quicker)))),
        cramped=stated if stated is not None else _longer(times.cramped, slower),
        cured=_longer(times.cured, slower),
    )


def _longer(minutes: float, times: float) -> float:
    return minutes if times == 1 else ceil(round(minutes * times / TO_THE_NEXT, 6)) * TO_THE_NEXT


def _stated(rows: Sequence[CrampTime], temperature: float) -> float | None:
    """The time for the warmest stated temperature that is not above the room's; None if there is none."""
    reached = [row for row in rows if row.at <= temperature]
    return max(reached, key=lambda row: row.at).minutes if reached else None


@settings(
    "glue-up",
    gives=("cramps", "open", "cramp-time"),
    figures={"cramps": "joint.cramps", "open": "joint.reach", "cramp_time": "station.cramp-time"},
    words={"kind": "cramp"},
)
def glue_up(given: Given) -> tuple[Setting, ...]:
    """Cramps to lay ready, how far they must open, and how long they stay on. The word `kind` says which cramps, one of them."""
    cramps = given.figures["cramps"]
    return (
        setting(
            "cramps",
            "lay ready",
            None if cramps is None else ceil(cramps),
            "",
            f"{{}} {given.words['kind']}{'' if cramps == 1 else 's'}",
        ),
        setting("open", "cramps open", given.figures["open"], text="more than {}"),
        setting("cramp-time", "cramps stay on", given.figures["cramp_time"], "min", "at least {}"),
    )
