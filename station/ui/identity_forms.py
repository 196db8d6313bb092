"""An identity label once more, from the shift desk."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from station.care.words import Place
from station.services.identity_again import print_identity
from station.ui.desk_work import DeskWork
from station.ui.dialogs.identity_dialog import IdentityDialog, IdentityWord
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.forms import Forms
from station.ui.view_models import ActionModel


class IdentityForms:
    """Makes the form; `openers` says which act it belongs to."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms) -> None:
        """No form is open."""
        self._host, self._work, self._forms = host, work, forms
        self.openers: dict[str, Callable[[str], PaperDialog | None]] = {"identity": lambda _rest: self._ask()}

    def _ask(self) -> PaperDialog:
        dialog = IdentityDialog(self._places(), self._work.station.place, self._host)
        dialog.offered.connect(self._print)
        return dialog

    def _places(self) -> tuple[ActionModel, ...]:
        """The place worked at, and each other one whose labels may come out somewhere else."""
        station = self._work.station
        elsewhere = {name for rule in station.site.label_for for name in rule.places}
        return tuple(
            ActionModel(place.id, place.title)
            for place in station.site.places
            if place.id == station.place or place.id in elsewhere or (elsewhere and place.kind is Place.FRIDGE)
        )

    def _print(self, word: IdentityWord) -> None:
        self._forms.tell(lambda: self._work.told(print_identity(self._work.station, word.number, word.place)))
