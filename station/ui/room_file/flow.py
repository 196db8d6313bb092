"""The way from a room logger's file to a recorded reading: read beside the window, asked, shown, confirmed."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import timedelta

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget
from shiboken6 import isValid

from station.care.saying import span_up
from station.services import room_air
from station.services.outcome import Refusal
from station.ui import wording
from station.ui.desk_work import DeskWork
from station.ui.forms import Forms
from station.ui.room_file.air_form import AirForm
from station.ui.room_file.finding import AirAsked, AirFound, find_air
from station.ui.warm_up.asked import Asks, Faults
from station.ui.warm_up.errand import Errand
from station.ui.warm_up.questions_form import QuestionsForm

FAILED = "The file could not be read: a fault in the program. Tell the process engineer, and type the figures."


class RoomFileFlow(QObject):
    """One go at a file of room air."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms, person: Callable[[], str | None]) -> None:
        """Nothing is read before a file is chosen; `person` tells who is signed in."""
        super().__init__(host)
        self._host, self._work, self._forms, self._person = host, work, forms, person
        self._errand: Errand | None = None
        self._asked: AirAsked | None = None
        self._form: AirForm | None = None

    def begin(self) -> AirForm:
        """The form, with no file."""
        form = AirForm(self._work.station.site.zone.key, self._host)
        form.name_leaving(self.tr("Back"))
        form.asked.connect(self._read)
        form.rezoned.connect(self._rezoned)
        form.offered.connect(self._record)
        self._form, self._asked = form, None
        return form

    def finish(self) -> None:
        """Wait for what is still being read: a thread must not outlive the window."""
        if self._errand is not None:
            self._errand.wait()

    def _read(self, asked: AirAsked) -> None:
        """Read beside the window. What is asked meanwhile is read next, and the answer before is dropped."""
        self._asked = asked
        if self._form is not None:
            self._form.wait(self.tr("Reading …"))
        if self._errand is not None:
            return
        now = self._work.station.floor().now
        self._errand = Errand(lambda: (asked, find_air(asked, now)), self)
        self._errand.told.connect(self._told)
        self._errand.finished.connect(self._errand.deleteLater)
        self._errand.start()

    def _rezoned(self, zone: str) -> None:
        """The same file once more, with what was answered of it."""
        if self._asked is not None:
            self._read(replace(self._asked, zone=zone))

    def _told(self, answer: object) -> None:
        self._errand = None
        form, wanted = self._form, self._asked
        if form is None or not isValid(form) or form.isHidden() or wanted is None:
            return
        asked, found = answer if isinstance(answer, tuple) else (wanted, None)
        if asked != wanted:
            self._read(wanted)
            return
        form.forget()
        match found:
            case Asks(questions=questions):
                self._ask(QuestionsForm(questions, self._host))
            case Faults(sentences=sentences):
                form.refuse("\n".join(sentences))
            case AirFound():
                self._show(form, found)
            case _:
                form.refuse(FAILED)

    def _ask(self, form: QuestionsForm) -> None:
        form.name_leaving(self.tr("Back"))
        form.offered.connect(lambda answers: self._answered(form, answers))
        self._forms.lay(form)

    def _answered(self, form: QuestionsForm, answers: Mapping[str, tuple[str, ...]]) -> None:
        form.leave()
        if self._asked is not None:
            self._read(replace(self._asked, answers={**self._asked.answers, **answers}))

    def _show(self, form: AirForm, found: AirFound) -> None:
        try:
            room_air.refuse_air(self._work.station.floor(), found.air)
        except Refusal as refusal:
            form.refuse(refusal.sentence)
            return
        form.show_found(found, self._lines(found))

    def _lines(self, found: AirFound) -> tuple[str, ...]:
        """The reading, its time and its file, then the zone that was taken, a repetition, and what was noticed."""
        floor, air = self._work.station.floor(), found.air
        measured = wording.moment(air.at, floor.now, floor.zone)
        age = max(floor.now - air.at, timedelta(0))
        zone = f"The file names no zone: its times are taken as {found.zone}." if found.zone else ""
        before = floor.ledger.room
        same = before is not None and (before.temperature_c, before.humidity) == (air.temperature_c, air.humidity)
        again = "Both figures are those of the reading before: does the logger still measure?" if same else ""
        origin = f"Measured {measured}, {span_up(age)} ago, in {air.file} line {air.line}."
        return (f"{air.temperature_c:g} °C and {air.humidity:g} %", origin, zone, again, *found.notes)

    def _record(self, found: AirFound) -> None:
        air, station = found.air, self._work.station

        def act() -> None:
            self._work.told(room_air.record_air(station, air, self._person()))

        self._forms.tell(act)
