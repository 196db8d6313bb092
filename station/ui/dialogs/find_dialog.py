"""Where is that container: its number is typed or its label scanned, and the form says where it is and how it is."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from station.ui.dialogs.digit_pad import DigitPad
from station.ui.dialogs.fields import PaperField, label
from station.ui.dialogs.look import TEXT
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.theme import LIGHT, Theme

Finding = Callable[[str], tuple[str, ...]]


class FindDialog(PaperDialog):
    """Asks for a number and shows what `finding` says of it, line by line; it stays open for the next one."""

    def __init__(self, finding: Finding, host: QWidget, theme: Theme = LIGHT) -> None:
        """Nothing is found yet."""
        super().__init__("Find a container", "Find it", host, theme)
        self._finding = finding
        fields = self.add_column(3)
        self.number = PaperField(self.tr("Scan its label, or type its number or the end of it"), most=20)
        self.found = label(TEXT)
        fields.addWidget(self.number)
        fields.addWidget(self.found)
        fields.addStretch(1)
        column = self.add_column(2)
        self.pad = DigitPad()
        self.pad.pressed.connect(self.number.press)
        self.pad.back.connect(self.number.line.backspace)
        self.pad.cleared.connect(self.number.line.clear)
        column.addWidget(self.pad)
        column.addStretch(1)
        self.number.edited.connect(lambda _text: self.found.setText(""))

    def first_field(self) -> QWidget:
        """The number."""
        return self.number.line

    def take_number(self, number: str) -> None:
        """A label was scanned: find it at once."""
        self.number.fill(number)
        self._find()

    def collect(self) -> object | None:
        """Nothing is handed in: what was found is shown in the form."""
        if self.number.required(self.tr("Scan a label, or type a number.")) is not None:
            self._find()
        return None

    def _find(self) -> None:
        self.remark("")
        self.found.setText("\n".join(self._finding(self.number.text)))
