"""Writes the sheets: self-contained HTML always, PDF where the layout library is there. Whole files or none."""

from __future__ import annotations

import os
import tempfile
from base64 import b64encode
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from sequencer.data import data_folder
from sequencer.features.base import mm
from sequencer.findings import Finding, Unusable
from sequencer.model.job import Job
from sequencer.model.plan import Plan
from sequencer.paper import wording
from sequencer.paper.drawing import legend
from sequencer.paper.full_size import full_size
from sequencer.paper.job_card import front, job_card
from sequencer.paper.pages import PAGE_SIZES, Drawings, Page, PageSize, room_on, sheet_about
from sequencer.paper.pdf import NoPango, TooFull, make_pdf
from sequencer.paper.risk_assessment import risk_assessment
from sequencer.paper.staff_sheet import staff_sheet
from sequencer.paper.station_card import station_cards
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
_SPARE = (0.0, 3.0, 6.0, 12.0, 24.0)
"""Room left empty on each page, mm: more from one attempt to the next while a section does not fit its page."""

_RANGES = {
    "latin-ext": "U+0100-02BA,U+02BD-02C5,U+02C7-02CC,U+02CE-02D7,U+02DD-02FF,U+1D00-1DBF,U+1E00-1E9F,U+1EF2-1EFF,U+2020,"
    "U+20A0-20AB,U+20AD-20C0,U+2113,U+2C60-2C7F,U+A720-A7FF",
    "latin": "U+0000-00FF,U+0131,U+0152-0153,U+02BB-02BC,U+02C6,U+02DA,U+02DC,U+2000-206F,U+20AC,U+2122,U+2191,U+2193,U+2212,"
    "U+2215,U+FEFF,U+FFFD",
}


@dataclass(frozen=True)
class Written:
    """What was written. `missing` is one sentence on what could not be made and what to do about it, or empty."""

    files: tuple[Path, ...]
    missing: str = ""

    @property
    def pdf(self) -> bool:
        """Whether the PDF files were made too."""
        return not self.missing


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
    size = _checked(only, page)
    drawings = Drawings(plan, job, making, _signs())
    files: list[Path] = []
    missing = ""
    try:
        out.mkdir(parents=True, exist_ok=True)
        for kind in only or SHEETS:
            say = _teller(SHEETS[kind].lower(), progress)
            pdf = None
            try:
                html, pdf = laid_out(kind, plan, drawings, day, size, say)
            except NoPango as error:
                missing = str(error)
                html = render(kind, plan, drawings, day, size)
            files.append(_put(out / f"{kind}.html", html.encode("utf-8")))
            if pdf is not None:
                files.append(_put(out / f"{kind}.pdf", pdf))
    except OSError as error:
        raise Unusable(
            [
                Finding(
                    "error",
                    "cannot-write",
                    str(out),
                    f"The sheets cannot be written to {out}: {error.strerror or error}.",
                    remedy="Choose another folder with --out.",
                )
            ]
        ) from error
    return Written(tuple(files), missing)


def _teller(title: str, progress: Callable[[str], None] | None) -> Callable[[int, int], None]:
    """Tells of pages laid out: `job card, page 20 of 310`."""

    def say(done: int, count: int) -> None:
        if progress is not None:
            progress(f"{title}, page {done} of {count}")

    return say


def laid_out(
    kind: str, plan: Plan, drawings: Drawings, day: date, page: PageSize, say: Callable[[int, int], None]
) -> tuple[str, bytes]:
    """HTML and PDF with every section on one page: where one does not fit, less is put on each and laid out again."""
    for spare in _SPARE:
        html = render(kind, plan, drawings, day, page, spare)
        try:
            return html, make_pdf(html, stylesheet(), day, say)
        except TooFull:
            continue
    return html, make_pdf(html, stylesheet(), day, say, strict=False)


def _checked(only: tuple[str, ...], page: str) -> PageSize:
    wrong = [
        Finding(
            "error", "no-such-sheet", name, f"There is no sheet called {name!r}.", remedy=f"The sheets are: {', '.join(SHEETS)}."
        )
        for name in only
        if name not in SHEETS
    ]
    size = next((known for known in PAGE_SIZES if known == page), None)
    if size is None:
        wrong.append(
            Finding("error", "no-such-page", page, f"The page size {page!r} is not known.", remedy="Write a4 or letter.")
        )
    if wrong or size is None:
        raise Unusable(wrong)
    return size


def render(kind: str, plan: Plan, drawings: Drawings, day: date, page: PageSize, spare: float = 0.0) -> str:
    """One sheet as a self-contained HTML page. `spare` mm stay empty on each page."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined
    from markupsafe import Markup

    environment = Environment(
        loader=FileSystemLoader(data_folder("cards")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters.update(mm=mm, within=wording.within_sentence, heading=wording.heading)
    made: dict[str, Callable[[], tuple[Page, ...]]] = {
        "job-card": lambda: job_card(plan, drawings, page, spare),
        "station-cards": lambda: station_cards(plan, drawings, page, spare),
        "staff-sheet": lambda: staff_sheet(plan, drawings, page, spare),
        "risk-assessment": lambda: risk_assessment(plan, page, spare),
        "templates": lambda: full_size(plan, drawings.job, page, spare),
    }
    about: dict[str, Any] = {
        "plan": plan,
        "title": SHEETS[kind],
        "sheet": sheet_about(SHEETS[kind], plan, day),
        "pages": made[kind](),
        "day": day,
        "css": Markup(stylesheet()),
        "page_size": page,
        "landscape": kind in _LANDSCAPE,
        "front": [Markup(each.svg) for each in front(drawings, room_on(page).width)] if kind == "job-card" else [],
        "legend": Markup(legend()),
        "signs": {
            name: drawings.sign(drawing)
            for name, drawing in (("guard", "check-guard"), ("warning", "general-warning"), ("stop", "stop-hand"))
        },
    }
    return environment.get_template(f"{kind}.html").render(about)


def _signs() -> dict[str, str]:
    """Signs, and drawings of guards, by name."""
    paths = sorted(path for folder in ("signs", "guards") for path in (data_folder("cards") / folder).glob("*.svg"))
    return {path.stem: path.read_text(encoding="utf-8").strip() for path in paths}


@cache
def stylesheet() -> str:
    """The stylesheet of every sheet with the fonts inside it."""
    return font_faces() + "\n" + (data_folder("cards") / "card.css").read_text(encoding="utf-8")


def font_faces() -> str:
    """The fonts of the sheets as rules of a stylesheet, with the letters inside them."""
    folder = data_folder("cards")
    faces = []
    for script, characters in _RANGES.items():
        for weight in (400, 700):
            data = b64encode((folder / "fonts" / f"atkinson-hyperlegible-{script}-{weight}.woff").read_bytes()).decode()
            faces.append(
                f'@font-face{{font-family:"Atkinson Hyperlegible";font-weight:{weight};font-style:normal;'
                f"src:url(data:font/woff;base64,{data}) format('woff');unicode-range:{characters}}}"
            )
    return "\n".join(faces)


def _put(path: Path, content: bytes) -> Path:
    """Writes a file whole or not at all: beside its place first, then moved there."""
    handle, name = tempfile.mkstemp(prefix=f".{path.name}-", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        os.chmod(name, 0o644)
        os.replace(name, path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
    return path
