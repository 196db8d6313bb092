"""Badge and PIN of a process engineer below what is about to be recorded."""

from collections.abc import Mapping

from PySide6.QtWidgets import QVBoxLayout, QWidget

from station.ui.dialogs.fields import label
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.dialogs.look import CAPTION, LOUD, TEXT
from station.ui.theme import LIGHT, Theme

MOST_LISTED = 8
WHY = "What changed and why; it stands in the record"
WHO = "Process engineer's badge: scan it or type it"


class EngineerForm(LeadDialog):
    """What it is about, in lines, and who says so; `offered` hands over a `LeadWord`."""

    def __init__(
        self,
        title: str,
        host: QWidget,
        theme: Theme = LIGHT,
        *,
        act: str,
        lines: tuple[str, ...] = (),
        listed: tuple[str, ...] = (),
        loud: str = "",
        reason: str = "",
        people: Mapping[str, str] | None = None,
    ) -> None:
        """`listed` are what changes, the first of them shown; `loud` is a warning; without `reason` none is asked."""
        self._listed, self._loud = listed, loud
        super().__init__(
            title, host, theme, lines=lines, act=act, ask_reason=bool(reason), reason=reason, people=people
        )
        self.badge.caption.setText(self.tr(WHO))
        self.name_leaving(self.tr("Back"))

    def build_story(self, story: QVBoxLayout) -> None:
        """What changes, and what to mind."""
        if self._loud:
            story.addWidget(label(LOUD, self._loud))
        for line in self._listed[:MOST_LISTED]:
            story.addWidget(label(CAPTION, line))
        more = len(self._listed) - MOST_LISTED
        if more > 0:
            story.addWidget(label(TEXT, f"and {more} more"))
