"""What was said wrongly at receipt, put right: the recorded values stand in the fields, wrong ones are overwritten."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from zoneinfo import ZoneInfo

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from station.ui.dialogs import readings
from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.fields import PaperField
from station.ui.dialogs.instant_field import InstantField
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.dialogs.readings import Unreadable
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel

UNITS = (ActionModel("C", "°C"), ActionModel("F", "°F"))
LEAST_C, MOST_C = -40.0, 60.0  # what a parcel can have been through; beyond it the unit is wrong
MOST_LOT = 30


@dataclass(frozen=True)
class RecordedReceipt:
    """What the record says now. `temperature` is in final words; `celsius` only where it was measured."""

    title: str
    lot: str
    expires: date | None
    arrived_at: datetime
    temperature: str
    celsius: float | None = None


@dataclass(frozen=True)
class CorrectWord:
    """What is put right; None leaves a thing as it stands. The instant is aware UTC, the temperature in Celsius."""

    badge: str
    pin: str = field(repr=False)
    reason: str
    lot: str | None = None
    expires: date | None = None
    arrived_at: datetime | None = None
    temperature_c: float | None = None


class CorrectDialog(LeadDialog):
    """Asks what the receipt should have said; `offered` hands over a `CorrectWord`."""

    def __init__(
        self,
        receipt: RecordedReceipt,
        zone: ZoneInfo,
        host: QWidget,
        theme: Theme = LIGHT,
        people: Mapping[str, str] | None = None,
    ) -> None:
        """The fields show what is recorded; only what is changed in them is put right."""
        self._receipt, self._zone = receipt, zone
        lines = ("Overwrite what is wrong and leave the rest. The record keeps both.",)
        super().__init__(receipt.title, host, theme, lines=lines, act="Correct it", people=people)

    def build_story(self, story: QVBoxLayout) -> None:
        """Lot and expiry, arrival, temperature."""
        self.lot = PaperField(self.tr("Lot"), most=MOST_LOT)
        self.expires = PaperField(self.tr("Expires, as 2027-03-31"), most=10)
        self.arrived = InstantField(self.tr("At the dock on"), self._zone)
        self.temperature = PaperField(self.tr("Temperature on arrival"), most=10)
        self.unit = ChoiceGroup("", 2)
        self.unit.caption.hide()
        self.unit.offer(UNITS, self.theme, self.scale)
        self.unit.choose("C")
        self.temperature.add_beside(self.unit)
        self._fill()
        row = QHBoxLayout()
        row.setSpacing(10)
        for part in (self.lot, self.expires):
            row.addWidget(part, 1, Qt.AlignmentFlag.AlignTop)
        self.expires.edited.connect(self._read_back)
        story.addLayout(row)
        story.addWidget(self.arrived)
        story.addWidget(self.temperature)
        self._read_back()

    def first_field(self) -> QWidget:
        """The lot."""
        return self.lot.line

    def collect(self) -> object | None:
        """The `CorrectWord`, or None after each missing or wrong field got its sentence."""
        before = self._receipt
        lot = self.lot.required(self.tr("The lot stands on the maker's label."))
        expires = self.expires.read(readings.iso_date) if self.expires.text != self._expiry() else before.expires
        dated = expires is not None or not self.expires.text
        arrived = self.arrived.answer() if self.arrived.text != self._arrival else before.arrived_at
        celsius = self.temperature.read(self._celsius)
        proof = self.proof()
        if lot is None or not dated or arrived is None or celsius is None or proof is None:
            return None
        return CorrectWord(
            badge=proof.badge,
            pin=proof.pin,
            reason=proof.reason,
            lot=lot if lot != before.lot else None,
            expires=expires if expires != before.expires else None,
            arrived_at=arrived if arrived != before.arrived_at else None,
            temperature_c=celsius[0],
        )

    def _fill(self) -> None:
        self.lot.fill(self._receipt.lot)
        self.expires.fill(self._expiry())
        self.arrived.fill(self._receipt.arrived_at)
        self._arrival = self.arrived.text
        self.temperature.fill(self._warmth())
        if self._receipt.celsius is None:
            self.temperature.note(self._receipt.temperature)

    def _expiry(self) -> str:
        return self._receipt.expires.isoformat() if self._receipt.expires is not None else ""

    def _warmth(self) -> str:
        return f"{self._receipt.celsius:g}" if self._receipt.celsius is not None else ""

    def _celsius(self, text: str) -> tuple[float | None]:
        """The corrected temperature in a tuple, that None may stand for one left as it was."""
        if text == self._warmth() and self.unit.chosen == "C":
            return (None,)
        celsius = readings.celsius(readings.figure(text), self.unit.chosen or "C")
        if not LEAST_C <= celsius <= MOST_C:
            said = f"{text} °{self.unit.chosen} can't be the temperature of a delivery."
            raise Unreadable(f"{said} Look at the instrument's unit.")
        return (celsius,)

    def _read_back(self) -> None:
        try:
            self.expires.note(readings.day_in_words(readings.iso_date(self.expires.text)))
        except Unreadable:
            self.expires.note("")
