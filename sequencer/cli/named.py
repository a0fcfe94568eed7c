"""What a command line names: the workshop file, the day, files to write that must not be read ones, sheets."""

from __future__ import annotations

import argparse
import os
from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from sequencer.findings import Finding, Unusable

if TYPE_CHECKING:
    from sequencer.model.workshop import Workshop


def printed_day(given: argparse.Namespace) -> date:
    """The date the sheets print and whose limits hold: as given, else that of SOURCE_DATE_EPOCH (seconds since 1970, UTC),
    else today. Unusable if that is no number or no date."""
    if given.date is not None:
        day: date = given.date
        return day
    seconds = os.environ.get("SOURCE_DATE_EPOCH", "")
    if not seconds:
        return date.today()
    if not (seconds.isascii() and seconds.isdigit()):
        what, remedy = f"SOURCE_DATE_EPOCH is '{seconds}', which is no number of seconds.", "Unset it, or give --date."
        raise Unusable([Finding("error", "date", "SOURCE_DATE_EPOCH", what, remedy=remedy)])
    try:
        return datetime.fromtimestamp(int(seconds), UTC).date()
    except (OverflowError, ValueError, OSError):
        what, remedy = "SOURCE_DATE_EPOCH is later than any date of the calendar.", "Unset it, or give --date."
        raise Unusable([Finding("error", "date", "SOURCE_DATE_EPOCH", what, remedy=remedy)]) from None


def workshop_of(given: argparse.Namespace) -> Path:
    """The workshop file that is meant. Unusable if none is named and none lies beside the job."""
    if given.workshop is not None:
        return Path(given.workshop)
    job: Path = given.job
    if not job.is_file():
        from sequencer.reading.job import read_job

        read_job(job)  # says what is wrong with the name, which matters before any workshop does
    for folder in (job.parent, job.parent.parent):
        if (folder / "workshop.yaml").is_file():
            return folder / "workshop.yaml"
    raise Unusable(
        [
            Finding(
                "error",
                "no-workshop",
                str(job),
                "No workshop file was named, and there is no workshop.yaml beside the job file.",
                "What is possible depends on the workshop: its stations, guards and people.",
                "Add `--workshop FILE`, or put a workshop.yaml beside the job file; `sequencer new DIR` writes one to change.",
            )
        ]
    )


def no_input(given: argparse.Namespace, file: Path, workshop: Workshop) -> None:
    """Unusable if a file or folder to write is one that is read, or lies in a folder of knowledge or shipped data."""
    from sequencer.pipeline import own_folder

    if file.resolve() in (given.job.resolve(), workshop_of(given).resolve()):
        raise would_overwrite(file, f"{file} is one of the files the plan is made from.", "Name another file.")
    not_among_the_data(file, given.knowledge or own_folder(workshop))


def not_among_the_data(file: Path, own: Path | None = None) -> None:
    """Unusable if a file or folder to write lies in the school's own folder of knowledge or in the tool's own data."""
    from sequencer.data import FOLDERS, data_folder

    for folder in (*((own,) if own is not None else ()), *map(data_folder, FOLDERS)):
        if file.resolve().is_relative_to(folder.resolve()):
            whose = "the school's own folder of knowledge" if folder == own else "the tool's own data"
            raise would_overwrite(file, f"{file} lies in {whose}, {folder}.", "Name a place outside that folder.")


def would_overwrite(file: Path, what: str, remedy: str) -> Unusable:
    """That a file to write is one that is read, or lies among what is read."""
    return Unusable([Finding("error", "would-overwrite", str(file), what, "Nothing that is read is written over.", remedy)])


def known_sheets(option: str, names: Sequence[str], sheets: Iterable[str]) -> None:
    """Unusable if a name is no sheet."""
    unknown = [name for name in names if name not in sheets]
    if unknown:
        remedy = f"The sheets are: {', '.join(sheets)}."
        raise Unusable([Finding("error", "unknown-sheet", option, f"There is no sheet called {unknown[0]}.", remedy=remedy)])


def ends_in(file: Path | None, ending: str, what: str) -> None:
    """Unusable if a file to write has another ending than what it will hold."""
    if file is not None and file.suffix.lower() != ending:
        wrong = f"ends in {file.suffix}" if file.suffix else "has no ending"
        raise Unusable(
            [
                Finding(
                    "error",
                    "unknown-ending",
                    str(file),
                    f"{file} {wrong}, and a {what} file ends in {ending}.",
                    "Other programs tell by the ending what a file holds.",
                    f"Let its name end in {ending}.",
                )
            ]
        )
