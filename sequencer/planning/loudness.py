"""Where ear protection is worn: at every station whose level reaches the least that its region acts on, and at every powered one
whose level nobody knows. Levels at the operator, dB(A)."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.region_checks import DAILY_NOISE
from sequencer.knowledge.regions import held_to
from sequencer.model.workshop import Station
from sequencer.planning.shop import Premises

EAR_PROTECTION = "ear-protection"
"""What is worn there, in `lists/wear.yaml`."""
NOISE = "noise"
"""The hazard that is met there."""


def level_at(kind: StationKind, station: Station | None = None) -> float | None:
    """The level at the operator of a station, dB(A): as the school measured it, else the file's default; None if neither is
    known."""
    if station is not None and station.noise is not None:
        return station.noise
    return kind.noise.default if kind.noise is not None else None


def acted_on_from(premises: Premises) -> float:
    """The level over a day from which the school's region acts, dB(A): the lowest of its figures, whatever the day, and of the
    school's own; the strictest on record where the region is not known or has none."""
    there = (*_figures_there(premises), *_own(premises))
    return min(there) if there else strictest_action(premises.knowledge)


def strictest_action(knowledge: Knowledge) -> float:
    """The lowest level over a day that any law on record acts on, dB(A); 0, which every level reaches, if none is on record."""
    return min((each.value for each in knowledge.limits if each.about in DAILY_NOISE), default=0.0)


def is_loud(kind: StationKind, station: Station | None, acted_on: float) -> bool:
    """Whether ear protection is worn at a station. The level counts as if it lasted the whole day, since ears are not protected
    by halves; a powered station whose level nobody knows, and one whose file has a level but no figure, is loud."""
    level = level_at(kind, station)
    if level is None:
        return kind.power in ("machine", "powered-hand") or kind.noise is not None
    return level >= acted_on


def _figures_there(premises: Premises) -> Iterator[float]:
    if premises.region is None:
        return
    for about in DAILY_NOISE:
        found = held_to(about, premises.region, premises.knowledge, None)
        if found is not None:
            yield found.limit.value


def _own(premises: Premises) -> Iterator[float]:
    yield from (premises.workshop.limits[about] for about in DAILY_NOISE if about in premises.workshop.limits)
