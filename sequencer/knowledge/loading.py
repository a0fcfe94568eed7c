"""Loads `operations/` and `hazards/`, checks them, and lays a school's own folder over them.

A school's folder holds `operations/`, `operations/lists/` and `hazards/` as the shipped ones do, and `changes.yaml`, which
says who made each change and why. A station or hazard file of the same name replaces the shipped one, or with
`rest: as-shipped` is laid over it; a new name adds one; lists are laid over entry by entry.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path
from typing import Any, Literal

from pydantic import TypeAdapter

from sequencer.data import data_folder
from sequencer.features.base import ShapeLeft
from sequencer.findings import Finding, Place, Unusable
from sequencer.knowledge import hazard_checks, links, ranges, region_checks
from sequencer.knowledge.forms.bench import BenchFigure, BenchName
from sequencer.knowledge.forms.changes import Change, Records
from sequencer.knowledge.forms.cutters import AbrasiveGrade, BandBlade, CutterSpeed, DrillBit, SizedTools
from sequencer.knowledge.forms.fixings import FastenerRule, FitClass, ScrewGauge
from sequencer.knowledge.forms.glues import FinishKind, Glue
from sequencer.knowledge.forms.guards import GuardItem, WearItem
from sequencer.knowledge.forms.hazards import GhsStatement, Hazard
from sequencer.knowledge.forms.jigs import HeldShape, Jig
from sequencer.knowledge.forms.materials import Material
from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.forms.regions import DatedLimit, Measure, Region
from sequencer.knowledge.forms.setting_up import ChangeName, ChangeTime, StaffStep
from sequencer.knowledge.forms.signs import SignItem
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.forms.terms import Term
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.overlay import CHANGES_FILE, changes_against, covers
from sequencer.knowledge.working import WorkingFigure, WorkingName
from sequencer.model.fields import NumberName, Written
from sequencer.reading.report import Report
from sequencer.reading.tree import Tree, laid_over, parse_tree, read_text
from sequencer.reading.words import NAME, as_name, meant

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
    "staff-steps": dict[Literal["set-up", "guards-back"], StaffStep],
}
"""The files of `operations/lists/` and what each holds."""

READMES = ("README", "README.md", "README.txt")
"""Files of a school's own folder that are for its readers and that nothing is taken from."""

REST, AS_SHIPPED = "rest", "as-shipped"
"""The key and word by which a school's station file says that what it does not name is as shipped."""
BY_ENTRY = ("figures", "operations", "words", "who")
"""Keys of a station file that are then laid over entry by entry; the others as a whole."""


def load_knowledge(own: Path | None = None, switched_off: Iterable[str] = ()) -> Knowledge:
    """The shipped knowledge with a school's own folder laid over it, less what is switched off by name.

    Unusable, with everything wrong in all files at once, if a file breaks the rules or names something that is not there,
    or if the folder or something switched off does not exist.
    """
    off = tuple(switched_off)
    if own is None and not off:
        return _shipped()
    reading = _Reading(own)
    reading.read()
    whole = reading.knowledge()
    reading.check_records(whole, off)
    records = reading.records()
    changes = changes_against(_shipped(), whole, records.changes) if own is not None else ()
    names = dict.fromkeys((*records.switched_off, *off))
    return replace(_without(whole, names), changes=(*changes, *(_off(name, records, whole) for name in names)))


@cache
def _shipped() -> Knowledge:
    """The shipped knowledge alone; its files stay as they are while the tool runs."""
    reading = _Reading(None)
    reading.read()
    return reading.knowledge()


@cache
def _adapter(form: Any) -> TypeAdapter[Any]:
    return TypeAdapter(form)


@dataclass
class _File:
    """A data file while it is read. `value` is absent where the file does not have the form it should have."""

    name: str
    report: Report
    value: Any = None


_READ: dict[Path, tuple[Tree, Any]] = {}
"""The shipped files that have been read, each with nothing wrong in itself: what it holds and what that is as a form."""


