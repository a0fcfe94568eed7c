"""A piece of wood at one moment of its making, as views show it. mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from sequencer.model.frame import Axis, Block, FaceName
from sequencer.model.shapes import Shape


@dataclass(frozen=True)
class Subject:
    """A piece of wood at one moment: what is cut already, what this step cuts, how it is marked.

    names
        What its faces are called; a face without one goes by its own name.
    left_on
        Waste that stays on until later, by face: amount, mm. The block holds it, and a line shows where it ends.
    parts
        From where to where along the block parts lie that are not yet cut to length; empty where the block is the part.
    called
        What each of these parts is called, where several kinds lie in one piece.
    """

    letter: str
    block: Block
    before: tuple[Shape, ...] = ()
    waste: tuple[Shape, ...] = ()
    section: str = "rectangular"
    grain: Axis = "x"
    face_side: FaceName = "inside"
    face_edge: FaceName = "bottom"
    names: Mapping[FaceName, str] = field(default_factory=dict)
    left_on: Mapping[FaceName, float] = field(default_factory=dict)
    parts: tuple[tuple[float, float], ...] = ()
    called: tuple[str, ...] = ()

    @property
    def marked(self) -> bool:
        """Whether it has a face side and a face edge: round stock has none."""
        return self.section != "round"
