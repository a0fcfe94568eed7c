"""HTML to PDF by WeasyPrint, which needs the system library Pango. Imported only here, and only when asked for."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from datetime import UTC, date, datetime
from io import StringIO

MISSING = (
    "The PDF files were not made because the text layout library Pango is missing: install it (Debian and Ubuntu: "
    "`apt install libpango-1.0-0 libpangoft2-1.0-0`, macOS: `brew install pango`, Windows: see the installation page of "
    "WeasyPrint) or print the HTML files from a browser."
)


class NoPango(Exception):
    """The layout library cannot be loaded; the message is for the person."""

    def __init__(self) -> None:
        super().__init__(MISSING)


def make_pdf(html: str, day: date) -> bytes:
    """The PDF of a self-contained page; reads nothing but what the page holds. NoPango if it cannot be made here."""
    try:
        # It prints a page of its own about what is missing; the person gets our one sentence.
        with redirect_stdout(StringIO()), redirect_stderr(StringIO()):
            from weasyprint import HTML  # type: ignore[import-untyped]
            from weasyprint.urls import URLFetcher  # type: ignore[import-untyped]
    except (OSError, ImportError) as error:
        raise NoPango from error
    with _dated(day):
        made: bytes = HTML(string=html, base_url=None, url_fetcher=URLFetcher(allowed_protocols=["data"])).write_pdf()
    return made


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
