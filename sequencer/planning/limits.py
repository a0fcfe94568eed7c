"""Limits of operations held against figures: what does not hold is an obstacle, said with figures and the remedy."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import Literal

from sequencer.features.base import mm
from sequencer.knowledge.forms.operations import Limit
from sequencer.model.quantities import QUANTITIES, Figures
from sequencer.model.workshop import Station
from sequencer.planning.blanks import Workpiece
from sequencer.reading.expressions import Expression, ExpressionError, parse

ObstacleKind = Literal["purpose", "station", "service", "guard", "holding", "size", "limit", "figure", "who"]


@dataclass(frozen=True)
class Obstacle:
    """Why a way is not possible, and the nearest remedy."""

    kind: ObstacleKind
    what: str
    remedy: str
    short_by: float = 0.0
    """For limits: how far the figure is from what is asked, in the figure's unit."""
    of: str = field(default="", compare=False)
    """For limits: the figure that is too small or too large."""


@cache
def _expression(text: str) -> Expression:
    return parse(text)


def right_of(limit: Limit) -> tuple[str, Expression]:
    """The comparison a limit makes and its right-hand side."""
    for comparison in ("at_least", "at_most", "more_than", "less_than"):
        text = getattr(limit, comparison)
        if text:
            return comparison, _expression(text)
    raise ValueError("a limit compares nothing")  # the loader refuses such files


def value_of(right: Expression, figures: Figures) -> float | None:
    """The right-hand side of a limit; None where the figures divide by zero."""
    try:
        return right.value(figures)
    except ExpressionError:
        return None


def holds(limit: Limit, figures: Figures) -> bool:
    """Whether a limit holds, its figures being known."""
    comparison, right = right_of(limit)
    asked = value_of(right, figures)
    return asked is not None and _COMPARED[comparison](figures[limit.of], asked)


_COMPARED: dict[str, Callable[[float, float], bool]] = {
    "at_least": lambda have, asked: have >= asked - 1e-6,
    "at_most": lambda have, asked: have <= asked + 1e-6,
    "more_than": lambda have, asked: have > asked,
    "less_than": lambda have, asked: have < asked,
}
"""Whether a figure compares so with what is asked."""
_BOUNDS = {"at_least": "at least", "at_most": "at most", "more_than": "more than", "less_than": "less than"}
_CHANGES = {
    "length": ("longer", "shorter"),
    "width": ("wider", "narrower"),
    "thickness": ("thicker", "thinner"),
    "depth": ("deeper", "shallower"),
    "diameter": ("larger", "smaller"),
    "held": ("longer", "shorter"),
}
"""How a figure grows and shrinks, by the last word of its name; `more` and `less` for the rest."""
_UNITS = {"count": "", "deg": " degrees", "degC": " degrees C"}


def limits_of_all(
    limits: tuple[Limit, ...], figures: Figures, several: tuple[Workpiece, ...], station: Station
) -> Iterator[Obstacle]:
    """The limits for the piece, or for each of several pieces; what stands against more than one is said once."""
    if not several:
        yield from limits_against(limits, figures, station)
        return
    found = (each for piece in several for each in limits_against(limits, {**figures, **piece.figures()}, station))
    yield from dict.fromkeys(found)


def limits_against(limits: tuple[Limit, ...], figures: Figures, station: Station) -> Iterator[Obstacle]:
    """What does not hold, or cannot be judged because a figure is not known."""
    for limit in limits:
        comparison, right = right_of(limit)
        missing = next((name for name in (limit.of, *sorted(right.names)) if name not in figures), None)
        if missing is not None:
            yield unknown(missing, station)
            continue
        have, asked = figures[limit.of], value_of(right, figures)
        if asked is None:
            yield Obstacle("figure", f"What {limit.of} is held against cannot be worked out here.", "Let staff decide.")
        elif not _COMPARED[comparison](have, asked):
            quantity = QUANTITIES[limit.of]
            unit = _UNITS.get(quantity.unit, f" {quantity.unit}")
            larger, smaller = _CHANGES.get(limit.of.rpartition(".")[2], ("more", "less"))
            short = abs(asked - have)
            amount = f"{mm(short)}{unit}" if mm(short) != "0" else "a little"
            says = f"The piece is {limit.says}"
            if quantity.unit != "count" or quantity.name.startswith("joint."):
                shown = (mm(have), mm(asked)) if mm(have) != mm(asked) or have == asked else (f"{have:.2f}", f"{asked:.2f}")
                says += f": {quantity.meaning} is {shown[0]}{unit}, {_BOUNDS[comparison]} {shown[1]}{unit} is needed"
            yield Obstacle(
                "limit",
                f"{says}.",
                "Use another way."
                if quantity.unit == "count"
                else f"It must be {amount} {larger if comparison in ('at_least', 'more_than') else smaller}.",
                short,
                limit.of,
            )


def unknown(name: str, station: Station) -> Obstacle:
    """The obstacle of a figure that nobody has stated."""
    quantity = QUANTITIES[name]
    where = (
        f"State `{name.partition('.')[2]}` for {station.name} in the workshop file"
        if name.startswith("station.")
        else "State the room's temperature in the workshop file"
        if name == "room.temperature"
        else "Give the drawing this size"
    )
    return Obstacle("figure", f"It is not known here: {quantity.meaning}.", f"{where}; until then staff must decide.")


def comparison_of(limit: Limit) -> tuple[str, Expression]:
    """What a limit compares with: `at least` and the like, and the sum that follows."""
    comparison, right = right_of(limit)
    return _BOUNDS[comparison], right
