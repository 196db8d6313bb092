"""A specification to read: every figure with its range, meaning and source, and its draft beside it."""

from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from station.ui.dialogs.fields import label
from station.ui.dialogs.look import CAPTION, NOTE, TEXT
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel
from station.ui.widgets.touch_button import TouchButton


@dataclass(frozen=True, slots=True)
class FigureLine:
    """One figure in final words; `draft` is its value in the open draft where that is another."""

    name: str
    value: str
    detail: str
    draft: str = ""


@dataclass(frozen=True, slots=True)
class SpecificationShown:
    """A specification in final words: head lines, figures under captions, and what may be done with it."""

    title: str
    head: tuple[str, ...]
    parts: tuple[tuple[str, tuple[FigureLine, ...]], ...]
    acts: tuple[ActionModel, ...]


class ReadForm(PaperDialog):
    """`offered` hands over the id of the act that was touched; every other way out leaves."""

    def __init__(self, shown: SpecificationShown, host: QWidget, theme: Theme = LIGHT) -> None:
        """Everything is in sight at once, or scrolls."""
        super().__init__(shown.title, "", host, theme)
        column = self.add_column(1)
        for line in shown.head:
            column.addWidget(label(TEXT, line))
        for title, lines in shown.parts:
            column.addWidget(label(CAPTION, title))
            column.addLayout(_grid(lines))
        column.addStretch(1)
        self.acts = [self._act(act) for act in shown.acts]
        self.hand_in.hide()

    def collect(self) -> object | None:
        """Nothing is handed in but by a touch."""
        return None

    def widest(self) -> float:
        """Two columns of figures."""
        return 1700.0

    def restyle(self) -> None:
        """Buttons as high as their words need."""
        for button in self.acts:
            button.setFixedSize(round(self.scale.of(330)), round(self.scale.touch * 1.1))

    def _act(self, act: ActionModel) -> TouchButton:
        button = TouchButton(act)
        button.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        button.acted.connect(self.offered.emit)
        self.add_act(button)
        return button


def _grid(lines: tuple[FigureLine, ...]) -> QGridLayout:
    grid = QGridLayout()
    grid.setHorizontalSpacing(36)
    grid.setVerticalSpacing(10)
    for column in (0, 1):
        grid.setColumnStretch(column, 1)
    for number, line in enumerate(lines):
        grid.addLayout(_line(line), number // 2, number % 2)
    return grid


def _line(line: FigureLine) -> QVBoxLayout:
    whole, top = QVBoxLayout(), QHBoxLayout()
    whole.setSpacing(0)
    top.addWidget(label(TEXT, line.name), 3)
    value = label(CAPTION, f"{line.value} \N{RIGHTWARDS ARROW} {line.draft}" if line.draft else line.value)
    value.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
    top.addWidget(value, 2)
    whole.addLayout(top)
    whole.addWidget(label(NOTE, line.detail))
    whole.addStretch(1)
    return whole
