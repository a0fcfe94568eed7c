"""What every sheet's pages have in common: paper, numbers, plan marks, drawings. mm."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from typing import Literal, get_args

from markupsafe import Markup

from sequencer.model.job import Job
from sequencer.model.plan import Piecework, Plan, Step
from sequencer.model.protection import Wear
from sequencer.paper import wording
from sequencer.paper.axonometric import draw_scene
from sequencer.paper.corner_pictures import with_splines
from sequencer.paper.drawing import picture
from sequencer.paper.overview import parts_overview
from sequencer.paper.pictured import Pictured, Stick
from sequencer.paper.svg import Picture
from sequencer.paper.whole_scenes import assembled_scene
from sequencer.proving.making import Making

PageSize = Literal["a4", "letter"]
PAGE_SIZES: tuple[PageSize, ...] = get_args(PageSize)

_PAPER: dict[PageSize, tuple[float, float]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
NO_PICTURE = Markup("")
_SIDES, _ENDS = 18.0, 24.0
"""Margins of both sides, and of top and bottom together, as the stylesheet has them."""


@dataclass(frozen=True)
class Room:
    """What a page has for its entries."""

    width: float
    height: float


def room_on(size: PageSize, *, landscape: bool = False, spare: float = 0.0) -> Room:
    """The room inside a page's margins. `spare` is left empty on every page, where the layout came out higher than planned."""
    across, down = _PAPER[size]
    if landscape:
        across, down = down, across
    return Room(across - _SIDES, down - _ENDS - spare)


@dataclass(frozen=True)
class Page:
    """One page: what it shows and the short mark of the plan's inputs behind it."""

    number: int
    count: int
    mark: str
    entries: tuple[object, ...]


@dataclass(frozen=True)
class Sheet:
    """What every page of a sheet says about itself."""

    title: str
    plan: Plan
    date: str
    caution: str = wording.CAUTION

    @property
    def draft(self) -> str:
        """What stands across every page of a plan whose proof does not hold, or is missing; else empty."""
        return "" if self.plan.proof is not None and self.plan.proof.held else wording.DRAFT


@dataclass(frozen=True)
class ShownWear:
    """Protective equipment with our own drawing of it."""

    title: str
    code: str
    drawing: Markup


class Drawings:
    """The drawings of the cards folder and the pictures of steps, each made once."""

    def __init__(self, plan: Plan, job: Job, making: Making, signs: dict[str, str]) -> None:
        self._pictured, self._signs = Pictured(plan, job, making), signs
        self._pictures: dict[tuple[str, float, float], Picture] = {}

    @property
    def job(self) -> Job:
        """The job they are of."""
        return self._pictured.job

    def whole(self, width: float, height: float) -> Picture:
        """The finished thing, put together."""
        drawn = self._pictured.drawn
        scene = with_splines(assembled_scene(drawn), drawn, tuple(self.job.joints.values()))
        return draw_scene(scene, width, height, whole=True)

    def parts(self, width: float, height: float) -> Picture:
        """Every part once, at one scale."""
        return parts_overview(self._pictured.job, width, height)

    def sign(self, name: str) -> Markup:
        """Our drawing of that name; empty if there is none."""
        return Markup(self._signs.get(name, ""))

    def wear(self, items: Iterable[Wear]) -> tuple[ShownWear, ...]:
        """Protective equipment with its drawings."""
        return tuple(ShownWear(item.title, item.code, self.sign(item.drawing)) for item in items)

    def stick(self, step: Step) -> Stick | None:
        """The long piece, or pieces, that pieces of a step are still in when it begins; None if there is none."""
        return self._pictured.sticks.get(step.id)

    def parts_in(self, step: Step) -> tuple[Piecework, ...]:
        """The parts that the picture of a step shows, with the pieces of each."""
        return self._pictured.shown_parts(step)

    def picture(self, step: Step, room: tuple[float, float]) -> Picture:
        """The picture of a step."""
        key = (step.id, *room)
        if key not in self._pictures:
            self._pictures[key] = picture(step, self._pictured, *room)
        return self._pictures[key]


def mark(plan: Plan, steps: Iterable[Step] | None = None) -> str:
    """Eight letters and figures that change when the resolved inputs of these steps do; of the whole plan without steps."""
    chosen = ["job"] if steps is None else [step.id for step in steps]
    return sha256("\n".join(f"{name} {plan.fingerprints.get(name, '')}" for name in chosen).encode()).hexdigest()[:8]


def numbered(plan: Plan, groups: Sequence[Sequence[object]], steps_of: Callable[[object], Sequence[Step]]) -> tuple[Page, ...]:
    """The groups as pages `n of N`, each with the mark of the steps it shows."""
    return tuple(
        Page(number, len(groups), mark(plan, [step for entry in group for step in steps_of(entry)]), tuple(group))
        for number, group in enumerate(groups, 1)
    )


def sheet_about(title: str, plan: Plan, day: date) -> Sheet:
    """What a sheet says about itself on every page."""
    return Sheet(title, plan, wording.day_words(day))
