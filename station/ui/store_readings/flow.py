"""The way from a store's logger file to recorded readings: read beside the window, asked, taken in or stopped."""

from collections.abc import Mapping
from dataclasses import replace

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget
from shiboken6 import isValid

from station.readings.track import unpack
from station.services.cold_readings import record
from station.services.cold_readings_judged import Found, Known, so_far
from station.ui.desk_work import DeskWork
from station.ui.forms import Forms
from station.ui.store_readings.finding import LoggerAsked, found_in
from station.ui.store_readings.instruments import instruments_of
from station.ui.store_readings.logger_form import LoggerForm
from station.ui.view_models import ActionModel
from station.ui.warm_up.asked import Asks, Faults
from station.ui.warm_up.errand import Errand
from station.ui.warm_up.questions_form import QuestionsForm

FAILED = "The file could not be read: a fault in the program. Tell the process engineer, and keep the file."


class LoggerFlow(QObject):
    """One go at a store's logger."""

    progressed = Signal(int, int)

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms) -> None:
        """Nothing is read before a file is handed in."""
        super().__init__(host)
        self._host, self._work, self._forms = host, work, forms
        self._errand: Errand | None = None
        self._asked: LoggerAsked | None = None
        self._form: LoggerForm | None = None
        self._stop = False
        self.progressed.connect(self._tell_rows)

    def begin(self) -> LoggerForm:
        """The form, with no file."""
        site = self._work.station.site
        stores = tuple(ActionModel(store.id, store.title) for store in site.plant.stores.values())
        form = LoggerForm(stores, site.zone.key, instruments_of(self._work.station.floor()), self._host)
        form.offered.connect(self._offered)
        form.rezoned.connect(self._forget)
        form.left.connect(self._left)
        self._form, self._asked = form, None
        return form

    def finish(self) -> None:
        """Stop what is being read and wait for it: a thread must not outlive the window."""
        self._stop = True
        if self._errand is not None:
            self._errand.wait()

    def _offered(self, asked: LoggerAsked) -> None:
        before = self._asked
        same = before is not None and (before.file, before.zone) == (asked.file, asked.zone)
        self._read(replace(asked, answers=before.answers) if before is not None and same else asked)

    def _forget(self) -> None:
        self._asked = None

    def _left(self) -> None:
        self._stop, self._form = True, None

    def _read(self, asked: LoggerAsked) -> None:
        if self._form is None:
            return
        if self._errand is not None:
            self._form.remark(self.tr("The file before is still being let go of. Hand it in again in a moment."))
            return
        self._asked, self._stop = asked, False
        self._form.wait(self.tr("The file is being read. Leave this form to stop it."))
        station = self._work.station
        known, evidence = so_far(station.floor(), asked.store), station.evidence
        self._errand = Errand(lambda: found_in(asked, known, evidence, self._go_on), self)
        self._errand.told.connect(self._told)
        self._errand.finished.connect(self._errand.deleteLater)
        self._errand.start()

    def _go_on(self, rows: int, lines: int) -> bool:
        """Called on the other thread: say how far it is, and whether to go on."""
        self.progressed.emit(rows, lines)
        return not self._stop

    def _tell_rows(self, rows: int, lines: int) -> None:
        if self._errand is not None and self._form is not None:
            said = self.tr("{} rows read of about {}. Leave this form to stop it.")
            self._form.tell(rows, lines, said.format(rows, lines))

    def _told(self, found: object) -> None:
        self._errand = None
        form = self._form
        if form is None or not isValid(form) or form.isHidden() or self._stop:
            return
        form.ready()
        match found:
            case Asks(questions=questions):
                self._ask(QuestionsForm(questions, self._host))
            case Faults(sentences=sentences):
                form.ready("\n".join(sentences))
            case Found() | Known():
                self._record(found)
            case _:
                form.ready(FAILED)

    def _ask(self, form: QuestionsForm) -> None:
        form.name_leaving(self.tr("Back"))
        form.offered.connect(lambda answers: self._answered(form, answers))
        self._forms.lay(form)

    def _answered(self, form: QuestionsForm, answers: Mapping[str, tuple[str, ...]]) -> None:
        form.leave()
        if self._asked is not None:
            self._read(replace(self._asked, answers={**self._asked.answers, **answers}))

    def _record(self, found: Found | Known) -> None:
        station = self._work.station
        self._forms.tell(lambda: self._work.told(record(station, found, unpack, kept=True)))
