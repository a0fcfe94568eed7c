"""The published JSON form of a plan and its schema. Files are written whole or not at all."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from errno import EINVAL, EISDIR, ENOTDIR
from functools import cache
from pathlib import Path
from stat import S_IMODE
from tempfile import NamedTemporaryFile, TemporaryFile
from typing import Any

from pydantic import TypeAdapter

from sequencer.model.plan import PLAN_VERSION, Plan


@cache
def _adapter() -> TypeAdapter[Plan]:
    return TypeAdapter(Plan)


def plan_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of a plan."""
    schema = _adapter().json_schema()
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "Plan of making", **schema}


def plan_json(plan: Plan) -> bytes:
    """The plan as JSON; equal plans give equal bytes."""
    return _adapter().dump_json(plan, indent=2) + b"\n"


def read_plan(text: bytes | str) -> Plan:
    """A plan from its JSON form. pydantic's ValidationError if it is none; ValueError if it is one of another version."""
    plan = _adapter().validate_json(text)
    if plan.version != PLAN_VERSION:
        raise ValueError(f"version {plan.version}")
    return plan


def contradiction(plan: Plan) -> str:
    """What in a plan that was read contradicts itself, as a sentence; empty where every task is done once, in one step."""
    tasks = Counter(task.id for task in plan.tasks)
    done = Counter(name for step in plan.steps if step.kind in ("work", "wait") for name in step.tasks)
    for name in dict.fromkeys((*tasks, *done)):
        if not tasks[name]:
            return f"a step does {name}, which is no task of it."
        if tasks[name] > 1:
            return f"it has the task {name} {tasks[name]} times."
        if done[name] != 1:
            return f"it has {done[name] or 'no'} {'steps' if done[name] else 'step'} for the task {name}."
    return "" if tasks else "it has no tasks."


def write_plan(plan: Plan, file: Path) -> None:
    """Write a plan. OSError if the folder cannot be written; then nothing is left behind."""
    write_whole(file, plan_json(plan))


def write_whole(file: Path, content: bytes) -> None:
    """Write a file whole or not at all: beside it first, then in its place. A link is followed, and a file keeps its rights.

    OSError, with the name of the file, where the folder cannot be written, or where something stands that is no ordinary file.
    """
    file = file.resolve()
    file.parent.mkdir(parents=True, exist_ok=True)
    _is_no_other(file)
    rights = S_IMODE(file.stat().st_mode) if file.exists() else 0o644
    with _told_of(file), NamedTemporaryFile(dir=file.parent, prefix=".", delete=False) as beside:
        try:
            beside.write(content)
            beside.close()
            Path(beside.name).chmod(rights)
            os.replace(beside.name, file)
        except BaseException:
            Path(beside.name).unlink(missing_ok=True)
            raise


def can_be_written(file: Path) -> None:
    """OSError, as `write_whole` would raise it, where a file cannot be written; nothing is left behind."""
    file = file.resolve()
    _is_no_other(file)
    folder = next(each for each in file.parents if each.exists())
    if not folder.is_dir():
        raise NotADirectoryError(ENOTDIR, "It is no folder", str(folder))
    with _told_of(file), TemporaryFile(dir=folder):
        pass


def _is_no_other(file: Path) -> None:
    if file.is_dir():
        raise IsADirectoryError(EISDIR, "It is a folder", str(file))
    if file.exists() and not file.is_file():
        raise OSError(EINVAL, "It is no ordinary file", str(file))


@contextmanager
def _told_of(file: Path) -> Iterator[None]:
    """Tells of the file that is meant, not of the one beside it."""
    try:
        yield
    except OSError as error:
        raise OSError(error.errno, error.strerror, str(file)) from error
