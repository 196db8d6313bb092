"""A few words for the record that need no proof: one field, and who is badged in here says it."""

from dataclasses import dataclass

from PySide6.QtWidgets import QWidget

from station.ui.dialogs.fields import PaperField, label
from station.ui.dialogs.lead_dialog import MOST_REASON
from station.ui.dialogs.look import TEXT
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.theme import LIGHT, Theme


@dataclass(frozen=True)
class NoteWord:
    """What was said."""

    note: str


class NoteDialog(PaperDialog):
    """Asks for a few words; `offered` hands over a `NoteWord`."""

    def __init__(
        self, title: str, asked: str, host: QWidget, theme: Theme = LIGHT, *, lines: tuple[str, ...] = ()
    ) -> None:
        """`asked` is the caption of the field, `lines` say what it is about."""
        super().__init__(title, self.tr("Record it"), host, theme)
        column = self.add_column(1)
        for line in lines:
            column.addWidget(label(TEXT, line))
        self.note = PaperField(asked, most=MOST_REASON)
        column.addWidget(self.note)
        column.addStretch(1)

    def widest(self) -> float:
        """One field."""
        return 1250.0

    def first_field(self) -> QWidget:
        """The one field."""
        return self.note.line

    def collect(self) -> object | None:
        """The `NoteWord`, or None after the sentence that asks for it."""
        said = self.note.required(self.tr("Say it in a few words."))
        return NoteWord(said) if said is not None else None
