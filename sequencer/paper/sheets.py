"""Writes the sheets: self-contained HTML always, PDF where the layout library is there. Whole files or none."""

from __future__ import annotations

import os
import tempfile
from base64 import b64encode
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from sequencer.data import data_folder
from sequencer.features.base import mm
from sequencer.findings import Finding, Unusable
from sequencer.model.job import Job
from sequencer.model.plan import Plan
from sequencer.paper import pages, wording
from sequencer.paper.pages import PAGE_SIZES, Drawings, PageSize
from sequencer.paper.pdf import NoPango, make_pdf

SHEETS: Mapping[str, str] = {
    "job-card": "Job card",
    "station-cards": "Station card",
    "staff-sheet": "Staff preparation sheet",
    "risk-assessment": "Risk assessment",
}
"""The sheets by name, with the title each prints."""

_LANDSCAPE = ("risk-assessment",)

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
    out: Path,
    *,
    day: date,
    only: tuple[str, ...] = (),
    page: str = "a4",
    progress: Callable[[str], None] | None = None,
) -> Written:
    """Writes the sheets named in `only` (all without) as HTML and PDF into `out`, which is made if need be.

    Unusable if a name is no sheet, the page size is not known or the folder cannot be written.
    """
    size = _checked(only, page)
    drawings = Drawings(plan, job, _signs())
    files: list[Path] = []
    missing = ""
    try:
        out.mkdir(parents=True, exist_ok=True)
        for kind in only or SHEETS:
            html = render(kind, plan, drawings, day, size)
            files.append(_put(out / f"{kind}.html", html.encode("utf-8")))
            if not missing:
                try:
                    files.append(_put(out / f"{kind}.pdf", make_pdf(html, day)))
                except NoPango as error:
                    missing = str(error)
            if progress is not None:
                progress(kind)
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


def render(kind: str, plan: Plan, drawings: Drawings, day: date, page: PageSize) -> str:
    """One sheet as a self-contained HTML page."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    environment = Environment(
        loader=FileSystemLoader(data_folder("cards")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters.update(mm=mm, within=wording.within_sentence, heading=wording.heading)
    made: dict[str, Callable[[], tuple[pages.Page, ...]]] = {
        "job-card": lambda: pages.job_card(plan, drawings, page),
        "station-cards": lambda: pages.station_cards(plan, drawings, page),
        "staff-sheet": lambda: pages.staff_sheet(plan, drawings, page),
        "risk-assessment": lambda: pages.risk_rows(plan, page),
    }
    about: dict[str, Any] = {
        "plan": plan,
        "title": SHEETS[kind],
        "sheet": pages.sheet_about(SHEETS[kind], plan, day),
        "pages": made[kind](),
        "day": day,
        "css": _style(),
        "page_size": page,
        "landscape": kind in _LANDSCAPE,
        "triggers": wording.REVIEW_TRIGGERS,
        "signs": {
            name: drawings.sign(drawing)
            for name, drawing in (("guard", "check-guard"), ("warning", "general-warning"), ("stop", "stop-hand"))
        },
    }
    return environment.get_template(f"{kind}.html").render(about)


def _signs() -> dict[str, str]:
    folder = data_folder("cards") / "signs"
    return {path.stem: path.read_text(encoding="utf-8").strip() for path in sorted(folder.glob("*.svg"))}


def _style() -> Any:
    """The stylesheet with the fonts inside it."""
    from markupsafe import Markup

    folder = data_folder("cards")
    faces = []
    for script, characters in _RANGES.items():
        for weight in (400, 700):
            data = b64encode((folder / "fonts" / f"atkinson-hyperlegible-{script}-{weight}.woff").read_bytes()).decode()
            faces.append(
                f'@font-face{{font-family:"Atkinson Hyperlegible";font-weight:{weight};font-style:normal;'
                f"src:url(data:font/woff;base64,{data}) format('woff');unicode-range:{characters}}}"
            )
    return Markup("\n".join(faces) + "\n" + (folder / "card.css").read_text(encoding="utf-8"))


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
