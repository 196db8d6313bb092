"""Counting from the desk, and the differences a count left: listed, looked at one by one, and settled."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from station.care import counting
from station.care.counting_differences import LEAD_ONLY, TODO, Difference, Settled, differences, unsettled, ways
from station.care.counting_fold import Count
from station.care.words import Finding, Settling
from station.services.counting import BEGIN, LATER, TOUCHES, settle_difference
from station.services.station import Proof
from station.ui import wording
from station.ui.desk_work import DeskWork
from station.ui.dialogs.lead_dialog import LeadDialog, LeadWord
from station.ui.dialogs.note_dialog import NoteDialog, NoteWord
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.sheet import MoreDialog, ReadDialog
from station.ui.forms import Forms
from station.ui.present.counts import DIFFERENCES, difference_offer, whole_later
from station.ui.present.verdicts import subject_of
from station.ui.view_models import ActionModel

COUNTS, DIFFERENCE, SETTLE = "count", "difference", "settle"
MOST_LISTED = 12
SAID = {
    Settling.FOUND: ("Found", "it was in there"),
    Settling.NOT_FOUND: ("Not found", "shift lead: it ends"),
    Settling.DISCARDED: ("Discarded", "shift lead: it ends"),
    Settling.LOOKED_INTO: ("Looked into", "shift lead, with a reason"),
}
WHERE = "Where was it found? It stands in the record"
GONE = "Every difference of that count is seen to."
NO_DOOR = "This site has no store with a door of its own to count at."


class CountForms:
    """Makes the forms; `openers` says which act each belongs to."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms) -> None:
        """No form is open."""
        self._host, self._work, self._forms = host, work, forms
        self.openers: dict[str, Callable[[str], PaperDialog | None]] = {
            COUNTS: lambda _rest: self._counts(),
            DIFFERENCES: self._differences,
            DIFFERENCE: self._difference,
            SETTLE: self._settle,
        }

    def _counts(self) -> PaperDialog:
        floor = self._work.station.floor()
        doors = tuple(
            ActionModel(f"{BEGIN}:{place.id}", f"Count: {place.title}", "this station works there then")
            for place in self._work.station.site.places
            if place.store is not None and counting.running(floor, place.id) is None
        )
        left = tuple(difference_offer(floor, count, found) for count, found in unsettled(floor))
        return self._choice("Counts", (*left, *whole_later(floor), *doors), () if doors else (NO_DOOR,))

    def _differences(self, name: str) -> PaperDialog:
        floor = self._work.station.floor()
        count = floor.ledger.counts.get(name)
        found = differences(floor, count) if count is not None and count.ended_at is not None else ()
        if count is None or not found:
            return ReadDialog("Differences", (("Nothing to see to", (GONE,)),), self._host)
        title = f"{floor.plant.stores[count.store].title}: {_offer_text(found)}"
        lines = (_since(self._work, count), *_more(found))
        listed = tuple(
            ActionModel(f"{DIFFERENCE}:{name}:{one.container}", one.spoken, one.finding.value)
            for one in found[:MOST_LISTED]
        )
        return self._choice(title, listed, lines)

    def _difference(self, rest: str) -> PaperDialog | None:
        name, _, container = rest.partition(":")
        found = self._standing(name, container)
        if found is None:
            return self._differences(name)
        floor = self._work.station.floor()
        known = floor.container(container)
        what = (f"{subject_of(floor, known)}, lot {known.lot}.",) if known is not None else ()
        ways_offered = tuple(
            ActionModel(f"{SETTLE}:{name}:{container}:{way.name}", *SAID[way]) for way in ways(found.finding)
        )
        if found.finding is Finding.MISSING:
            ways_offered = (*ways_offered, ActionModel(f"late:{container}", "Taken out", "shift lead: enter when"))
        back = ActionModel(f"{DIFFERENCES}:{name}", "The others", "back to the list")
        return self._choice(
            f"{found.spoken}: {found.finding.value}", (*ways_offered, back), (*what, TODO[found.finding])
        )

    def _settle(self, rest: str) -> PaperDialog | None:
        name, container, way = rest.split(":")
        found, how = self._standing(name, container), Settling[way]
        if found is None:
            return self._differences(name)
        title, lines = f"{found.spoken}: {how.value}", (f"The count found: {found.finding.value}.",)
        if how not in LEAD_ONLY:
            note = NoteDialog(title, WHERE, self._host, lines=lines)
            note.offered.connect(lambda word: self._told(name, container, how, word))
            return note
        lead = LeadDialog(title, self._host, lines=lines, people=self._forms.people())
        lead.offered.connect(lambda word: self._told(name, container, how, word))
        return lead

    # ------------------------------------------------------------------ inside

    def _standing(self, name: str, container: str) -> Difference | None:
        floor = self._work.station.floor()
        count = floor.ledger.counts.get(name)
        found = differences(floor, count) if count is not None else ()
        return next((one for one in found if one.container == container), None)

    def _told(self, name: str, container: str, how: Settling, word: LeadWord | NoteWord) -> None:
        note = word.reason if isinstance(word, LeadWord) else word.note
        proof = Proof(word.badge, word.pin) if isinstance(word, LeadWord) else None
        told = Settled(name, container, how, note)
        station = self._work.station
        if self._forms.tell(lambda: self._work.told(settle_difference(station, told, proof))) and self._left(name):
            self._forms.open(DIFFERENCES, name)

    def _left(self, name: str) -> bool:
        floor = self._work.station.floor()
        return any(count.id == name for count, _ in unsettled(floor))

    def _choice(self, title: str, offers: tuple[ActionModel, ...], lines: tuple[str, ...]) -> PaperDialog:
        dialog = MoreDialog(title, offers, self._host, lines=lines)
        dialog.offered.connect(lambda act: self._go_to(dialog, act))
        return dialog

    def _go_to(self, dialog: PaperDialog, act: str) -> None:
        kind, _, rest = act.partition(":")
        if kind not in TOUCHES:
            dialog.leave()
            self._forms.open(kind, rest)
            return
        self._forms.tell(lambda: self._counted(kind, rest))
        if kind == LATER and self._left(rest):
            self._forms.open(DIFFERENCES, rest)

    def _counted(self, touch: str, name: str) -> None:
        if touch == BEGIN:
            self._work.go_to(name)
        self._work.count(touch, name)


def _offer_text(found: tuple[Difference, ...]) -> str:
    return "1 difference" if len(found) == 1 else f"{len(found)} differences"


def _since(work: DeskWork, count: Count) -> str:
    floor = work.station.floor()
    how = count.how.value if count.how is not None else ""
    return f"Count begun {wording.moment(count.begun_at, floor.now, floor.zone)}; {how}. Touch one to see to it."


def _more(found: tuple[Difference, ...]) -> tuple[str, ...]:
    more = len(found) - MOST_LISTED
    return (f"{more} more come up when these are seen to.",) if more > 0 else ()
