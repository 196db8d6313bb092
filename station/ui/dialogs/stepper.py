"""A count that can be touched up and down as well as typed."""

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QSizePolicy, QWidget

from station.ui.dialogs import readings
from station.ui.dialogs.fields import PaperField
from station.ui.dialogs.readings import Unreadable
from station.ui.view_models import ActionModel
from station.ui.widgets.touch_button import TouchButton

FEWER, MORE = "fewer", "more"


class _Square(TouchButton):
    """As wide as it is high."""

    def __init__(self, action: ActionModel) -> None:
        super().__init__(action)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Just a finger's size."""
        return self.minimumSizeHint()


class CountField(PaperField):
    """A whole number from 1 to `highest`, 1 to begin with."""

    def __init__(self, caption: str, highest: int, parent: QWidget | None = None) -> None:
        super().__init__(caption, parent, most=len(str(highest)) + 2)
        self._highest = highest
        self.fewer, self.more = _Square(ActionModel(FEWER, "\N{MINUS SIGN}")), _Square(ActionModel(MORE, "+"))
        for button, name in ((self.fewer, self.tr("one fewer")), (self.more, self.tr("one more"))):
            button.setAccessibleName(name)
            button.acted.connect(self._step)
            self.add_beside(button)
        self.fill("1")

    def _step(self, id_: str) -> None:
        try:
            count = readings.count(self.text, self._highest)
        except Unreadable:
            count = 1
        self.fill(str(min(self._highest, max(1, count + (1 if id_ == MORE else -1)))))
