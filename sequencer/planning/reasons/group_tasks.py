"""The names of the tasks that try, fix and finish a group of joints."""

from __future__ import annotations

from collections.abc import Mapping

from sequencer.planning.groups import Group
from sequencer.planning.work import Work

BEFORE = "clean-outside"
"""What the cleaning of outside faces that a part of a group comes to stand on is called."""


def last_task(group: Group) -> str:
    """The task after which a group is one piece."""
    return f"{group.name}/cure/wait" if group.fixing == "glue" else fixing_task(group)


def fixing_task(group: Group) -> str:
    """The task that fixes a group for good: glued, screwed, nailed, keyed or put together dry."""
    acts = {"glue": "glue", "screw": "screw", "nail": "nail", "fit-dry": "fit", "key": "key"}
    return f"{group.name}/{group.fixing}/{acts[group.fixing]}"


def cleaning_task(group: Group) -> str:
    """The task that cleans what cannot be reached once a group is joined; not every group has one."""
    return f"{group.name}/clean-inside/clean"


def outside_task(group: Group) -> str:
    """The task that cleans the outside faces that a part of a group comes to stand on; few groups have one."""
    return f"{group.name}/{BEFORE}/clean"


def trying_task(group: Group, works: Mapping[str, Work]) -> str:
    """The task in which a group is first put together: what has no trial of its own is tried as it is fixed."""
    trial = f"{group.name}/dry-fit/try"
    return trial if trial in works else fixing_task(group)
