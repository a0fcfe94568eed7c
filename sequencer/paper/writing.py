"""Writes sheets of whatever kind: self-contained HTML always, PDF where the layout library is there. Whole files or none."""

from __future__ import annotations

import os
import tempfile
from base64 import b64encode
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from sequencer.data import data_folder
from sequencer.features.base import mm
from sequencer.findings import Finding, Unusable
from sequencer.model.plan import Plan
from sequencer.paper import wording
from sequencer.paper.pages import PAGE_SIZES, Page, PageSize, sheet_about
from sequencer.paper.pdf import NoPango, TooFull, make_pdf

_SPARE = (0.0, 3.0, 6.0, 12.0, 24.0)
"""Room left empty on each page, mm: more from one attempt to the next while a section does not fit its page."""

_RANGES = {
    "latin-ext": "U+0100-02BA,U+02BD-02C5,U+02C7-02CC,U+02CE-02D7,U+02DD-02FF,U+1D00-1DBF,U+1E00-1E9F,U+1EF2-1EFF,U+2020,"
    "U+20A0-20AB,U+20AD-20C0,U+2113,U+2C60-2C7F,U+A720-A7FF",
    "latin": "U+0000-00FF,U+0131,U+0152-0153,U+02BB-02BC,U+02C6,U+02DA,U+02DC,U+2000-206F,U+20AC,U+2122,U+2191,U+2193,U+2212,"
    "U+2215,U+FEFF,U+FFFD",
}


@dataclass(frozen=True)
class Kind:
    """A kind of sheet as the writer needs it.

    template
        Its file in `cards/` without the ending.
    pages
        Its pages on paper of a size, with so many mm left empty on each.
    about
        What its template asks for besides the pages.
    """

    title: str
    template: str
    pages: Callable[[PageSize, float], tuple[Page, ...]]
    landscape: bool = False
    about: Callable[[PageSize], Mapping[str, Any]] = lambda page: {}


@dataclass(frozen=True)
class Written:
    """What was written. `missing` is one sentence on what could not be made and what to do about it, or empty."""

    files: tuple[Path, ...]
    missing: str = ""

    @property
    def pdf(self) -> bool:
        """Whether the PDF files were made too."""
        return not self.missing


def write_sheets(
    kinds: Mapping[str, Kind],
    plan: Plan,
    out: Path,
    *,
    day: date,
    only: Sequence[str] = (),
    page: str = "a4",
    progress: Callable[[str], None] | None = None,
) -> Written:
    """Writes the sheets named in `only` (all without) as HTML and PDF into `out`, which is made if need be.

    Unusable if a name is no sheet, the page size is not known or the folder cannot be written.
    """
    size = _checked(kinds, only, page)
    files: list[Path] = []
    missing = ""
    try:
        out.mkdir(parents=True, exist_ok=True)
        for name in only or kinds:
            kind = kinds[name]
            say = _teller(kind.title.lower(), progress)
            pdf = None
            try:
                html, pdf = laid_out(kind, plan, day, size, say)
            except NoPango as error:
                missing = str(error)
                html = render(kind, plan, day, size)
            files.append(_put(out / f"{name}.html", html.encode("utf-8")))
            if pdf is not None:
                files.append(_put(out / f"{name}.pdf", pdf))
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


def laid_out(kind: Kind, plan: Plan, day: date, page: PageSize, say: Callable[[int, int], None]) -> tuple[str, bytes]:
    """HTML and PDF with every section on one page: where one does not fit, less is put on each and laid out again."""
    for spare in _SPARE:
        html = render(kind, plan, day, page, spare)
        try:
            return html, make_pdf(html, stylesheet(), day, say)
        except TooFull:
            continue
    return html, make_pdf(html, stylesheet(), day, say, strict=False)


def _checked(kinds: Mapping[str, Kind], only: Sequence[str], page: str) -> PageSize:
    wrong = [
        Finding(
            "error", "no-such-sheet", name, f"There is no sheet called {name!r}.", remedy=f"The sheets are: {', '.join(kinds)}."
        )
        for name in only
        if name not in kinds
    ]
    size = next((known for known in PAGE_SIZES if known == page), None)
    if size is None:
        wrong.append(
            Finding("error", "no-such-page", page, f"The page size {page!r} is not known.", remedy="Write a4 or letter.")
        )
    if wrong or size is None:
        raise Unusable(wrong)
    return size


def render(kind: Kind, plan: Plan, day: date, page: PageSize, spare: float = 0.0) -> str:
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
    about: dict[str, Any] = {
        "plan": plan,
        "title": kind.title,
        "sheet": sheet_about(kind.title, plan, day),
        "pages": kind.pages(page, spare),
        "day": day,
        "css": Markup(stylesheet()),
        "page_size": page,
        "landscape": kind.landscape,
        **kind.about(page),
    }
    return environment.get_template(f"{kind.template}.html").render(about)


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
