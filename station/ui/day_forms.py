"""The forms of a shift lead's day: what needs a word, what to do before work stops, what passed meanwhile."""

from collections.abc import Callable
from datetime import timedelta

from PySide6.QtWidgets import QWidget

from station.care import alarms
from station.care.alarm_floods import Cause, cause_of, same_cause
from station.care.closing_list import closing_list
from station.care.floor import Floor
from station.care.shelving import Shelving
from station.care.state import Alarm
from station.services.clearing import clear_together, shelve, unshelve
from station.services.shift_calendar import next_start, stops
from station.services.station import Proof
from station.ui import wording
from station.ui.chosen_files import enclosed
from station.ui.desk_work import DeskWork
from station.ui.dialogs.clear_dialog import AlarmToClear, ClearDialog, ClearWord, DispositionOffer
from station.ui.dialogs.lead_dialog import LeadDialog, LeadWord
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.rows_dialog import RowsDialog
from station.ui.dialogs.shelve_dialog import ShelveDialog, ShelveWord
from station.ui.forms import Forms
from station.ui.present.alarm_cards import CLEAR_GROUP, HINTS, SHOW_GROUP, printed_between, shelved_text, title_of
from station.ui.present.day_rows import (
    SHELVE,
    UNSHELVE,
    ListPart,
    alarm_parts,
    closing_parts,
    day_parts,
    shelving_parts,
)

DAY_LIST, CLOSING, MISSED, SHELVING = "day-list", "closing-list", "missed", "shelving"
FORMS = frozenset(
    {
        "clear",
        "confirm-clock",
        "release",
        "restored",
        "release-lot",
        "excursions-seen",
        "differences",
        "version",
        "stock",
        CLEAR_GROUP,
        SHOW_GROUP,
    }
)
WITHOUT_CALENDAR = timedelta(hours=24)
NO_NEED = "Nothing needs a shift lead now."
NOTHING_PASSES = "Nothing passes before then, nothing is on hold, and all labels are paired."
NOTHING_TO_SHELVE = (
    "No alarm may be shelved now: never bad paste at a stencil, and never one that only waits for a word."
)
NOTHING_MISSED = "Nothing that passed while this station was off is still open."
ONE_WORD = "What you say here stands in the record of each of them. Clear alone what is otherwise."
MOST_NAMED = 12


