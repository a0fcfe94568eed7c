"""Loads `operations/` and `hazards/`, checks them, and lays a school's own folder over them.

A school's folder holds `operations/`, `operations/lists/` and `hazards/` as the shipped ones do, and `changes.yaml`, which
says who made each change and why. A station or hazard file of the same name replaces the shipped one, or with
`rest: as-shipped` is laid over it; a new name adds one; lists are laid over entry by entry.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter

from sequencer.data import data_folder
from sequencer.findings import Finding, Place, Unusable
from sequencer.knowledge import text_checks
from sequencer.knowledge.files import LISTS, DataFile, Files, shown_as, tree_of
from sequencer.knowledge.forms.changes import Records
from sequencer.knowledge.forms.hazards import Hazard
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.joining import knowledge_of
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.overlay import CHANGES_FILE, changes_against, covers
from sequencer.knowledge.switching_off import not_to_be_off, off_change, without
from sequencer.knowledge.whole_checks import check_files
from sequencer.reading.report import Report
from sequencer.reading.tree import Tree, laid_over
from sequencer.reading.words import NAME, as_name, meant

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
    whole = knowledge_of(reading.files)
    reading.check_records(whole, off)
    records = reading.records()
    changes = changes_against(_shipped(), whole, records.changes) if own is not None else ()
    names = dict.fromkeys((*records.switched_off, *off))
    return replace(without(whole, names), changes=(*changes, *(off_change(name, records, whole) for name in names)))


@cache
def _shipped() -> Knowledge:
    """The shipped knowledge alone; its files stay as they are while the tool runs."""
    reading = _Reading(None)
    reading.read()
    return knowledge_of(reading.files)


@cache
def _adapter(form: Any) -> TypeAdapter[Any]:
    return TypeAdapter(form)


_READ: dict[Path, tuple[Tree, Any]] = {}
"""The shipped files that have been read, each with nothing wrong in itself: what it holds and what that is as a form."""


@dataclass
class _Reading:
    """One run of the loader: reads every file, then checks what they name, then joins them."""

    own: Path | None
    findings: list[Finding] = field(default_factory=list)
    files: Files = field(default_factory=Files)

    def read(self) -> None:
        """Reads and checks every file. Unusable with all that is wrong."""
        if self.own is not None and not self.own.is_dir():
            self.refuse("no-such-folder", self.own, "There is no such folder.", "Check the name of the school's own folder.")
        self.strangers()
        for name, paths in self.paths("operations", ".yaml").items():
            self.take(self.files.stations, name, paths[-1], StationKind, "station", under=paths[0])
        for name, paths in self.paths("hazards", ".md").items():
            self.take(self.files.hazards, name, paths[-1], Hazard)
        for name, paths in self.paths("operations/lists", ".yaml").items():
            for path in paths:
                if name in LISTS:
                    self.take(self.files.lists, name, path, LISTS[name])
                else:
                    self.refuse("unknown-list", path, f"There is no list called '{name}'.", meant(name, LISTS))
        if self.own is not None and (path := self.own / CHANGES_FILE).exists():
            self.take(self.files.recorded, path.stem, path, Records)
        if self.findings:  # what a file that cannot be read at all would have named is not known
            self.stop()
        check_files(self.files)
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

    def take(
        self, files: list[DataFile], name: str, path: Path, form: Any, own_name: str = "", under: Path | None = None
    ) -> None:
        """Reads one file; a key `own_name` must repeat the file's name. `under` is the shipped file it may be laid over."""
        if path in _READ:
            tree, value = _READ[path]
            files.append(DataFile(name, Report(tree), value))
            return
        try:
            tree = tree_of(path)
            if under is not None and isinstance(tree.data, dict) and REST in tree.data:
                tree = self.over_the_shipped(tree, path, under)
        except Unusable as unusable:
            self.findings += unusable.findings
            return
        file = DataFile(name, Report(tree))
        file.value = file.report.typed(_adapter(form), tree.data, ())
        text_checks.check_promises(file.report, tree.data)
        text_checks.check_sources(file.report, tree.data)
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
        return laid_over(_READ[under][0] if under in _READ else tree_of(under), tree, BY_ENTRY)

    def records(self) -> Records:
        """Who made the changes and why, as far as it is recorded."""
        return self.files.recorded[0].value if self.files.recorded else Records()

    def check_records(self, whole: Knowledge, off: tuple[str, ...]) -> None:
        """What is switched off exists and may be, and every record stands for a change. Unusable with all that is wrong."""
        self.findings += [Finding("error", *fault[:1], name, *fault[1:]) for name in off if (fault := not_to_be_off(name, whole))]
        for file in self.files.recorded:
            for name in file.value.switched_off:
                if fault := not_to_be_off(name, whole):
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
        self.findings.append(Finding("error", code, path.name, what, remedy=remedy, place=Place(shown_as(path))))

    def stop(self) -> None:
        """Unusable, in the order of files and lines, if anything was found wrong."""
        findings = [*self.findings, *(each for file in self.files.every() for each in file.report.findings)]
        if findings:
            raise Unusable(sorted(findings, key=_by_place))


def _by_place(finding: Finding) -> tuple[str, int, int]:
    place = finding.place or Place("")
    return place.file, place.line, place.column
