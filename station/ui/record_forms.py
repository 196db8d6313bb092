"""What a person adds to the record at the desk: notes, photos and papers of a container."""

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
from station.ui.forms import Forms

MOST_SHOWN = 5


class RecordForms:
    """Makes the form; `openers` says which act it belongs to."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms) -> None:
        """No form is open."""
        self._host, self._work, self._forms = host, work, forms
        self.openers: dict[str, Callable[[str], PaperDialog | None]] = {"note": self._note}

    def _note(self, name: str) -> PaperDialog | None:
        floor = self._work.station.floor()
        container = floor.container(name)
        if container is None:
            return None
        about = f"container:{container.id}"
        before = shown(floor, attachments_of(floor.ledger, about))
        dialog = EvidenceDialog(f"Note or photo: {container.spoken}", before, self._host)
        dialog.offered.connect(lambda word: self._said(about, word))
        return dialog

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
