"""What is looked at when a piece is marked. mm."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.features.base import mm
from sequencer.model.frame import FACES, FaceName, opposite
from sequencer.model.job import Job, Part
from sequencer.model.plan import Bench, Task
from sequencer.model.proof import Looked
from sequencer.proving.sizes import piece_looked
from sequencer.proving.workpiece import Workpiece


def true_as_bought(job: Job, part: Part) -> set[FaceName]:
    """Faces that come true: planed stock has both broad faces and both edges; what is still to be cut is not there yet."""
    return {opposite(part.face_side), opposite(part.face_edge)} if job.stock[part.stock].surface == "planed" else set()


def off_the_board(piece: Workpiece, bench: Bench) -> Iterator[Looked]:
    """What is marked is the blank, not the board it is cut from. A bought piece has no blank."""
    if piece.blank:
        there = piece.size("x")
        says = f"it is marked on a piece of {mm(there)} mm where the card has a blank of {mm(piece.blank)}"
        yield Looked("piece", there <= piece.blank + bench.blank_over, says)


def can_be_marked(task: Task, piece: Workpiece, measured: set[FaceName], bench: Bench) -> Iterator[Looked]:
    """Marks are measured from true faces of a piece that has its size. An end that a feature makes is marked by its line."""
    yield piece_looked(task, piece, bench)
    if piece.long:
        yield from off_the_board(piece, bench)
    needed: dict[str, FaceName] = {"face-side": piece.part.face_side, "face-edge": piece.part.face_edge}
    wanted = measured | {face for name, face in needed.items() if name in task.needs}
    missing = sorted(wanted - piece.made - piece.laid_out, key=FACES.index)
    yield Looked(
        "reference",
        not missing,
        f"the {' and '.join(missing)} is not true yet" if missing else "face side and face edge are true",
    )
