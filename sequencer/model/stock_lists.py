"""What a plan says of the wood it takes: parts, blanks, strips that several pieces come out of, things to lay out. mm."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class PartLine:
    """A part as the sheets list it."""

    name: str
    letter: str
    count: int
    handed: bool
    length: float
    width: float
    thickness: float
    stock: str
    material: str
    hardness: str
    grain: str


@dataclass(frozen=True)
class Blank:
    """What is cut for a part before its features: rough or long pieces and how many parts each yields."""

    part: str
    letter: str
    length: float
    width: float
    thickness: float
    yields: int
    """Pieces of the part out of one blank."""
    pieces: int
    """Blanks for the class, spares included."""
    why: str
    strip: str = ""
    """The strip it comes out of, if it shares one with other parts: then its blanks are those of the strip, counted once."""


@dataclass(frozen=True)
class StripPiece:
    """A piece where it lies in a strip: the how manieth of its part, and where it starts, from the first end.

    slopes
        How much shorter it is at one edge because its first and its second end are cut aslant: at the top edge above 0, at the
        bottom edge below.
    """

    part: str
    letter: str
    number: int
    start: float
    length: float
    slopes: tuple[float, float] = (0.0, 0.0)

    @property
    def called(self) -> str:
        """How it is marked on the strip: `A 1`."""
        return f"{self.letter} {self.number}"

    @property
    def stop(self) -> float:
        """Where it ends."""
        return self.start + self.length


@dataclass(frozen=True)
class Strip:
    """A long piece that is worked whole and cut apart last, laid out from its first end.

    name
        The names of the parts that come out of it.
    pieces
        Every piece, in order along it; before the first lies the trim, behind the last what is held.
    count
        Strips for the class, spares included.
    longest
        The longest that it may be, for the stock and for the stations that it is worked at.
    why
        What it is for, in a sentence; what it saves.
    sets
        For how many students it holds the parts.
    trial
        How long a piece of its section is that machines and planes are tried on before it, mm; 0 where none is tried.
    """

    name: str
    length: float
    width: float
    thickness: float
    pieces: tuple[StripPiece, ...]
    count: int
    longest: float
    why: str
    sets: int = 1
    trial: float = 0.0

    @property
    def trim(self) -> float:
        """What lies before the first piece, cut off as waste."""
        return self.pieces[0].start

    @property
    def end(self) -> float:
        """What lies behind the last piece."""
        return self.length - self.pieces[-1].stop

    @property
    def parts(self) -> tuple[str, ...]:
        """The parts that come out of it, first to last."""
        return tuple(dict.fromkeys(piece.part for piece in self.pieces))


@dataclass(frozen=True)
class LooseThing:
    """A thing to lay out or count: tools and hardware, for one student and for the class."""

    name: str
    each: int
    total: int
    shared: bool = False
