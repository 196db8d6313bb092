"""People at the desk: who works here, somebody new, somebody who changes or goes, another PIN."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from station.care.state import Somebody
from station.services.people_acts import PersonWord, change_pin, record_person
from station.services.station import Proof
from station.ui.desk_work import DeskWork
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.person_dialog import NewPinDialog, NewPinWord, PersonDialog, PersonDialogWord
from station.ui.dialogs.sheet import MoreDialog
from station.ui.forms import Forms
from station.ui.view_models import ActionModel

NEW = "new"
LISTED = "Touch somebody to change what they may do. A shift lead minds the operators, a process engineer everybody."


class StaffForms:
    """Makes the forms; `openers` says which act each belongs to."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms) -> None:
        """No form is open."""
        self._host, self._work, self._forms = host, work, forms
        self.openers: dict[str, Callable[[str], PaperDialog | None]] = {
            "staff": lambda _rest: self._list(),
            "person": self._person,
            "own-pin": lambda _rest: self._own_pin(),
        }

    def _list(self) -> PaperDialog:
        known = self._work.station.ledger.people.values()
        here = sorted((found for found in known if not found.left), key=lambda found: found.name)
        choices = (*(_offer(found) for found in here), ActionModel(f"person:{NEW}", "Somebody new", "and their badge"))
        dialog = MoreDialog("Who works here", choices, self._host, lines=(LISTED,))
        dialog.offered.connect(lambda act: self._go_to(dialog, act))
        return dialog

    def _go_to(self, dialog: PaperDialog, act: str) -> None:
        dialog.leave()
        kind, _, rest = act.partition(":")
        self._forms.open(kind, rest)

    def _person(self, id_: str) -> PaperDialog:
        known = self._work.station.ledger.people.get(id_) if id_ != NEW else None
        dialog = PersonDialog(known, self._host, people=self._forms.people())
        dialog.offered.connect(self._recorded)
        return dialog

    def _recorded(self, word: PersonDialogWord) -> None:
        told = PersonWord(word.person, word.name, word.roles, word.training_until, word.new_pin, word.left)
        proof = Proof(word.badge, word.pin)
        self._forms.tell(lambda: self._work.told(record_person(self._work.station, told, proof)))

    def _own_pin(self) -> PaperDialog:
        dialog = NewPinDialog(self._host, people=self._forms.people())
        dialog.offered.connect(self._pin_changed)
        return dialog

    def _pin_changed(self, word: NewPinWord) -> None:
        proof = Proof(word.badge, word.pin)
        self._forms.tell(lambda: self._work.told(change_pin(self._work.station, proof, word.new_pin)))


def _offer(person: Somebody) -> ActionModel:
    roles = " and ".join(role.value for role in person.roles)
    return ActionModel(f"person:{person.id}", person.name, f"{person.id}, {roles}")
