"""The forms over a screen: which one opens for which touch, and what the station is told when one is handed in."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from station.care import alarms
from station.care.makers_label import MakersLabel
from station.care.refused import Refused
from station.care.state import Alarm
from station.care.story import LOT, PERSON, WORK_ORDER
from station.care.words import Role
from station.services.attachments import clear_alarm
from station.services.outcome import Refusal
from station.services.ports import JournalTrouble
from station.services.station import Proof
from station.ui import wording
from station.ui.alarm_forms import AlarmForms
from station.ui.chosen_files import enclosed
from station.ui.count_forms import CountForms
from station.ui.day_forms import DayForms
from station.ui.desk_work import DeskWork
from station.ui.dialogs.clear_dialog import AlarmToClear, ClearDialog, ClearWord, DispositionOffer
from station.ui.dialogs.find_dialog import FindDialog
from station.ui.dialogs.lead_dialog import LeadDialog, LeadWord
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.place_dialog import PlaceDialog
from station.ui.dialogs.receive_dialog import ReceiveDialog
from station.ui.dialogs.recertify_dialog import RecertifyDialog
from station.ui.dialogs.report_dialog import ReportDialog
from station.ui.dialogs.room_dialog import ReadBefore, RoomDialog, RoomWord
from station.ui.dialogs.subject_dialog import SubjectDialog
from station.ui.excursions import ReadingsForms
from station.ui.identity_forms import IdentityForms
from station.ui.lead_forms import LeadForms
from station.ui.present.alarm_cards import HINTS, printed_between, title_of
from station.ui.proof_forms import ProofForms
from station.ui.receive_forms import ReceiveForms
from station.ui.record_forms import RecordForms
from station.ui.report_forms import ReportForms
from station.ui.restored_forms import RestoredForms
from station.ui.sheet_forms import SheetForms
from station.ui.single_code_forms import SingleCodeForms
from station.ui.spec_forms import SpecForms
from station.ui.staff_forms import StaffForms
from station.ui.stock_forms import StockForms
from station.ui.store_forms import StoreForms
from station.ui.view_models import ActionModel

if TYPE_CHECKING:
    from station.ui.room_file.flow import RoomFileFlow
    from station.ui.warm_up.flow import WarmUpFlow


class PeopleDialogs(QObject):
    """Opens forms over `host` and tells the station what they say. `done` comes when something was recorded."""

    done = Signal()

    def __init__(self, host: QWidget, work: DeskWork, sheets: Path | None = None) -> None:
        """No form is open; printed sheets go into the folder `sheets`, by default among the account's documents."""
        super().__init__(host)
        self._host = host
        self._work = work
        self._open: list[PaperDialog] = []
        self._reports = ReportForms(host, work, self)
        self._readings = ReadingsForms(host, work, self)
        self._receive = ReceiveForms(host, work, self)
        self._proof = ProofForms(host, work, self)
        self._openers: dict[str, Callable[[str], PaperDialog | None]] = {
            "clear": self._clear,
            "release": self._release,
            "room": lambda _rest: self._room(),
            "confirm-clock": lambda _rest: self._confirm_clock(),
            "places": lambda _rest: self._places(),
            "figures": self._figures,
            **self._receive.openers,
            **LeadForms(host, work, self).openers,
            **StaffForms(host, work, self).openers,
            **SheetForms(host, work, self, sheets).openers,
            **SingleCodeForms(host, work, self).openers,
            **IdentityForms(host, work, self).openers,
            **StockForms(host, work).openers,
            **self._readings.openers,
            **self._reports.openers,
            **DayForms(host, work, self).openers,
            **CountForms(host, work, self).openers,
            **RecordForms(host, work, self).openers,
            **self._proof.openers,
            **AlarmForms(host, work, self).openers,
            **StoreForms(host, work, self).openers,
            **SpecForms(host, work, self).openers,
            **RestoredForms(host, work, self).openers,
        }
        self._warm_up: WarmUpFlow | None = None
        self._room_file: RoomFileFlow | None = None

    def open(self, kind: str, rest: str) -> None:
        """Open the form of a touch; a second touch while one is open does nothing."""
        if self._open:
            return
        dialog = self._openers[kind](rest)
        if dialog is not None:
            self.lay(dialog)

    def lay(self, dialog: PaperDialog) -> None:
        """Lay a form over the screen, or over the form that asks for it and waits below."""
        lead = self._lead()
        if lead and isinstance(dialog, LeadDialog):
            dialog.badge.fill(lead)
        self._open.append(dialog)
        dialog.left.connect(lambda: self._open.remove(dialog))
        dialog.open()
        dialog.refuse("")  # laid out once more, now that the form knows its size

    @property
    def busy(self) -> bool:
        """Whether a form is open: it covers the answer, so no scan may act meanwhile."""
        return bool(self._open)

    def ask_to_finish(self) -> None:
        """A scan came that the open form does not wait for: said in the form, recorded nowhere."""
        if self._open:
            told = "A scan came in; nothing was recorded. Finish or leave this form first, then scan it."
            self._open[-1].remark(told)

    def take_badge(self, person: str) -> bool:
        """A badge was scanned: an open form that asks for one takes it."""
        top = self._open[-1] if self._open else None
        if isinstance(top, LeadDialog | RecertifyDialog):
            top.take_badge(person)
            return True
        return self._take_of(PERSON, person)

    def take_container(self, name: str) -> bool:
        """A container was scanned: an open form that looks for one takes it, and nothing is recorded."""
        top = self._open[-1] if self._open else None
        if isinstance(top, FindDialog):
            top.take_number(name)
            return True
        return self.take_subject(f"container:{name}")

    def take_subject(self, about: str) -> bool:
        """Something was scanned, as `kind:name`: an open form that asks what a note is of takes it."""
        top = self._open[-1] if self._open else None
        if isinstance(top, SubjectDialog):
            top.take_subject(about)
            return True
        kind, _, name = about.partition(":")
        return self._take_of(kind, name)

    def take_work_order(self, order: str) -> bool:
        """A work order was scanned: an open form that asks what a report is of takes it."""
        return self._take_of(WORK_ORDER, order)

    def _take_of(self, kind: str, name: str) -> bool:
        top = self._open[-1] if self._open else None
        if isinstance(top, ReportDialog):
            top.take_subject(kind, name)
            return True
        return False

    def take_makers_label(self, label: MakersLabel) -> bool:
        """A maker's label was scanned: an open form of a delivery takes it."""
        top = self._open[-1] if self._open else None
        if isinstance(top, ReceiveDialog):
            self._receive.take_makers_label(top, label)
            return True
        return bool(label.lot) and self._take_of(LOT, label.lot)

    def receive(self, label: MakersLabel) -> None:
        """Open the form of a delivery for the maker's label that was scanned."""
        self.open("receive", "")
        self.take_makers_label(label)

    # ------------------------------------------------------------------ the forms

    def _clear(self, alarm_id: str) -> PaperDialog | None:
        floor = self._work.station.floor()
        alarm = floor.ledger.alarms.get(alarm_id)
        if alarm is None:
            return None
        printed = printed_between(floor, (alarm,))
        lines = (f"Since {wording.moment(alarm.since, floor.now, floor.zone)}.",)
        to_clear = AlarmToClear(title_of(floor, alarm), lines, self._offers(alarm), printed, asks_photo=True)
        dialog = ClearDialog(to_clear, self._host, people=self.people())
        dialog.offered.connect(lambda word: self._cleared(alarm_id, word))
        return dialog

    def _offers(self, alarm: Alarm) -> tuple[DispositionOffer, ...]:
        floor = self._work.station.floor()
        return tuple(DispositionOffer(found, HINTS[found]) for found in alarms.dispositions(floor, alarm))

    def _cleared(self, alarm_id: str, word: ClearWord) -> None:
        clearing = alarms.Clearing(alarm_id, word.disposition, word.reason, word.boards, word.document, word.grams)
        floor = self._work.station.floor()
        alarm = floor.ledger.alarms.get(alarm_id)
        title = title_of(floor, alarm) if alarm is not None else ""
        said = f"{title}: {word.disposition.value}."
        station, proof = self._work.station, Proof(word.badge, word.pin)

        def clear() -> None:
            outcome = clear_alarm(station, clearing, proof, tuple(map(enclosed, word.photos)))
            if outcome.verdict is not None:
                outcome = replace(outcome, verdict=replace(outcome.verdict, why=said))
            self._work.told(outcome)

        self._tell(clear)

    def _release(self, rest: str) -> PaperDialog | None:
        container, _, hold = rest.partition(":")
        found = self._work.station.ledger.containers.get(container)
        held = next((entry for entry in found.holds if entry.key == hold), None) if found else None
        if found is None or held is None:
            return None
        title = f"Release {found.spoken}: {held.reason.value}"
        more = len(found.holds) - 1
        lines = (f"{more} more hold stays." if more == 1 else f"{more} more holds stay.",) if more else ()
        dialog = LeadDialog(title, self._host, lines=lines, act="Release", people=self.people())
        station = self._work.station
        said = f"{found.spoken} is released: {held.reason.value}."
        dialog.offered.connect(
            lambda word: self._tell(
                lambda: station.release(container, hold, word.reason, word.badge, word.pin), "RELEASED", said
            )
        )
        return dialog

    def _confirm_clock(self) -> PaperDialog:
        floor = self._work.station.floor()
        shown = f"{wording.wall_clock(floor.now, floor.zone)} {wording.zone_name(floor.now, floor.zone)}"
        dialog = LeadDialog(
            "Is the time right?",
            self._host,
            lines=(f"This PC shows {shown}.", "Compare it with a clock you trust. If it is wrong, set the PC first."),
            act="It is right",
            ask_reason=False,
            people=self.people(),
        )
        dialog.offered.connect(self._clock_confirmed)
        return dialog

    def _clock_confirmed(self, word: LeadWord) -> None:
        said = "Readiness goes by this PC's clock again."
        self._tell(lambda: self._work.station.confirm_clock(word.badge, word.pin), "TIME CONFIRMED", said)

    def _room(self) -> PaperDialog:
        dialog = RoomDialog(self._host, before=self._room_before())
        dialog.offered.connect(self._room_read)
        dialog.file_wanted.connect(self._room_from_file)
        return dialog

    def _room_from_file(self) -> None:
        from station.ui.room_file.flow import RoomFileFlow  # noqa: PLC0415  nothing of it is on the way to the window

        if self._room_file is None:
            self._room_file = RoomFileFlow(self._host, self._work, self, self._person)
        self.lay(self._room_file.begin())

    def _room_before(self) -> ReadBefore | None:
        floor = self._work.station.floor()
        air = floor.ledger.room
        if air is None or air.read_at is None:
            return None
        word = RoomWord(air.temperature_c, air.humidity)
        return ReadBefore(word, wording.moment(air.read_at, floor.now, floor.zone))

    def _room_read(self, word: RoomWord) -> None:
        station, person = self._work.station, self._person()
        self._tell(lambda: self._work.told(station.read_room(word.temperature_c, word.humidity, person)))

    def _figures(self, kind: str) -> PaperDialog:
        from station.ui.warm_up.flow import WarmUpFlow  # noqa: PLC0415  nothing of it is on the way to the window

        if self._warm_up is None:
            self._warm_up = WarmUpFlow(self._host, self._work, self)
        return self._warm_up.begin(kind)

    def _places(self) -> PaperDialog:
        site = self._work.station.site
        places = tuple(ActionModel(place.id, place.title, place.kind.value) for place in site.places)
        dialog = PlaceDialog(places, self._work.station.place, self._host)
        dialog.offered.connect(self._place_chosen)
        return dialog

    def _place_chosen(self, place: str) -> None:
        self._leave()
        self._work.go_to(place)
        self.done.emit()

    # ------------------------------------------------------------------ inside

    def tell(self, act: Callable[[], object]) -> bool:
        """Do an act of the form that is open; a refusal is said in it and it stays as it is. Whether it was done."""
        if not self._open:
            return False
        try:
            act()
        except (Refusal, Refused, JournalTrouble) as refusal:
            self._open[-1].refuse(str(refusal))
            return False
        self._leave()
        self.done.emit()
        return True

    def finish(self) -> None:
        """The window goes: wait for what is still being worked out beside it."""
        for flow in (self._warm_up, self._room_file, self._reports, self._readings, self._proof):
            if flow is not None:
                flow.finish()

    def people(self) -> dict[str, str]:
        """Names by badge, of those who work here."""
        return {found.id: found.name for found in self._work.station.ledger.people.values() if not found.left}

    def _tell(self, act: Callable[[], object], headline: str = "", why: str = "") -> None:
        """Tell the station and show in its words what was recorded."""

        def acted() -> None:
            act()
            if headline:
                self._work.said(headline, why)

        self.tell(acted)

    def _leave(self) -> None:
        """Take every form away, the uppermost first."""
        for dialog in reversed(self._open.copy()):
            dialog.leave()

    def _person(self) -> str | None:
        return self._work.station.sessions[self._work.station.place].context.person

    def _lead(self) -> str:
        """The shift lead who is badged in here: asked for the PIN and for no second scan. Nothing for anybody else."""
        person = self._person()
        return person if person and self._work.station.floor().person_has(person, Role.LEAD) else ""
