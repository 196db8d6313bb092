"""The temperature at the dock: a figure with its unit, or one of the two other honest answers."""

from dataclasses import dataclass
from typing import cast

from PySide6.QtWidgets import QWidget

from station.care.receiving import TemperatureAnswer
from station.ui.dialogs import readings
from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.fields import Captioned, PaperField
from station.ui.dialogs.readings import Unreadable
from station.ui.theme import Scale, Theme
from station.ui.view_models import ActionModel

UNITS = (ActionModel("C", "°C"), ActionModel("F", "°F"))
OTHER_ANSWERS = (
    ActionModel("not measured", "Not measured"),
    ActionModel("indicator tripped", "Indicator tripped"),
)
LEAST_C, MOST_C = -40.0, 60.0  # what a parcel can have been through; beyond it the unit is wrong


@dataclass(frozen=True)
class Warmth:
    """What was said of the temperature; `celsius` only where it was measured."""

    answer: TemperatureAnswer
    celsius: float | None = None


class ArrivalTemperature(Captioned):
    """Field, unit and the two other answers; typing a figure takes such an answer back, and the reverse."""

    def __init__(self, unit: str, theme: Theme, scale: Scale, parent: QWidget | None = None) -> None:
        super().__init__(self.tr("Temperature on arrival"), parent)
        self.measured = PaperField("", most=10)
        self.measured.caption.hide()
        self.measured.line.setAccessibleName(self.caption.text())
        self.unit, self.other = ChoiceGroup("", 2), ChoiceGroup("", 2)
        for group, actions in ((self.unit, UNITS), (self.other, OTHER_ANSWERS)):
            group.caption.hide()
            group.offer(actions, theme, scale)
        self.unit.choose(unit)
        self.measured.add_beside(self.unit)
        self.set_content(self.measured)
        self.column.insertWidget(2, self.other)
        self.measured.edited.connect(self._typed)
        self.unit.chosen_changed.connect(self._read_back)
        self.other.chosen_changed.connect(self._answered)

    def take(self, warmth: Warmth) -> None:
        """An answer as it is recorded, in Celsius."""
        if warmth.celsius is None:
            self.other.choose(warmth.answer)
        else:
            self.unit.choose("C")
            self.measured.fill(f"{warmth.celsius:g}")

    def answer(self) -> Warmth | None:
        """What was said, or None with a sentence below."""
        if self.other.chosen is not None:
            return Warmth(cast("TemperatureAnswer", self.other.chosen))
        if not self.measured.text:
            self.complain(self.tr("Measure it, or say that nobody did."))
            return None
        celsius = self.measured.read(self._celsius)
        return None if celsius is None else Warmth("measured", celsius)

    def _celsius(self, text: str) -> float:
        figure, unit = readings.figure(text), self.unit.chosen or "C"
        celsius = readings.celsius(figure, unit)
        if LEAST_C <= celsius <= MOST_C:
            return celsius
        other = "F" if unit == "C" else "C"
        raise Unreadable(f"{text} °{unit} can't be the temperature of a delivery. Did the instrument say °{other}?")

    def _typed(self, text: str) -> None:
        if text:
            self.other.clear()
        unit = text.strip()[-1:].upper()
        if unit in ("C", "F"):  # "39.2 F", as it is said or written on the papers
            self.unit.choose(unit)
            self.measured.fill(text.strip()[:-1].rstrip(" \N{DEGREE SIGN}"))
        self._read_back()

    def _answered(self) -> None:
        self.measured.fill("")
        self._read_back()

    def _read_back(self) -> None:
        self.calm()
        self.measured.calm()
        self.measured.note("")
        if self.unit.chosen == "F" and self.measured.text:
            try:
                self.measured.note(f"{readings.celsius(readings.figure(self.measured.text), 'F'):.1f} °C")
            except Unreadable:
                return
