"""A table of plain words to read, of any length: only what is in sight is made."""

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from station.ui.theme import FAMILY, Scale, Theme

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()


class _Words(QAbstractTableModel):
    """Rows of words as Qt's views ask for them."""

    def __init__(self, headings: tuple[str, ...], rows: tuple[tuple[str, ...], ...], parent: QWidget) -> None:
        super().__init__(parent)
        self._headings, self._rows = headings, rows

    def rowCount(self, parent: Index = NOWHERE) -> int:  # noqa: N802 - Qt's name
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:  # noqa: N802 - Qt's name
        return 0 if parent.isValid() else len(self._headings)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        return self._rows[index.row()][index.column()] if role == Qt.ItemDataRole.DisplayRole else None

    def headerData(  # noqa: N802 - Qt's name
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        if role != Qt.ItemDataRole.DisplayRole or orientation != Qt.Orientation.Horizontal:
            return None
        return self._headings[section]


class Columns(QTableView):
    """Headings and rows; the last column takes what room is left."""

    def __init__(self, headings: tuple[str, ...], rows: tuple[tuple[str, ...], ...]) -> None:
        super().__init__()
        self.setModel(_Words(headings, rows, self))
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(False)
        self.verticalHeader().hide()

    def set_look(self, theme: Theme, scale: Scale, high: int) -> None:
        """Take other colours and sizes; it is as high as its rows, at most `high` pixels."""
        card, bar, line = theme.card, theme.body, theme.line
        size, touch = max(13, round(scale.of(22))), round(scale.touch * 0.7)
        self.setStyleSheet(
            f"QTableView {{ font-family: {FAMILY}; font-size: {size}px; color: {card.text}; background: {card.ground};"
            f" gridline-color: {line}; }} QTableView::item {{ padding: 0 6px; }}"
            f" QHeaderView::section {{ font-family: {FAMILY}; font-size: {size}px; font-weight: bold;"
            f" color: {bar.text}; background: {bar.ground}; border: 1px solid {line}; padding: 4px; }}"
            f" QScrollBar:horizontal {{ height: {touch}px; background: {bar.ground}; }}"
            f" QScrollBar::handle:horizontal {{ background: {theme.outline.shape}; min-width: {touch}px; }}"
        )
        rows = max(26, round(scale.of(40)))
        self.verticalHeader().setDefaultSectionSize(rows)
        header = self.horizontalHeader()
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setResizeContentsPrecision(60)
        self.resizeColumnsToContents()
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        header.setStretchLastSection(True)
        beside = touch if sum(map(self.columnWidth, range(self.model().columnCount()))) > self.viewport().width() else 0
        self.setFixedHeight(min(high, round(rows * (self.model().rowCount() + 1.4)) + beside))
