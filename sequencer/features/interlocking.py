"""One half of a corner of two boards that interlock: what stands at the end of one goes between what stands on the other."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from sequencer.features.base import Feature
from sequencer.features.placing import at_an_end
from sequencer.model.fields import Face, Length
from sequencer.model.frame import Block, FaceName


@dataclass(frozen=True, kw_only=True)
class Interlocking(Feature):
    """At an `end`, `length` long from it: as long as the other board is thick, or as the sockets there are deep."""

    own_walls: ClassVar = True

    end: Face
    length: Length

    def __post_init__(self) -> None:
        at_an_end(self.title, self.end)

    def mouths(self) -> tuple[FaceName, ...]:
        """The broad faces the other board may close on, the likeliest first."""
        return ("inside", "outside")

    def lengthwise(self, block: Block) -> bool:
        return False
