"""The form that shows the newest air of a logger's file. It fills in nothing, and records it only when confirmed."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.fields import label
from station.ui.dialogs.file_field import FilesField
from station.ui.dialogs.look import CAPTION, NOTE, TEXT
from station.ui.dialogs.paper_dialog import OFFER, PaperDialog
from station.ui.room_file.finding import AirAsked, AirFound
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel
from station.ui.warm_up.questions import zones


class AirForm(PaperDialog):
    """Asks for a file and shows what it says of the room; `offered` hands over the `AirFound` that was confirmed.

    `asked` hands over an `AirAsked` whenever a file is chosen, `rezoned` a zone when another one is for that file.
    """

    asked = Signal(object)
    rezoned = Signal(str)

    def __init__(self, zone: str, host: QWidget, theme: Theme = LIGHT) -> None:
        """`zone` is the plant's; it holds for files that name none, and the form says so."""
        super().__init__("The room, from a logger's file", "Record it", host, theme)
        self._found: AirFound | None = None
        self._build_what(self.add_column(1), zone)
        self._build_found(self.add_column(1))

    def widest(self) -> float:
        """As wide as a form with two columns of words."""
        return 1500.0

    def first_field(self) -> QWidget:
        """The button that asks for the file."""
        return self.files.button

    def wait(self, word: str) -> None:
        """The file is being read: nothing of it is shown, and nothing can be recorded."""
        self.forget()
        self._name_act(word, enabled=False)

    def forget(self) -> None:
        """Show no air."""
        self.show_found(None, ())

    def show_found(self, found: AirFound | None, lines: tuple[str, ...]) -> None:
        """Show this air in final words: the reading, when and where from, then what else is to be known."""
        self._found = found
        self._name_act(self.tr("Record it"), enabled=True)
        self.refuse("")
        told = (*lines, "", "", "")
        self.reading.setText(told[0] or self.tr("Nothing yet."))
        self.origin.setText(told[1])
        self.remarks.setText("\n".join(part for part in told[2:] if part))
        for part in (self.origin, self.remarks):
            part.setVisible(bool(part.text()))

    def collect(self) -> AirFound | None:
        """The air that is shown, or None after the sentence that says what is missing."""
        if self._found is None:
            wrong = self.tr("There is no reading to record. Choose another file, or leave this and type the figures.")
            self.files.complain(wrong if self.files.paths else self.tr("Choose the logger's file."))
        return self._found

    # ------------------------------------------------------------------ the fields

    def _build_what(self, column: QVBoxLayout, zone: str) -> None:
        self.files = FilesField(
            self.tr("Logger where the paste warms up"),
            word=self.tr("Choose its file"),
            hint=self.tr("CSV with temperature and humidity. Its newest reading is taken, at most 60 min old."),
            several=False,
        )
        self.zone = ChoiceGroup(self.tr("Its clock shows, if the file does not say"), 1)
        self.zone.offer(zones(zone), self.theme, self.scale)
        self.zone.choose(zone)
        for part in (self.files, self.zone):
            column.addWidget(part)
        column.addStretch(1)
        self.files.chosen.connect(self._ask)
        self.zone.chosen_changed.connect(self._rezone)

    def _build_found(self, column: QVBoxLayout) -> None:
        self.reading, self.origin, self.remarks = label(CAPTION), label(TEXT), label(NOTE)
        column.addWidget(label(CAPTION, self.tr("Its newest reading")))
        for part in (self.reading, self.origin, self.remarks):
            column.addWidget(part)
        column.addStretch(1)
        self.forget()

    def _ask(self) -> None:
        self.asked.emit(AirAsked(self.files.paths[0], self.zone.chosen or ""))

    def _rezone(self, zone: str) -> None:
        if self.files.paths:
            self.files.calm()
            self.rezoned.emit(zone)

    def _name_act(self, word: str, *, enabled: bool) -> None:
        self.hand_in.action_model = ActionModel(OFFER, word, enabled=enabled)
        self.hand_in.setEnabled(enabled)
        self.hand_in.update()
