"""One figure to type: its value, a touch for each word it may be instead, its range and why, and its source."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QSizePolicy

from station.care.saying import opening
from station.ui.dialogs.fields import PaperField
from station.ui.specs.table import NO, YES, Figure
from station.ui.theme import Scale
from station.ui.view_models import ActionModel
from station.ui.widgets.touch_button import TouchButton

MOST_FIGURE = 20
SOURCE = "source"


class FigureField(PaperField):
    """`written` tells that a figure was typed to its end or a word touched, `source_wanted` its key."""

    written = Signal()
    source_wanted = Signal(str)

    def __init__(self, figure: Figure) -> None:
        """Empty to begin with; yes or no is touched and never typed."""
        super().__init__(figure.name, most=MOST_FIGURE)
        self.figure = figure
        self.line.setReadOnly(figure.words == (YES, NO))
        self.line.editingFinished.connect(self.written.emit)
        self.words = [self._button(ActionModel(word, opening(word))) for word in figure.words]
        for button in self.words:
            button.acted.connect(self._worded)
        self.source = self._button(ActionModel(SOURCE, self.tr("Source")))
        self.source.setAccessibleName(f"{figure.name}, {self.tr('its source')}")
        self.source.acted.connect(lambda _id: self.source_wanted.emit(figure.key))

    def say_source(self, source: str) -> None:
        """Say range, explanation and source below the field."""
        self.note(f"{opening(self.figure.allowed)}. {self.figure.why} {source}".strip())

    def set_scale(self, scale: Scale) -> None:
        """Take other sizes."""
        wide = 105 if self.figure.words == (YES, NO) else 215
        for button in self.words:
            button.setFixedSize(max(round(scale.touch), round(scale.of(wide))), round(scale.touch))
        self.source.setFixedSize(round(max(scale.touch * 1.3, scale.of(140))), round(scale.touch))

    def _button(self, action: ActionModel) -> TouchButton:
        button = TouchButton(action)
        button.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.add_beside(button)
        return button

    def _worded(self, word: str) -> None:
        self.fill(word)
        self.written.emit()
