"""What an engineer says of thermocouple runs, and what comes of it, as plain values that may cross threads."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from station.ui.view_models import ActionModel

if TYPE_CHECKING:  # the physics is loaded beside the window, when there is something to fit
    from station.care.warmup.fit import Fitted, Pooled

ROOM = "room"
"""The one question that is not the reader's: which sensor measured the room."""


@dataclass(frozen=True)
class RunsAsked:
    """Which files, and what they do not say.

    `room_c` is None where a sensor of theirs measured the room; `outs` are aware UTC instants of take-outs;
    `answers` are those to the reader's questions so far, by its options.
    """

    kind: str
    files: tuple[Path, ...]
    room_c: float | None
    from_start: bool = False
    outs: tuple[datetime, ...] = ()
    answers: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


@dataclass(frozen=True)
class Asking:
    """One thing to declare of the files: what is open, the choices, and a caption where it may be written as well."""

    id: str
    what: str
    choices: tuple[ActionModel, ...] = ()
    written: str = ""
    several: bool = False


@dataclass(frozen=True)
class Asks:
    """The files leave this open."""

    questions: tuple[Asking, ...]


@dataclass(frozen=True)
class Faults:
    """The files can't be read as told: what is wrong, and how to mend it."""

    sentences: tuple[str, ...]


@dataclass(frozen=True)
class RunFound:
    """One run: its readings (seconds since the take-out, Celsius), the reasons against it, its fit if it has one."""

    file: str
    name: str
    points: tuple[tuple[float, float], ...]
    room_c: float | None
    cold_c: float | None
    reasons: tuple[str, ...]
    fitted: "Fitted | None"

    @property
    def used(self) -> bool:
        """Whether it counts."""
        return not self.reasons


@dataclass(frozen=True)
class Found:
    """Every run, and those that count together; None with fewer than two of them.

    `digests` are the names by which the record keeps the files of those that count; `notes` what was noticed.
    """

    runs: tuple[RunFound, ...]
    pooled: "Pooled | None"
    digests: tuple[str, ...]
    notes: tuple[str, ...] = ()


Answer = Asks | Faults | Found
