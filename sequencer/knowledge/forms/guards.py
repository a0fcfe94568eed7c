"""The forms of what protects: guards, ways of holding, what is worn."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.knowledge.forms.fields import Text
from sequencer.model.fields import STRICT


@dataclass(frozen=True, kw_only=True)
class GuardItem:
    """A guard or a way of work-holding (`lists/guards.yaml`, `lists/holding.yaml`).

    code
        ISO 7010 code where the referent is certain, else empty.
    drawing
        Drawing of our own in `cards/guards`, without .svg.
    asked_by
        The jurisdictions of `lists/regions.yaml` (`counts`) that ask for it; empty for all. It is used elsewhere too
        where it is fitted.
    line_for
        Ways of holding whose own line a card leaves out beside this one's: they hold this, and this holds the wood.
    hands_near
        Whether a hand holds the wood in it beside the cut, so that the card says what the operation says of hands besides.
    shared
        Whether one of it serves all who are there, so that nobody takes it away from another.
    """

    __pydantic_config__ = STRICT
    name: Text
    what: Text
    line: Text
    """The guard line on a card: one imperative, at most twelve words."""
    code: str = ""
    drawing: str = ""
    asked_by: tuple[str, ...] = ()
    line_for: tuple[str, ...] = ()
    hands_near: bool = False
    shared: bool = False
    source: Text


@dataclass(frozen=True, kw_only=True)
class WearItem:
    """Protective equipment, or a thing that may be forbidden (`lists/wear.yaml`).

    code
        ISO 7010 code where the referent is certain, else empty. `forbidden_code` for the prohibition.
    drawing
        Sign of our own in `cards/signs`, without .svg. `forbidden_drawing` where it must not be worn.
    """

    __pydantic_config__ = STRICT
    name: Text
    line: Text
    code: str = ""
    forbidden_line: str = ""
    forbidden_code: str = ""
    drawing: Text
    forbidden_drawing: str = ""
    note: str = ""
    """What staff choose it by: classes and standards."""
    source: Text
