"""What the makers of these forms share: the floor as it is, pastes and drafts by name, and an engineer's proof."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from station.care.floor import Floor
from station.care.rulebook import OpenDraft
from station.care.specification import Paste
from station.care.words import Role
from station.services.outcome import Outcome
from station.services.station import Proof
from station.ui.desk_work import DeskWork
from station.ui.dialogs.lead_dialog import LeadWord
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.forms import Forms
from station.ui.specs.proof_forms import EngineerForm


class Desk:
    """A window with its work and its forms."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms) -> None:
        """Nothing is asked yet."""
        self.host, self.work, self.forms = host, work, forms

    @property
    def floor(self) -> Floor:
        """The floor as it is now."""
        return self.work.station.floor()

    @property
    def drafts(self) -> tuple[OpenDraft, ...]:
        """The open drafts, the oldest first."""
        return self.floor.ledger.rulebook.drafts

    def draft_of(self, paste: str) -> OpenDraft | None:
        """The newest open draft of a paste."""
        found = [draft for draft in self.drafts if draft.specification.paste == paste]
        return found[-1] if found else None

    def paste(self, id_: str) -> Paste | None:
        """A paste by its id, also one that only a draft names."""
        draft = self.draft_of(id_)
        return self.floor.plant.pastes.get(id_) or (draft.paste if draft is not None else None)

    def go_to(self, dialog: PaperDialog, act: str) -> None:
        """Leave a form for the one of an act, `kind:rest`."""
        dialog.leave()
        kind, _, rest = act.partition(":")
        self.forms.open(kind, rest)

    def lay_proof(self, form: EngineerForm) -> None:
        """Lay it over the form that asks; the engineer who is badged in here is asked for the PIN alone."""
        self.forms.lay(form)
        station = self.work.station
        person = station.sessions[station.place].context.person
        known = person is not None and self.floor.person_has(person, Role.ENGINEER)
        form.badge.fill(person if known and person is not None else "")
        form.first_field().setFocus(Qt.FocusReason.OtherFocusReason)  # `lay` knew another badge, or none

    def act(self, act: Callable[[], Outcome]) -> bool:
        """Do an act of the form that is open and show its answer; a refusal is said in it. Whether it was done."""
        return self.forms.tell(lambda: self.work.told(act()))


def proof_of(word: LeadWord) -> Proof:
    """Badge and PIN of a form."""
    return Proof(word.badge, word.pin)
