"""The forms of `lists/regions.yaml`, `lists/measures.yaml` and `lists/limits.yaml`: what holds where, and from when to when."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from sequencer.knowledge.forms.fields import Text
from sequencer.model.fields import STRICT, Plain
from sequencer.model.workshop import Gate, Operator, Supervision

ANY = "any"
"""The jurisdiction of a text that is bound to no country."""

Group = Literal["noise", "vibration", "dust", "saws", "planers"]


def _day(text: str, otherwise: date) -> date:
    return date.fromisoformat(text) if text else otherwise


@dataclass(frozen=True, kw_only=True)
class Measure:
    """What a figure measures (`lists/measures.yaml`).

    stricter
        Which of two figures asks for more.
    stations
        The kinds of station it is about; empty for the whole workshop.
    counts
        Other measures whose figures hold for this one too.
    """

    __pydantic_config__ = STRICT
    name: Text
    group: Group
    unit: Text
    stricter: Literal["lower", "higher"]
    stations: tuple[str, ...] = ()
    counts: tuple[str, ...] = ()

    def looser(self, value: float, than: float) -> bool:
        """Whether a figure asks for less than another."""
        return value > than if self.stricter == "lower" else value < than

    def asks_less(self, record: DatedLimit, than: DatedLimit) -> bool:
        """Whether a record asks for less than another in any way: by its figure, or because more decibels halve the time."""
        return self.looser(record.value, than.value) or (record.exchange or 0.0) > (than.exchange or 0.0)


@dataclass(frozen=True, kw_only=True)
class DatedLimit:
    """A figure of one jurisdiction (`lists/limits.yaml`), true from a date until another, both days included.

    exchange
        Of noise over a day: by how many decibels the level may rise when the time is halved, dB.
    verified
        False for a figure that was read nowhere in print. It may tighten what is held to, and never loosens it.
    """

    __pydantic_config__ = STRICT
    region: Text
    about: Text
    value: Annotated[Plain, Field(gt=0)]
    unit: Text
    exchange: Plain | None = None
    starts: str = ""
    ends: str = ""
    verified: bool = True
    note: str = ""
    source: Text

    def holds_on(self, day: date | None) -> bool:
        """Whether it is in force on a day; without one, whether it ever is."""
        return day is None or _day(self.starts, date.min) <= day <= _day(self.ends, date.max)


@dataclass(frozen=True, kw_only=True)
class Least:
    """How loose the answer of who may use a kind of station may be at most; what is left out is not asked."""

    __pydantic_config__ = STRICT
    operator: Operator | None = None
    supervision: Supervision | None = None
    gate: Gate | None = None
    source: Text


@dataclass(frozen=True, kw_only=True)
class Region:
    """A region that a workshop file can name (`lists/regions.yaml`).

    counts
        The jurisdictions whose figures hold there; empty for all.
    also
        Of the region that takes everyone's figures: jurisdictions besides those that other regions count.
    without
        Measures for which the law there has no figure. Every other measure it has none of is held to the strictest of all.
    since, looked_up
        Nothing is known for days before the first; on the second the sources were read.
    record, sign_off, review
        What the risk assessment must hold there, who signs (each a short label of a line to fill in), when it is looked at
        again.
    least
        By kind of station.
    """

    __pydantic_config__ = STRICT
    name: Text
    codes: tuple[str, ...] = ()
    what: Text
    counts: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    since: Text
    looked_up: Text
    regulator: Text
    laws: Annotated[tuple[Text, ...], Field(min_length=1)]
    record: Annotated[tuple[Text, ...], Field(min_length=1)]
    sign_off: Annotated[tuple[Annotated[str, Field(min_length=1, max_length=40)], ...], Field(min_length=1)]
    review: Annotated[tuple[Text, ...], Field(min_length=1)]
    least: Mapping[str, Least] = field(default_factory=dict)
    sources: Annotated[tuple[Text, ...], Field(min_length=1)]
