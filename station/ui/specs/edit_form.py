"""The editor of one specification: its figures by pages; what is wrong is said at once, and nothing typed is lost."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from station.care.specification import FigureSource
from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.fields import Captioned, PaperField, label
from station.ui.dialogs.look import NOTE
from station.ui.specs.figure_field import FigureField
from station.ui.specs.keeping_form import KeepingForm
from station.ui.specs.several import SeveralGroup, two_lines
from station.ui.specs.table import Figure, Page
from station.ui.specs.typed import BOUGHT_IN, DATA_SHEET, PAGE, Typed
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel

SHEET_PAGE = "Data sheet"
UNCHANGED = "Nothing was changed. Change a figure or its source first."
FOR_APPROVAL = "needed for approval"
BY_SOURCE = "Both are needed for the approval. A figure from elsewhere says so by its button Source."


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
        self.typed, self._fresh, self._handed_in = typed, fresh, False
        column = self.add_column(1)
        for line in lines:
            column.addWidget(label(NOTE, line))
        self.pages = ChoiceGroup("", columns=len(Page) + 1)
        self.pages.caption.hide()
        self.pages.chosen_changed.connect(self.turn)
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
        self._leaves = {name: QWidget() for name in (SHEET_PAGE, *(page.value for page in Page))}
        self._fill_sheet(QVBoxLayout(self._leaves[SHEET_PAGE]))
        self._grids = {page: _grid(self._leaves[page.value]) for page in Page}
        for leaf in self._leaves.values():
            column.addWidget(leaf)
        column.addStretch(1)
        self._lay_figures()
        self._offer_pages()
        self.turn(SHEET_PAGE)

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
            button.setFixedHeight(two_lines(self.scale))

    def collect(self) -> object | None:
        """The `Typed`, or None after every wrong field got its sentence and the first one is in sight."""
        self._handed_in = True
        self.show_complaints()
        first = next(iter(self.typed.complaints()), None)
        if first is not None:
            self.turn(self.fields[first].figure.page.value if first in self.fields else SHEET_PAGE)
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
        self._written()

    def turn(self, page: str) -> None:
        """Show one page."""
        for name, leaf in self._leaves.items():
            leaf.setVisible(name == page)
        if self.pages.chosen != page:
            self.pages.choose(page)

    def show_complaints(self) -> None:
        """Say beside each field what is wrong, and on each page how many; empty fields wait until it is handed in."""
        complaints = self.typed.complaints()
        for key, field in (*self.fields.items(), *self.sheet.items()):
            waits = not field.text and not self._handed_in
            field.complain("" if waits else complaints.get(key, ""))
        self.kinds.complain(complaints.get(BOUGHT_IN, ""))
        self._offer_pages()

    # ------------------------------------------------------------------ inside

    def _fill_sheet(self, column: QVBoxLayout) -> None:
        column.setContentsMargins(0, 0, 0, 0)
        parts: list[Captioned] = [*self.sheet.values(), self.kinds]
        for key, field in self.sheet.items():
            field.fill(self.typed.text(key))
            field.edited.connect(lambda text, key=key: self._said(key, text))
            field.line.editingFinished.connect(self._written)
        for part in parts:
            column.addWidget(part)
        self.sheet[PAGE].note(self.tr(BY_SOURCE))
        column.addStretch(1)

    def _lay_figures(self) -> None:
        """Fields for the figures there are now, with what was typed in each."""
        self.fields = {}
        for page, grid in self._grids.items():
            _empty(grid)
            for number, figure in enumerate(entry for entry in self.typed.figures if entry.page is page):
                self.fields[figure.key] = self._field(figure)
                grid.addWidget(self.fields[figure.key], number // 2, number % 2, Qt.AlignmentFlag.AlignTop)
        self._say_sources()

    def _field(self, figure: Figure) -> FigureField:
        field = FigureField(figure)
        field.fill(self.typed.text(figure.key))
        field.edited.connect(lambda text: self._wrote(figure.key, text))
        field.written.connect(self._written)
        field.source_wanted.connect(self.source_wanted.emit)
        for button in (*field.words, field.source):
            button.installEventFilter(self)
        return field

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
        self.show_complaints()
        self._place()

    def _said(self, key: str, text: str) -> None:
        self.typed.write(key, text)
        self.go_on()

    def _written(self) -> None:
        """Something was typed to its end."""
        self._say_sources()
        self.show_complaints()

    def _say_sources(self) -> None:
        for key, field in self.fields.items():
            field.say_source(source_in_words(self.typed.source(key)) if key in self.typed.own_sources else "")

    def _offer_pages(self) -> None:
        figures = {figure.key for figure in self.typed.figures}
        apart = sum(key not in figures for key in self.typed.complaints())
        lacking = not all(self.typed.text(key).strip() for key in self.sheet)
        told = [ActionModel(SHEET_PAGE, SHEET_PAGE, FOR_APPROVAL if lacking and not apart else _hint(apart))]
        told += [ActionModel(page.value, page.value, _hint(self.typed.faulty(page))) for page in Page]
        if [button.action_model for button in self.pages.buttons] == told:
            return
        self.pages.offer(tuple(told), self.theme, self.scale)
        for button in self.pages.buttons:
            button.installEventFilter(self)
            button.setFixedHeight(two_lines(self.scale))

    def _count(self) -> str:
        """How much is to be mended, and what belongs to no field of this form in whole sentences."""
        complaints = self.typed.complaints()
        here = {*self.fields, *self.sheet, BOUGHT_IN}
        apart = [told for key, told in complaints.items() if key not in here]
        many = len(complaints)
        return " ".join(["One thing is to be mended." if many == 1 else f"{many} things are to be mended.", *apart])


def source_in_words(source: FigureSource) -> str:
    """Where a figure comes from, as a sentence."""
    page = f"page {source.page}" if source.page else ""
    told = ", ".join(part for part in (source.data_sheet, page, source.note) if part)
    return f"Source: {told}." if told else "Source: not said yet."


def _hint(faults: int) -> str:
    return f"{faults} to mend" if faults else "all right"


def _grid(leaf: QWidget) -> QGridLayout:
    grid = QGridLayout(leaf)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setHorizontalSpacing(24)
    grid.setVerticalSpacing(10)
    for column in (0, 1):
        grid.setColumnStretch(column, 1)
    return grid


def _empty(grid: QGridLayout) -> None:
    while (item := grid.takeAt(0)) is not None:
        widget = item.widget()
        if widget is not None:
            widget.hide()
            widget.deleteLater()
