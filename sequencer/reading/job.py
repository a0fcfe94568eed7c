"""Reads a job file into the model, or says everything that is wrong with it at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path, PurePosixPath
from types import MappingProxyType

from sequencer.findings import Finding
from sequencer.model.frame import FaceName
from sequencer.model.job import Hardware, Job, Joint
from sequencer.reading.expressions import RESERVED, Unit
from sequencer.reading.job_file import (
    AssembliesForm,
    ChoiceForm,
    CrossingForm,
    DecisionsForm,
    ExtensionsForm,
    FinishesForm,
    HardwareForm,
    JobForm,
    JointForm,
    OverallForm,
    StockForm,
)
from sequencer.reading.joints import Pieces, make_crossing, make_joint, make_overall
from sequencer.reading.parts import make_parts, make_stock
from sequencer.reading.reader import Reader
from sequencer.reading.references import References
from sequencer.reading.report import Report
from sequencer.reading.sizes import Sizes, work_out
from sequencer.reading.tree import Data, Steps, Tree, read_tree
from sequencer.reading.variants import written_out


def read_job(path: Path) -> tuple[Job, tuple[Finding, ...]]:
    """The job a file describes, and notes on it. Unusable, with every error of the file, if it cannot be used."""
    return job_of(read_tree(path))


def job_of(tree: Tree, chosen: Mapping[str, str] = MappingProxyType({})) -> tuple[Job, tuple[Finding, ...]]:
    """The job a tree describes, as `read_job` gives it; with the sizes `chosen`, as somebody would write them, for its own."""
    report = Report(tree)
    report.tree = written_out(report)
    reader = _reader(report, chosen)
    head = report.form(JobForm, tree.data, (), reader)
    stock = {
        name: made
        for name, form in report.forms(StockForm, ("stock",), reader).items()
        if (made := make_stock(name, form, report))
    }
    pieces = Pieces(make_parts(report, reader, stock), _written(tree, report), report)
    joints, joint_forms = _joints(report, pieces, reader)
    overall = [
        made_overall
        for name, measure in report.forms(OverallForm, ("overall",), reader).items()
        if (made_overall := make_overall(name, measure, pieces))
    ]
    hardware_forms = report.forms(HardwareForm, ("hardware",), reader)
    hardware = {
        name: Hardware(name, each.what, each.count, each.gauge, each.length, each.diameter, each.note, each.kind, each.fixed_to)
        for name, each in hardware_forms.items()
    }
    choice_forms = report.forms(ChoiceForm, ("choices",), reader)
    assembled = report.section(AssembliesForm, "assemblies")
    finishes = report.section(FinishesForm, "finish", reader)
    decided = report.section(DecisionsForm, "decisions")
    extended = report.section(ExtensionsForm, "extension")
    names = References(report, pieces.written)
    names.parts(pieces.parts)
    names.fixed_to(hardware, pieces.parts)
    hardware = {
        name: replace(thing, on=_goes_on(name, thing, hardware_forms[name].on, pieces)) for name, thing in hardware.items()
    }
    joints = names.joints_of(joints, joint_forms, assembled.root if assembled else {})
    finish = names.finishes(finishes.root if finishes else ())
    choices = names.choices(choice_forms, reader)
    decisions = names.decisions(decided.root if decided else (), pieces.names())
    extension = names.extensions(extended.root if extended else (), pieces.names())
    _unused(report, reader)
    notes = report.close()
    assert head is not None, "close() raises where there is no head"
    job = Job(
        name=head.job,
        sizes={name: reader.length(name) for name in head.sizes},
        stock=stock,
        parts=pieces.parts,
        joints=joints,
        hardware=hardware,
        overall=tuple(overall),
        finish=finish,
        glue=head.glue,
        choices=choices,
        decisions=decisions,
        aim=head.aim,
        moisture_change=head.moisture_change,
        assemblies=_assemblies(assembled.root if assembled else {}, joints),
        learning_aim=head.learning_aim,
        extension=extension,
        outdoors=head.outdoors,
        rough_inside=head.rough_inside,
        note=head.note,
        before_use=head.before_use,
        source=head.source,
        file=PurePosixPath(tree.file).name,
        units=head.units,
    )
    return job, notes


def _joints(report: Report, pieces: Pieces, reader: Reader) -> tuple[dict[str, Joint], dict[str, JointForm | CrossingForm]]:
    """Joints and crossings in the order of the file, and their forms. Crossings add their halvings to the parts first, so
    that joints may name them."""
    made: list[Joint | None] = []
    crossings = report.forms(CrossingForm, ("crossings",), reader)
    for name, crossing in crossings.items():
        made.append(make_crossing(name, crossing, pieces, reader))
    forms = report.forms(JointForm, ("joints",), reader)
    for name, written in _section(report, "joints").items():
        if name in crossings:
            report.error("name-taken", ("joints", name), f"A crossing is called '{name}' too.", remedy="Use another name.")
        made.append(make_joint(name, written, forms.get(name), pieces))
    joints = [joint for joint in made if joint]
    joints.sort(key=lambda joint: (joint.place.line, joint.place.column) if joint.place else (0, 0))
    return {joint.name: joint for joint in joints}, {**crossings, **forms}


def _assemblies(written: Mapping[str, tuple[str, ...]], joints: Mapping[str, Joint]) -> dict[str, tuple[str, ...]]:
    """Sub-assemblies and their joints: those listed, then those that name the assembly themselves."""
    assemblies = {name: list(those) for name, those in written.items()}
    for joint in joints.values():
        if joint.assembly and joint.name not in assemblies.setdefault(joint.assembly, []):
            assemblies[joint.assembly].append(joint.name)
    return {name: tuple(those) for name, those in assemblies.items()}


def _section(report: Report, name: str) -> dict[str, Data]:
    """A mapping of the file; empty if it is not there or no mapping."""
    data = report.tree.at((name,))
    return data if isinstance(data, dict) else {}


def _written(tree: Tree, report: Report) -> dict[str, frozenset[str]]:
    """Every part of the file with the names of its features; none for parts that could not be written out."""
    parts = tree.at(("parts",))
    features = {name: report.tree.at(("parts", name, "features")) for name in (parts if isinstance(parts, dict) else ())}
    return {name: frozenset(those if isinstance(those, dict) else ()) for name, those in features.items()}


def _reader(report: Report, chosen: Mapping[str, str]) -> Reader:
    """The named sizes, worked out: those of `sizes`, and each stock's name for its thickness where no size has that name."""
    unit: Unit = "in" if report.tree.at(("units",)) == "in" else "mm"
    texts: dict[str, str] = {}
    keys: dict[str, tuple[str, ...]] = {}
    for name, data in _section(report, "sizes").items():
        if name in RESERVED:
            report.error("name-taken", ("sizes", name), f"'{name}' has a meaning in sums.", remedy="Use another name.")
        else:  # what is no text is told by the form
            texts[name], keys[name] = data if isinstance(data, str) else "", ("sizes", name)
    for name, data in _section(report, "stock").items():
        key = "diameter" if isinstance(data, dict) and "diameter" in data else "thickness"
        text = data.get(key) if isinstance(data, dict) else None
        if isinstance(text, str) and name not in texts and name not in RESERVED:
            texts[name], keys[name] = text, ("stock", name, key)
    sizes = work_out({**texts, **chosen}, unit)
    for name, text in sizes.broken.items():
        if text and texts[name]:
            report.error("size", keys[name], text)
    under = {name: value for name, value in sizes.values.items() if value < 0 and keys[name][0] == "sizes"}
    for name, value in under.items():
        report.error("size", keys[name], f"'{name}' is under zero: {value:g}.", remedy="Write a size of zero or more.")
    values = {name: value for name, value in sizes.values.items() if name not in under}
    return Reader(Sizes(values, {**sizes.broken, **dict.fromkeys(under, "")}, sizes.used), unit)


def _goes_on(name: str, thing: Hardware, face: str, pieces: Pieces) -> FaceName | None:
    """The face that hardware goes on, of the first part or piece it is fixed to; `None`, with the error noted, if that has no
    such face or nobody says what the hardware is fixed to."""
    if not face:
        return None
    steps: Steps = ("hardware", name, "on")
    if not thing.fixed_to:
        what = f"'{face}' is a face, and nobody says of which part."
        pieces.report.error("face-of-nothing", steps, what, remedy="Write the part or piece under fixed_to.")
        return None
    first = thing.fixed_to[0]
    own = (piece for part in pieces.parts.values() for piece in part.pieces if first in (part.name, piece.name))
    piece = next(own, None)
    return None if piece is None else pieces.face(face, piece, steps)


def _unused(report: Report, reader: Reader) -> None:
    """Notes sizes that nothing uses: perhaps one was changed in the wrong place."""
    for name in _section(report, "sizes"):
        if name not in reader.used and name not in _section(report, "choices"):
            report.note("unused-size", ("sizes", name), f"Nothing uses the size '{name}'.", "Use it or leave it out.")
