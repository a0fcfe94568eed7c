"""Loads `operations/` and `hazards/`, checks them, and lays a school's own folder over them.

A school's folder holds `operations/`, `operations/lists/` and `hazards/` as the shipped ones do. A station or hazard file of
the same name replaces the shipped one, a new name adds one; lists are laid over entry by entry.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path
from typing import Any, Literal

from pydantic import TypeAdapter

from sequencer.data import data_folder
from sequencer.findings import Finding, Place, Unusable
from sequencer.knowledge import links
from sequencer.knowledge.formats import (
    BenchFigure,
    BenchName,
    CutterSpeed,
    DatedLimit,
    DrillBit,
    FinishKind,
    FitClass,
    GhsStatement,
    Glue,
    GuardItem,
    Hazard,
    Knowledge,
    Material,
    Operation,
    ScrewGauge,
    StaffStep,
    StationKind,
    WearItem,
)
from sequencer.reading.report import Report
from sequencer.reading.tree import Tree, parse_tree, read_text
from sequencer.reading.words import meant

LISTS: Mapping[str, Any] = {
    "guards": dict[str, GuardItem],
    "holding": dict[str, GuardItem],
    "wear": dict[str, WearItem],
    "materials": dict[str, Material],
    "glues": dict[str, Glue],
    "finishes": dict[str, FinishKind],
    "fits": dict[str, FitClass],
    "screws": dict[int, ScrewGauge],
    "drill-bits": dict[str, DrillBit],
    "cutter-speeds": tuple[CutterSpeed, ...],
    "limits": tuple[DatedLimit, ...],
    "ghs": dict[str, GhsStatement],
    "verbs": tuple[str, ...],
    "bench": dict[BenchName, BenchFigure],
    "staff-steps": dict[Literal["set-up", "guards-back"], StaffStep],
}
"""The files of `operations/lists/` and what each holds."""


def load_knowledge(own: Path | None = None, switched_off: Iterable[str] = ()) -> Knowledge:
    """The shipped knowledge with a school's own folder laid over it, less what is switched off by name.

    Unusable, with everything wrong in all files at once, if a file breaks the rules or names something that is not there,
    or if the folder or something switched off does not exist.
    """
    reading = _Reading(own)
    reading.read()
    knowledge = reading.knowledge()
    return _without(knowledge, tuple(switched_off))


@cache
def _adapter(form: Any) -> TypeAdapter[Any]:
    return TypeAdapter(form)


@dataclass
class _File:
    """A data file while it is read. `value` is absent where the file does not have the form it should have."""

    name: str
    report: Report
    value: Any = None


@dataclass
class _Reading:
    """One run of the loader: reads every file, then checks what they name, then joins them."""

    own: Path | None
    findings: list[Finding] = field(default_factory=list)
    stations: list[_File] = field(default_factory=list)
    hazards: list[_File] = field(default_factory=list)
    lists: list[_File] = field(default_factory=list)

    def read(self) -> None:
        """Reads and checks every file. Unusable with all that is wrong."""
        if self.own is not None and not self.own.is_dir():
            self.refuse("no-such-folder", self.own, "There is no such folder.", "Check the name of the school's own folder.")
        for name, paths in self.paths("operations", ".yaml").items():
            self.take(self.stations, name, paths[-1], StationKind, "station")
        for name, paths in self.paths("hazards", ".md").items():
            self.take(self.hazards, name, paths[-1], Hazard)
        for name, paths in self.paths("operations/lists", ".yaml").items():
            for path in paths:
                if name in LISTS:
                    self.take(self.lists, name, path, LISTS[name])
                else:
                    self.refuse("unknown-list", path, f"There is no list called '{name}'.", meant(name, LISTS))
        if self.findings:  # what a file that cannot be read at all would have named is not known
            self.stop()
        self.check()
        self.stop()

    def paths(self, folder: str, ending: str) -> dict[str, list[Path]]:
        """The files of a data folder by name; of two with one name the shipped one first."""
        top, _, below = folder.partition("/")
        found: dict[str, list[Path]] = {}
        for base in (data_folder(top) / below, *([self.own / folder] if self.own else [])):
            for path in sorted(base.glob(f"*{ending}")):
                if path.stem != "README":
                    found.setdefault(path.stem, []).append(path)
        return dict(sorted(found.items()))

    def take(self, files: list[_File], name: str, path: Path, form: Any, own_name: str = "") -> None:
        """Reads one file; a key `own_name` must repeat the file's name."""
        try:
            tree = _tree(path)
        except Unusable as unusable:
            self.findings += unusable.findings
            return
        file = _File(name, Report(tree))
        file.value = file.report.typed(_adapter(form), tree.data, ())
        links.check_promises(file.report, tree.data)
        if own_name and file.value is not None and (called := getattr(file.value, own_name)) != name:
            file.report.error(
                "file-name",
                (own_name,),
                f"The file is called '{name}' and says '{called}'.",
                "Files are found by their name.",
                "Make the two the same.",
            )
        files.append(file)

    def refuse(self, code: str, path: Path, what: str, remedy: str) -> None:
        self.findings.append(Finding("error", code, path.name, what, remedy=remedy, place=Place(_called(path))))

    def stop(self) -> None:
        """Unusable, in the order of files and lines, if anything was found wrong."""
        findings = [*self.findings, *(each for file in self.files() for each in file.report.findings)]
        if findings:
            raise Unusable(sorted(findings, key=_by_place))

    def files(self) -> tuple[_File, ...]:
        return (*self.stations, *self.hazards, *self.lists)

    def listed(self, name: str) -> tuple[_File, ...]:
        return tuple(file for file in self.lists if file.name == name)

    def keys(self, name: str) -> tuple[str, ...]:
        """The names in a list, also where an entry of it is wrong."""
        return tuple(key for file in self.listed(name) if isinstance(data := file.report.tree.data, dict) for key in data)

    def check(self) -> None:
        """Checks all that the files name."""
        worn = [file.value for file in self.listed("wear") if file.value is not None]
        names = links.Names(
            guards=self.keys("guards"),
            holding=self.keys("holding"),
            wear=self.keys("wear"),
            forbidden=tuple(key for items in worn for key, item in items.items() if item.forbidden_line),
            hazards=tuple(file.name for file in self.hazards),
            bits=self.keys("drill-bits"),
            ghs=self.keys("ghs"),
            verbs=frozenset(str(verb).lower() for file in self.listed("verbs") for verb in file.report.tree.data),
        )
        places: dict[str, str] = {}
        for file in self.stations:
            if file.value is None:
                continue
            links.check_station(file.report, file.value, names)
            for key in file.value.operations:
                if key in places:
                    file.report.error(
                        "same-name",
                        ("operations", key),
                        f"An operation of {places[key]} is also called '{key}'.",
                        "Operations are switched off and decided by their name.",
                        "Rename one of them.",
                    )
                places[key] = file.name
        for file in self.hazards:
            if file.value is not None:
                links.check_hazard(file.report, file.value, names)
        for name in ("guards", "holding", "wear"):
            for file in self.listed(name):
                links.check_lines(file.report, file.value or {}, names)
        for name in ("glues", "finishes", "materials"):
            for file in self.listed(name):
                links.check_their_hazards(file.report, file.value or {}, names)
        for file in self.listed("staff-steps"):
            links.check_staff_steps(file.report, file.value or {}, names)
        if self.listed("fits"):
            links.check_fits(self.listed("fits")[-1].report, self.keys("fits"))

    def knowledge(self) -> Knowledge:
        """Everything joined; a station's limits stand in front of each of its operations' own."""

        def named(name: str) -> dict[Any, Any]:
            return {key: value for file in self.listed(name) for key, value in file.value.items()}

        def several(name: str) -> tuple[Any, ...]:
            return tuple(value for file in self.listed(name) for value in file.value)

        return Knowledge(
            stations={file.name: _with_limits(file.value) for file in self.stations},
            hazards={file.name: file.value for file in self.hazards},
            guards=named("guards"),
            holding=named("holding"),
            wear=named("wear"),
            materials=named("materials"),
            glues=named("glues"),
            finishes=named("finishes"),
            fits=named("fits"),
            screws=named("screws"),
            drill_bits=named("drill-bits"),
            cutter_speeds=tuple(sorted(several("cutter-speeds"), key=lambda row: row.up_to)),
            verbs=tuple(dict.fromkeys(several("verbs"))),
            limits=several("limits"),
            ghs=named("ghs"),
            staff_steps=named("staff-steps"),
            bench_figures=named("bench"),
        )


