"""A draft before its approval: the figures that change, and the containers and beads it would reach."""

from dataclasses import dataclass

from PySide6.QtWidgets import QSizePolicy, QWidget

from station.ui.dialogs.fields import label
from station.ui.dialogs.look import CAPTION, LOUD, NOTE, TEXT
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.specs.columns import Columns
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel
from station.ui.widgets.touch_button import TouchButton

WITHDRAW, EDIT, APPROVE = "withdraw", "edit", "approve"
FIGURES_AS = ("Figure", "In force", "Draft", "")
REACHED_AS = ("Container or bead", "What", "Until now", "By this draft", "")


@dataclass(frozen=True, slots=True)
class PreviewShown:
    """A draft in final words. `warning` is what would be over at once; `hint` who may approve it."""

    title: str
    head: tuple[str, ...]
    figures: tuple[tuple[str, ...], ...]
    reached: tuple[tuple[str, ...], ...]
    note: str
    warning: str = ""
    hint: str = ""


class PreviewForm(PaperDialog):
    """`offered` hands over APPROVE, EDIT or WITHDRAW; nothing is done by the form itself."""

    def __init__(self, shown: PreviewShown, host: QWidget, theme: Theme = LIGHT) -> None:
        """Both tables, each with its count."""
        super().__init__(shown.title, self.tr("Approve it"), host, theme)
        self.shown = shown
        column = self.add_column(1)
        for line in shown.head:
            column.addWidget(label(TEXT, line))
        if shown.hint:
            column.addWidget(label(CAPTION, shown.hint))
        if shown.warning:
            column.addWidget(label(LOUD, shown.warning))
        self.figures = Columns(FIGURES_AS, shown.figures)
        self.reached = Columns(REACHED_AS, shown.reached)
        for caption, table in ((_figures(shown), self.figures), (_reached(shown), self.reached)):
            column.addWidget(label(CAPTION, caption))
            column.addWidget(table)
            table.setVisible(table.model().rowCount() > 0)
        column.addWidget(label(NOTE, shown.note))
        self.acts = [self._act(EDIT, self.tr("Change it")), self._act(WITHDRAW, self.tr("Withdraw it"))]

    def collect(self) -> object | None:
        """The button that hands in asks for the approval."""
        return APPROVE

    def widest(self) -> float:
        """Five columns of words."""
        return 1700.0

    def first_field(self) -> QWidget | None:
        """Leaving: nobody approves by a key pressed in passing."""
        return self.cancel

    def restyle(self) -> None:
        """Tables in the form's letters; together about as high as the form."""
        host = self.parentWidget()
        high = host.height() if host is not None else 600
        self.figures.set_look(self.theme, self.scale, max(130, round(high * 0.24)))
        self.reached.set_look(self.theme, self.scale, max(130, round(high * 0.28)))
        for button in self.acts:
            button.setFixedSize(round(self.scale.of(300)), round(self.scale.touch * 1.1))

    def _act(self, id_: str, word: str) -> TouchButton:
        button = TouchButton(ActionModel(id_, word))
        button.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        button.acted.connect(self.offered.emit)
        self.add_act(button)
        return button


def _figures(shown: PreviewShown) -> str:
    many = len(shown.figures)
    if not many:
        return "No figure changes, only its source"
    if all(row[1] == "" for row in shown.figures):
        return f"A new paste, {many} figures"
    return f"{many} figure{'s' if many > 1 else ''} would change"


def _reached(shown: PreviewShown) -> str:
    many = len(shown.reached)
    if not many:
        return "No container and no bead in use would change"
    return f"{many} time{'s' if many > 1 else ''} of containers and beads in use would change"
