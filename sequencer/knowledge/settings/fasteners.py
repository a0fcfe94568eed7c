"""Length of nails and screws against the two pieces they hold, mm, and how a card says it."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.knowledge.settings.base import Given, setting, settings, spoken
from sequencer.model.plan import Setting


@dataclass(frozen=True)
class Rule:
    """How long a kind of fastener is.

    times
        Its length over the thickness it holds: 3 puts two thirds of it in the second piece.
    point_room
        Wood to leave before the point, mm.
    usual_share, least_share
        Share of it in the second piece, where that is thick enough: under the first it is short, under the second it holds
        little.
    lengths
        Lengths that it is sold in, mm, rising: common practice.
    """

    times: float
    point_room: float
    usual_share: float
    least_share: float
    lengths: tuple[float, ...]
    source: str


RULES = {
    "nails": Rule(
        3.0,
        6.0,
        0.6,
        0.5,
        (15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 65.0, 75.0, 90.0, 100.0),
        "US Navy NAVEDTRA 14119, nails: three times the thickness held, two thirds in the second piece; Audel's carpenters' "
        "mathematics: the point 1/4 in short of the far face; 60 % and half at the least, common practice",
    ),
    "screws": Rule(
        3.0,
        3.0,
        0.5,
        0.5,
        (12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 100.0),
        "common practice: two thirds of a screw in the second piece, half at the least, 3 mm of wood before the point",
    ),
}
"""By the word among the fixings of a joint."""


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


def length_for(rule: Rule, held: float, beyond: float) -> Length:
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
