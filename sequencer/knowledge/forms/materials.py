"""The form of a timber or sheet (`lists/materials.yaml`)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Literal

from pydantic import Field

from sequencer.knowledge.forms.fields import Text
from sequencer.model.fields import STRICT, Plain

Effect = Literal["irritant", "sensitiser", "lungs", "cancer", "nausea", "poison", "nut-tree"]
"""What is reported of a wood's dust: it irritates; it brings on allergy (skin, eyes or airways); it inflames the lungs; cancer
of the nose is reported or suspected; it makes one sick; it poisons; the tree bears nuts, so that allergies are asked for."""


@dataclass(frozen=True, kw_only=True)
class LaserMark:
    """That a material may go into a laser cutter, up to a thickness in mm. Without this mark none does."""

    __pydantic_config__ = STRICT
    thickest: Annotated[Plain, Field(gt=0)]
    source: Text


ClassWork = Literal["students", "staff", "staff-all", "refuse"]
"""Who may cut a wood where a class works, the loosest first: students as the operations say; staff alone do machine work, power
sanding and hand sanding of it; staff alone do every cut of it, by hand too; nobody, and a plan with it is refused."""
CLASS_WORK: tuple[ClassWork, ...] = ("students", "staff", "staff-all", "refuse")


@dataclass(frozen=True, kw_only=True)
class Material:
    """A timber or sheet (`lists/materials.yaml`).

    words
        What else it is called, by region. A name that several materials bear may mean any of them.
    botanical
        One or several botanical names with commas between them.
    hardness
        `softwood` and `hardwood` by botany; balsa is a hardwood.
    works
        How hard it is to work, whatever its botany.
    dust_class
        Whose limits of wood dust count; unless stated `softwood` for softwoods, `hardwood` (the stricter) for all else.
    density
        kg/m3 at about 12 % moisture, of a typical piece.
    tangential, radial
        Change of width for 1 % of moisture as a share of the width, or absent; sheets have none.
    durability
        Class of the heartwood against rot, from 1 (very durable) to 5 (not durable) as EN 350 has them.
    blunting, fixing
        How soon it blunts an edge; what holds screws and nails in it.
    hazards
        What it brings wherever it is cut.
    class_work
        Who may make dust of it where a class works; what `dust` says is the reason.
    laser
        That it may go into a laser cutter; absent: it does not. A name that may mean several materials never has it.
    source
        Of what is said of its dust; where the figures have no source of their own, of them too.
    """

    __pydantic_config__ = STRICT
    name: Text
    words: Mapping[str, tuple[Text, ...]] = field(default_factory=dict)
    botanical: str = ""
    hardness: Literal["softwood", "hardwood", "sheet"]
    works: Literal["", "soft", "medium", "hard"] = ""
    dust_class: Literal["", "softwood", "hardwood"] = ""
    density: Annotated[Plain, Field(gt=0)] | None = None
    density_source: str = ""
    tangential: Annotated[Plain, Field(gt=0, lt=0.01)] | None = None
    radial: Annotated[Plain, Field(gt=0, lt=0.01)] | None = None
    movement_source: str = ""
    durability: Annotated[int, Field(ge=1, le=5)] | None = None
    durability_source: str = ""
    blunting: Literal["", "slight", "moderate", "severe"] = ""
    fixing: str = ""
    effects: tuple[Effect, ...] = ()
    dust: Text
    hazards: tuple[str, ...] = ()
    class_work: ClassWork = "students"
    laser: LaserMark | None = None
    source: Text

    @property
    def dust_counts_as(self) -> str:
        """`softwood` or `hardwood`: whose limits of wood dust count for it."""
        return self.dust_class or ("softwood" if self.hardness == "softwood" else "hardwood")
