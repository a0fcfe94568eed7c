"""What the steps of a plan come to in a day for ears, hands and lungs, by the limits of the region. min."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from sequencer.findings import Finding
from sequencer.knowledge.regions import region_named
from sequencer.model.plan import Step, Task
from sequencer.model.record import DayLine
from sequencer.planning.choice import Choice
from sequencer.planning.dust import dust_lines_of_day
from sequencer.planning.noise import noise_lines
from sequencer.planning.shop import Shop
from sequencer.planning.steps import make_steps
from sequencer.planning.tasks import make_tasks
from sequencer.planning.vibration import vibration_lines


@dataclass(frozen=True)
class Exposures:
    """The noise, vibration and dust of a student's and of the staff's day, and what is to be said of them."""

    noise: tuple[DayLine, ...]
    vibration: tuple[DayLine, ...]
    dust: tuple[DayLine, ...]
    findings: tuple[Finding, ...]


def exposures(
    order: Sequence[str], tasks: Mapping[str, Task], steps: tuple[Step, ...], choice: Choice, shop: Shop, day: date | None
) -> Exposures:
    """What the steps of a plan come to. `day`: whose limits hold; without one the strictest of all days."""
    region = region_named(shop.workshop.region, shop.knowledge)
    # A decision that work takes less time makes nobody's day quieter: the operation's own time counts then.
    unhurried = {
        task.id: replace(tasks[task.id], minutes=max(task.minutes, tasks[task.id].minutes)) for task in make_tasks(choice, shop)
    }
    exposed = steps if unhurried == tasks else make_steps(order, unhurried, choice, shop)
    noise, noisy = noise_lines(exposed, shop, region, day)
    vibration, shaking = vibration_lines(exposed, shop, region, day)
    dust, dusty = dust_lines_of_day(exposed, shop, region, day)
    return Exposures(noise, vibration, dust, (*noisy, *shaking, *dusty))
