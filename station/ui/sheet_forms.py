"""Cards, tags and down-station sheets from the shift desk: which are wanted, and where the PDF was put."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QStandardPaths
from PySide6.QtWidgets import QWidget

from station.labels.faults import LabelFault
from station.labels.sheet_paper import PAPERS
from station.services.outcome import Refusal
from station.services.ports import JournalTrouble
from station.services.station import Proof
from station.ui.desk_work import DeskWork
from station.ui.dialogs.lead_dialog import LeadDialog, LeadWord
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.sheet import MoreDialog, ReadDialog
from station.ui.forms import Forms
from station.ui.single_code_forms import ONE
from station.ui.view_models import ActionModel

CARDS, DOWN, BADGES = "cards", "down", "badges"
FOLDER = "Thawmark sheets"
NUMBERS = (
    "Each down-station sheet has numbers of its own; printing puts them on record. Print only as many as are laid out."
)
A_KEY = "A badge is a key. Hand each badge to the person named on it; take it back when they go."
BADGE_FIRST = "Scan your badge first: who has these sheets printed stands in the record."


class SheetForms:
    """Makes the forms; `openers` says which act each belongs to."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms, folder: Path | None = None) -> None:
        """Sheets go into `folder`, by default one among the account's own documents."""
        self._host, self._work, self._forms, self._folder = host, work, forms, folder
        self.openers: dict[str, Callable[[str], PaperDialog | None]] = {
            "sheets": self._choice,
            "sheet": self._made,
            BADGES: self._badges,
        }

    def _choice(self, _rest: str) -> PaperDialog:
        choices = [
            ActionModel(f"{ONE}:", "One card, badge or tag", "on the label printer"),
            *(ActionModel(f"{CARDS}:{paper}", "Cards and tags", f"all but badges, {paper}") for paper in PAPERS),
            *(ActionModel(f"{BADGES}:{paper}", "Badges", f"badge and PIN, {paper}") for paper in PAPERS),
            *(ActionModel(f"{DOWN}:{paper}", "Down-station sheets", f"one a paste, {paper}") for paper in PAPERS),
        ]
        dialog = MoreDialog("Sheets to print", tuple(choices), self._host, lines=(NUMBERS,))
        dialog.offered.connect(lambda wanted: self._go_on(dialog, wanted))
        return dialog

    def _go_on(self, dialog: PaperDialog, wanted: str) -> None:
        dialog.leave()
        kind, _, paper = wanted.partition(":")
        if kind in (BADGES, ONE):
            self._forms.open(kind, paper)
        else:
            self._forms.open("sheet", wanted)

    def _badges(self, paper: str) -> PaperDialog:
        """A lead's word first; then it is said where the file is."""
        people = self._forms.people()
        lines = (f"A badge of each of the {len(people)} people who work here, {paper}.", A_KEY)
        dialog = LeadDialog("Print badges", self._host, lines=lines, act="Make them", ask_reason=False, people=people)
        dialog.offered.connect(lambda word: self._badges_wanted(paper, word))
        return dialog

    def _badges_wanted(self, paper: str, word: LeadWord) -> None:
        done: list[Path] = []
        proof = Proof(word.badge, word.pin)
        if self._forms.tell(lambda: done.append(self._write_badges(paper, proof))):
            self._forms.lay(self._ready(done[0]))

    def _write_badges(self, paper: str, proof: Proof) -> Path:
        from station.printing.sheets.of_station import badges_pdf  # noqa: PLC0415  as in _write
        from station.printing.sheets.writing import write_whole  # noqa: PLC0415

        station = self._work.station
        stamp = f"{station.floor().now.astimezone(station.site.zone):%Y-%m-%d-%H%M%S}"
        try:
            return write_whole(self._where() / f"badges-{paper}-{stamp}.pdf", badges_pdf(station, PAPERS[paper], proof))
        except LabelFault as fault:
            raise Refusal("no-badges", fault.sentence) from fault

    def _made(self, wanted: str) -> PaperDialog:
        """Make the file; the form says where it is, or why there is none."""
        kind, _, paper = wanted.partition(":")
        try:
            path = self._write(kind, paper)
        except (LabelFault, Refusal, JournalTrouble) as trouble:
            return ReadDialog("No sheets were made", (("Why", (trouble.sentence,)),), self._host)
        return self._ready(path)

    def _ready(self, path: Path) -> PaperDialog:
        told = (f"{path}", "Open it and print it at 100 %, not fitted to the page.")
        return ReadDialog("The sheets are ready", (("PDF file", told),), self._host)

    def _write(self, kind: str, name: str) -> Path:
        # nothing of it is on the way to the window
        from station.printing.sheets.of_site import WITHOUT_BADGES, cards_pdf  # noqa: PLC0415
        from station.printing.sheets.of_station import down_station_pdf  # noqa: PLC0415
        from station.printing.sheets.writing import write_whole  # noqa: PLC0415

        station, paper = self._work.station, PAPERS[name]
        now = station.floor().now
        if kind == CARDS:
            path = f"cards-{name}.pdf"
            sheets = cards_pdf(station.site, station.reader.known, paper, now, WITHOUT_BADGES)
            return write_whole(self._where() / path, sheets)
        person = station.sessions[station.place].context.person
        if person is None:
            raise Refusal("no-badge", BADGE_FIRST)
        stamp = f"{now.astimezone(station.site.zone):%Y-%m-%d-%H%M%S}"
        return write_whole(self._where() / f"down-{name}-{stamp}.pdf", down_station_pdf(station, paper, person))

    def _where(self) -> Path:
        place = QStandardPaths.StandardLocation.DocumentsLocation
        return self._folder or Path(QStandardPaths.writableLocation(place)) / FOLDER
