"""The atomic tasks: every work with the way chosen for it, formed before ordering."""

from __future__ import annotations

from collections.abc import Mapping

from sequencer.design.marked_together import Beside, marked_together
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.settings import SETTINGS, bit_of
from sequencer.model.plan import Task
from sequencer.model.protection import Grip
from sequencer.planning.blanks import Workpiece
from sequencer.planning.choice import Choice
from sequencer.planning.laying_out import layouts_of
from sequencer.planning.shapes_left import grip_of
from sequencer.planning.shop import Shop, as_it_stands
from sequencer.planning.strip_times import minutes_of
from sequencer.planning.ways import Way
from sequencer.planning.work import Work

ON_THE_STRIP = ("rough-length", "mark-out")
"""Kinds of work that are done on a strip while it is whole, besides what is worked in the long."""


def make_tasks(choice: Choice, shop: Shop) -> list[Task]:
    """The atomic tasks, in the order of the drawing."""
    tasks = []
    beside = marked_together(shop.job)
    for name, work in choice.works.items():
        way = choice.ways[name]
        kind = shop.knowledge.stations[way.kind]
        operation = as_it_stands(kind.operations[way.operation], way.figures)
        function = SETTINGS[operation.settings]
        tasks.append(
            Task(
                name,
                work.part,
                work.feature,
                work.act,
                work.kind,
                work.title,
                way.operation,
                way.station,
                way.kind,
                way.who,
                _set_up(work, way, kind, choice.blanks, beside),
                work.quantity,
                way.in_the_long,
                minutes_of(work, way, choice.blanks, shop),
                way.settings,
                operation.leaves,
                tuple(part for part, _ in work.parts),
                work.joints,
                work.folded,
                operation.cut,
                operation.needs,
                (way.piece.length, way.piece.width, way.piece.thickness) if way.piece is not None else None,
                layouts_of(work, way, shop.job.parts[work.part], kind, operation) if work.part else (),
                tuple(name for name in function.gives if name not in function.optional),
                shop.knowledge.drill_bits[bit].point.share if (bit := bit_of(operation)) else 0.0,
                tuple(
                    Grip(left.shape, grip_of(left, kind, operation, shop.workshop.stations[way.station], shop), left.face)
                    for left in way.left
                ),
                operation.way_in,
            )
        )
    return tasks


def _set_up(work: Work, way: Way, kind: StationKind, blanks: Mapping[str, Workpiece], beside: Mapping[str, Beside]) -> str:
    """Tasks with the same answer need no change between them. By hand a part is worked at a time, or the strip that several
    parts come out of; parts that are marked out together lie side by side. Blanks of every length are sawn in one go, with a stop
    for each."""
    settings = "; ".join(f"{setting.label} {setting.text}" for setting in way.settings if work.kind != "rough-length")
    whole = way.in_the_long or work.kind in ON_THE_STRIP
    strip = blanks[work.part].strip if work.part and whole else ""
    level = beside[work.part].name if work.kind == "mark-out" and work.part in beside else ""
    about = "" if kind.power == "machine" or work.kind == "face-marks" else strip or level or work.part or work.id
    held = ", ".join(f"{left.shape} {left.face}" for left in way.left if left.face is not None)
    long = "in the long" if way.in_the_long else ""
    operation = kind.operations[way.operation]
    stands = "on its edge" if as_it_stands(operation, way.figures) is not operation else ""
    theirs = "for the class" if work.kind == "face-marks" and blanks[work.part].sets > 1 else ""
    return " | ".join(text for text in (way.station, way.operation, about, settings, long, held, stands, theirs) if text)
