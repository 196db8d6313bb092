"""The display of a store as somebody reads it now. Nothing is filled in beforehand."""

from dataclasses import dataclass

from PySide6.QtWidgets import QWidget

from station.ui.dialogs import readings
from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.digit_pad import DigitPad
from station.ui.dialogs.fields import PaperField
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.store_readings.instruments import InstrumentChoice, Instruments
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel

UNITS = (ActionModel("C", "°C"), ActionModel("F", "°F"))


@dataclass(frozen=True)
class DisplayWord:
    """What the display of a store showed, degrees Celsius."""

    store: str
    temperature_c: float
    instrument: str = ""


class DisplayForm(PaperDialog):
    """Asks for a store and what its display shows; `offered` hands over a `DisplayWord`."""

    def __init__(
        self, stores: tuple[ActionModel, ...], instruments: Instruments, host: QWidget, theme: Theme = LIGHT
    ) -> None:
        """`stores` are those there are, `instruments` those of each."""
        super().__init__("A store, as you read its display now", "Record it", host, theme)
        column = self.add_column(3)
        self.store = ChoiceGroup(self.tr("The store"), 1)
        self.store.offer(stores, self.theme, self.scale)
        self.temperature = PaperField(self.tr("Temperature"), most=10)
        self.unit = ChoiceGroup("", columns=2)
        self.unit.caption.hide()
        self.unit.offer(UNITS, self.theme, self.scale)
        self.unit.choose("C")
        self.temperature.add_beside(self.unit)
        self.instrument = InstrumentChoice(self.tr("Which instrument"), instruments)
        column.addWidget(self.store)
        column.addWidget(self.instrument)
        column.addWidget(self.temperature)
        column.addStretch(1)
        beside = self.add_column(2)
        self.pad = DigitPad(marks=",-")
        self.pad.pressed.connect(self.temperature.press)
        self.pad.back.connect(self.temperature.line.backspace)
        self.pad.cleared.connect(self.temperature.line.clear)
        beside.addWidget(self.pad)
        beside.addStretch(1)
        self.store.chosen_changed.connect(self._of_store)
        self._of_store(self.store.chosen or "")

    def widest(self) -> float:
        """Narrower than a form with many fields."""
        return 1250.0

    def first_field(self) -> QWidget:
        """The temperature."""
        return self.temperature.line

    def collect(self) -> DisplayWord | None:
        """The reading, or None after each wrong field got its sentence."""
        store = self.store.required(self.tr("Say which store you read."))
        shown = self.temperature.required(self.tr("Write what the display shows."))
        figure = self.temperature.read(readings.figure) if shown else None
        instrument = self.instrument.answer(self.tr("Say which instrument you read."))
        if store is None or figure is None or instrument is None:
            return None
        return DisplayWord(store, readings.celsius(figure, self.unit.chosen or "C"), instrument)

    def _of_store(self, store: str) -> None:
        self.instrument.of_store(store, self.theme, self.scale)
