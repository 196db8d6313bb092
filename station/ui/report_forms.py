"""Reports and stories at the shift desk: chosen, built beside the window on a copy of the record, shown, written.

The window goes on meanwhile; a report whose form was left is dropped.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from PySide6.QtCore import QObject, QStandardPaths
from PySide6.QtWidgets import QWidget
from shiboken6 import isValid

from station.care.floor import Floor
from station.services.outcome import Refusal
from station.ui.desk_work import DeskWork
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.report_dialog import AS_CSV, ReportDialog, ReportWord, ShownReport
from station.ui.forms import Forms

if TYPE_CHECKING:
    from station.reports.asked import Asked
    from station.reports.document import Report
    from station.ui.warm_up.errand import Errand

FOLDER = "Thawmark reports"
USUAL_DAYS = timedelta(days=30)
BUILDING = "Building the report … You may leave this form: the answer is dropped then."
BUSY = "The one before is still being worked out. Try again in a moment."
WRITING = "Writing …"
FAILED = "The report could not be made: a fault in the program. Tell the process engineer."


class ReportForms(QObject):
    """Makes the forms; `openers` says which act each belongs to."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms, folder: Path | None = None) -> None:
        """Files go into `folder`, by default one among the account's own documents."""
        super().__init__(host)
        self._host, self._work, self._forms, self._folder = host, work, forms, folder
        self._errand: Errand | None = None
        self._then: Callable[[object], None] = self._built
        self._asking: ReportDialog | None = None
        self.openers: dict[str, Callable[[str], PaperDialog | None]] = {
            "report": lambda _rest: self._ask("trace", ""),
            "story": self._story,
        }

    def finish(self) -> None:
        """The window goes: a thread must not outlive it."""
        self._asking = None
        if self._errand is not None:
            self._errand.wait()

    def _story(self, container: str) -> PaperDialog:
        """Of a container at once; of anything else it is asked of what."""
        if not container:
            return self._ask("story", "")
        from station.reports.building import build  # noqa: PLC0415  nothing of it is on the way to the window

        asked = self._asked(self._work.station.floor(), ReportWord("story", date.min, date.max, container))
        return self._shown("story", build("story", asked), asked)

    def _ask(self, name: str, of: str) -> PaperDialog:
        floor = self._work.station.floor()
        today = floor.now.astimezone(floor.zone).date()
        dialog = ReportDialog(ReportWord(name, today - USUAL_DAYS, today, of), self._host)
        dialog.offered.connect(lambda word: self._build(dialog, word))
        return dialog

    # ------------------------------------------------------------------ building

    def _asked(self, floor: Floor, word: ReportWord) -> "Asked":
        from station.reports.asked import Asked, Made  # noqa: PLC0415  as above

        station = self._work.station
        who = station.sessions[station.place].context.person or ""
        made = Made(who, floor.now, f"{station.site.name}, station {station.site.station}", station.head())
        whole = word.first == date.min
        since = _begun(floor) if whole else _midnight(word.first, floor.zone)
        until = floor.now + timedelta(days=1) if whole else _midnight(word.last + timedelta(days=1), floor.zone)
        return Asked(floor, made, since, until, word.of, station.site.currency, station.site.shifts)

    def _build(self, dialog: ReportDialog, word: ReportWord) -> None:
        """Beside the window, on a copy of the floor as it is now: it goes on changing meanwhile."""
        from station.reports.building import build  # noqa: PLC0415  as above

        if self._errand is not None:
            dialog.refuse(BUSY)
            return
        floor = self._work.station.floor()
        asked = self._asked(replace(floor, ledger=floor.ledger.copied()), word)
        self._asking = dialog
        dialog.left.connect(self._stop)
        dialog.remark(BUILDING)
        self._run(lambda: (word.name, build(word.name, asked), asked), self._built)

    def _stop(self) -> None:
        self._asking = None

    def _built(self, answer: object) -> None:
        dialog, self._asking = self._asking, None
        if dialog is None or not isValid(dialog) or dialog.isHidden():
            return
        if not isinstance(answer, tuple):
            dialog.refuse(FAILED)
            return
        dialog.remark("")
        self._forms.lay(self._shown(*answer))

    # ------------------------------------------------------------------ showing and writing

    def _shown(self, name: str, report: "Report", asked: "Asked") -> ShownReport:
        dialog = ShownReport(report, self._host)
        dialog.wanted.connect(lambda form: self._write(dialog, form, name, asked))
        return dialog

    def _write(self, dialog: ShownReport, form: str, name: str, asked: "Asked") -> None:
        from station.reports.csv_file import CsvForm  # noqa: PLC0415  as above
        from station.reports.files import csv_files, pdf_files, write_all  # noqa: PLC0415

        if self._errand is not None:
            dialog.remark(BUSY)
            return
        stamp = f"{name}-{asked.made.at.astimezone(asked.floor.zone):%Y-%m-%d-%H%M%S}"
        folder, report = self._where(), dialog.report

        def work() -> object:
            files = csv_files(stamp, report, CsvForm()) if form == AS_CSV else pdf_files(stamp, report, asked)
            try:
                return ", ".join(map(str, write_all(folder, files)))
            except Refusal as refusal:
                return refusal.sentence

        def written(answer: object) -> None:
            if isValid(dialog) and not dialog.isHidden():
                dialog.remark(answer if isinstance(answer, str) else FAILED)

        dialog.remark(WRITING)
        self._run(work, written)

    def _run(self, work: Callable[[], object], told: Callable[[object], None]) -> None:
        from station.ui.warm_up.errand import Errand  # noqa: PLC0415  as above

        self._then, self._errand = told, Errand(work, self)
        self._errand.told.connect(self._over)  # a method of an object of this thread: it is called on this thread
        self._errand.finished.connect(self._errand.deleteLater)
        self._errand.start()

    def _over(self, answer: object) -> None:
        self._errand = None
        self._then(answer)

    def _where(self) -> Path:
        place = QStandardPaths.StandardLocation.DocumentsLocation
        return self._folder or Path(QStandardPaths.writableLocation(place)) / FOLDER


def _begun(floor: Floor) -> datetime:
    """When the record begins."""
    return min((fact.at for fact in floor.ledger.facts()), default=floor.now)


def _midnight(day: date, zone: ZoneInfo) -> datetime:
    """When a plant day begins."""
    return datetime.combine(day, time(), zone)
