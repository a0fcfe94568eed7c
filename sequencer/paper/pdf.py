"""HTML to PDF by WeasyPrint, which needs the system library Pango. Imported only here, and only when asked for.

Sections are laid out in batches, so that memory does not grow with the sheet, and put together again as one file.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from datetime import UTC, date, datetime
from io import BytesIO, StringIO
from typing import Any

BATCH = 20
"""Sections laid out at a time."""

MISSING = (
    "The PDF files were not made because the text layout library Pango is missing: install it (Debian and Ubuntu: "
    "`apt install libpango-1.0-0 libpangoft2-1.0-0`, macOS: `brew install pango`, Windows: see the installation page of "
    "WeasyPrint) or print the HTML files from a browser."
)


class NoPango(Exception):
    """The layout library cannot be loaded; the message is for the person."""

    def __init__(self) -> None:
        super().__init__(MISSING)


class TooFull(Exception):
    """A section needs more than one page; its number."""


def make_pdf(html: str, style: str, day: date, say: Callable[[int, int], None], *, strict: bool = True) -> bytes:
    """The PDF of a self-contained page made of sections, each one page; reads nothing but what the page holds.

    `style` is the stylesheet inside the page; `say` is told how many sections of how many are laid out. NoPango if it
    cannot be made here, TooFull if a section takes more than a page; unless `strict`, that section takes two.
    """
    try:
        # It prints a page of its own about what is missing; the person gets our one sentence.
        with redirect_stdout(StringIO()), redirect_stderr(StringIO()):
            from weasyprint import CSS, HTML  # type: ignore[import-untyped]
            from weasyprint.text.fonts import FontConfiguration  # type: ignore[import-untyped]
            from weasyprint.urls import URLFetcher  # type: ignore[import-untyped]
    except (OSError, ImportError) as error:
        raise NoPango from error
    before, sections, after = _taken_apart(html.replace(style, ""))
    fetcher = URLFetcher(allowed_protocols=["data"])
    fonts = FontConfiguration()
    with _dated(day):
        sheet = CSS(string=style, font_config=fonts, url_fetcher=fetcher)
        batches: list[bytes] = []
        for start in range(0, len(sections), BATCH):
            some = sections[start : start + BATCH]
            page = HTML(string=before + "".join(some) + after, base_url=None, url_fetcher=fetcher)
            laid = page.render(font_config=fonts, stylesheets=[sheet])
            if strict and len(laid.pages) > len(some):
                raise TooFull
            batches.append(laid.write_pdf())
            say(start + len(some), len(sections))
    return batches[0] if len(batches) == 1 else _put_together(batches)


def _taken_apart(html: str) -> tuple[str, list[str], str]:
    """What stands before the sections, the sections, what stands after them."""
    before, *sections = re.split(r"(?=<section )", html)
    last, end, after = sections[-1].rpartition("</section>")
    return before, [*sections[:-1], last + end], after


def _put_together(batches: Sequence[bytes]) -> bytes:
    """One file of several, with the first one's title, language and dates; what is the same in all is kept once."""
    from pypdf import PdfReader, PdfWriter
    from pypdf.generic import NameObject

    writer = PdfWriter()
    for batch in batches:
        writer.append(BytesIO(batch), import_outline=False)
    first = PdfReader(BytesIO(batches[0]))
    writer.metadata = first.metadata
    language: Any = first.root_object.get("/Lang")
    if language is not None:
        writer.root_object[NameObject("/Lang")] = language
    writer.compress_identical_objects(remove_duplicates=True, remove_unreferenced=True)
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


@contextmanager
def _dated(day: date) -> Iterator[None]:
    """Sets SOURCE_DATE_EPOCH, which the fonts' time stamps follow, unless it is set already."""
    if "SOURCE_DATE_EPOCH" in os.environ:
        yield
        return
    os.environ["SOURCE_DATE_EPOCH"] = str(int(datetime(day.year, day.month, day.day, tzinfo=UTC).timestamp()))
    try:
        yield
    finally:
        del os.environ["SOURCE_DATE_EPOCH"]
