"""A note, photos or papers of one thing, added to the record, beside what is on record already."""

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtWidgets import QWidget

from station.ui.dialogs.fields import PaperField, label
from station.ui.dialogs.file_field import PROOF, FilesField
from station.ui.dialogs.look import CAPTION, TEXT
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.theme import LIGHT, Theme

MOST_NOTE = 200


@dataclass(frozen=True)
class EvidenceWord:
    """What somebody wrote, and the files that were chosen."""

    note: str
    files: tuple[Path, ...]


def photo_field() -> FilesField:
    """Where photos and papers are chosen."""
    return FilesField(
        "Photo or paper", word="Choose files", hint="JPEG, PNG, PDF, CSV or text; may be left out.", sorts=PROOF
    )


class EvidenceDialog(PaperDialog):
    """Asks for a note, files, or both; `offered` hands over a `EvidenceWord`."""

    def __init__(self, title: str, before: tuple[str, ...], host: QWidget, theme: Theme = LIGHT) -> None:
        """`before` says what is on record already, a line each."""
        super().__init__(title, "Put it on record", host, theme)
        column = self.add_column(1)
        self.note = PaperField(self.tr("Note"), most=MOST_NOTE)
        self.files = photo_field()
        for part in (self.note, self.files):
            column.addWidget(part)
        if before:
            column.addWidget(label(CAPTION, self.tr("On record already")))
        for line in before:
            column.addWidget(label(TEXT, line))
        column.addStretch(1)

    def first_field(self) -> QWidget:
        """The note."""
        return self.note.line

    def collect(self) -> object | None:
        """The `EvidenceWord`, or None where nothing was said."""
        if not self.note.text and not self.files.paths:
            self.note.complain(self.tr("Write a note, or choose a file."))
            return None
        return EvidenceWord(self.note.text, self.files.paths)
