"""The sheets of a plan: which there are, what each is made of."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

from markupsafe import Markup

from sequencer.data import data_folder
from sequencer.model.job import Job
from sequencer.model.plan import Plan
from sequencer.paper import writing
from sequencer.paper.drawing import legend
from sequencer.paper.full_size import full_size
from sequencer.paper.job_card import front, job_card
from sequencer.paper.pages import Drawings, Page, PageSize, room_on
from sequencer.paper.risk_assessment import risk_assessment
from sequencer.paper.staff_sheet import staff_sheet
from sequencer.paper.station_card import station_cards
from sequencer.paper.writing import Kind, Written
from sequencer.proving.making import Making

SHEETS: Mapping[str, str] = {
    "job-card": "Job card",
    "station-cards": "Station card",
    "staff-sheet": "Staff preparation sheet",
    "risk-assessment": "Risk assessment",
    "templates": "Full-size templates",
}
"""The sheets by name, with the title each prints."""

_LANDSCAPE = ("risk-assessment",)


def write_papers(
    plan: Plan,
    job: Job,
    making: Making,
    out: Path,
    *,
    day: date,
    only: tuple[str, ...] = (),
    page: str = "a4",
    progress: Callable[[str], None] | None = None,
) -> Written:
    """Writes the sheets named in `only` (all without) as HTML and PDF into `out`, which is made if need be. `making` is the
    plan carried out: its states are the pictures. A plan that is not proved prints as a draft.

    Unusable if a name is no sheet, the page size is not known or the folder cannot be written.
    """
    kinds = _kinds(plan, Drawings(plan, job, making, _signs()))
    return writing.write_sheets(kinds, plan, out, day=day, only=only, page=page, progress=progress)


def laid_out(
    kind: str, plan: Plan, drawings: Drawings, day: date, page: PageSize, say: Callable[[int, int], None]
) -> tuple[str, bytes]:
    """One sheet as HTML and PDF."""
    return writing.laid_out(_kinds(plan, drawings)[kind], plan, day, page, say)


def render(kind: str, plan: Plan, drawings: Drawings, day: date, page: PageSize, spare: float = 0.0) -> str:
    """One sheet as a self-contained HTML page. `spare` mm stay empty on each page."""
    return writing.render(_kinds(plan, drawings)[kind], plan, day, page, spare)


def _kinds(plan: Plan, drawings: Drawings) -> dict[str, Kind]:
    made: dict[str, Callable[[PageSize, float], tuple[Page, ...]]] = {
        "job-card": lambda page, spare: job_card(plan, drawings, page, spare),
        "station-cards": lambda page, spare: station_cards(plan, drawings, page, spare),
        "staff-sheet": lambda page, spare: staff_sheet(plan, drawings, page, spare),
        "risk-assessment": lambda page, spare: risk_assessment(plan, page, spare),
        "templates": lambda page, spare: full_size(plan, drawings.job, page, spare),
    }

    def about(page: PageSize) -> dict[str, Any]:
        return {
            "front": [],
            "legend": Markup(legend()),
            "signs": {
                name: drawings.sign(drawing)
                for name, drawing in (("guard", "check-guard"), ("warning", "general-warning"), ("stop", "stop-hand"))
            },
        }

    def with_front(page: PageSize) -> dict[str, Any]:
        return {**about(page), "front": [Markup(each.svg) for each in front(drawings, room_on(page).width)]}

    return {
        name: Kind(title, name, made[name], name in _LANDSCAPE, with_front if name == "job-card" else about)
        for name, title in SHEETS.items()
    }


def _signs() -> dict[str, str]:
    """Signs, and drawings of guards, by name."""
    paths = sorted(path for folder in ("signs", "guards") for path in (data_folder("cards") / folder).glob("*.svg"))
    return {path.stem: path.read_text(encoding="utf-8").strip() for path in paths}
