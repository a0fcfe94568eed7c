"""What a picture of a set-up is of: a task, the piece as it comes to the station, and what this cut takes away. mm."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from sequencer.model.frame import FaceName, axis_of, is_high, opposite, sign_of
from sequencer.model.marks import Layout, Lie, Marks
from sequencer.model.plan import Task
from sequencer.model.shapes import Bounds
from sequencer.solid.solids import Solid


@dataclass(frozen=True, eq=False)
class Subject:
    """A piece at a station, in the part's own frame.

    layout
        None where nothing is set out and cut: marking, cleaning.
    before, waste
        The piece as it comes here, and what is cut from it; `waste` is empty where nothing is.
    figures
        The station's own figures: `kerf`, `plate`, `blade-radius`.
    face_side, face_edge
        The marked faces; None while they are not made.
    holding
        What holds the work, by name, in the order in which the card names it.
    left_on
        Waste at a face that stays on until later, mm: sizes are taken from the line, not from where the wood ends.
    others
        The pieces that are joined to it by now, in its own frame.
    tools
        The tools of the step by name: some of them are set on the wood and tell how it is worked (`straight batten`).
    """

    task: Task
    layout: Layout | None
    figures: Mapping[str, float]
    before: Solid
    waste: Solid
    letter: str
    face_side: FaceName | None = None
    face_edge: FaceName | None = None
    holding: tuple[str, ...] = ()
    left_on: Mapping[FaceName, float] = field(default_factory=dict)
    others: Sequence[Solid] = ()
    tools: tuple[str, ...] = ()

    @property
    def lie(self) -> Lie:
        """How it lies. Where nothing is cut the face side is up, or the inside of a piece without one."""
        if self.layout is not None:
            return self.layout.lie
        return Lie(opposite(self.face_side or "inside"))

    @property
    def marks(self) -> Marks | None:
        """What is set out; None where nothing is cut."""
        return None if self.layout is None else self.layout.marks

    @property
    def in_vice(self) -> bool:
        """Whether the vice grips it for this cut: of vice and cramp the card names first what it is cut in, and then what it is
        moved to."""
        return next((each for each in self.holding if each in ("bench-vice", "bench-cramp")), "") == "bench-vice"

    def setting(self, name: str) -> float | None:
        """A figure of the card; None where it is not set or staff decide."""
        return next((each.value for each in self.task.settings if each.name == name), None)

    def figure(self, name: str, usual: float) -> float:
        """A figure of the station, or what is usual for a drawing where it states none."""
        return self.figures.get(name, usual)

    @property
    def bounds(self) -> Bounds:
        """The box around the piece as it comes here."""
        return self.before.bounds

    def level(self, face: FaceName) -> float:
        """Where a face lies along its own axis, as a ruler finds it."""
        low, high = self.bounds.span(axis_of(face))
        return (high if is_high(face) else low) - sign_of(face) * self.left_on.get(face, 0.0)

    def inward(self, face: FaceName, distance: float) -> float:
        """The plane `distance` inside a face, along the face's axis."""
        return self.level(face) - sign_of(face) * distance
