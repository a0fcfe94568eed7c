"""The forms of glues and finishes: what dries."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Literal

from pydantic import Field

from sequencer.knowledge.forms.fields import Positive, Text
from sequencer.model.fields import STRICT, Plain

Durability = Literal["", "D1", "D2", "D3", "D4"]
"""What a glued joint stands, by the durability classes of EN 204: D1 dry indoors, D2 now and then damp indoors, D3 often damp
indoors or outdoors under cover, D4 long wet indoors or outdoors in the weather; empty: not known."""
OUTDOORS: tuple[Durability, ...] = ("D3", "D4")
"""Classes that stand outdoors, the first only under cover."""


@dataclass(frozen=True, kw_only=True)
class CrampTime:
    """Minutes that a glue stays in the cramps in a room from a temperature on, degrees Celsius."""

    __pydantic_config__ = STRICT
    at: Plain
    minutes: Positive


@dataclass(frozen=True, kw_only=True)
class Glue:
    """An adhesive (`lists/glues.yaml`), minutes and degrees Celsius.

    at
        Room temperature the times hold at.
    staff
        Staff put it on, whatever the operation says.
    cramp_times
        Times in the cramps by temperature, where its maker states them; else `cramp_time` is lengthened in a cool room.
    """

    __pydantic_config__ = STRICT
    name: Text
    words: Mapping[str, tuple[Text, ...]] = field(default_factory=dict)
    family: Literal[
        "",
        "pva",
        "polyurethane",
        "urea-formaldehyde",
        "epoxy",
        "animal",
        "casein",
        "contact",
        "cyanoacrylate",
    ] = ""
    resists: Durability = ""
    resists_source: str = ""
    open_time: Annotated[Plain, Field(gt=0)]
    cramp_time: Annotated[Plain, Field(gt=0)]
    cure_time: Annotated[Plain, Field(gt=0)]
    coldest: Plain | None = None
    at: Plain | None = None
    staff: bool = False
    cramp_times: tuple[CrampTime, ...] = ()
    hazards: tuple[str, ...] = ()
    source: Text


@dataclass(frozen=True, kw_only=True)
class FinishKind:
    """A finish (`lists/finishes.yaml`), minutes between coats.

    kind
        What `finishes` in an operation's `use` names.
    family
        What it is made of.
    at
        Room temperature the dry time holds at, degrees Celsius.
    food
        Meant to touch food once it has cured, if its maker says so.
    sanded_to
        The last paper before its first coat, a P grade.
    staff
        Staff put it on, whatever the operation says.
    """

    __pydantic_config__ = STRICT
    name: Text
    words: Mapping[str, tuple[Text, ...]] = field(default_factory=dict)
    family: Literal[
        "",
        "water-based",
        "drying-oil",
        "mineral-oil",
        "solvent-varnish",
        "lacquer",
        "shellac",
        "stain",
        "mineral-paint",
        "wax",
    ] = ""
    kind: Literal["water-based", "oil", "wax", "solvent"]
    dry_time: Annotated[Plain, Field(gt=0)]
    at: Plain | None = None
    sanded_to: Positive = 180
    self_heating_rags: bool = False
    food: bool = False
    staff: bool = False
    hazards: tuple[str, ...] = ()
    source: Text
