"""The record for an auditor: of which days, and the proof of whoever has it written out."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from PySide6.QtWidgets import QVBoxLayout, QWidget

from station.ui.dialogs.fields import PaperField
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.dialogs.readings import iso_date
from station.ui.theme import LIGHT, Theme

WHAT = "Facts, kept files and a check that runs without this program, as a folder. Names of people and hashes of their "
WHAT += "PINs are in it; a short PIN from people.toml can be found from its hash. Hand it only to who may have it, and "
WHAT += "keep it locked away."


@dataclass(frozen=True)
class ExportAsked:
    """Who asked, and the plant days from the first to the last; None for no such bound."""

    badge: str
    pin: str = field(repr=False)
    first: date | None
    last: date | None


class ExportDialog(LeadDialog):
    """Asks which days; `offered` hands over an `ExportAsked`. It stays while the folder is written: leaving ends it."""

    def __init__(self, into: str, host: QWidget, theme: Theme = LIGHT, people: Mapping[str, str] | None = None) -> None:
        """`into` says where the folder will be."""
        lines = (WHAT, into)
        super().__init__(
            "Export for an auditor", host, theme, lines=lines, act="Write it", ask_reason=False, people=people
        )

    def build_story(self, story: QVBoxLayout) -> None:
        """First and last day."""
        self.first = PaperField(self.tr("First day, such as 2027-03-31; empty for all from the beginning"), most=10)
        self.last = PaperField(self.tr("Last day; empty for all until now"), most=10)
        for part in (self.first, self.last):
            story.addWidget(part)

    def collect(self) -> object | None:
        """The `ExportAsked`, or None after each wrong field got its sentence."""
        first = self.first.read(iso_date) if self.first.text else None
        last = self.last.read(iso_date) if self.last.text else None
        unread = (self.first.text and first is None) or (self.last.text and last is None)
        proof = self.proof()
        if proof is None or unread:
            return None
        if first is not None and last is not None and last < first:
            self.last.complain(self.tr("The last day is before the first one."))
            return None
        return ExportAsked(proof.badge, proof.pin, first, last)
