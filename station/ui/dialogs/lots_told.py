"""The lots of a delivery told before the one in the form: each can be taken back, for nothing is recorded yet."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QWidget

from station.ui.dialogs.fields import Captioned
from station.ui.theme import Scale
from station.ui.view_models import ActionModel
from station.ui.widgets.touch_button import TouchButton

COLUMNS = 2


class LotsTold(Captioned):
    """One button a lot, in final words; `taken_back` tells which one, counted from 0."""

    taken_back = Signal(int)

    def __init__(self, caption: str, parent: QWidget | None = None) -> None:
        """No lot yet: hidden."""
        super().__init__(caption, parent)
        self._rows = QWidget()
        self._grid = QGridLayout(self._rows)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(4)
        self.buttons: tuple[TouchButton, ...] = ()
        self.set_content(self._rows)
        self.take((), None)

    def take(self, lots: Sequence[str], scale: Scale | None) -> None:
        """These lots, as `2 x SN-4 lot 26-160`, and no others."""
        for button in self.buttons:
            self._grid.removeWidget(button)
            button.hide()
            button.deleteLater()
        self.buttons = tuple(self._button(place, lot) for place, lot in enumerate(lots))
        if scale is not None:
            self.resize_to(scale)
        self.setVisible(bool(lots))
        # at once, so that the sheet is laid out with the room they take
        self._grid.activate()
        self._rows.updateGeometry()
        self.column.activate()
        self.updateGeometry()

    def resize_to(self, scale: Scale) -> None:
        """As large as a touch needs, in the window as it is now."""
        for button in self.buttons:
            button.setFixedHeight(round(scale.touch * 1.1))

    def _button(self, place: int, lot: str) -> TouchButton:
        button = TouchButton(ActionModel(str(place), self.tr("Take back"), lot))
        button.acted.connect(lambda _id: self.taken_back.emit(place))
        self._grid.addWidget(button, place // COLUMNS, place % COLUMNS)
        button.show()  # at once: a layout shows what it was given only later, and has no room for it until then
        return button
