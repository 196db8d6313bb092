"""The record given out at the desk: a day's digest to print, and an export for auditors, written beside the window."""

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QStandardPaths, Signal
from PySide6.QtWidgets import QWidget
from shiboken6 import isValid

from station.care.refused import Refused
from station.care.saying import many
from station.services.given_out import ask_digest, ask_export
from station.services.outcome import Refusal
from station.services.ports import JournalTrouble
from station.services.station import Proof
from station.ui.desk_work import DeskWork
from station.ui.dialogs.export_dialog import ExportAsked, ExportDialog
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.readings import day_in_words
from station.ui.dialogs.report_dialog import AS_CSV, AS_CSV_COMMA, ShownReport
from station.ui.dialogs.sheet import MoreDialog, ReadDialog
from station.ui.forms import Forms
from station.ui.view_models import ActionModel

if TYPE_CHECKING:
    from station.reports.document import Report
    from station.ui.proof_work import Exported
    from station.ui.warm_up.errand import Errand

FOLDER = "Thawmark record"
DAYS = 12
WHICH_DAY = "A digest says where the record stood at the end of a day. Kept on paper elsewhere it shows later, by "
WHICH_DAY += "station verify, whether anything recorded up to then was changed since. Who has it made is recorded."
IN_MEMORY = "This station keeps its record in memory only, as a demo does; there is no file to give out."
WORKING = "It is being worked out. Leave this form to stop it."
BUSY = "The one before is still being worked out. Try again in a moment."
STOPPED = "stopped"
FAILED = "It could not be made: a fault in the program. Nothing was changed. Try once more; if it happens again, tell "
FAILED += "the process engineer what was asked."


