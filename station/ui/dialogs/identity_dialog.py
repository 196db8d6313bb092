"""Which container wants its identity label once more, and where it is to come out."""

from dataclasses import dataclass

from PySide6.QtWidgets import QWidget

from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.digit_pad import DigitPad
from station.ui.dialogs.fields import PaperField, label
from station.ui.dialogs.look import TEXT
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel


@dataclass(frozen=True)
class IdentityWord:
    """A number as it was typed, or the end of one, and the id of a place."""

    number: str
    place: str


class IdentityDialog(PaperDialog):
    """Asks for a number and a place; `offered` hands over an `IdentityWord`."""

    def __init__(self, places: tuple[ActionModel, ...], here: str, host: QWidget, theme: Theme = LIGHT) -> None:
        """`places` are those to choose from; with one alone nothing is asked."""
        super().__init__("Identity label again", "Print it", host, theme)
        fields, column = self.add_column(3), self.add_column(2)
        fields.addWidget(
            label(TEXT, "For a container whose identity label is lost or never came out. No time changes.")
        )
        self.number = PaperField(self.tr("Its number, or the end of it"), most=20)
        self.place = ChoiceGroup(self.tr("Where it is to come out"), 2)
        self.place.offer(places, self.theme, self.scale)
        self.place.choose(here)
        self.place.setVisible(len(places) > 1)
        for part in (self.number, self.place):
            fields.addWidget(part)
        fields.addStretch(1)
        self.pad = DigitPad()
        self.pad.pressed.connect(self.number.press)
        self.pad.back.connect(self.number.line.backspace)
        self.pad.cleared.connect(self.number.line.clear)
        column.addWidget(self.pad)
        column.addStretch(1)

    def first_field(self) -> QWidget:
        """The number."""
        return self.number.line

    def collect(self) -> IdentityWord | None:
        """The number and the place, or None where one is missing."""
        number = self.number.required(self.tr("Type the number that is written on it, or its last three digits."))
        place = self.place.required(self.tr("Choose where you stand."))
        return IdentityWord(number, place) if number and place else None
