"""Parts of a form: a caption, what is filled in, and below it one sentence where something is to be said."""

from collections.abc import Callable
from typing import TypeVar

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from station.ui.dialogs.look import CAPTION, COMPLAINT, NOTE
from station.ui.dialogs.readings import Unreadable

Value = TypeVar("Value")


def label(role: str, text: str = "") -> QLabel:
    """A text in one of the roles of `look`; wraps, and never opens anything."""
    made = QLabel(text)
    made.setProperty("role", role)
    made.setWordWrap(True)
    made.setOpenExternalLinks(False)
    return made


class Captioned(QWidget):
    """A part with a caption above it and, when needed, a sentence below."""

    def __init__(self, caption: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.caption = label(CAPTION, caption)
        self.complaint, self.remark = label(COMPLAINT), label(NOTE)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(3)
        self.column.addWidget(self.caption)
        self.column.addWidget(self.complaint)
        self.column.addWidget(self.remark)
        self.calm()
        self.note("")

    def set_content(self, content: QWidget) -> None:
        """Put the part itself below the caption, once."""
        self.column.insertWidget(1, content)

    def complain(self, sentence: str) -> None:
        """Say beside the field what is wrong and how to mend it."""
        self.complaint.setText(sentence)
        self.complaint.setVisible(bool(sentence))

    def calm(self) -> None:
        """Take the complaint away."""
        self.complain("")

    def note(self, sentence: str) -> None:
        """Say beside the field how it was understood."""
        self.remark.setText(sentence)
        self.remark.setVisible(bool(sentence))


class PaperField(Captioned):
    """One line to type in. `edited` tells each change a person makes."""

    edited = Signal(str)

    def __init__(self, caption: str, parent: QWidget | None = None, *, most: int = 60, hidden: bool = False) -> None:
        """`most` characters fit; a `hidden` one shows dots."""
        super().__init__(caption, parent)
        self.line = QLineEdit()
        self.line.setMaxLength(most)
        self.line.setAccessibleName(caption)
        self.line.setEchoMode(QLineEdit.EchoMode.Password if hidden else QLineEdit.EchoMode.Normal)
        self.row = QWidget()
        self._beside = QHBoxLayout(self.row)
        self._beside.setContentsMargins(0, 0, 0, 0)
        self._beside.setSpacing(6)
        self._beside.addWidget(self.line, 1)
        self.set_content(self.row)
        self.line.textChanged.connect(self._changed)

    def add_beside(self, part: QWidget, stretch: int = 0) -> None:
        """Put a button on the field's right."""
        self._beside.addWidget(part, stretch)

    @property
    def text(self) -> str:
        """What stands in the field, without blanks around it."""
        return self.line.text().strip()

    def fill(self, text: str) -> None:
        """Write into the field."""
        self.line.setText(text)

    def press(self, character: str) -> None:
        """Type one character at the cursor, as the digit pad does."""
        self.line.insert(character)

    def read(self, reading: Callable[[str], Value]) -> Value | None:
        """The field's value by `reading`, or None with its sentence beside the field."""
        try:
            return reading(self.text)
        except Unreadable as fault:
            self.complain(fault.sentence)
            return None

    def required(self, sentence: str) -> str | None:
        """The text, or None with `sentence` beside an empty field."""
        if not self.text:
            self.complain(sentence)
        return self.text or None

    def _changed(self, text: str) -> None:
        self.calm()
        self.edited.emit(text)
