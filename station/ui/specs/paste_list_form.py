"""Which pastes an engineer approves for a product, or for one work order of it: one metal only, leaded ones marked."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from station.care.paste_lists import ListTold
from station.care.specification import Paste
from station.ui.dialogs.fields import PaperField, label
from station.ui.dialogs.look import CAPTION, NOTE, TEXT
from station.ui.specs.chosen_pastes import ChosenPastes
from station.ui.specs.keeping_form import KeepingForm
from station.ui.specs.several import SeveralGroup, two_lines
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel

MOST_OFFERED = 12


class PasteListForm(KeepingForm):
    """`offered` hands over a `ListTold`. A touch turns a paste on or off; what is chosen stands above the list."""

    def __init__(
        self,
        title: str,
        chosen: ChosenPastes,
        host: QWidget,
        theme: Theme = LIGHT,
        *,
        lines: tuple[str, ...] = (),
    ) -> None:
        """`lines` say what holds now and who may change it."""
        super().__init__(title, self.tr("Go on"), host, theme)
        self.chosen = chosen
        column = self.add_column(1)
        for line in lines:
            column.addWidget(label(NOTE, line))
        self.order = PaperField(self.tr("Only for one work order: its number; empty for the product itself"), most=40)
        self.order.edited.connect(lambda _text: self.go_on())
        new = not chosen.begun.product
        self.order.setVisible(not chosen.begun.order and not new)
        self.product = PaperField(self.tr("Product, as the work order's code names it"), most=16)
        self.title_of = PaperField(self.tr("Its name"), most=40)
        for field in (self.product, self.title_of):
            field.setVisible(new)
            field.edited.connect(lambda _text: self.go_on())
            column.addWidget(field)
        self.told = label(CAPTION)
        self.wanted = PaperField(self.tr("Find a paste: any part of its name or number"), most=40)
        self.wanted.setVisible(len(chosen.pastes) > MOST_OFFERED)
        self.wanted.edited.connect(lambda _text: self._offer())
        self.pastes = SeveralGroup(self.tr("Pastes; touch one to add it or take it off"), 2)
        self.pastes.chosen_changed.connect(self._touched)
        self.more = label(TEXT)
        for part in (self.order, self.told, self.wanted, self.pastes, self.more):
            column.addWidget(part, 0, Qt.AlignmentFlag.AlignTop)
        column.addStretch(1)
        self._offer()

    def widest(self) -> float:
        """Two columns of pastes."""
        return 1500.0

    def first_field(self) -> QWidget | None:
        """Where one looks for a paste in a long list."""
        return self.wanted.line if not self.wanted.isHidden() else None

    def restyle(self) -> None:
        """Answers with a second line are higher."""
        for button in self.pastes.buttons:
            button.setFixedHeight(two_lines(self.scale))

    def collect(self) -> ListTold | None:
        """What was chosen, or None after the sentence that says what is wrong."""
        told = self._told()
        fault = self.chosen.fault(told)
        self.pastes.complain(fault)
        return None if fault else told

    @property
    def changed(self) -> bool:
        """Whether anything was chosen or typed."""
        return self.chosen.changed or any(field.text for field in (self.order, self.product, self.title_of))

    def _touched(self, paste: str) -> None:
        self.chosen.touch(paste)
        self.go_on()
        self.told.setText(self.chosen.sentence())
        self.pastes.complain(self.chosen.fault(self._told()))

    def _told(self) -> ListTold:
        if self.product.isHidden():
            return self.chosen.told(self.order.text)
        return self.chosen.new(self.product.text.upper(), self.title_of.text)

    def _offer(self) -> None:
        found = self.chosen.matching(self.wanted.text)
        self.pastes.offer(tuple(_offer(paste) for paste in found[:MOST_OFFERED]), self.theme, self.scale)
        self.pastes.choose_all(self.chosen.ids)
        for button in self.pastes.buttons:
            button.installEventFilter(self)
        more = len(found) - MOST_OFFERED
        self.more.setText(f"{more} more: type a part of the name to see them." if more > 0 else "")
        self.more.setVisible(more > 0)
        self.told.setText(self.chosen.sentence())
        self.restyle()


def _offer(paste: Paste) -> ActionModel:
    return ActionModel(paste.id, paste.title, f"{paste.id}, {paste.alloy.shout}")
