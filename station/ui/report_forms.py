"""Reports and stories at the shift desk: chosen, built beside the window on a copy of the record, shown, written.

The window goes on meanwhile, and the form says how far it is; leaving the form ends the work, and no file is left.
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
from station.ui.dialogs.report_dialog import AS_CSV, AS_CSV_COMMA, ReportDialog, ReportWord, ShownReport
from station.ui.dialogs.story_dialog import ShownStory
from station.ui.forms import Forms
from station.ui.view_models import BoardModel

if TYPE_CHECKING:
    from station.care.pace import Pace
    from station.reports.asked import Asked
    from station.reports.document import Report
    from station.ui.paced_errand import PacedErrand

FOLDER = "Thawmark reports"
USUAL_DAYS = timedelta(days=30)
BUILDING = "Building the report."
TO_STOP = "Leave this form to stop it."
BUSY = "The one before is still being worked out. Try again in a moment."
WRITING = "Writing."
SAVING = "saving"
FAILED = "The report could not be made: a fault in the program. Nothing was changed. Try once more; if it happens "
FAILED += "again, tell the process engineer what was asked."


class ReportForms(QObject):
    """Makes the forms; `openers` says which act each belongs to."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms, folder: Path | None = None) -> None:
        """Files go into `folder`, by default one among the account's own documents."""
        super().__init__(host)
        self._host, self._work, self._forms, self._folder = host, work, forms, folder
        self._errand: PacedErrand | None = None
        self._then: Callable[[object], None] = self._built
        self._waiting: PaperDialog | None = None
        self.openers: dict[str, Callable[[str], PaperDialog | None]] = {
            "report": lambda _rest: self._ask("trace", ""),
            "story": self._story,
        }

    def finish(self) -> None:
        """The window goes: a thread must not outlive it."""
        self._stop()
        if self._errand is not None:
            self._errand.wait()

    def _story(self, container: str) -> PaperDialog:
        """Of a container at once; of anything else it is asked of what."""
        if not container:
            return self._ask("story", "")
        from station.ui.report_work import drawn_whole, told_at_once  # noqa: PLC0415  not on the way to the window

        floor = self._work.station.floor()
        report, asked, boards = told_at_once(self._asked(floor, ReportWord("story", date.min, date.max, container)))
        dialog = self._shown("story", report, asked, boards)
        if self._errand is None:
            copied = replace(asked, floor=replace(floor, ledger=floor.ledger.copied()))
            self._run(dialog, lambda pace: drawn_whole(replace(copied, pace=pace)), self._drawn)
        return dialog

    def _drawn(self, answer: object) -> None:
        dialog = self._still_wanted()
        if isinstance(dialog, ShownStory) and isinstance(answer, BoardModel):
            dialog.remark("")
            dialog.take_board(answer)

    def _ask(self, name: str, of: str) -> PaperDialog:
        floor = self._work.station.floor()
        today = floor.now.astimezone(floor.zone).date()
        dialog = ReportDialog(ReportWord(name, today - USUAL_DAYS, today, of), self._host)
        dialog.offered.connect(lambda word: self._build(dialog, word))
        return dialog

    # ------------------------------------------------------------------ building

    def _asked(self, floor: Floor, word: ReportWord) -> "Asked":
        from station.reports.asked import Asked, Made  # noqa: PLC0415  as above
        from station.ui.report_work import SINCE_EVER  # noqa: PLC0415

        station = self._work.station
        who = station.sessions[station.place].context.person or ""
        made = Made(who, floor.now, f"{station.site.name}, station {station.site.station}", station.head())
        whole = word.first == date.min
        since = SINCE_EVER if whole else _midnight(word.first, floor.zone)
        until = floor.now + timedelta(days=1) if whole else _midnight(word.last + timedelta(days=1), floor.zone)
        return Asked(floor, made, since, until, word.of, station.site.currency, station.site.shifts)

    def _build(self, dialog: ReportDialog, word: ReportWord) -> None:
        """Beside the window, on a copy of the floor as it is now: it goes on changing meanwhile."""
        from station.ui.report_work import worked_out  # noqa: PLC0415  as above

        if self._errand is not None:
            dialog.refuse(BUSY)
            return
        floor = self._work.station.floor()
        asked = self._asked(replace(floor, ledger=floor.ledger.copied()), word)
        dialog.remark(f"{BUILDING} {TO_STOP}")
        self._run(dialog, lambda pace: (word.name, *worked_out(word.name, replace(asked, pace=pace))), self._built)

    def _built(self, answer: object) -> None:
        dialog = self._still_wanted()
        if dialog is None:
            return
        if not isinstance(answer, tuple):
            dialog.refuse(FAILED)
            return
        dialog.remark("")
        self._forms.lay(self._shown(*answer))

    # ------------------------------------------------------------------ showing and writing

    def _shown(
        self, name: str, report: "Report", asked: "Asked", boards: tuple[BoardModel | None, ...] = ()
    ) -> ShownReport:
        dialog = ShownStory(report, boards, self._host) if boards else ShownReport(report, self._host)
        dialog.wanted.connect(lambda form: self._write(dialog, form, name, asked))
        return dialog

    def _write(self, dialog: ShownReport, form: str, name: str, asked: "Asked") -> None:
        from station.reports.csv_file import WITH_COMMA, WITH_POINT  # noqa: PLC0415  as above
        from station.reports.files import csv_files, pdf_files, write_all  # noqa: PLC0415

        if self._errand is not None:
            dialog.remark(BUSY)
            return
        stamp = f"{name}-{asked.made.at.astimezone(asked.floor.zone):%Y-%m-%d-%H%M%S}"
        folder, report = self._where(), dialog.report

        def work(pace: "Pace") -> object:
            csv_form = {AS_CSV: WITH_POINT, AS_CSV_COMMA: WITH_COMMA}.get(form)
            if csv_form is not None:
                files = csv_files(stamp, report, csv_form, pace)
            else:
                files = pdf_files(stamp, report, asked, pace)
            pace(SAVING, 0, 1)
            try:
                return ", ".join(map(str, write_all(folder, files)))
            except Refusal as refusal:
                return refusal.sentence

        dialog.remark(f"{WRITING} {TO_STOP}")
        self._run(dialog, work, self._written)

    def _written(self, answer: object) -> None:
        dialog = self._still_wanted()
        if dialog is not None:
            dialog.remark(answer if isinstance(answer, str) else FAILED)

    # ------------------------------------------------------------------ beside the window

    def _run(self, dialog: PaperDialog, work: "Callable[[Pace], object]", told: Callable[[object], None]) -> None:
        """Do it while the form stands."""
        from station.ui.paced_errand import PacedErrand  # noqa: PLC0415  as above

        self._then, self._waiting, self._errand = told, dialog, PacedErrand(work, self)
        dialog.left.connect(self._stop)
        self._errand.paced.connect(self._tell)  # methods of an object of this thread: they are called on this thread
        self._errand.told.connect(self._over)
        self._errand.finished.connect(self._errand.deleteLater)
        self._errand.start()

    def _stop(self) -> None:
        self._waiting = None
        if self._errand is not None:
            self._errand.stop()

    def _tell(self, words: str) -> None:
        dialog = self._waiting
        if dialog is not None and isValid(dialog) and not dialog.isHidden():
            dialog.remark(f"{words}. {TO_STOP}")

    def _over(self, answer: object) -> None:
        self._errand = None
        self._then(answer)

    def _still_wanted(self) -> PaperDialog | None:
        """The form that waits, unless it was left meanwhile."""
        dialog, self._waiting = self._waiting, None
        return dialog if dialog is not None and isValid(dialog) and not dialog.isHidden() else None

    def _where(self) -> Path:
        place = QStandardPaths.StandardLocation.DocumentsLocation
        return self._folder or Path(QStandardPaths.writableLocation(place)) / FOLDER


def _midnight(day: date, zone: ZoneInfo) -> datetime:
    """When a plant day begins."""
    return datetime.combine(day, time(), zone)
