"""The editor of one specification: its figures by pages; what is wrong is said at once, and nothing typed is lost."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from station.care.specification import FigureSource
from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.fields import PaperField, label
from station.ui.dialogs.look import NOTE
from station.ui.specs.figure_field import FigureField
from station.ui.specs.keeping_form import KeepingForm
from station.ui.specs.several import SeveralGroup
from station.ui.specs.table import Page
from station.ui.specs.typed import DATA_SHEET, PAGE, Typed
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel

SHEET_PAGE = "Data sheet"
UNCHANGED = "Nothing was changed. Change a figure or its source first."


class EditForm(KeepingForm):
    """`offered` hands over the `Typed` when every field is right; `source_wanted` asks where a figure comes from."""

    source_wanted = Signal(str)

    def __init__(
        self,
        title: str,
        typed: Typed,
        kinds: tuple[ActionModel, ...],
        host: QWidget,
        theme: Theme = LIGHT,
        *,
        lines: tuple[str, ...] = (),
        fresh: bool = False,
    ) -> None:
        """`kinds` are all kinds of container; `lines` say who may do it; a `fresh` one may go on unchanged."""
        super().__init__(title, self.tr("Go on"), host, theme)
        self.typed, self._fresh = typed, fresh
        column = self.add_column(1)
        for line in lines:
            column.addWidget(label(NOTE, line))
        self.pages = ChoiceGroup("", columns=5)
        self.pages.caption.hide()
        self.pages.chosen_changed.connect(self._turn)
        column.addWidget(self.pages)
        self.fields: dict[str, FigureField] = {}
        self.sheet = {
            DATA_SHEET: PaperField(self.tr("Data sheet: name, edition, date"), most=60),
            PAGE: PaperField(self.tr("Page, where a figure has none of its own"), most=20),
        }
        self.kinds = SeveralGroup(self.tr("Bought in; touch each"), 3)
        self.kinds.offer(kinds, self.theme, self.scale)
        self.kinds.choose_all(typed.kinds)
        self.kinds.chosen_changed.connect(lambda _kind: self._chose_kinds())
        self._leaves = {SHEET_PAGE: self._sheet_page()}
        self._leaves.update({page.value: QWidget() for page in Page})
        for leaf in self._leaves.values():
            column.addWidget(leaf)
        column.addStretch(1)
        self._lay_figures()
        self._offer_pages()
        self.pages.choose(SHEET_PAGE)

    # ------------------------------------------------------------------ the form's own

    def widest(self) -> float:
        """Two columns of figures with their buttons."""
        return 1700.0

    def first_field(self) -> QWidget | None:
        """The edition of the data sheet."""
        return self.sheet[DATA_SHEET].line

    def restyle(self) -> None:
        """Buttons beside figures as large as a finger."""
        for field in self.fields.values():
            field.set_scale(self.scale)
        for button in (*self.pages.buttons, *self.kinds.buttons):
            button.setFixedHeight(round(self.scale.touch * 1.15))

    def collect(self) -> object | None:
        """The `Typed`, or None after every wrong field got its sentence and the first one is in sight."""
        self.show_complaints()
        first = next(iter(self.typed.complaints()), None)
        if first is not None:
            self._turn(self._page_with(first))
            self.remark(self._count())
            return None
        if not self.typed.changed and not self._fresh:
            self.remark(self.tr(UNCHANGED))
            return None
        return self.typed

    @property
    def changed(self) -> bool:
        """Whether anything was typed."""
        return self.typed.changed

    def put_source(self, source: FigureSource) -> None:
        """Somebody said where a figure comes from."""
        self.typed.put_source(source)
        self._changed()

    def show_complaints(self) -> None:
        """Say beside each field what is wrong with it, and on each page how many there are."""
        complaints = self.typed.complaints()
        for key, field in (*self.fields.items(), *self.sheet.items()):
            field.complain(complaints.get(key, ""))
        self._offer_pages()

    # ------------------------------------------------------------------ inside

    def _sheet_page(self) -> QWidget:
        leaf = QWidget()
        column = QVBoxLayout(leaf)
        column.setContentsMargins(0, 0, 0, 0)
        for key, field in self.sheet.items():
            field.fill(self.typed.text(key))
            field.edited.connect(lambda text, key=key: self._said(key, text))
            column.addWidget(field)
        column.addWidget(label(NOTE, self.tr("A figure from another page or document names it by its button Source.")))
        column.addWidget(self.kinds)
        column.addStretch(1)
        return leaf

    def _lay_figures(self) -> None:
        """Fields for the figures there are now; those that stay keep what was typed."""
        self.fields = {}
        for page in Page:
            leaf = self._leaves[page.value]
            _empty(leaf)
            grid = leaf.layout()
            assert isinstance(grid, QGridLayout)
            for number, figure in enumerate(entry for entry in self.typed.figures if entry.page is page):
                field = FigureField(figure)
                field.fill(self.typed.text(figure.key))
                field.edited.connect(lambda text, figure=figure: self._wrote(figure.key, text))
                field.written.connect(self._changed)
                field.source_wanted.connect(self.source_wanted.emit)
                self.fields[figure.key] = field
                grid.addWidget(field, number // 2, number % 2, Qt.AlignmentFlag.AlignTop)
        self._say_sources()

    def _wrote(self, key: str, text: str) -> None:
        before = tuple(entry.key for entry in self.typed.figures)
        self.typed.write(key, text)
        self.go_on()
        if before != tuple(entry.key for entry in self.typed.figures):
            self._lay_again(key)

    def _lay_again(self, key: str) -> None:
        """Another figure has a meaning now, or one has none any more; the cursor stays where it was."""
        place = self.fields[key].line.cursorPosition()
        self._lay_figures()
        self._place()
        line = self.fields[key].line
        line.setFocus(Qt.FocusReason.OtherFocusReason)
        line.setCursorPosition(place)

    def _chose_kinds(self) -> None:
        self.typed.choose_kinds(self.kinds.all_chosen)
        self.go_on()
        self._lay_figures()
        self._offer_pages()
        self._place()

    def _said(self, key: str, text: str) -> None:
        self.typed.write(key, text)
        self.go_on()
        self._say_sources()

    def _changed(self) -> None:
        self._say_sources()
        self.show_complaints()
        self.restyle()

    def _say_sources(self) -> None:
        for key, field in self.fields.items():
            field.say_source(source_in_words(self.typed.source(key)))

    def _offer_pages(self) -> None:
        of_sheet = sum(key in self.sheet for key in self.typed.complaints())
        told = [ActionModel(SHEET_PAGE, SHEET_PAGE, self._hint(of_sheet))]
        told += [ActionModel(page.value, page.value, self._hint(self.typed.faulty(page))) for page in Page]
        if [button.action_model for button in self.pages.buttons] != told:
            self.pages.offer(tuple(told), self.theme, self.scale)
            for button in self.pages.buttons:
                button.installEventFilter(self)
                button.setFixedHeight(round(self.scale.touch * 1.15))

    def _hint(self, faults: int) -> str:
        return f"{faults} to mend" if faults else "all right"

    def _count(self) -> str:
        """How much is to be mended, and what belongs to no field of this form in whole sentences."""
        complaints = self.typed.complaints()
        many = len(complaints)
        apart = [told for key, told in complaints.items() if key not in self.fields and key not in self.sheet]
        return " ".join(["One thing is to be mended." if many == 1 else f"{many} things are to be mended.", *apart])

    def _page_with(self, key: str) -> str:
        return self.fields[key].figure.page.value if key in self.fields else SHEET_PAGE

    def _turn(self, page: str) -> None:
        for name, leaf in self._leaves.items():
            leaf.setVisible(name == page)
        if self.pages.chosen != page:
            self.pages.choose(page)


def source_in_words(source: FigureSource) -> str:
    """Where a figure comes from, as a sentence."""
    page = f"page {source.page}" if source.page else ""
    told = ", ".join(part for part in (source.data_sheet, page, source.note) if part)
    return f"Source: {told}." if told else "Source: not said yet."


def _empty(leaf: QWidget) -> None:
    """A leaf with an empty grid."""
    grid = leaf.layout()
    if grid is None:
        grid = QGridLayout(leaf)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(24)
        grid.setVerticalSpacing(10)
        grid.setColumnStretch(0, 1)
        grid.setColumnStretch(1, 1)
    while (item := grid.takeAt(0)) is not None:
        widget = item.widget()
        if widget is not None:
            widget.hide()
            widget.deleteLater()