class DayForms:
    """Makes the forms; `openers` says which act each belongs to."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms) -> None:
        """No form is open."""
        self._host, self._work, self._forms = host, work, forms
        self.openers: dict[str, Callable[[str], PaperDialog | None]] = {
            DAY_LIST: lambda _rest: self._day(),
            CLOSING: lambda _rest: self._closing(),
            MISSED: lambda _rest: self._missed(),
            SHOW_GROUP: self._group,
            CLEAR_GROUP: self._together,
            SHELVING: lambda _rest: self._shelving(),
            SHELVE: self._shelve,
            UNSHELVE: self._unshelve,
        }

    # ------------------------------------------------------------------ lists

    def _day(self) -> PaperDialog:
        floor = self._work.station.floor()
        title = f"Day list, {wording.day_and_time(floor.now, floor.zone)}"
        return self._list(title, day_parts(floor, FORMS), NO_NEED)

    def _closing(self) -> PaperDialog:
        floor, shifts = self._work.station.floor(), self._work.station.site.shifts
        opens = next_start(shifts, floor.zone, floor.now)
        until = opens or floor.now + WITHOUT_CALENDAR
        found = closing_list(floor, until, stops(shifts, floor.zone, floor.now))
        at = wording.day_and_time(until, floor.zone)
        title = f"Closing list: before the next shift, {at}" if opens else f"Closing list: the next 24 h, until {at}"
        return self._list(title, closing_parts(floor, found, FORMS), NOTHING_PASSES)

    def _missed(self) -> PaperDialog:
        floor = self._work.station.floor()
        title = "Passed while this station was off"
        return self._list(title, alarm_parts(floor, self._work.missed, FORMS), NOTHING_MISSED)

    def _group(self, alarm_id: str) -> PaperDialog | None:
        floor = self._work.station.floor()
        found, cause = _alike(floor, alarm_id)
        if cause is None:
            return None
        title = f"{len(found)} of lot {cause.spoken}"
        return self._list(title, alarm_parts(floor, [alarm.id for alarm in found], FORMS), NO_NEED)

    def _shelving(self) -> PaperDialog:
        return self._list("Shelve an alarm", shelving_parts(self._work.station.floor()), NOTHING_TO_SHELVE)

    def _list(self, title: str, parts: tuple[ListPart, ...], empty: str) -> PaperDialog:
        dialog = RowsDialog(title, parts, self._host, empty=empty)
        dialog.offered.connect(lambda act: self._go_to(dialog, act))
        return dialog

    def _go_to(self, dialog: PaperDialog, act: str) -> None:
        dialog.leave()
        kind, _, rest = act.partition(":")
        self._forms.open(kind, rest)

    # ------------------------------------------------------------------ shelving

    def _shelve(self, alarm_id: str) -> PaperDialog | None:
        floor = self._work.station.floor()
        alarm = floor.ledger.alarms.get(alarm_id)
        if alarm is None:
            return None
        dialog = ShelveDialog(f"Shelve: {title_of(floor, alarm)}", self._host, people=self._forms.people())
        dialog.offered.connect(lambda word: self._shelved(alarm_id, word))
        return dialog

    def _shelved(self, alarm_id: str, word: ShelveWord) -> None:
        told, proof = Shelving(alarm_id, word.length, word.reason), Proof(word.badge, word.pin)
        self._forms.tell(lambda: self._work.told(shelve(self._work.station, told, proof)))

    def _unshelve(self, alarm_id: str) -> PaperDialog | None:
        floor = self._work.station.floor()
        alarm = floor.ledger.alarms.get(alarm_id)
        if alarm is None:
            return None
        title, lines = f"End the shelving: {title_of(floor, alarm)}", (shelved_text(floor, alarm),)
        people = self._forms.people()
        dialog = LeadDialog(title, self._host, lines=lines, act="End it", ask_reason=False, people=people)
        dialog.offered.connect(lambda word: self._unshelved(alarm_id, word))
        return dialog

    def _unshelved(self, alarm_id: str, word: LeadWord) -> None:
        proof = Proof(word.badge, word.pin)
        self._forms.tell(lambda: self._work.told(unshelve(self._work.station, alarm_id, proof)))

    # ------------------------------------------------------------------ several at once

    def _together(self, alarm_id: str) -> PaperDialog | None:
        floor = self._work.station.floor()
        found, cause = _alike(floor, alarm_id)
        if cause is None:
            return None
        named = ", ".join(alarm.subject.replace("-", " ") for alarm in found[:MOST_NAMED])
        more = f" and {len(found) - MOST_NAMED} more" if len(found) > MOST_NAMED else ""
        to_clear = AlarmToClear(
            title=f"{len(found)} of lot {cause.spoken}",
            lines=(f"{named}{more}.", ONE_WORD),
            offers=_offers(floor, found),
            boards_printed=printed_between(floor, found),
            asks_photo=True,
        )
        dialog = ClearDialog(to_clear, self._host, people=self._forms.people())
        asked = tuple(alarm.id for alarm in found)
        dialog.offered.connect(lambda word: self._cleared(asked, word))
        return dialog

    def _cleared(self, alarm_ids: tuple[str, ...], word: ClearWord) -> None:
        clearing = alarms.Clearing("", word.disposition, word.reason, word.boards, word.document, word.grams)
        proof = Proof(word.badge, word.pin)
        station = self._work.station

        def clear() -> None:
            files = tuple(map(enclosed, word.photos))
            self._work.told(clear_together(station, alarm_ids, clearing, proof, files))

        self._forms.tell(clear)


def _alike(floor: Floor, alarm_id: str) -> tuple[tuple[Alarm, ...], Cause | None]:
    asked = floor.ledger.alarms.get(alarm_id)
    found = same_cause(floor, alarm_id)
    return found, cause_of(floor, asked) if asked is not None and found else None


def _offers(floor: Floor, found: tuple[Alarm, ...]) -> tuple[DispositionOffer, ...]:
    """What may be said of every one of them."""
    each = [alarms.dispositions(floor, alarm) for alarm in found]
    common = (disposition for disposition in each[0] if all(disposition in others for others in each))
    return tuple(DispositionOffer(disposition, HINTS[disposition]) for disposition in common)
