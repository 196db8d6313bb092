"""A day and a time of day in the plant's zone, in two fields side by side, read back in words below them."""

from datetime import datetime
from zoneinfo import ZoneInfo

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from station.ui import wording
from station.ui.dialogs import readings
from station.ui.dialogs.fields import PaperField
from station.ui.dialogs.readings import Unreadable


class InstantField(QWidget):
    """Asks for one instant. `edited` tells each change.

    An hour that comes twice means its earlier pass, or its later one where `later` is set: whichever is the safe side.
    """

    edited = Signal()

    def __init__(self, caption: str, zone: ZoneInfo, parent: QWidget | None = None, *, later: bool = False) -> None:
        """`caption` goes on with a day: `Taken out at the earliest on`."""
        super().__init__(parent)
        self._zone, self._later = zone, later
        self.day, self.clock = PaperField(caption, most=10), PaperField(self.tr("at"), most=5)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(10)
        for field, stretch in ((self.day, 3), (self.clock, 2)):
            row.addWidget(field, stretch, Qt.AlignmentFlag.AlignTop)
            field.edited.connect(self._changed)

    @property
    def text(self) -> str:
        """Both fields as they stand."""
        return f"{self.day.text} {self.clock.text}".strip()

    def fill(self, instant: datetime) -> None:
        """Write an instant (aware UTC) into both fields."""
        local = instant.astimezone(self._zone)
        self.day.fill(local.date().isoformat())
        self.clock.fill(f"{local:%H:%M}")

    def answer(self) -> datetime | None:
        """The instant (aware UTC), or None after each wrong field got its sentence."""
        day, clock = self.day.read(readings.iso_date), self.clock.read(readings.wall_time)
        if day is None or clock is None:
            return None
        return self.clock.read(lambda _: readings.plant_instant(day, clock, self._zone, later=self._later))

    def _changed(self) -> None:
        self.day.note(self._in_words())
        self.edited.emit()

    def _in_words(self) -> str:
        try:
            day, clock = readings.iso_date(self.day.text), readings.wall_time(self.clock.text)
            instant = readings.plant_instant(day, clock, self._zone, later=self._later)
        except Unreadable:
            return ""
        said = wording.day_and_time(instant, self._zone)
        if not readings.comes_twice(instant, self._zone):
            return said
        taken = self.tr("the second is taken") if self._later else self.tr("the first is taken")
        return f"{said} ({self.tr('this hour came twice')}: {taken})"
