"""Two sheets for reports: which one is wanted and of what time, and a report to read, as large as it may be."""

from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QSizePolicy, QTableView, QWidget

from station.care.saying import many
from station.reports.document import NOTHING_FOUND, Report, Table
from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.fields import PaperField, label
from station.ui.dialogs.look import NOTE, TEXT
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.readings import iso_date
from station.ui.theme import FAMILY, LIGHT, Theme
from station.ui.view_models import ActionModel
from station.ui.widgets.touch_button import TouchButton

CHOICES = (
    ActionModel("trace", "Trace", "lot or work order"),
    ActionModel("boards", "Boards outside", "past a limit"),
    ActionModel("waste", "Waste", "by cause"),
    ActionModel("response", "Response", "to alarms"),
    ActionModel("use", "Use inside", "the limits"),
    ActionModel("stock", "Stock", "and expiry, now"),
    ActionModel("story", "Story", "of anything"),
)
TRACED = ("lot", "work order")
AS_CSV, AS_CSV_COMMA, AS_PDF = "csv", "csv-comma", "pdf"
FILES = (
    ActionModel(AS_CSV, "CSV 1.5"),
    ActionModel(AS_CSV_COMMA, "CSV 1,5"),
    ActionModel(AS_PDF, "PDF"),
)
Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()


@dataclass(frozen=True)
class ReportWord:
    """A report that is wanted: from the first to the last of two plant days, both whole; `of` may be empty.

    From `date.min` on means all there is.
    """

    name: str
    first: date
    last: date
    of: str


class ReportDialog(PaperDialog):
    """Asks which report, of which days, of what; `offered` hands over a `ReportWord`."""

    def __init__(self, begun: ReportWord, host: QWidget, theme: Theme = LIGHT) -> None:
        """`begun` is what stands in it before anybody types."""
        super().__init__("Which report?", "Show it", host, theme)
        left, right = self.add_column(3), self.add_column(2)
        self.reports = ChoiceGroup(self.tr("Report"), columns=2)
        self.reports.offer(CHOICES, self.theme, self.scale)
        self.reports.choose(begun.name)
        left.addWidget(self.reports)
        left.addStretch(1)
        self.of = PaperField(self.tr("Of what, if not of all"))
        self.of.note(self.tr("A lot, work order, container, position, store, badge, name or day; or scan it now"))
        self.first = PaperField(self.tr("First day"), most=10)
        self.last = PaperField(self.tr("Last day"), most=10)
        self.first.fill(begun.first.isoformat())
        self.last.fill(begun.last.isoformat())
        self.of.fill(begun.of)
        for part in (self.of, self.first, self.last):
            right.addWidget(part)
        right.addStretch(1)

    def take_subject(self, kind: str, name: str) -> None:
        """Something was scanned: its whole story is wanted, or its trace where that is chosen and there is one."""
        traced = self.reports.chosen == "trace" and kind in TRACED
        self.reports.choose("trace" if traced else "story")
        self.of.fill(name)
        self.offered.emit(ReportWord(self.reports.chosen or "story", date.min, date.max, name))

    def first_field(self) -> QWidget:
        """What it is about."""
        return self.of.line

    def collect(self) -> ReportWord | None:
        """What is wanted, or None after each wrong field got its sentence."""
        name = self.reports.required(self.tr("Choose a report."))
        first, last = self.first.read(iso_date), self.last.read(iso_date)
        if name is None or first is None or last is None:
            return None
        if last < first:
            self.last.complain(self.tr("The last day is before the first one."))
            return None
        if name == "story" and self.of.required(self.tr("Say of what: a story needs a name or number.")) is None:
            return None
        return ReportWord(name, first, last, self.of.text)


