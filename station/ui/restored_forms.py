"""After a restore: what was counted in its store since is released together by a shift lead."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from station.care import after_restore
from station.care.saying import many
from station.services.lead_acts import release_counted
from station.services.station import Proof
from station.ui.desk_work import DeskWork
from station.ui.dialogs.lead_dialog import LeadDialog, LeadWord
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.forms import Forms

MOST_NAMED = 12
LOOK = (
    "By this you say that each is unopened and bears no time label of after the backup: one with such a label was "
    "taken out since. Scan it at the shift desk and discard it."
)
REASON = "How they were looked at; it stands in the record of each"


class RestoredForms:
    """Makes the form; `openers` says which act it belongs to."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms) -> None:
        """No form is open."""
        self._host, self._work, self._forms = host, work, forms
        self.openers: dict[str, Callable[[str], PaperDialog | None]] = {"restored": lambda _rest: self._release()}

    def _release(self) -> PaperDialog | None:
        found = after_restore.lying(self._work.station.floor()).counted
        if not found:
            return None
        named = ", ".join(container.spoken for container in found[:MOST_NAMED])
        more = f" and {len(found) - MOST_NAMED} more" if len(found) > MOST_NAMED else ""
        title = f"Release {many(len(found), 'container')} counted since the restore"
        lines = (f"{named}{more}.", LOOK, after_restore.AGAIN)
        people = self._forms.people()
        dialog = LeadDialog(title, self._host, lines=lines, act="Release", reason=REASON, people=people)
        asked = tuple(container.id for container in found)
        dialog.offered.connect(lambda word: self._released(asked, word))
        return dialog

    def _released(self, asked: tuple[str, ...], word: LeadWord) -> None:
        station, proof = self._work.station, Proof(word.badge, word.pin)
        self._forms.tell(lambda: self._work.told(release_counted(station, asked, word.reason, proof)))
