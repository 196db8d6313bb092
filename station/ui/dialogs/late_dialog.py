"""A take-out nobody scanned, told afterwards: between which two times it must have been, and how that is known."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from zoneinfo import ZoneInfo

from PySide6.QtWidgets import QVBoxLayout, QWidget

from station.ui.dialogs.instant_field import InstantField
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.theme import LIGHT, Theme


@dataclass(frozen=True)
class LateWord:
    """What a shift lead said: taken out between two instants (aware UTC)."""

    badge: str
    pin: str = field(repr=False)
    reason: str
    earliest: datetime
    latest: datetime


class LateDialog(LeadDialog):
    """Asks for the interval of a take-out; `offered` hands over a `LateWord`."""

    def __init__(
        self,
        title: str,
        now: datetime,
        zone: ZoneInfo,
        host: QWidget,
        theme: Theme = LIGHT,
        *,
        lines: tuple[str, ...] = (),
        people: Mapping[str, str] | None = None,
    ) -> None:
        """`now` (aware UTC) fills in both days; the times of day are nobody's but the lead's to say."""
        self._now, self._zone = now, zone
        asked = "How is the time known? It stands in the record"
        super().__init__(title, host, theme, lines=lines, act="Enter it", reason=asked, people=people)

    def build_story(self, story: QVBoxLayout) -> None:
        """The two ends of the interval."""
        self.earliest = InstantField(self.tr("Taken out at the earliest on"), self._zone)
        self.latest = InstantField(self.tr("and at the latest on"), self._zone, later=True)
        today = self._now.astimezone(self._zone).date().isoformat()
        for part in (self.earliest, self.latest):
            part.day.fill(today)
            story.addWidget(part)

    def first_field(self) -> QWidget:
        """The earliest time."""
        return self.earliest.clock.line

    def collect(self) -> object | None:
        """The `LateWord`, or None after each missing or wrong field got its sentence."""
        earliest, latest = self.earliest.answer(), self.latest.answer()
        proof = self.proof()
        if earliest is None or latest is None or proof is None:
            return None
        return LateWord(proof.badge, proof.pin, proof.reason, earliest, latest)
