"""What a person adds to the record at the desk: notes, photos and papers, of anything that is on record."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from station.care.facts import Attached, Fact
from station.care.floor import Floor
from station.services.attachments import attach, attachments_of
from station.ui import wording
from station.ui.chosen_files import enclosed
from station.ui.desk_work import DeskWork
from station.ui.dialogs.evidence_dialog import EvidenceDialog, EvidenceWord
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.subject_dialog import SubjectDialog
from station.ui.forms import Forms
from station.ui.present.subjects import CHOOSE, KINDS, NOTE, offers, title_of_subject
from station.ui.view_models import ActionModel

MOST_SHOWN = 5
SCAN_IT = "Touch it, or scan it now: a container, a badge, the tag of a position or a store. The scan records nothing."
NONE_THERE = "There is none on record here now. You may scan a container, a badge, the tag of a position or a store."
NOT_HERE = "That is not on record at this station. Choose or scan another."


class RecordForms:
    """Makes the forms; `openers` says which act each belongs to."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms) -> None:
        """No form is open."""
        self._host, self._work, self._forms = host, work, forms
        self.openers: dict[str, Callable[[str], PaperDialog | None]] = {NOTE: self._note, CHOOSE: self._choose}

    def _note(self, rest: str) -> PaperDialog | None:
        """Of `kind:name`, of a container by its name alone, or of what is chosen first."""
        if not rest:
            return self._asked("Note or photo: of what?", KINDS, SCAN_IT)
        floor = self._work.station.floor()
        about = rest if ":" in rest else f"container:{rest}"
        title = title_of_subject(floor, about)
        if title is None:
            return None
        before = shown(floor, attachments_of(floor.ledger, about))
        dialog = EvidenceDialog(f"Note or photo: {title}", before, self._host)
        dialog.offered.connect(lambda word: self._said(about, word))
        return dialog

    def _choose(self, kind: str) -> PaperDialog:
        found = offers(self._work.station.floor(), kind)
        return self._asked("Note or photo: of which?", found, SCAN_IT if found else NONE_THERE)

    def _asked(self, title: str, choices: tuple[ActionModel, ...], line: str) -> PaperDialog:
        dialog = SubjectDialog(title, choices, self._host, lines=(line,))
        dialog.offered.connect(lambda act: self._go_to(dialog, act))
        return dialog

    def _go_to(self, dialog: PaperDialog, act: str) -> None:
        kind, _, rest = act.partition(":")
        if kind == NOTE and title_of_subject(self._work.station.floor(), rest) is None:
            dialog.remark(NOT_HERE)
            return
        dialog.leave()
        self._forms.open(kind, rest)

    def _said(self, about: str, word: EvidenceWord) -> None:
        station = self._work.station
        self._forms.tell(
            lambda: self._work.told(attach(station, about, word.note, tuple(map(enclosed, word.files)), station.place))
        )


def shown(floor: Floor, kept: tuple[Fact, ...]) -> tuple[str, ...]:
    """The newest of what is on record, a line each, and how many more there are."""
    lines = [_line(floor, fact, fact.body) for fact in reversed(kept) if isinstance(fact.body, Attached)]
    more = len(lines) - MOST_SHOWN
    return (*lines[:MOST_SHOWN], f"and {more} more") if more > 0 else tuple(lines)


def _line(floor: Floor, fact: Fact, told: Attached) -> str:
    person = floor.ledger.people.get(fact.who or "")
    parts = (wording.moment(fact.at, floor.now, floor.zone), person.name if person else "", told.name, told.note)
    return ", ".join(part for part in parts if part)