class _Rows(QAbstractTableModel):
    """A table as Qt's views ask for it: only what is in sight."""

    def __init__(self, table: Table, parent: QWidget) -> None:
        super().__init__(parent)
        self._table = table

    def rowCount(self, parent: Index = NOWHERE) -> int:  # noqa: N802 - Qt's name
        return 0 if parent.isValid() else len(self._table.rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:  # noqa: N802 - Qt's name
        return 0 if parent.isValid() else len(self._table.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        cell = self._table.rows[index.row()][index.column()]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            number = self._table.columns[index.column()].number
            return Qt.AlignmentFlag.AlignVCenter | (
                Qt.AlignmentFlag.AlignRight if number else Qt.AlignmentFlag.AlignLeft
            )
        return ("" if cell is None else str(cell)) if role == Qt.ItemDataRole.DisplayRole else None

    def headerData(  # noqa: N802 - Qt's name
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        return self._table.columns[section].heading if orientation == Qt.Orientation.Horizontal else str(section + 1)


class ShownReport(PaperDialog):
    """A report: one table at a time, what it was asked with below. `wanted` asks for one of `FILES`."""

    wanted = Signal(str)

    def __init__(self, report: Report, host: QWidget, theme: Theme = LIGHT) -> None:
        """It shows the first table that has rows."""
        super().__init__(report.title, "Close", host, theme)
        self.report = report
        self.column = column = self.add_column(1)
        self.tables = ChoiceGroup("", columns=4)
        self.tables.caption.hide()
        named = tuple(
            ActionModel(str(place), table.title, many(len(table.rows), "row"))
            for place, table in enumerate(report.tables)
        )
        self.tables.offer(named, self.theme, self.scale)
        self.tables.setVisible(len(named) > 1)
        self.view = QTableView()
        self.view.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.view.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.view.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.view.setTabKeyNavigation(False)
        self.nothing = label(TEXT, NOTHING_FOUND)
        told = label(NOTE, "; ".join(f"{what}: {value}" for what, value in report.told))
        for part in (self.tables, self.nothing, self.view, told):
            column.addWidget(part)
        self.files = [TouchButton(model) for model in FILES]
        for button in self.files:
            button.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
            button.acted.connect(self.wanted.emit)
            self.add_act(button)
        self.cancel.hide()
        self.offered.connect(self.leave)
        self.tables.chosen_changed.connect(lambda place: self.show_table(int(place)))
        first = next((place for place, table in enumerate(report.tables) if table.rows), 0)
        self.tables.choose(str(first))
        self.show_table(first)

    def show_table(self, place: int) -> None:
        """Show one of the report's tables."""
        table = self.report.tables[place]
        self.view.setModel(_Rows(table, self))
        self.view.setVisible(bool(table.rows))
        self.nothing.setVisible(not table.rows)
        self.fit()

    def widest(self) -> float:
        """As wide as the window."""
        return 1900.0

    def first_field(self) -> QWidget:
        """The one button that leaves."""
        return self.hand_in

    def collect(self) -> object | None:
        """It was seen."""
        return True

    def restyle(self) -> None:
        """Rows as high as a finger needs to scroll by, in the form's letters."""
        card, bar, line = self.theme.card, self.theme.body, self.theme.line
        size, touch = max(13, round(self.scale.of(22))), round(self.scale.touch * 0.7)
        self.view.setStyleSheet(
            f"QTableView {{ font-family: {FAMILY}; font-size: {size}px; color: {card.text}; background: {card.ground};"
            f" gridline-color: {line}; }} QTableView::item {{ padding: 0 6px; }}"
            f" QHeaderView::section {{ font-family: {FAMILY}; font-size: {size}px;"
            f" color: {bar.text}; background: {bar.ground}; border: 1px solid {line}; padding: 4px; }}"
            f" QScrollBar:horizontal {{ height: {touch}px; background: {bar.ground}; }}"
            f" QScrollBar::handle:horizontal {{ background: {self.theme.outline.shape}; min-width: {touch}px; }}"
        )
        for button in self.files:
            button.setFixedSize(round(self.scale.of(260)), round(self.scale.touch * 1.1))
        self.fit()

    def fit(self) -> None:
        """The table as high as it may be, its columns as wide as what they hold."""
        host = self.parentWidget()
        high = host.height() if host is not None else 0
        self.view.setMinimumHeight(max(180, round(high * 0.42)))
        self.view.verticalHeader().setDefaultSectionSize(max(26, round(self.scale.of(40))))
        header = self.view.horizontalHeader()
        header.setResizeContentsPrecision(60)  # the rows in sight and some more: a million are not measured
        self.view.resizeColumnsToContents()
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