@dataclass
class _Reading:
    """One run of the loader: reads every file, then checks what they name, then joins them."""

    own: Path | None
    findings: list[Finding] = field(default_factory=list)
    stations: list[_File] = field(default_factory=list)
    hazards: list[_File] = field(default_factory=list)
    lists: list[_File] = field(default_factory=list)
    recorded: list[_File] = field(default_factory=list)

    def read(self) -> None:
        """Reads and checks every file. Unusable with all that is wrong."""
        if self.own is not None and not self.own.is_dir():
            self.refuse("no-such-folder", self.own, "There is no such folder.", "Check the name of the school's own folder.")
        self.strangers()
        for name, paths in self.paths("operations", ".yaml").items():
            self.take(self.stations, name, paths[-1], StationKind, "station", under=paths[0])
        for name, paths in self.paths("hazards", ".md").items():
            self.take(self.hazards, name, paths[-1], Hazard)
        for name, paths in self.paths("operations/lists", ".yaml").items():
            for path in paths:
                if name in LISTS:
                    self.take(self.lists, name, path, LISTS[name])
                else:
                    self.refuse("unknown-list", path, f"There is no list called '{name}'.", meant(name, LISTS))
        if self.own is not None and (path := self.own / CHANGES_FILE).exists():
            self.take(self.recorded, path.stem, path, Records)
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

    def strangers(self) -> None:
        """Every file of the school's own folder is one that is read: a change must not be overlooked in silence."""
        if self.own is None:
            return
        read = {
            "": ("operations", "hazards", CHANGES_FILE),
            "operations": ("lists", "*.yaml"),
            "operations/lists": ("*.yaml",),
            "hazards": ("*.md",),
        }
        for folder, names in read.items():
            at = self.own / folder
            if at.exists() and not at.is_dir():
                self.refuse(
                    "no-folder",
                    at,
                    f"'{folder}' is a file where a folder is looked for; nothing in it would be read.",
                    f"Make a folder '{folder}' and put the files into it.",
                )
            for path in sorted(at.iterdir()) if at.is_dir() else ():
                if path.name.startswith(".") or path.name in READMES:
                    continue
                if path.is_file() and path.stem != "README" and not NAME.fullmatch(path.stem) and any(map(path.match, names)):
                    better = as_name(path.stem)
                    self.refuse(
                        "file-name",
                        path,
                        f"'{path.stem}' cannot be a name: names are small letters and digits, with hyphens between words.",
                        f"Call the file '{better}{path.suffix}'." if better else "Give the file another name.",
                    )
                elif path.stem == "README" or not any(map(path.match, names)):
                    self.refuse(
                        "unknown-file",
                        path,
                        f"'{(Path(folder) / path.name).as_posix()}' would not be read.",
                        f"The folder holds operations/*.yaml, operations/lists/*.yaml, hazards/*.md and {CHANGES_FILE}.",
                    )

    def take(self, files: list[_File], name: str, path: Path, form: Any, own_name: str = "", under: Path | None = None) -> None:
        """Reads one file; a key `own_name` must repeat the file's name. `under` is the shipped file it may be laid over."""
        if path in _READ:
            tree, value = _READ[path]
            files.append(_File(name, Report(tree), value))
            return
        try:
            tree = _tree(path)
            if under is not None and isinstance(tree.data, dict) and REST in tree.data:
                tree = self.over_the_shipped(tree, path, under)
        except Unusable as unusable:
            self.findings += unusable.findings
            return
        file = _File(name, Report(tree))
        file.value = file.report.typed(_adapter(form), tree.data, ())
        links.check_promises(file.report, tree.data)
        links.check_sources(file.report, tree.data)
        if own_name and file.value is not None and (called := getattr(file.value, own_name)) != name:
            file.report.error(
                "file-name",
                (own_name,),
                f"The file is called '{name}' and says '{called}'.",
                "Files are found by their name.",
                "Make the two the same.",
            )
        files.append(file)
        if not file.report.findings and (self.own is None or not path.is_relative_to(self.own)):
            _READ[path] = file.report.tree, file.value

    def over_the_shipped(self, tree: Tree, path: Path, under: Path) -> Tree:
        """The shipped station file with this one over it. Unusable if there is none, or if `rest` says anything else."""
        report = Report(tree)
        assert isinstance(tree.data, dict)
        if tree.data.pop(REST) != AS_SHIPPED:
            report.error("unknown-value", (REST,), f"'{REST}' can only be '{AS_SHIPPED}'.", "", "Leave it out to replace all.")
        elif path == under:
            names = [each.stem for each in data_folder("operations").glob("*.yaml")]
            what = f"There is no shipped station called '{path.stem}' to take the rest from."
            report.error("unknown-name", (REST,), what, remedy=meant(path.stem, names))
        report.close()
        return laid_over(_READ[under][0] if under in _READ else _tree(under), tree, BY_ENTRY)

    def records(self) -> Records:
        """Who made the changes and why, as far as it is recorded."""
        return self.recorded[0].value if self.recorded else Records()

    def check_records(self, whole: Knowledge, off: tuple[str, ...]) -> None:
        """What is switched off exists and may be, and every record stands for a change. Unusable with all that is wrong."""
        self.findings += [
            Finding("error", *fault[:1], name, *fault[1:]) for name in off if (fault := _not_to_be_off(name, whole))
        ]
        for file in self.recorded:
            for name in file.value.switched_off:
                if fault := _not_to_be_off(name, whole):
                    file.report.error(fault[0], ("switched_off", name), *fault[1:])
            places = [change.about for change in changes_against(_shipped(), whole, {})]
            for name in file.value.changes:
                if not any(covers(name, about) for about in places):
                    file.report.error(
                        "unknown-name",
                        ("changes", name),
                        f"Nothing in this folder changes '{name}'.",
                        "A record that stands for nothing answers for nothing.",
                        meant(name, {*places, *("/".join(place.split("/")[:2]) for place in places)}) or "Take it out.",
                    )
        self.stop()

    def refuse(self, code: str, path: Path, what: str, remedy: str) -> None:
        self.findings.append(Finding("error", code, path.name, what, remedy=remedy, place=Place(_called(path))))

    def stop(self) -> None:
        """Unusable, in the order of files and lines, if anything was found wrong."""
        findings = [*self.findings, *(each for file in self.files() for each in file.report.findings)]
        if findings:
            raise Unusable(sorted(findings, key=_by_place))

    def files(self) -> tuple[_File, ...]:
        return (*self.stations, *self.hazards, *self.lists, *self.recorded)

    def listed(self, name: str) -> tuple[_File, ...]:
        return tuple(file for file in self.lists if file.name == name)

    def keys(self, name: str) -> tuple[str, ...]:
        """The names in a list, also where an entry of it is wrong."""
        return tuple(key for file in self.listed(name) if isinstance(data := file.report.tree.data, dict) for key in data)

    def standing(self, file: _File) -> dict[str, Any]:
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
            sized=self.keys("tool-sizes"),
            jigs={name: jig for file in self.listed("jigs") for name, jig in (file.value or {}).items()},
            ghs=self.keys("ghs"),
            signs=self.keys("signs"),
            sign_drawings=_drawn("signs"),
            guard_drawings=_drawn("guards"),
            tools=self.tools(),
            before=self.before(),
            verbs=frozenset(str(verb).lower() for file in self.listed("verbs") for verb in file.report.tree.data),
        )
        hazards = {file.name: file.value for file in self.hazards if file.value is not None}
        places: dict[str, str] = {}
        for file in self.stations:
            if file.value is None:
                continue
            links.check_station(file.report, file.value, names)
            hazard_checks.check_gloves(file.report, file.value, hazards)
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
                hazard_checks.check_rules(file.report, file.value)
        for name in ("guards", "holding", "wear"):
            for file in self.listed(name):
                links.check_lines(file.report, file.value or {}, names)
        for file in self.listed("holding"):
            for key, item in (file.value or {}).items():
                links.check_names(file.report, "way of holding", item.line_for, names.holding, (key, "line_for"))
        for name in ("glues", "finishes", "materials"):
            for file in self.listed(name):
                links.check_their_hazards(file.report, file.value or {}, names)
        for file in self.listed("glues"):
            links.check_glues(file.report, file.value or {})
        for file in self.listed("finishes"):
            links.check_finishes(file.report, file.value or {})
        for file in self.listed("materials"):
            links.check_materials(file.report, file.value or {})
        for file in self.listed("jigs"):
            links.check_jigs(file.report, file.value or {}, names)
        for file in self.listed("shapes"):
            links.check_shapes(file.report, file.value or {}, names)
        for file in self.listed("tool-sizes"):
            links.check_tool_sizes(file.report, file.value or {})
        for file in self.listed("staff-steps"):
            links.check_staff_steps(file.report, file.value or {}, names)
        if self.listed("staff-steps"):
            links.check_staff_steps_there(self.listed("staff-steps")[-1].report, self.keys("staff-steps"))
        self.check_regions()
        for file in self.lists:
            ranges.check_ranges(file.report, file.name, file.value)
        if self.listed("fits"):
            links.check_fits(self.listed("fits")[-1].report, self.keys("fits"))

    def check_regions(self) -> None:
        """Checks regions, measures and dated figures against each other."""
        names = region_checks.RegionNames(
            {name: item for file in self.listed("measures") for name, item in (file.value or {}).items()},
            tuple(file.name for file in self.stations),
            region_checks.jurisdictions(each for file in self.listed("regions") for each in (file.value or {}).values()),
            region_checks.with_figures(each for file in self.listed("limits") for each in file.value or ()),
            region_checks.codes({name: item for file in self.listed("regions") for name, item in (file.value or {}).items()}),
        )
        for file in self.listed("measures"):
            region_checks.check_measures(file.report, self.standing(file), names)
        for file in self.listed("limits"):
            region_checks.check_records(file.report, file.value or (), names)
        for file in self.listed("regions"):
            region_checks.check_regions(file.report, self.standing(file), names)
        for file in self.listed("guards"):
            region_checks.check_guards(file.report, self.standing(file), names)

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
            fasteners=named("fasteners"),
            change_times=named("changes"),
            screws=named("screws"),
            drill_bits=named("drill-bits"),
            tool_sizes=named("tool-sizes"),
            cutter_speeds=tuple(sorted(several("cutter-speeds"), key=lambda row: row.up_to)),
            band_blades=tuple(sorted(several("band-saw-blades"), key=lambda row: row.up_to)),
            abrasives=named("abrasives"),
            verbs=tuple(dict.fromkeys(several("verbs"))),
            limits=several("limits"),
            measures=named("measures"),
            regions=named("regions"),
            ghs=named("ghs"),
            signs=named("signs"),
            terms=named("terms"),
            staff_steps=named("staff-steps"),
            bench_figures=named("bench"),
            working_figures=named("working-figures"),
            jigs=named("jigs"),
            shapes=named("shapes"),
        )


