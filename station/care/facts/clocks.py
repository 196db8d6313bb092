"""Facts about the clocks of the PCs, and about the program's own life."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import ClassVar


@dataclass(frozen=True, slots=True)
class ClockStepped:
    """The PC's clock moved against its monotonic clock. `trusted_until` is the last instant in no doubt."""

    NAME: ClassVar[str] = "clock-stepped"
    by: timedelta
    trusted_until: datetime
    suspended: bool


@dataclass(frozen=True, slots=True)
class ClockConfirmed:
    """A person confirmed that the PC shows the right time after steps that add up to `by`.

    What was started between `segment_from` and `trusted_until` was dated by the clock that moved, so its times
    are taken to the safe side: later readiness after a step forward, earlier ends after a step back.
    """

    NAME: ClassVar[str] = "clock-confirmed"
    by: timedelta
    trusted_until: datetime
    segment_from: datetime


@dataclass(frozen=True, slots=True)
class ClockCompared:
    """Two stations met and compared clocks: that of the journal `other` showed `by` more than this one's."""

    NAME: ClassVar[str] = "clock-compared"
    other: str
    by: timedelta


@dataclass(frozen=True, slots=True)
class StationStarted:
    """The program started. `clean` tells whether the run before ended by itself. A restored station `continues` a
    journal, and numbers containers from `numbers_from` on; 0 where it does not, or did not say so yet. `backup_at` is
    the newest instant its backup knows of (aware UTC); None likewise."""

    NAME: ClassVar[str] = "station-started"
    version: str
    clean: bool
    continues: str
    numbers_from: int = 0
    backup_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class StationStopped:
    """The program ended by itself."""

    NAME: ClassVar[str] = "station-stopped"
    reason: str