def _called(path: Path) -> str:
    """What messages call a file: shipped ones by their place among the data, so that they read alike everywhere."""
    shipped = data_folder("operations").parent
    return path.relative_to(shipped).as_posix() if path.is_relative_to(shipped) else path.as_posix()


def _by_place(finding: Finding) -> tuple[str, int, int]:
    place = finding.place or Place("")
    return place.file, place.line, place.column


def _tree(path: Path) -> Tree:
    """The tree of a YAML file, or of the front matter of a Markdown file with the rest of it as `body`."""
    text, called = read_text(path), _called(path)
    if path.suffix != ".md":
        return parse_tree(text, called)
    lines = text.splitlines(keepends=True)
    ends = [number for number, line in enumerate(lines) if line.strip() == "---"]
    if len(ends) < 2 or ends[0] != 0:
        raise Unusable([
            Finding(
                "error", "front-matter", path.name, "The file does not start with keys between two lines '---'.",
                remedy="Put '---' in the first line and after the last key.", place=Place(called, 1),
            )
        ])  # fmt: skip
    tree = parse_tree("".join(lines[1 : ends[1]]), called, first_line=2)
    if isinstance(tree.data, dict):
        tree.data["body"] = "".join(lines[ends[1] + 1 :]).strip()
    return tree


def _with_limits(station: StationKind) -> StationKind:
    return _with_operations(station, lambda operation: replace(operation, limits=(*station.limits, *operation.limits)))


def _with_operations(station: StationKind, change: Callable[[Operation], Operation]) -> StationKind:
    return replace(station, operations={name: change(operation) for name, operation in station.operations.items()})


def _without(knowledge: Knowledge, names: tuple[str, ...]) -> Knowledge:
    """The knowledge less the operations of these names. A hazard cannot be switched off: a sheet would lose its warning."""
    if not names:
        return knowledge
    known = {name for station in knowledge.stations.values() for name in station.operations}
    wrong = [name for name in names if name not in known]
    if wrong:
        raise Unusable(
            Finding("error", "hazard-switched-off", name, f"The hazard '{name}' is switched off, and hazards cannot be.",
                    "A sheet would lose its warning in silence.", "Take it out; to word it otherwise, lay your own file over it.")
            if name in knowledge.hazards
            else Finding("error", "unknown-name", name, f"'{name}' is switched off; no operation is called that.",
                         remedy=meant(name, known))
            for name in wrong
        )  # fmt: skip
    stations = {
        kind: replace(
            station, operations={name: operation for name, operation in station.operations.items() if name not in names}
        )
        for kind, station in knowledge.stations.items()
    }
    return replace(knowledge, stations=stations)
