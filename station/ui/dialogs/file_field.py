"""Files chosen from the PC's disk: a button that asks for them, and below it which were chosen."""

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFileDialog, QWidget

from station.ui.dialogs.fields import Captioned
from station.ui.view_models import ActionModel
from station.ui.widgets.touch_button import TouchButton

MOST_NAMED = 4
LOGGERS = "Loggers' files (*.csv *.txt *.tsv)"
LOGGER_PROOF = "Loggers' files and reports (*.csv *.txt *.tsv *.pdf)"
PAPERS = "Certificates and reports (*.pdf *.jpg *.jpeg *.png *.csv *.txt)"
PROOF = "Photos and papers (*.jpg *.jpeg *.png *.pdf *.csv *.txt)"


class FilesField(Captioned):
    """The files that were chosen, by default of loggers; `chosen` tells each choice a person makes."""

    chosen = Signal()

    def __init__(
        self,
        caption: str,
        parent: QWidget | None = None,
        *,
        word: str,
        hint: str,
        several: bool = True,
        sorts: str = LOGGERS,
    ) -> None:
        """`word` stands on the button, `hint` below it while nothing is chosen; `several` files or one.

        `sorts` names which files are listed first, as the system's file dialog wants it."""
        super().__init__(caption, parent)
        self.paths: tuple[Path, ...] = ()
        self._hint, self._several, self._sorts = hint, several, sorts
        self.button = TouchButton(ActionModel("files", word))
        self.button.acted.connect(self._ask)
        self.set_content(self.button)
        self.take(())

    def take(self, paths: tuple[Path, ...]) -> None:
        """These files, and no others."""
        self.paths = paths
        self.calm()
        named = ", ".join(path.name for path in paths[:MOST_NAMED])
        more = f" and {len(paths) - MOST_NAMED} more" if len(paths) > MOST_NAMED else ""
        self.note(f"{named}{more}" if paths else self._hint)

    def _ask(self) -> None:
        dialog = QFileDialog(self.window(), self.caption.text())
        # the system's own dialog would take a scan for keys typed into it; this one lies under the scanner's ear
        dialog.setOption(QFileDialog.Option.DontUseNativeDialog)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFiles if self._several else QFileDialog.FileMode.ExistingFile)
        dialog.setNameFilters([self.tr(self._sorts), self.tr("All files (*)")])
        dialog.filesSelected.connect(self._selected)
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def _selected(self, names: list[str]) -> None:
        self.take(tuple(Path(name) for name in names))
        self.chosen.emit()
