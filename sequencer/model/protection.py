"""What a plan says of hazards and of what protects: guards, holding, wear, signs, controls, rows of the risk assessment."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.model.frame import FaceName

GRAVEST_FIRST = ("severe", "serious", "minor")
"""How grave a hazard is, the worst that is to be reckoned with."""


@dataclass(frozen=True)
class Control:
    """One control of a hazard, by level of the hierarchy (eliminate … ppe); on the risk assessment with the numbers of the
    steps that use it."""

    level: str
    text: str
    steps: tuple[int, ...] = ()


@dataclass(frozen=True)
class HazardLine:
    """A hazard as a step shows it: name in the knowledge, title, short words for students, controls in this plan."""

    name: str
    title: str
    short: str
    controls: tuple[Control, ...]


@dataclass(frozen=True)
class Guard:
    """A guard or work-holding that must be on, with the one line a card prints, its ISO 7010 code where the referent is certain
    and its drawing in `cards/guards`."""

    name: str
    title: str
    line: str
    code: str = ""
    drawing: str = ""


@dataclass(frozen=True)
class Wear:
    """Protective equipment or a thing forbidden, with its ISO 7010 code where the referent is certain."""

    name: str
    title: str
    code: str
    drawing: str
    """Name of our own drawing in cards/signs."""
    forbidden: bool = False
    """Whether it must not be worn."""


@dataclass(frozen=True)
class Sign:
    """A safety sign that is put up where a hazard is met."""

    says: str
    code: str = ""
    """Its ISO 7010 code; empty where the standard has no sign of just this meaning."""
    words: tuple[str, ...] = ()
    """What is written under a sign that says nothing alone: hazards by their titles."""


@dataclass(frozen=True)
class Grip:
    """What holds a piece where stock or an earlier cut has left it of a shape that flat jaws do not hold: the shape, and the way
    of holding by its name. `face`: the face as drawn that the shape has taken; None for round stock."""

    shape: str
    by: str
    face: FaceName | None = None


@dataclass(frozen=True)
class RiskRow:
    """A row of the risk assessment: one hazard over all the steps it stands in, students' and staff's; a hazard of the whole
    workshop has no steps."""

    hazard: str
    title: str
    happens: str
    whom: tuple[str, ...]
    severity: str
    steps: tuple[int, ...]
    controls: tuple[Control, ...]
    more: tuple[Control, ...]
    """Controls the hazard's file names that this plan does not rest on."""
    stop_when: tuple[str, ...]
    first_aid: str
    sources: tuple[str, ...]
    labels: tuple[str, ...] = ()
    """Statements of the UN's globally harmonised system, as found on labels of this family of products."""
    signs: tuple[Sign, ...] = ()
    """Safety signs that its file names."""
