"""A list of things to see to, in named parts below each other: each says what it is, and is one touch from its form."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from station.ui.dialogs.fields import label
from station.ui.dialogs.look import CAPTION, NOTE, TEXT
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.present.day_rows import ListPart, ListRow
from station.ui.theme import LIGHT, Theme
from station.ui.widgets.touch_button import TouchButton


class RowsDialog(PaperDialog):
    """A list; `offered` hands over the id of what was touched. Empty parts are left out."""

    def __init__(
        self, title: str, parts: tuple[ListPart, ...], host: QWidget, theme: Theme = LIGHT, *, empty: str = ""
    ) -> None:
        """`empty` is said where no part has a row."""
        super().__init__(title, "", host, theme)
        self.buttons: list[TouchButton] = []
        column = self.add_column(1)
        filled = [part for part in parts if part.rows]
        for part in filled:
            column.addWidget(label(CAPTION, f"{part.caption} ({len(part.rows)})"))
            for row in part.rows:
                column.addLayout(self._row(row))
        if not filled:
            column.addWidget(label(TEXT, empty))
        column.addStretch(1)
        self.hand_in.hide()

    def collect(self) -> object | None:
        """Nothing is handed in but by a touch on a row."""
        return None

    def widest(self) -> float:
        """Long lines and a button."""
        return 1400.0

    def restyle(self) -> None:
        """Buttons as large as their words need, all of one width."""
        for button in self.buttons:
            button.setFixedSize(round(self.scale.of(230)), round(button.wanted_height()))

    def _row(self, row: ListRow) -> QHBoxLayout:
        line, words = QHBoxLayout(), QVBoxLayout()
        words.setSpacing(0)
        words.addWidget(label(TEXT, row.what))
        if row.detail:
            words.addWidget(label(NOTE, row.detail))
        words.addStretch(1)
        line.addLayout(words, 1)
        if row.act is not None:
            button = TouchButton(row.act)
            button.acted.connect(self.offered.emit)
            self.buttons.append(button)
            line.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
        return line
