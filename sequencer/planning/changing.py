"""What changing from one set-up to another takes: figures of `operations/lists/changes.yaml` and each operation's own time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sequencer.knowledge.forms.setting_up import ChangeTime
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.plan import Task
from sequencer.model.work import WAITS

SECONDS = 60
"""Costs are whole seconds: sums of minutes would not come out equal."""


@dataclass(frozen=True)
class SetUp:
    """What is mounted for a task. `coming`: seconds to go to the station; `ready`: seconds to set the operation up there;
    `settings`: each setting with the seconds it takes to change; `waits`: nothing is done, glue or finish is left its time."""

    name: str
    station: str
    operation: str
    coming: int
    ready: int
    settings: Mapping[str, tuple[str, int]]
    piece: int
    waits: bool = False

    def after(self, other: SetUp | None) -> int:
        """Seconds to change to this from another; from nothing if None or if that was a wait. Within an operation never more than
        setting it up; nobody goes anywhere to wait."""
        if self.waits:
            return 0
        if other is None or other.waits or other.station != self.station:
            return self.coming + self.ready
        if other.name == self.name:
            return 0
        if other.operation != self.operation:
            return max(self.ready, self.piece)
        missing = ("", 0)
        differing = sum(cost for name, (text, cost) in self.settings.items() if other.settings.get(name, missing)[0] != text)
        return max(min(differing, self.ready), self.piece)


def set_up_of(task: Task, knowledge: Knowledge) -> SetUp:
    """The set-up a task is done in."""
    kind = knowledge.stations[task.station_kind]
    times = knowledge.change_times
    by_setting = {name: time for time in times.values() for name in time.settings}
    return SetUp(
        task.set_up,
        task.station,
        task.operation,
        _seconds(times[kind.power]),
        round(kind.operations[task.operation].minutes.set_up * SECONDS),
        {each.name: (each.text, _seconds(by_setting[each.name])) for each in task.settings if each.name in by_setting},
        _seconds(times["piece"]),
        task.kind in WAITS,
    )


def set_ups_of(tasks: Sequence[Task], knowledge: Knowledge) -> dict[str, SetUp]:
    """The set-ups of some tasks by their names, in the order of the tasks."""
    found: dict[str, SetUp] = {}
    for task in tasks:
        if task.set_up not in found:
            found[task.set_up] = set_up_of(task, knowledge)
    return found


def _seconds(time: ChangeTime) -> int:
    return round(time.minutes * SECONDS)
