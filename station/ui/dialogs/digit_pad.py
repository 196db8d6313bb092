"""Ten digits to touch, for people who wear gloves and have no keyboard in reach."""

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QWidget

from station.ui.theme import Scale, Theme
from station.ui.view_models import ActionModel
from station.ui.widgets.touch_button import TouchButton

BACK, CLEAR = "back", "clear"


class DigitPad(QWidget):
    """`pressed` tells a digit (or one of `marks`), `back` one character taken back, `cleared` all of them.

    Touching it moves no focus, so that a keyboard goes on typing in the same field.
    """

    pressed = Signal(str)
    back = Signal()
    cleared = Signal()

    def __init__(self, marks: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(6)
        # Neither `Back` nor `Clear`: the form below may offer to go back, or to clear an alarm.
        delete, erase = ActionModel(BACK, self.tr("Delete")), ActionModel(CLEAR, self.tr("Erase all"))
        last = (delete, ActionModel("0", "0"), erase)
        digits = tuple(ActionModel(digit, digit) for digit in "123456789")
        more = tuple(ActionModel(mark, mark) for mark in marks)
        self.buttons = [TouchButton(action) for action in (*digits, *last, *more)]
        for number, button in enumerate(self.buttons):
            grid.addWidget(button, number // 3, number % 3)
            button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            button.acted.connect(self._touched)

    def set_look(self, theme: Theme, scale: Scale) -> None:
        """Take other colours and sizes."""
        for button in self.buttons:
            button.set_look(theme, scale)
            button.setFixedHeight(round(scale.touch))
            button.setMinimumWidth(round(scale.touch))

    def touch(self, id_: str) -> None:
        """Touch the key with this id, as a finger would."""
        next(button for button in self.buttons if button.action_model.id == id_).click()

    def _touched(self, id_: str) -> None:
        special = {BACK: self.back.emit, CLEAR: self.cleared.emit}
        special.get(id_, partial(self.pressed.emit, id_))()
