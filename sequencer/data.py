"""Finds the data folders: inside the installed package, else beside it in the checkout."""

from __future__ import annotations

from pathlib import Path

FOLDERS = ("operations", "hazards", "cards", "examples")


def data_folder(name: str) -> Path:
    """The folder of that name; FileNotFoundError if neither an installed copy nor a checkout holds it."""
    here = Path(__file__).parent
    for folder in (here / "_data" / name, here.parent / name):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"The folder {name}/ is missing from this installation: install it again.")
