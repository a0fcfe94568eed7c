"""The form of a file of `hazards/`, and of the hazard statements on labels (`lists/ghs.yaml`)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Literal

from pydantic import Field

from sequencer.knowledge.forms.fields import Text
from sequencer.knowledge.forms.stations import Power
from sequencer.model.fields import STRICT

Level = Literal["eliminate", "substitute", "isolate", "engineering", "administrative", "ppe"]
"""Hierarchy of control, from the strongest (ISO 45001, 8.1.2; from memory)."""
LEVELS: tuple[Level, ...] = ("eliminate", "substitute", "isolate", "engineering", "administrative", "ppe")
BEFORE_RULES = LEVELS[:4]
"""The levels that do not rest on what people do or wear."""
MOST_HAZARDS_ON_A_CARD = 2
"""A student reads two short hazard lines a step, the first two that the operation's file names, the graver first; the station
card and the risk assessment carry all of them, gravest first."""


@dataclass(frozen=True, kw_only=True)
class HazardControl:
    """One control. `guard`, `holding`, `tool` or `wear` names what carries it out, so that a plan can say it is used; so does
    `fitted`, what a station of the workshop file has, and `before`, a sentence that is read there before starting."""

    __pydantic_config__ = STRICT
    text: Text
    guard: str = ""
    holding: str = ""
    tool: str = ""
    wear: str = ""
    fitted: Literal["", "emergency-stop"] = ""
    before: str = ""


@dataclass(frozen=True, kw_only=True)
class Applies:
    """Where a hazard is there besides what names it. All that is stated must hold.

    workshop
        In the room as a whole: a row of every risk assessment, of no step; of one that steps name too, at every step where
        somebody works.
    power
        At every step where one of these cuts.
    where
        At steps at which this figure is more than 0.
    unlisted_material
        Where wood is cut that the list of materials does not have.
    """

    __pydantic_config__ = STRICT
    workshop: bool = False
    power: tuple[Power, ...] = ()
    where: str = ""
    unlisted_material: bool = False


@dataclass(frozen=True, kw_only=True)
class GhsStatement:
    """What a hazard statement of the UN's globally harmonised system says (`lists/ghs.yaml`), by its code."""

    __pydantic_config__ = STRICT
    says: Text
    source: Text


@dataclass(frozen=True, kw_only=True)
class Hazard:
    """The front matter of a file of `hazards/`; the body is the note for adults, Markdown.

    student
        The short form printed for students, at most twelve words.
    forbids
        Things from `lists/wear.yaml` that must not be worn; the stricter meaning wins over what another hazard asks.
    applies
        Where it is there besides the operations, stations, glues, finishes and materials that name it.
    signs
        Names of `lists/signs.yaml`: what is put up where it is met.
    ghs
        Codes of `lists/ghs.yaml` as found on labels of this family of products; the product's own sheet decides.
    """

    __pydantic_config__ = STRICT
    name: Text
    happens: Text
    whom: Annotated[tuple[str, ...], Field(min_length=1)]
    severity: Literal["minor", "serious", "severe"]
    blade: bool = False
    student: Text
    controls: Mapping[Level, tuple[HazardControl, ...]]
    applies: Applies = field(default_factory=Applies)
    forbids: tuple[str, ...] = ()
    signs: tuple[str, ...] = ()
    ghs: tuple[str, ...] = ()
    stop_when: Annotated[tuple[str, ...], Field(min_length=1)]
    first_aid: Text
    sources: Annotated[tuple[str, ...], Field(min_length=1)]
    body: str = ""
