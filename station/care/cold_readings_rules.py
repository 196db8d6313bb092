"""What a site chooses for a store's readings: when outside is an excursion, what it comes to, and its instruments."""

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from station.care.outside import Limits
from station.care.words import Storage

FREEZING_C = 0.0


class Policy(StrEnum):
    """What an excursion comes to: it stands on record, is warned of, counts as time out of the cold, or holds."""

    LOG = "log"
    WARN = "warn"
    CHARGE = "charge"
    HOLD = "hold"


class Mistake(StrEnum):
    """What was wrong with a file that is taken back."""

    STORE = "of another store"
    ZONE = "its clock or its columns were read wrongly"
    OTHER = "something else"


@dataclass(frozen=True, slots=True)
class StoreCare:
    """How a store's readings are judged. What a site does not say is on the safe side: an excursion holds.

    The dead band (kelvin) and the delay keep one swing round a limit one excursion; the usual figures are our own
    choice, no source: a door stands open for minutes, and loggers resolve a tenth.
    """

    policy: Policy = Policy.HOLD
    dead_band_k: float = 0.5
    delay: timedelta = timedelta(minutes=10)

    def limits(self, storage: Storage, low_c: float, high_c: float) -> Limits:
        """The limits to look through readings with; in a refrigerator nothing below freezing is in range."""
        low = max(low_c, FREEZING_C) if storage is Storage.COLD else low_c
        return Limits(low, high_c, self.dead_band_k, self.delay)


@dataclass(frozen=True, slots=True)
class Instrument:
    """A logger or display of a store, and the last day its calibration is good for."""

    id: str
    store: str
    calibration_due: date

    def overdue(self, today: date) -> bool:
        """Whether its calibration has run out."""
        return today > self.calibration_due
