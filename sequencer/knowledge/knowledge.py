"""Everything the data folders say, in one object: what loading gives and planning asks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from sequencer.features.base import ShapeLeft
from sequencer.knowledge.forms.bench import BenchFigure, BenchName
from sequencer.knowledge.forms.changes import Change
from sequencer.knowledge.forms.cutters import AbrasiveGrade, BandBlade, CutterSpeed, DrillBit, SizedTools
from sequencer.knowledge.forms.fixings import FastenerRule, FitClass, ScrewGauge
from sequencer.knowledge.forms.glues import FinishKind, Glue
from sequencer.knowledge.forms.guards import GuardItem, WearItem
from sequencer.knowledge.forms.hazards import GhsStatement, Hazard
from sequencer.knowledge.forms.jigs import HeldShape, Jig
from sequencer.knowledge.forms.materials import Material
from sequencer.knowledge.forms.regions import DatedLimit, Measure, Region
from sequencer.knowledge.forms.setting_up import ChangeName, ChangeTime, StaffStep
from sequencer.knowledge.forms.signs import SignItem
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.forms.terms import Term
from sequencer.knowledge.forms.waiting import WaitingWork
from sequencer.knowledge.working import Working, WorkingFigure, WorkingName
from sequencer.model.plan import Bench


@dataclass(frozen=True)
class Knowledge:
    """Everything the data folders say, checked: every name in it refers to something in it."""

    stations: Mapping[str, StationKind]
    hazards: Mapping[str, Hazard]
    guards: Mapping[str, GuardItem]
    holding: Mapping[str, GuardItem]
    wear: Mapping[str, WearItem]
    materials: Mapping[str, Material]
    glues: Mapping[str, Glue]
    finishes: Mapping[str, FinishKind]
    fits: Mapping[str, FitClass]
    fasteners: Mapping[str, FastenerRule]
    """By the word among the fixings of a joint: `nails`, `screws`."""
    change_times: Mapping[ChangeName, ChangeTime]
    """What a change of set-up takes, by what it consists of."""
    screws: Mapping[int, ScrewGauge]
    drill_bits: Mapping[str, DrillBit]
    tool_sizes: Mapping[str, SizedTools]
    cutter_speeds: tuple[CutterSpeed, ...]
    band_blades: tuple[BandBlade, ...]
    abrasives: Mapping[int, AbrasiveGrade]
    """Grades of abrasive paper by number."""
    verbs: tuple[str, ...]
    """The imperatives a sentence of an instruction may start with (`lists/verbs.yaml`)."""
    limits: tuple[DatedLimit, ...]
    measures: Mapping[str, Measure]
    regions: Mapping[str, Region]
    ghs: Mapping[str, GhsStatement]
    signs: Mapping[str, SignItem]
    terms: Mapping[str, Term]
    """Words of ours that are others elsewhere."""
    staff_steps: Mapping[str, StaffStep]
    """`set-up` and `guards-back`."""
    waiting_work: Mapping[str, WaitingWork]
    """Seated work for whoever waits in a lesson, in the order in which it is given."""
    bench_figures: Mapping[BenchName, BenchFigure]
    working_figures: Mapping[WorkingName, WorkingFigure]
    jigs: Mapping[str, Jig]
    shapes: Mapping[ShapeLeft, HeldShape]
    """How a piece is held by what an earlier shape has left of it."""
    changes: tuple[Change, ...] = ()
    """What the school has changed."""

    @cached_property
    def bench(self) -> Bench:
        """The figures of the bench, as a plan carries them."""
        return Bench(**{name.replace("-", "_"): figure.value for name, figure in self.bench_figures.items()})

    @cached_property
    def working(self) -> Working:
        """The figures of `working_figures` by name."""
        return Working(**{name.replace("-", "_"): figure.value for name, figure in self.working_figures.items()})
