"""The data files of the knowledge while they are read: which lists there are, and each file with what is wrong in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

from sequencer.data import data_folder
from sequencer.features.base import ShapeLeft
from sequencer.findings import Finding, Place, Unusable
from sequencer.knowledge.forms.bench import BenchFigure, BenchName
from sequencer.knowledge.forms.cutters import AbrasiveGrade, BandBlade, CutterSpeed, DrillBit, SizedTools
from sequencer.knowledge.forms.fixings import FastenerRule, FitClass, ScrewGauge
from sequencer.knowledge.forms.glues import FinishKind, Glue
from sequencer.knowledge.forms.guards import GuardItem, WearItem
from sequencer.knowledge.forms.hazards import GhsStatement
from sequencer.knowledge.forms.jigs import HeldShape, Jig
from sequencer.knowledge.forms.materials import Material
from sequencer.knowledge.forms.regions import DatedLimit, Measure, Region
from sequencer.knowledge.forms.setting_up import ChangeName, ChangeTime, StaffStep
from sequencer.knowledge.forms.signs import SignItem
from sequencer.knowledge.forms.terms import Term
from sequencer.knowledge.forms.waiting import WaitingWork
from sequencer.knowledge.working import WorkingFigure, WorkingName
from sequencer.model.fields import NumberName, Written
from sequencer.reading.report import Report
from sequencer.reading.tree import Tree, parse_tree, read_text

LISTS: Mapping[str, Any] = {
    "guards": dict[str, GuardItem],
    "holding": dict[str, GuardItem],
    "wear": dict[str, WearItem],
    "materials": dict[str, Material],
    "glues": dict[str, Glue],
    "finishes": dict[str, FinishKind],
    "fits": dict[str, FitClass],
    "fasteners": dict[Literal["nails", "screws"], FastenerRule],
    "changes": dict[ChangeName, ChangeTime],
    "screws": dict[NumberName, ScrewGauge],
    "drill-bits": dict[str, DrillBit],
    "tool-sizes": dict[str, SizedTools],
    "cutter-speeds": tuple[CutterSpeed, ...],
    "band-saw-blades": tuple[BandBlade, ...],
    "abrasives": dict[NumberName, AbrasiveGrade],
    "limits": tuple[DatedLimit, ...],
    "measures": dict[str, Measure],
    "regions": dict[str, Region],
    "ghs": dict[str, GhsStatement],
    "signs": dict[str, SignItem],
    "terms": dict[str, Term],
    "verbs": tuple[Written, ...],
    "bench": dict[BenchName, BenchFigure],
    "working-figures": dict[WorkingName, WorkingFigure],
    "jigs": dict[str, Jig],
    "shapes": dict[ShapeLeft, HeldShape],
    "waiting-work": dict[str, WaitingWork],
    "staff-steps": dict[Literal["set-up", "guards-back"], StaffStep],
}
"""The files of `operations/lists/` and what each holds."""


@dataclass
class DataFile:
    """A data file while it is read. `value` is absent where the file does not have the form it should have."""

    name: str
    report: Report
    value: Any = None


@dataclass
class Files:
    """All data files that have been read; of two lists of one name the school's own after the shipped one."""

    stations: list[DataFile] = field(default_factory=list)
    hazards: list[DataFile] = field(default_factory=list)
    lists: list[DataFile] = field(default_factory=list)
    recorded: list[DataFile] = field(default_factory=list)

    def every(self) -> tuple[DataFile, ...]:
        """All of them."""
        return (*self.stations, *self.hazards, *self.lists, *self.recorded)

    def listed(self, name: str) -> tuple[DataFile, ...]:
        """The files of one list."""
        return tuple(file for file in self.lists if file.name == name)

    def keys(self, name: str) -> tuple[str, ...]:
        """The names in a list, also where an entry of it is wrong."""
        return tuple(key for file in self.listed(name) if isinstance(data := file.report.tree.data, dict) for key in data)

    def standing(self, file: DataFile) -> dict[str, Any]:
        """The entries of a list's file that no later file of that list replaces."""
        later = self.listed(file.name)[self.listed(file.name).index(file) + 1 :]
        gone = {key for each in later for key in each.value or {}}
        return {key: item for key, item in (file.value or {}).items() if key not in gone}

    def tools(self) -> set[str] | None:
        """What operations have laid out; None while a station file cannot be read."""
        kinds = [file.value for file in self.stations]
        read = [kind for kind in kinds if kind is not None]
        return (
            {tool for kind in read for each in kind.operations.values() for tool in each.all_tools}
            if len(read) == len(kinds)
            else None
        )

    def before(self) -> set[str] | None:
        """What is read at stations before starting; None while a station file cannot be read."""
        kinds = [file.value for file in self.stations]
        read = [kind for kind in kinds if kind is not None]
        return {line for kind in read for line in kind.before_starting} if len(read) == len(kinds) else None


def shown_as(path: Path) -> str:
    """What messages call a file: shipped ones by their place among the data, so that they read alike everywhere."""
    shipped = data_folder("operations").parent
    return path.relative_to(shipped).as_posix() if path.is_relative_to(shipped) else path.as_posix()


def tree_of(path: Path) -> Tree:
    """The tree of a YAML file, or of the front matter of a Markdown file with the rest of it as `body`."""
    text, called = read_text(path), shown_as(path)
    if path.suffix != ".md":
        return parse_tree(text, called)
    lines = text.splitlines(keepends=True)
    ends = [number for number, line in enumerate(lines) if line.strip() == "---"]
    if len(ends) < 2 or ends[0] != 0:
        raise Unusable([
            Finding(
                "error", "front-matter", path.name, "The file does not start with keys between two lines '---'.",
                remedy="Put '---' in the first line and after the last key.", place=Place(called, 1, 1),
            )
        ])  # fmt: skip
    tree = parse_tree("".join(lines[1 : ends[1]]), called, first_line=2)
    if isinstance(tree.data, dict):
        if "body" in tree.data:
            report = Report(tree)
            report.error(
                "unknown-key",
                ("body",),
                "'body' is no key here.",
                "The note for adults is the text below the second '---'; two notes cannot both count.",
                "Move what it says below the second '---'.",
            )
            report.close()
        tree.data["body"] = "".join(lines[ends[1] + 1 :]).strip()
    return tree
