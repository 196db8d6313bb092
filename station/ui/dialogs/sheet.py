"""Two sheets that ask for nothing to be filled in: things to do, each one touch away, and something to read."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QWidget

from station.ui.dialogs.fields import label
from station.ui.dialogs.look import CAPTION, NOTE, TEXT
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel
from station.ui.widgets.touch_button import TouchButton


class MoreDialog(PaperDialog):
    """Further things to do; `offered` hands over the id of the one that was touched."""

    def __init__(
        self,
        title: str,
        actions: tuple[ActionModel, ...],
        host: QWidget,
        theme: Theme = LIGHT,
        *,
        lines: tuple[str, ...] = (),
    ) -> None:
        """`lines` say what should be known before one of them is touched."""
        super().__init__(title, "", host, theme)
        column = self.add_column(1)
        for line in lines:
            column.addWidget(label(TEXT, line))
        grid = QGridLayout()
        grid.setSpacing(10)
        self.buttons = [TouchButton(action) for action in actions]
        for number, button in enumerate(self.buttons):
            button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            button.acted.connect(self.offered.emit)
            grid.addWidget(button, number // 2, number % 2)
        column.addLayout(grid)
        column.addStretch(1)
        self.hand_in.hide()

    def widest(self) -> float:
        """Two columns of buttons."""
        return 1300.0

    def collect(self) -> object | None:
        """Nothing is handed in but by a touch on a button."""
        return None

    def restyle(self) -> None:
        """Buttons as high as their words need."""
        for button in self.buttons:
            button.setFixedHeight(round(button.wanted_height()))


class ReadDialog(PaperDialog):
    """Something to read, in named parts side by side; closing it records nothing. `gone_to` tells an act chosen."""

    gone_to = Signal(str)

    def __init__(
        self,
        title: str,
        parts: tuple[tuple[str, tuple[str, ...]], ...],
        host: QWidget,
        theme: Theme = LIGHT,
        *,
        acts: tuple[ActionModel, ...] = (),
    ) -> None:
        """`parts` are captions with their lines; an empty one says so by itself. `acts` are what may be done of it."""
        super().__init__(title, "Close", host, theme)
        self.acts = [TouchButton(action) for action in acts]
        for button in self.acts:
            button.acted.connect(self.gone_to.emit)
            self.add_act(button)
        for caption, rows in parts:
            column = self.add_column(1)
            column.addWidget(label(CAPTION, caption))
            for row in rows or (self.tr("None that this station knows of."),):
                column.addWidget(label(TEXT if rows else NOTE, row), 0, Qt.AlignmentFlag.AlignTop)
            column.addStretch(1)
        self.cancel.hide()
        self.offered.connect(self.leave)

    def first_field(self) -> QWidget:
        """The button that closes it."""
        return self.hand_in

    def restyle(self) -> None:
        """Buttons as large as a finger, and as wide as their words."""
        for button in self.acts:
            button.setFixedHeight(round(self.scale.touch))

    def collect(self) -> object | None:
        """It was seen."""
        return True
