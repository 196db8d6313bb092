"""Where and by whom a scan was made, and what the scans just before it left ready."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from station.care.scans import Here, Scan
from station.care.verdict import Armed, Verdict

ARMED_FOR = timedelta(seconds=10)


@dataclass(frozen=True, slots=True)
class Before:
    """The scan before this one at the same place, and what it was answered."""

    scan: Scan
    at: datetime
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Context:
    """One place at one moment: who works there, what is armed, what was scanned last.

    `next_number` is the number a container filled by this very scan would get; the rules can't make one up.
    `badged_at` is when the badge of `person` was scanned here last.
    """

    here: Here
    person: str | None
    armed: Armed | None = None
    before: Before | None = None
    next_number: str = ""
    badged_at: datetime | None = None

    def armed_at(self, now: datetime) -> Armed | None:
        """What is still armed; nothing stays armed over ten seconds, and nothing survives a clock set back."""
        armed = self.armed
        if armed is None or not timedelta(0) <= now - armed.at <= ARMED_FOR:
            return None
        return armed
