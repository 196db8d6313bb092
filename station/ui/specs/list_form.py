"""A long list to choose from: a field that narrows it, one page of rows at a time, each one touch from its form."""

from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from station.ui.dialogs.fields import PaperField, label
from station.ui.dialogs.look import CAPTION, NOTE
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel
from station.ui.widgets.touch_button import TouchButton

PER_PAGE = 10
EARLIER, FURTHER = "earlier", "further"


@dataclass(frozen=True, slots=True)
class Row:
    """One thing of a list: what it is, further words below, and what a touch on its button does."""

    what: str
    details: tuple[str, ...]
    act: ActionModel

    def holds(self, wanted: str) -> bool:
        """Whether every word that is looked for stands somewhere in it."""
        whole = " ".join((self.what, *self.details)).casefold()
        return all(word in whole for word in wanted.casefold().split())


class ListForm(PaperDialog):
    """Rows with a field to find some of them; `offered` hands over the id of what was touched."""

    def __init__(
        self,
        title: str,
        rows: tuple[Row, ...],
        host: QWidget,
        theme: Theme = LIGHT,
        *,
        lines: tuple[str, ...] = (),
        acts: tuple[ActionModel, ...] = (),
        find: str = "",
    ) -> None:
        """`lines` say who may do what; `acts` are touched below the list; `find` is the caption of the field."""
        super().__init__(title, "", host, theme)
        self._rows, self._first = rows, 0
        self.buttons: list[TouchButton] = []
        column = self.add_column(1)
        for line in lines:
            column.addWidget(label(NOTE, line))
        self.wanted = PaperField(find or self.tr("Find: any part of a name or number"), most=40)
        self.wanted.setVisible(len(rows) > PER_PAGE)
        self.wanted.edited.connect(lambda _text: self._turn(0))
        self.told = label(NOTE)
        self._list = QVBoxLayout()
        self._list.setSpacing(10)
        column.addWidget(self.wanted)
        column.addWidget(self.told)
        column.addLayout(self._list)
        column.addLayout(self._turning())
        column.addStretch(1)
        self.acts = [self._act(act) for act in acts]
        self.hand_in.hide()
        self._turn(0)

    @property
    def shown(self) -> tuple[str, ...]:
        """Ids of the rows in sight."""
        return tuple(button.action_model.id for button in self.buttons)

    def collect(self) -> object | None:
        """Nothing is handed in but by a touch on a row."""
        return None

    def first_field(self) -> QWidget | None:
        """Where one looks for something in a long list."""
        return self.wanted.line if not self.wanted.isHidden() else None

    def widest(self) -> float:
        """Long lines and a button."""
        return 1700.0

    def restyle(self) -> None:
        """Buttons as large as their words need, all of one width."""
        for button in (*self.buttons, self.earlier, self.further):
            button.set_look(self.theme, self.scale)
            button.setFixedSize(round(self.scale.of(230)), round(self.scale.touch))
        for button in self.acts:
            button.setFixedSize(round(self.scale.of(300)), round(self.scale.touch * 1.1))

    def _act(self, act: ActionModel) -> TouchButton:
        button = TouchButton(act)
        button.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        button.acted.connect(self.offered.emit)
        self.add_act(button)
        return button

    def _turning(self) -> QHBoxLayout:
        line = QHBoxLayout()
        self.earlier = TouchButton(ActionModel(EARLIER, self.tr("Earlier ones")))
        self.further = TouchButton(ActionModel(FURTHER, self.tr("Further ones")))
        self.earlier.acted.connect(lambda _id: self._turn(self._first - PER_PAGE))
        self.further.acted.connect(lambda _id: self._turn(self._first + PER_PAGE))
        line.addWidget(self.earlier)
        line.addStretch(1)
        line.addWidget(self.further)
        return line

    def _turn(self, first: int) -> None:
        """Show the page that begins with row number `first` of those that are looked for."""
        found = [row for row in self._rows if row.holds(self.wanted.text)]
        self._first = max(0, first)
        here = found[self._first : self._first + PER_PAGE]
        self._empty()
        for row in here:
            self._list.addWidget(self._row(row))
        self.earlier.setVisible(self._first > 0)
        self.further.setVisible(self._first + PER_PAGE < len(found))
        self.told.setText(_told(self._first, len(here), len(found), len(self._rows)))
        self.told.setVisible(len(here) != len(self._rows) or not self._rows)
        if self.isVisible():
            self.restyle()

    def _empty(self) -> None:
        self.buttons.clear()
        while (item := self._list.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()

    def _row(self, row: Row) -> QWidget:
        whole = QWidget()
        line, words = QHBoxLayout(whole), QVBoxLayout()
        line.setContentsMargins(0, 0, 0, 0)
        words.setSpacing(0)
        words.addWidget(label(CAPTION, row.what))
        for detail in row.details:
            words.addWidget(label(NOTE, detail))
        words.addStretch(1)
        line.addLayout(words, 1)
        button = TouchButton(row.act)
        button.acted.connect(self.offered.emit)
        button.installEventFilter(self)
        self.buttons.append(button)
        line.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
        return whole


def _told(first: int, here: int, found: int, all_: int) -> str:
    if not all_:
        return "Nothing in this list yet."
    if not found:
        return f"Nothing among the {all_} matches. Type less of it."
    looked_for = "" if found == all_ else f" that match, of {all_}"
    return f"{found}{looked_for}" if here == found else f"{first + 1} to {first + here} of {found}{looked_for}"
