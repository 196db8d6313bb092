"""The form that asks for a logger's file and the store it measured."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.file_field import FilesField
from station.ui.dialogs.paper_dialog import OFFER, PaperDialog
from station.ui.store_readings.finding import LoggerAsked
from station.ui.store_readings.instruments import InstrumentChoice, Instruments
from station.ui.store_readings.progress import ProgressBar
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel
from station.ui.warm_up.questions import zones


class LoggerForm(PaperDialog):
    """`offered` hands over a `LoggerAsked`; `rezoned` says that what was answered of the file holds no more."""

    rezoned = Signal()

    def __init__(
        self,
        stores: tuple[ActionModel, ...],
        zone: str,
        instruments: Instruments,
        host: QWidget,
        theme: Theme = LIGHT,
    ) -> None:
        """`zone` is the plant's; it holds for files that name none, and the form says so."""
        super().__init__("Readings of a store, from its logger", "Take them in", host, theme)
        column = self.add_column(1)
        self.files = FilesField(
            self.tr("Logger of the store"),
            word=self.tr("Choose its file"),
            hint=self.tr("Time and temperature as CSV. What was taken in before is known and counts once."),
            several=False,
        )
        self.store = ChoiceGroup(self.tr("The store it measured"), 1)
        self.store.offer(stores, self.theme, self.scale)
        self.instrument = InstrumentChoice(self.tr("Its instrument"), instruments)
        column.addWidget(self.files)
        column.addWidget(self.store)
        column.addWidget(self.instrument)
        self.bar = ProgressBar()
        column.addWidget(self.bar)
        column.addStretch(1)
        beside = self.add_column(1)
        self.zone = ChoiceGroup(self.tr("Its clock shows, if the file does not say"), 1)
        self.zone.offer(zones(zone), self.theme, self.scale)
        self.zone.choose(zone)
        beside.addWidget(self.zone)
        beside.addStretch(1)
        self.files.chosen.connect(self.rezoned)
        self.zone.chosen_changed.connect(lambda _zone: self.rezoned.emit())
        self.store.chosen_changed.connect(self._of_store)
        self._of_store(self.store.chosen or "")

    def first_field(self) -> QWidget:
        """The button that asks for the file."""
        return self.files.button

    def restyle(self) -> None:
        """The bar is painted by itself."""
        self.bar.set_look(self.theme, self.scale)

    def wait(self, sentence: str) -> None:
        """The file is being read; leaving the form stops that."""
        self._act(enabled=False)
        self.bar.show_share(0.0)
        self.remark(sentence)

    def tell(self, rows: int, lines: int, sentence: str) -> None:
        """So many rows are read of so many lines."""
        self.bar.show_share(rows / lines if lines else 0.0)
        self.remark(sentence)

    def ready(self, sentence: str = "") -> None:
        """It may be handed in again."""
        self._act(enabled=True)
        self.bar.hide()
        self.refuse(sentence)

    def collect(self) -> LoggerAsked | None:
        """What was chosen, or None after each sentence that says what is missing."""
        store = self.store.required(self.tr("Say which store it measured."))
        if not self.files.paths:
            self.files.complain(self.tr("Choose the logger's file."))
            return None
        instrument = self.instrument.answer(self.tr("Say which instrument it was."))
        if store is None or instrument is None:
            return None
        return LoggerAsked(self.files.paths[0], store, self.zone.chosen or "", instrument)

    def _of_store(self, store: str) -> None:
        self.instrument.of_store(store, self.theme, self.scale)

    def _act(self, *, enabled: bool) -> None:
        self.hand_in.action_model = ActionModel(OFFER, self.tr("Take them in"), enabled=enabled)
        self.hand_in.setEnabled(enabled)
        self.hand_in.update()
