"""A paste the site does not have yet: its name, numbers, metal, storage, and what it is bought in."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TypeVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QWidget

from station.care.saying import opening
from station.care.specification import Paste
from station.care.words import Alloy, Storage
from station.settings import fields
from station.settings.fields import Field
from station.settings.paste_file import HIGHEST_PASTE_NUMBER, LONGEST_PART_NUMBER
from station.settings.quantities import Unfit
from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.fields import PaperField, label
from station.ui.dialogs.look import NOTE
from station.ui.dialogs.readings import Unreadable
from station.ui.specs.keeping_form import KeepingForm
from station.ui.specs.several import SeveralGroup, two_lines
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel

Value = TypeVar("Value")
TESTED = "tested"
LOTS = (
    ActionModel("usable", "May be used", "as it arrives"),
    ActionModel(TESTED, "On hold", "until a test releases it"),
)


@dataclass(frozen=True, slots=True)
class PasteWord:
    """A new paste and the kinds it is bought in."""

    paste: Paste
    kinds: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PasteBegun:
    """What stands in the form to begin with, all of it by a copied paste or nothing; `taken` are ids and numbers."""

    like: Paste | None
    kinds: tuple[str, ...]
    number: int
    taken_ids: frozenset[str]
    taken_numbers: frozenset[int]


class PasteForm(KeepingForm):
    """`offered` hands over a `PasteWord`."""

    def __init__(
        self,
        begun: PasteBegun,
        kinds: tuple[ActionModel, ...],
        host: QWidget,
        theme: Theme = LIGHT,
        *,
        lines: tuple[str, ...] = (),
    ) -> None:
        """`kinds` are all kinds of container there are."""
        copied = f", copied from {begun.like.id}" if begun.like is not None else ""
        super().__init__(f"A new paste{copied}", self.tr("On to its figures"), host, theme)
        self._begun = begun
        left, right = self.add_column(1), self.add_column(1)
        for line in lines:
            left.addWidget(label(NOTE, line))
        self.id_ = PaperField(self.tr("Short name, as SN-7"), most=16)
        self.number = PaperField(self.tr("Number"), most=4)
        self.number.note(self.tr("0 to {}; labels carry it").format(HIGHEST_PASTE_NUMBER))
        self.name = PaperField(self.tr("Name on screens"), most=40)
        self.part_number = PaperField(self.tr("Maker's part number"), most=LONGEST_PART_NUMBER)
        self.flux = PaperField(self.tr("Flux class, as ROL0"), most=20)
        self.powder = PaperField(self.tr("Powder, as type 4"), most=20)
        for row in ((self.id_, self.number), (self.name,), (self.part_number,), (self.flux, self.powder)):
            left.addLayout(self._row(row))
        self.alloy = self._group(self.tr("Alloy"), tuple(ActionModel(one.value, one.value, one.shout) for one in Alloy))
        kept = tuple(ActionModel(one.value, opening(one.value)) for one in Storage)
        self.storage = self._group(self.tr("Kept unopened"), kept)
        self.kinds = SeveralGroup(self.tr("Bought in; touch each"), 2)
        self.kinds.offer(kinds, self.theme, self.scale)
        self.lots = self._group(self.tr("Each new lot"), LOTS)
        left.addWidget(self.lots)
        left.addStretch(1)
        for group in (self.alloy, self.storage, self.kinds):
            right.addWidget(group)
        right.addStretch(1)
        self._fill(begun)

    @property
    def changed(self) -> bool:
        """Whether a name or number was typed; what can be touched again is no loss."""
        return any(field.text for field in (self.id_, self.name, self.part_number))

    def widest(self) -> float:
        """Two columns."""
        return 1700.0

    def first_field(self) -> QWidget | None:
        """The short name."""
        return self.id_.line

    def restyle(self) -> None:
        """Answers with a second line are higher."""
        for button in (*self.alloy.buttons, *self.kinds.buttons, *self.lots.buttons):
            button.setFixedHeight(two_lines(self.scale))

    def collect(self) -> PasteWord | None:
        """The `PasteWord`, or None after each missing or wrong field got its sentence."""
        id_ = self.id_.read(self._free_id)
        number = self.number.read(self._free_number)
        title = self.name.read(_by(fields.text(40), self.tr("Type its name.")))
        part = self.part_number.read(_by(fields.text(LONGEST_PART_NUMBER), self.tr("Type the maker's part number.")))
        flux = self.flux.read(_by(fields.text(20), self.tr("Type the flux class.")))
        powder = self.powder.read(_by(fields.text(20), self.tr("Type the powder type, or a dash for none.")))
        alloy = self.alloy.required(self.tr("Say which alloy family."))
        storage = self.storage.required(self.tr("Say how the unopened paste is kept."))
        kinds = self.kinds.all_chosen
        if not kinds:
            self.kinds.complain(self.tr("Touch each kind of container it comes in."))
        if id_ is None or number is None or title is None or part is None or flux is None or powder is None:
            return None
        if alloy is None or storage is None or not kinds:
            return None
        made = Paste(id_, number, title, part, Alloy(alloy), flux, powder, Storage(storage))
        return PasteWord(self._as_copied(made), kinds)

    def _as_copied(self, made: Paste) -> Paste:
        """What the form does not ask for is as in the copied one, but for the maker's codes."""
        like, tested = self._begun.like, self.lots.chosen == TESTED
        if like is None:
            return replace(made, incoming_test=tested)
        return replace(
            made,
            incoming_test=tested,
            least_shelf_months=like.least_shelf_months,
            minimum_stock=like.minimum_stock,
            price_per_kg=like.price_per_kg,
        )

    def _row(self, fields_of: tuple[PaperField, ...]) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(10)
        for field in fields_of:
            row.addWidget(field, 1, Qt.AlignmentFlag.AlignTop)
            field.edited.connect(lambda _text: self.go_on())
        return row

    def _group(self, caption: str, offers: tuple[ActionModel, ...]) -> ChoiceGroup:
        group = ChoiceGroup(caption, 2 if offers[0].hint else 3)
        group.offer(offers, self.theme, self.scale)
        return group

    def _fill(self, begun: PasteBegun) -> None:
        tested = begun.like is not None and begun.like.incoming_test
        self.lots.choose(TESTED if tested else "usable")
        self.number.fill(str(begun.number))
        self.kinds.choose_all(begun.kinds)
        if begun.like is not None:
            self.flux.fill(begun.like.flux_class)
            self.powder.fill(begun.like.powder_type)
            self.alloy.choose(begun.like.alloy.value)
            self.storage.choose(begun.like.storage.value)

    def _free_id(self, text: str) -> str:
        found = _by(fields.identifier(), self.tr("Type the short name that labels and screens use."))(text.upper())
        if found in self._begun.taken_ids:
            raise Unreadable(f"There is a paste {found} already. Choose another name, or write a version of {found}.")
        return found

    def _free_number(self, text: str) -> int:
        if not text.isdecimal() or not text.isascii() or int(text) > HIGHEST_PASTE_NUMBER:
            raise Unreadable(f"Type a whole number from 0 to {HIGHEST_PASTE_NUMBER}.")
        if int(text) in self._begun.taken_numbers:
            raise Unreadable(f"{int(text)} is another paste's number, and labels carry it. Choose a free one.")
        return int(text)


def _by(kind: Field[Value], empty: str) -> Callable[[str], Value]:
    """Reads what was typed as a setting of this kind; raises Unreadable with a whole sentence."""

    def read(text: str) -> Value:
        if not text.strip():
            raise Unreadable(empty)
        try:
            return kind.parse(text)
        except Unfit as unfit:
            raise Unreadable(f"{opening(unfit.reason)}. {unfit.remedy}.") from None

    return read