def _drawn(folder: str) -> frozenset[str]:
    """The drawings of a folder of `cards`, by name."""
    return frozenset(path.stem for path in (data_folder("cards") / folder).glob("*.svg"))


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


def _with_limits(station: StationKind) -> StationKind:
    return _with_operations(station, lambda operation: replace(operation, limits=(*station.limits, *operation.limits)))


def _with_operations(station: StationKind, change: Callable[[Operation], Operation]) -> StationKind:
    return replace(station, operations={name: change(operation) for name, operation in station.operations.items()})


def _not_to_be_off(name: str, knowledge: Knowledge) -> tuple[str, str, str, str] | None:
    """Code, what, why and remedy if this cannot be switched off. Hazards cannot: a sheet would lose its warning."""
    operations = {name for station in knowledge.stations.values() for name in station.operations}
    can = {*operations, *knowledge.stations, *knowledge.glues, *knowledge.finishes}
    if name in can:
        return None
    if name in knowledge.hazards:
        return (
            "hazard-switched-off",
            f"The hazard '{name}' is switched off, and hazards cannot be.",
            "A sheet would lose its warning in silence.",
            "Take it out; to word it otherwise, lay your own file over it.",
        )
    what = f"'{name}' is switched off; no operation, kind of station, glue or finish is called that."
    return "unknown-name", what, "", meant(name, can)


def _off(name: str, records: Records, knowledge: Knowledge) -> Change:
    """The change that switching off makes."""
    record = records.switched_off.get(name)
    by, why = (record.by, record.why) if record else ("", "")
    titles = {key: operation.name for kind in knowledge.stations.values() for key, operation in kind.operations.items()}
    for things in (knowledge.finishes, knowledge.glues, knowledge.stations):
        titles |= {key: thing.name for key, thing in things.items() if key not in titles}
    return Change(name, f"“{titles[name]}” is switched off.", (), by, why)


def _without(knowledge: Knowledge, names: Iterable[str]) -> Knowledge:
    """The knowledge less what is switched off. A kind of station keeps its name and has no operation left."""
    off = set(names)
    stations = {
        kind: replace(
            station,
            operations={} if kind in off else {name: each for name, each in station.operations.items() if name not in off},
        )
        for kind, station in knowledge.stations.items()
    }
    glues = {name: glue for name, glue in knowledge.glues.items() if name not in off}
    finishes = {name: finish for name, finish in knowledge.finishes.items() if name not in off}
    return replace(knowledge, stations=stations, glues=glues, finishes=finishes)
