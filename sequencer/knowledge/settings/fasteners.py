"""Length of nails and screws against the two pieces they hold, mm, and how a card says it."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.knowledge.forms.fixings import FastenerRule
from sequencer.knowledge.settings.base import Given, setting, settings, spoken
from sequencer.model.plan import Setting


@dataclass(frozen=True)
class Length:
    """A length that a rule asks for, the longest whose point stays in the wood, and the one to take of those sold; 0 where none
    stays in and holds."""

    wanted: float
    most: float
    take: float

    @property
    def short(self) -> bool:
        """Whether even the longest that stays in the wood holds less than the rule asks."""
        return self.most < self.wanted


def length_for(rule: FastenerRule, held: float, beyond: float) -> Length:
    """Length of a nail or screw through a piece `held` mm thick into one with `beyond` mm of wood behind it: `times` the
    thickness held, and the point short of the far face by `point_room`. Of the lengths sold the next above, and where that
    comes too near the far face the longest that does not.

    Source: that of the rule. ValueError if a thickness is not more than 0.
    """
    if held <= 0 or beyond <= 0:
        raise ValueError("both pieces are thicker than 0")
    wanted, most = rule.times * held, max(held + beyond - rule.point_room, 0.0)
    fitting = [each for each in rule.lengths if each <= most]
    enough = [each for each in fitting if each >= wanted]
    take = min(enough) if enough else max(fitting, default=0.0)
    return Length(wanted, most, take if take > held else 0.0)


def in_second(length: float, held: float) -> float:
    """How much of a nail or screw is in the second piece, mm; below 0 if it does not reach it. Plain arithmetic."""
    return length - held


@settings("nails", gives=("length",), figures={"length": "joint.fastener", "held": "joint.held"}, optional=("length",))
def nails(given: Given) -> tuple[Setting, ...]:
    """Length of the nails, as drawn or else as `length_for` gives it, and how much of it is in the second piece."""
    return (fastener_setting(given, "nails"),)


def fastener_setting(given: Given, label: str) -> Setting:
    """The length with what is in the second piece; without value where the joints of the step differ or nothing is known."""
    length, held = given.figures["length"], given.figures["held"]
    if length is None or held is None:
        return setting("length", label, None)
    return setting("length", label, length, text=f"{{}} long, {spoken(in_second(length, held), 'mm')} in the second piece")