class ProofForms(QObject):
    """Makes the forms; `openers` says which act each belongs to."""

    paced = Signal(str, int, int)

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms, folder: Path | None = None) -> None:
        """Files go into `folder`, by default one among the account's own documents."""
        super().__init__(host)
        self._host, self._work, self._forms, self._folder = host, work, forms, folder
        self._errand: Errand | None = None
        self._form: PaperDialog | None = None
        self._stop = False
        self._then: Callable[[object], None] = self._written
        self.paced.connect(self._tell_pace)
        self.openers: dict[str, Callable[[str], PaperDialog | None]] = {
            "digest": self._digest,
            "export": lambda _rest: self._export(),
        }

    def finish(self) -> None:
        """The window goes: stop what is being written and wait for it, for a thread must not outlive the window."""
        self._stop = True
        if self._errand is not None:
            self._errand.wait()

    # ------------------------------------------------------------------ a day's digest

    def _digest(self, _rest: str) -> PaperDialog:
        if self._work.station.record_file is None:
            return self._nothing()
        floor = self._work.station.floor()
        today = floor.now.astimezone(floor.zone).date()
        days = [today - timedelta(days=back) for back in range(DAYS)]
        hints = {0: "not over yet", 1: "yesterday"}
        choices = tuple(ActionModel(day.isoformat(), day_in_words(day), hints.get(n, "")) for n, day in enumerate(days))
        dialog = MoreDialog("Digest of which day?", choices, self._host, lines=(WHICH_DAY,))
        dialog.offered.connect(lambda day: self._digest_wanted(dialog, date.fromisoformat(day)))
        return dialog

    def _digest_wanted(self, dialog: PaperDialog, day: date) -> None:
        from station.reports.of_digest import DigestMade  # noqa: PLC0415  nothing of it is on the way to the window
        from station.ui.proof_work import midnight, worked_digest  # noqa: PLC0415

        station, zone = self._work.station, self._work.station.site.zone
        since, until = midnight(day, zone), midnight(day + timedelta(days=1), zone)
        file = station.record_file
        if file is None or not self._asked(dialog, lambda: ask_digest(station, since, until, station.place)):
            return
        now, who = station.floor().now, station.sessions[station.place].context.person
        named = station.ledger.people.get(who or "")
        made_by = f"{named.name} ({named.id})" if named is not None else ""
        where = f"{station.site.name}, station {station.site.station}"
        made = DigestMade(made_by, now, where, day, until <= now, zone)
        self._begin(dialog, lambda: _or_why(lambda: worked_digest(file, made)), self._digest_made)

    def _digest_made(self, answer: object) -> None:
        from station.reports.document import Report  # noqa: PLC0415  as above

        form = self._still_wanted()
        if form is None:
            return
        if not isinstance(answer, Report):
            form.refuse(answer if isinstance(answer, str) else FAILED)
            return
        form.leave()
        shown = ShownReport(answer, self._host)
        shown.wanted.connect(lambda wanted: self._put(shown, answer, wanted))
        self._forms.lay(shown)

    def _put(self, shown: ShownReport, report: "Report", wanted: str) -> None:
        """One table: written at once."""
        from station.reports.csv_file import WITH_COMMA, WITH_POINT, to_csv  # noqa: PLC0415  as above
        from station.reports.files import write_all  # noqa: PLC0415
        from station.reports.pdf_file import to_pdf  # noqa: PLC0415

        floor = self._work.station.floor()
        form = {AS_CSV: WITH_POINT, AS_CSV_COMMA: WITH_COMMA}.get(wanted)
        name = f"digest-{floor.now.astimezone(floor.zone):%Y-%m-%d-%H%M%S}.{'csv' if form else 'pdf'}"
        content = to_csv(report.tables[0], form, report.told) if form else to_pdf(report, floor.now)
        try:
            shown.remark(", ".join(map(str, write_all(self._where(), {name: content}))))
        except Refusal as refusal:
            shown.remark(refusal.sentence)

    # ------------------------------------------------------------------ an export

    def _export(self) -> PaperDialog:
        if self._work.station.record_file is None:
            return self._nothing()
        dialog = ExportDialog(f"It goes into {self._where()}.", self._host, people=self._forms.people())
        dialog.offered.connect(lambda word: self._export_wanted(dialog, word))
        return dialog

    def _export_wanted(self, dialog: PaperDialog, word: ExportAsked) -> None:
        from station.ui.proof_work import ExportWord, worked_export  # noqa: PLC0415  as above

        station, zone = self._work.station, self._work.station.site.zone
        file, days = station.record_file, ExportWord(word.first, word.last)
        since, until = days.bounds(zone)
        folder = self._where() / f"export-{station.floor().now.astimezone(zone):%Y-%m-%d-%H%M%S}"
        proof = Proof(word.badge, word.pin)
        if file is None or not self._asked(dialog, lambda: ask_export(station, since, until, folder.name, proof)):
            return
        evidence = station.evidence
        work = lambda: _or_why(lambda: worked_export(file, evidence, folder, days, zone, self._pace))  # noqa: E731
        self._begin(dialog, work, self._written)

    def _written(self, answer: object) -> None:
        from station.ui.proof_work import Exported  # noqa: PLC0415  as above

        form = self._still_wanted()
        if form is None:
            return
        if not isinstance(answer, Exported):
            form.refuse(answer if isinstance(answer, str) else FAILED)
            return
        form.leave()
        self._forms.lay(ReadDialog("The export is ready", _parts_of(answer), self._host))

    def _pace(self, what: str, done: int, whole: int) -> None:
        """Called on the other thread: say how far it is, and end it where nobody wants it any more."""
        from station.ui.proof_work import Stopped  # noqa: PLC0415  as above

        if self._stop:
            raise Stopped
        self.paced.emit(what, done, whole)

    def _tell_pace(self, what: str, done: int, whole: int) -> None:
        form = self._form
        if form is not None and isValid(form) and not form.isHidden():
            form.remark(f"{what[:1].upper()}{what[1:]}, {done} of {whole}. Leave this form to stop it.")

    # ------------------------------------------------------------------ both

    def _asked(self, dialog: PaperDialog, ask: Callable[[], object]) -> bool:
        """Whether it may go on and is on record; a refusal is said in the form."""
        if self._errand is not None:
            dialog.refuse(BUSY)
            return False
        try:
            ask()
        except (Refusal, Refused, JournalTrouble) as refusal:
            dialog.refuse(str(refusal))
            return False
        return True

    def _begin(self, dialog: PaperDialog, work: Callable[[], object], then: Callable[[object], None]) -> None:
        from station.ui.warm_up.errand import Errand  # noqa: PLC0415  as above

        self._form, self._stop, self._then = dialog, False, then
        dialog.left.connect(self._left)
        dialog.remark(WORKING)
        self._errand = Errand(work, self)
        self._errand.told.connect(self._over)  # a method of an object of this thread: it is called on this thread
        self._errand.finished.connect(self._errand.deleteLater)
        self._errand.start()

    def _left(self) -> None:
        self._stop, self._form = True, None

    def _over(self, answer: object) -> None:
        self._errand = None
        self._then(answer)

    def _still_wanted(self) -> PaperDialog | None:
        form = self._form
        return form if form is not None and isValid(form) and not form.isHidden() and not self._stop else None

    def _nothing(self) -> PaperDialog:
        return ReadDialog("Nothing to give out", (("No record on disk", (IN_MEMORY,)),), self._host)

    def _where(self) -> Path:
        place = QStandardPaths.StandardLocation.DocumentsLocation
        return self._folder or Path(QStandardPaths.writableLocation(place)) / FOLDER


def _or_why(work: Callable[[], object]) -> object:
    """The answer, or the sentence why there is none."""
    from station.ui.proof_work import Stopped  # noqa: PLC0415  as above

    try:
        return work()
    except (Refusal, JournalTrouble) as trouble:
        return trouble.sentence
    except Stopped:
        return STOPPED


def _parts_of(done: "Exported") -> tuple[tuple[str, tuple[str, ...]], ...]:
    of = f"{many(done.journals, 'journal')} and {many(done.files, 'kept file')}"
    told = (
        "Folder",
        (
            str(done.folder),
            f"{many(done.facts, 'fact')} of {of}.",
            "READ-ME.txt in it says how it is checked without this program.",
        ),
    )
    return (told, ("What the check found wrong", done.faults)) if done.faults else (told,)
