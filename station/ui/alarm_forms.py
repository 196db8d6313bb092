"""What to do at alarms, at the desk: the list of kinds, and the form that gives one of them other words."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from station.care.reaction_rules import USUAL
from station.care.reactions import known_kinds, of_settings, text_for
from station.care.saying import opening
from station.care.words import Limit
from station.services.alarm_words import change_reaction
from station.services.station import Proof
from station.ui.desk_work import DeskWork
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.reaction_dialog import ReactionDialog, ReactionShown, ReactionWord
from station.ui.dialogs.sheet import MoreDialog
from station.ui.forms import Forms
from station.ui.view_models import ActionModel

LISTED = "These words stand on the card of an alarm, below what happened. They are the process engineer's to change."
AT_LINE, AWAY = "at-line", "away"


class AlarmForms:
    """Makes the forms; `openers` says which act each belongs to."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms) -> None:
        """No form is open."""
        self._host, self._work, self._forms = host, work, forms
        self.openers: dict[str, Callable[[str], PaperDialog | None]] = {
            "reactions": lambda _rest: self._list(),
            "reaction": self._one,
        }

    def _list(self) -> PaperDialog:
        changed = self._work.station.ledger.reactions
        offers = tuple(_offer(limit, at_line, changed.get((limit, at_line), "")) for limit, at_line in known_kinds())
        dialog = MoreDialog("What to do at alarms", offers, self._host, lines=(LISTED,))
        dialog.offered.connect(lambda act: self._go_to(dialog, act))
        return dialog

    def _go_to(self, dialog: PaperDialog, act: str) -> None:
        dialog.leave()
        kind, _, rest = act.partition(":")
        self._forms.open(kind, rest)

    def _one(self, rest: str) -> PaperDialog:
        where, _, name = rest.partition(":")
        limit, at_line, floor = Limit(name), where == AT_LINE, self._work.station.floor()
        without = of_settings(floor, limit, at_line=at_line) or USUAL[limit, at_line]
        own = floor.ledger.reactions.get((limit, at_line), "")
        title = f"{opening(limit.value)}, {_where(at_line=at_line)}: what to do"
        shown = ReactionShown(title, text_for(floor, limit, at_line=at_line), without, own)
        dialog = ReactionDialog(shown, self._host, people=self._forms.people())
        dialog.offered.connect(lambda word: self._told(limit, word, at_line=at_line))
        return dialog

    def _told(self, limit: Limit, word: ReactionWord, *, at_line: bool) -> None:
        station, proof = self._work.station, Proof(word.badge, word.pin)
        self._forms.tell(lambda: self._work.told(change_reaction(station, limit, word.text, proof, at_line=at_line)))


def _offer(limit: Limit, at_line: bool, own: str) -> ActionModel:
    act = f"reaction:{AT_LINE if at_line else AWAY}:{limit.value}"
    hint = _where(at_line=at_line)
    return ActionModel(act, opening(limit.value), f"{hint}, changed here" if own else hint)


def _where(*, at_line: bool) -> str:
    return "at a line" if at_line else "away from the lines"
