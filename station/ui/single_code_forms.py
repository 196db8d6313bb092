"""One card, badge or tag on a label of its own, from the shift desk: of which sort, which one, and where it went."""

from collections.abc import Callable, Iterator

from PySide6.QtWidgets import QWidget

from station.labels.faults import LabelFault
from station.labels.plaincodes import badge_text
from station.labels.sheet_codes import SheetCode
from station.services.outcome import Refusal
from station.services.single_codes import BADGE, print_badge, print_code
from station.services.station import Proof
from station.ui.desk_work import DeskWork
from station.ui.dialogs.lead_dialog import LeadDialog, LeadWord
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.sheet import MoreDialog, ReadDialog
from station.ui.forms import Forms
from station.ui.view_models import ActionModel

ONE, ONE_OF, ONE_BADGE = "one-code", "one-code-of", "one-code-badge"
SORTS = (
    ("card", "Command card"),
    (BADGE, "Badge"),
    ("position", "Position tag"),
    ("bin", "Bin tag"),
    ("store", "Store tag"),
    ("place", "Place tag"),
    ("set-up", "Scanner set-up card"),
)
A_KEY = "A badge is a key: hand it to the person named on it, and take the old one back."


class SingleCodeForms:
    """Makes the forms; `openers` says which act each belongs to."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms) -> None:
        """Codes come out where the labels of the place do that the station works at."""
        self._host, self._work, self._forms = host, work, forms
        self.openers: dict[str, Callable[[str], PaperDialog | None]] = {
            ONE: lambda _rest: self._sorts(),
            ONE_OF: self._one_of,
            ONE_BADGE: self._badge,
        }

    def _sorts(self) -> PaperDialog:
        choices = tuple(ActionModel(f"{ONE_OF}:{sort}", name) for sort, name in SORTS)
        return self._choice("One on the label printer", choices)

    def _one_of(self, sort: str) -> PaperDialog:
        act = f"{ONE_BADGE}:" if sort == BADGE else ""
        choices = tuple(ActionModel(f"{act}{code.text}", code.name) for code in self._codes(sort))
        title = dict(SORTS)[sort]
        if sort == BADGE:
            return self._choice(title, choices)
        dialog = MoreDialog(title, choices, self._host)
        dialog.offered.connect(lambda text: self._print(dialog, sort, text))
        return dialog

    def _choice(self, title: str, choices: tuple[ActionModel, ...]) -> PaperDialog:
        dialog = MoreDialog(title, choices, self._host)
        dialog.offered.connect(lambda wanted: self._go_on(dialog, wanted))
        return dialog

    def _go_on(self, dialog: PaperDialog, wanted: str) -> None:
        dialog.leave()
        kind, _, rest = wanted.partition(":")
        self._forms.open(kind, rest)

    def _print(self, dialog: PaperDialog, sort: str, text: str) -> None:
        station = self._work.station
        try:
            told = print_code(station, self._code(sort, text), station.place)
        except (LabelFault, Refusal) as trouble:
            dialog.remark(trouble.sentence)
            return
        dialog.leave()
        self._forms.lay(self._done(told))

    def _badge(self, text: str) -> PaperDialog:
        """A lead's word first; then it is said where the badge comes out."""
        code = self._code(BADGE, text)
        dialog = LeadDialog(
            f"Badge of {code.name}", self._host, lines=(A_KEY,), act="Print it", ask_reason=False,
            people=self._forms.people(),
        )  # fmt: skip
        dialog.offered.connect(lambda word: self._badge_wanted(code, word))
        return dialog

    def _badge_wanted(self, code: SheetCode, word: LeadWord) -> None:
        station, told = self._work.station, list[str]()
        person = next((name for name in station.ledger.people if badge_text(name) == code.text), "")

        def act() -> None:
            proof = Proof(word.badge, word.pin)
            try:
                told.append(print_badge(station, code, person, proof, station.place))
            except LabelFault as fault:
                raise Refusal(fault.code, fault.sentence) from fault

        if self._forms.tell(act):
            self._forms.lay(self._done(told[0]))

    def _done(self, told: str) -> PaperDialog:
        return ReadDialog("On its way", (("Label printer", (told,)),), self._host)

    def _code(self, sort: str, text: str) -> SheetCode:
        return next(code for code in self._codes(sort) if code.text == text)

    def _codes(self, sort: str) -> Iterator[SheetCode]:
        """Those of a sort; badges of whoever works here now."""
        from station.printing.sheets.of_site import codes_of  # noqa: PLC0415  nothing of it is on the way to the window

        station = self._work.station
        names = {found.id: found.name for found in station.ledger.people.values() if not found.left}
        here = {badge_text(name) for name in names}
        for code in codes_of(station.site, station.reader.known, (sort,), names):
            if sort != BADGE or code.text in here:
                yield code
