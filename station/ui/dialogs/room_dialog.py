"""The room as somebody reads it now. Nothing is filled in beforehand: yesterday's figure is nobody's reading."""

from dataclasses import dataclass

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from station.ui.dialogs import readings
from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.digit_pad import DigitPad
from station.ui.dialogs.fields import PaperField, label
from station.ui.dialogs.look import TEXT
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.readings import Unreadable
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel
from station.ui.widgets.touch_button import TouchButton

UNITS = (ActionModel("C", "°C"), ActionModel("F", "°F"))
LEAST_C, MOST_C = -10.0, 50.0


@dataclass(frozen=True)
class RoomWord:
    """A reading of the room: degrees Celsius and percent relative humidity."""

    temperature_c: float
    humidity: float


@dataclass(frozen=True)
class ReadBefore:
    """The reading before this one and its time in final words: two that agree to the digit may be one copied."""

    word: RoomWord
    read_at: str


class RoomDialog(PaperDialog):
    """Asks for temperature and humidity where the paste warms up; `offered` hands over a `RoomWord`.

    Figures that repeat those `before` are said to, and taken all the same. `file_wanted` comes when somebody would
    rather take them from a logger's file; what is typed stays as it is.
    """

    file_wanted = Signal()

    def __init__(
        self, host: QWidget, theme: Theme = LIGHT, unit: str = "C", *, before: ReadBefore | None = None
    ) -> None:
        """`unit` is the site's, C or F."""
        self._before = before
        super().__init__("The room, as you read it now", "Record it", host, theme)
        fields = self.add_column(3)
        fields.addWidget(label(TEXT, self.tr("Read the instrument that hangs where the paste warms up.")))
        self.temperature = PaperField(self.tr("Temperature"), most=10)
        self.unit = ChoiceGroup("", columns=2)
        self.unit.caption.hide()
        self.unit.offer(UNITS, self.theme, self.scale)
        self.unit.choose(unit)
        self.temperature.add_beside(self.unit)
        self.humidity = PaperField(self.tr("Relative humidity, %"), most=10)
        for part in (self.temperature, self.humidity):
            part.edited.connect(self._read_back)
            fields.addWidget(part)
        self.unit.chosen_changed.connect(self._read_back)
        self.from_file = TouchButton(ActionModel("from-file", self.tr("From a file …")))
        self.from_file.acted.connect(self.file_wanted)
        fields.addWidget(self.from_file)
        fields.addStretch(1)
        pad_column = self.add_column(2)
        self.pad = DigitPad(marks=",-")
        self.pad.pressed.connect(lambda mark: self._field().press(mark))
        self.pad.back.connect(self._back)
        self.pad.cleared.connect(self._clear)
        pad_column.addWidget(self.pad)
        pad_column.addStretch(1)

    def widest(self) -> float:
        """Narrower than a form with many fields."""
        return 1250.0

    def first_field(self) -> QWidget:
        """The temperature."""
        return self.temperature.line

    def collect(self) -> RoomWord | None:
        """The reading, or None after each wrong field got its sentence."""
        wanted = self.tr("Write what the instrument shows.")
        temperature = self.temperature.read(self._temperature) if self.temperature.required(wanted) else None
        humidity = self.humidity.read(_percent) if self.humidity.required(wanted) else None
        if temperature is None or humidity is None:
            return None
        return RoomWord(temperature, humidity)

    def _temperature(self, text: str) -> float:
        celsius = readings.celsius(readings.figure(text), self.unit.chosen or "C")
        if not LEAST_C <= celsius <= MOST_C:
            raise Unreadable(f"{text} °{self.unit.chosen} can't be a room. Look at the instrument and its unit again.")
        return celsius

    def _back(self) -> None:
        self._field().line.backspace()

    def _clear(self) -> None:
        self._field().line.clear()

    def _field(self) -> PaperField:
        """Where the pad types: the field with the focus, else the temperature."""
        return self.humidity if self.humidity.line.hasFocus() else self.temperature

    def _read_back(self) -> None:
        self.humidity.note(self._repeats())
        self.temperature.note("")
        if self.unit.chosen == "F":
            try:
                self.temperature.note(f"{readings.celsius(readings.figure(self.temperature.text), 'F'):.1f} °C")
            except Unreadable:
                return

    def _repeats(self) -> str:
        """A question where both figures are those of the reading before, to the digit."""
        if self._before is None:
            return ""
        try:
            told = RoomWord(self._temperature(self.temperature.text), _percent(self.humidity.text))
        except Unreadable:
            return ""
        same = self.tr("Same as {}: read it again?").format(self._before.read_at)
        return same if told == self._before.word else ""


def _percent(text: str) -> float:
    humidity = readings.figure(text)
    if not 0 < humidity <= 100:
        raise Unreadable("Write percent, above 0 and up to 100.")
    return humidity
