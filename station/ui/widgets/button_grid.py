"""Actions to touch in a grid: as many columns as leave each button wide enough for its word."""

import math

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from station.ui.theme import Scale, Theme, scale_for
from station.ui.view_models import ActionModel
from station.ui.widgets.touch_button import TouchButton


class ButtonGrid(QWidget):
    """Shows actions; `acted` hands back the id of the one that was touched."""

    acted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.buttons: list[TouchButton] = []
        self._actions: tuple[ActionModel, ...] = ()
        self._scale = scale_for(1920, 1080)

    def show_actions(self, actions: tuple[ActionModel, ...], theme: Theme, scale: Scale) -> None:
        """Offer other actions, in these colours and sizes."""
        self._scale = scale
        if actions != self._actions:
            self._actions = actions
            for button in self.buttons:
                button.hide()
                button.deleteLater()
            self.buttons = [TouchButton(action, self) for action in actions]
            for button in self.buttons:
                button.acted.connect(self.acted)
                button.show()
        for button in self.buttons:
            button.set_look(theme, scale)
        self._place()

    def columns(self, width: float) -> int:
        """How many buttons stand in a row of this width in pixels."""
        narrowest = max(self._scale.touch * 1.5, self._scale.of(150))
        fitting = max(1, int((width + self._gap()) // (narrowest + self._gap())))
        rows = math.ceil(len(self.buttons) / fitting) if self.buttons else 1
        return math.ceil(len(self.buttons) / rows) if self.buttons else 1

    def preferred_height(self, width: float) -> float:
        """Height of all rows, pixels; nothing without actions."""
        if not self.buttons:
            return 0.0
        rows = math.ceil(len(self.buttons) / self.columns(width))
        return rows * self._row_height() + (rows - 1) * self._gap()

    def least_height(self, width: float) -> float:
        """The same: a touch target can't give way."""
        return self.preferred_height(width)

    def resizeEvent(self, _event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Share the room."""
        self._place()

    def _gap(self) -> float:
        return max(8.0, self._scale.of(16))

    def _row_height(self) -> float:
        return max((button.wanted_height() for button in self.buttons), default=0.0)

    def _place(self) -> None:
        columns, gap = self.columns(self.width()), self._gap()
        wide = (self.width() - gap * (columns - 1)) / columns
        high = self._row_height()
        for number, button in enumerate(self.buttons):
            row, column = divmod(number, columns)
            cell = QRectF(column * (wide + gap), row * (high + gap), wide, high)
            button.setGeometry(round(cell.left()), round(cell.top()), round(cell.width()), round(cell.height()))
