"""Where one figure comes from, if not from where all the others do."""

from PySide6.QtWidgets import QWidget

from station.care.specification import FigureSource
from station.ui.dialogs.fields import PaperField, label
from station.ui.dialogs.look import TEXT
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.theme import LIGHT, Theme

MOST_SHEET, MOST_PAGE, MOST_NOTE = 60, 20, 120


class SourceForm(PaperDialog):
    """Asks for document, page and a remark; `offered` hands over a `FigureSource`."""

    def __init__(self, figure: str, source: FigureSource, host: QWidget, theme: Theme = LIGHT) -> None:
        """`figure` is its name; `source` is what stands now."""
        super().__init__(f"Where it comes from: {figure}", self.tr("Put it down"), host, theme)
        self._key = source.key
        column = self.add_column(1)
        column.addWidget(label(TEXT, self.tr("Left as it is, it follows the data sheet of the whole specification.")))
        self.data_sheet = PaperField(self.tr("Data sheet or other document: name, edition, date"), most=MOST_SHEET)
        self.on_page = PaperField(self.tr("Page"), most=MOST_PAGE)
        self.note = PaperField(self.tr("Remark, such as how the figure was chosen; may be left out"), most=MOST_NOTE)
        now = (source.data_sheet, source.page, source.note)
        for field, text in zip((self.data_sheet, self.on_page, self.note), now, strict=True):
            field.fill(text)
            column.addWidget(field)
        column.addStretch(1)
        self.name_leaving(self.tr("Back"))

    def widest(self) -> float:
        """One column of fields."""
        return 1250.0

    def first_field(self) -> QWidget | None:
        """The page: it differs most often."""
        return self.on_page.line

    def collect(self) -> object | None:
        """What was said; nothing has to be."""
        return FigureSource(self._key, self.data_sheet.text, self.on_page.text, self.note.text)
