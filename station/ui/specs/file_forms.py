"""A file of specifications read in: every fault of it by its line, or what would be drafted."""

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from station.ui.dialogs.fields import label
from station.ui.dialogs.file_field import FilesField
from station.ui.dialogs.look import CAPTION, LOUD, NOTE, TEXT
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.specs.columns import Columns
from station.ui.theme import LIGHT, Theme

FILES = "Specifications (*.toml)"
MOST_FAULTS = 30
DRAFTS_AS = ("Paste", "What it says")
NONE_CHOSEN = "Choose a file first."


@dataclass(frozen=True, slots=True)
class FileFound:
    """What a file says: its faults as sentences, or rows of what would be drafted.

    `same` are pastes it changes nothing of, `notes` what else stands in it that a draft does not carry.
    """

    faults: tuple[str, ...]
    drafts: tuple[tuple[str, str], ...]
    same: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


class FileForm(PaperDialog):
    """`chosen` tells the file a person chose; `offered` hands over its path once it was read without a fault."""

    chosen = Signal(object)

    def __init__(self, host: QWidget, theme: Theme = LIGHT, *, lines: tuple[str, ...] = ()) -> None:
        """Nothing is read yet."""
        super().__init__("Specifications from a file", self.tr("Write the drafts"), host, theme)
        self._inside = column = self.add_column(1)
        for line in lines:
            column.addWidget(label(NOTE, line))
        self.file = FilesField(
            self.tr("File"),
            word=self.tr("Choose a file"),
            hint=self.tr("As pastes.toml of the settings: one or more [[paste]]"),
            several=False,
            sorts=FILES,
        )
        self.file.chosen.connect(self._chosen)
        self.told = label(CAPTION)
        self.wrong, self.faults = label(LOUD), label(TEXT)
        self.rows: Columns | None = None
        for part in (self.file, self.wrong, self.faults, self.told):
            column.addWidget(part)
        column.addStretch(1)
        self.found: FileFound | None = None
        for part in (self.wrong, self.faults, self.told):
            part.hide()

    def widest(self) -> float:
        """Long lines."""
        return 1700.0

    def first_field(self) -> QWidget | None:
        """The button that chooses."""
        return self.file.button

    def show_found(self, found: FileFound) -> None:
        """Say what the file says."""
        self.found = found
        self.wrong.setText(_wrong(found))
        self.faults.setText("\n\n".join(_bounded(found.faults)))
        for part in (self.wrong, self.faults):
            part.setVisible(bool(found.faults))
        self.told.setText(_told(found))
        self.told.setVisible(not found.faults)
        if self.rows is not None:
            self.rows.hide()
            self.rows.deleteLater()
        self.rows = Columns(DRAFTS_AS, found.drafts)
        self.rows.setVisible(bool(found.drafts))
        self._inside.insertWidget(self._inside.count() - 1, self.rows)
        self.restyle()
        self.remark("")

    def collect(self) -> Path | None:
        """The file, or None after the sentence why nothing can be written."""
        if not self.file.paths or self.found is None:
            self.file.complain(self.tr(NONE_CHOSEN))
            return None
        if self.found.faults or not self.found.drafts:
            self.file.complain(_wrong(self.found) if self.found.faults else _told(self.found))
            return None
        return self.file.paths[0]

    def restyle(self) -> None:
        """Rows in the form's letters."""
        if self.rows is not None:
            host = self.parentWidget()
            high = host.height() if host is not None else 600
            self.rows.set_look(self.theme, self.scale, max(160, round(high * 0.36)))

    def _chosen(self) -> None:
        self.chosen.emit(self.file.paths[0])


def _wrong(found: FileFound) -> str:
    many = len(found.faults)
    return f"{'One fault' if many == 1 else f'{many} faults'}: nothing of the file is taken until it is mended."


def _told(found: FileFound) -> str:
    many = len(found.drafts)
    drafts = "no draft" if not many else "one draft" if many == 1 else f"{many} drafts"
    same = f" As in force already: {', '.join(found.same)}." if found.same else ""
    return " ".join([f"It would make {drafts}.{same}", *found.notes])


def _bounded(faults: tuple[str, ...]) -> tuple[str, ...]:
    more = len(faults) - MOST_FAULTS
    return (*faults[:MOST_FAULTS], f"And {more} more: mend these first.") if more > 0 else faults
