"""Bought-in things and tools: how many one student needs, and how many the class."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from sequencer.model.plan import Step
from sequencer.model.stock_lists import LooseThing
from sequencer.planning.choice import Choice
from sequencer.planning.loose_work import to_buy
from sequencer.planning.obstacles import CRAMPS, counted_cramps
from sequencer.planning.shop import Shop
from sequencer.planning.step_words import thing_name
from sequencer.planning.strips import WASTE


def hardware_lines(shop: Shop, choice: Choice) -> tuple[LooseThing, ...]:
    """Bought-in things for one student and for the class."""
    students = shop.workshop.students
    named = (LooseThing(thing_name(thing), thing.count, thing.count * students) for thing in shop.job.hardware.values())
    return (*named, *to_buy(shop.job, choice.works, students))


def tool_lines(steps: Sequence[Step], shop: Shop) -> tuple[LooseThing, ...]:
    """Tools to lay out and count: one for each student or pair, but no more than there are stations to use them at; shared
    where only a machine or staff use them. What a student cuts a test in is used up. Cramps for no more of them at once than the
    workshop has cramps for; and of what it counts, no more than it has."""
    sets = ceil(shop.workshop.students / (2 if shop.workshop.pairs else 1))
    each: dict[str, int] = {}
    totals: dict[str, int] = {}
    shared: dict[str, bool] = {}
    for step in steps:
        station = shop.workshop.stations[step.station]
        alone = step.card == "staff" or shop.knowledge.stations[step.station_kind].power in ("machine", "powered-hand")
        for tool in step.tools:
            number = _at_a_time(step, tool)
            wanted = 1 if step.card == "staff" else min(sets, station.count, _at_once(step, shop))
            if tool.startswith(WASTE) and step.card == "student":
                wanted = shop.workshop.students
            each[tool] = max(each.get(tool, 1), number)
            totals[tool] = max(totals.get(tool, 0), wanted * number)
            shared[tool] = shared.get(tool, True) and alone
    for tool, have in _counted(shop).items():
        if tool in totals:
            totals[tool] = max(each[tool], min(totals[tool], have))
    return tuple(
        LooseThing(tool, each[tool], totals[tool], shared[tool] or totals[tool] < sets * each[tool]) for tool in sorted(totals)
    )


def _counted(shop: Shop) -> dict[str, int]:
    """How many the workshop counts of things without a reach, by their names as tools."""
    found: dict[str, int] = {}
    for thing in shop.workshop.counted.values():
        if thing.count and thing.reach is None:
            name = (thing.kind or thing.name).replace("-", " ")
            found[name] = found.get(name, 0) + thing.count
    return found


def _at_a_time(step: Step, tool: str) -> int:
    """How many of a tool one student needs: as many cramps as are set for a glue-up, a corner block for each, a scrap block
    under each of its jaws; of all else one."""
    return ceil(max(_set(step, "cramps"), default=0)) * _FOR_A_CRAMP.get(tool, int(tool.endswith("cramp"))) or 1


_FOR_A_CRAMP = {"corner block": 1, "scrap block": 2}
"""How many of a tool go with each cramp."""


def _set(step: Step, name: str) -> list[float]:
    return [setting.value for setting in step.settings if setting.name == name and setting.value]


def _at_once(step: Step, shop: Shop) -> int:
    """How many glue-ups the cramps of the workshop are enough for, where it counts those that the step takes; one at least."""
    cramps, opening = max(_set(step, "cramps"), default=0), max(_set(step, "open"), default=0.0)
    there = counted_cramps(shop, opening) if CRAMPS in {thing.name for thing in step.holding} else None
    return shop.workshop.students if not cramps or there is None else max(1, int(there // cramps))
