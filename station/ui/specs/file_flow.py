"""Specifications out of a file and into one: read, shown with every fault, written as drafts; what holds as TOML."""

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QStandardPaths

from station.care.spec_drafts import DraftTold
from station.services import specifications as acts
from station.settings.specification_text import read_specifications, write_specifications
from station.ui.dialogs.lead_dialog import LeadWord
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.specs.desk import Desk, proof_of
from station.ui.specs.file_forms import FileForm, FileFound
from station.ui.specs.listing import may_write
from station.ui.specs.proof_forms import WHY, EngineerForm
from station.ui.specs.shown import change_lines

FOLDER = "Thawmark specifications"


class FileFlow:
    """Reads and writes files of specifications."""

    def __init__(self, desk: Desk, folder: Path | None = None) -> None:
        """Files go into `folder`, by default one among the account's own documents."""
        self._desk, self._folder = desk, folder

    def begin(self) -> PaperDialog:
        """Ask for a file."""
        dialog = FileForm(self._desk.host, lines=(may_write(self._desk.floor),))
        read: list[tuple[DraftTold, ...]] = [()]

        def chosen(path: Path) -> None:
            found, read[0] = self._read_file(path)
            dialog.show_found(found)

        dialog.chosen.connect(chosen)
        dialog.offered.connect(lambda path: self._ask_import(dialog, path, read[0]))
        return dialog

    def _read_file(self, path: Path) -> tuple[FileFound, tuple[DraftTold, ...]]:
        """What a file says. It is small: a settings file."""
        try:
            raw = path.read_bytes()
        except OSError as trouble:
            return FileFound((f"{path.name} can't be read ({trouble.strerror}). Choose it again.",), (), (), ()), ()
        floor = self._desk.floor
        found = read_specifications(raw, floor, path.name)
        faults = tuple(fault.sentence for fault in found.faults)
        drafts = tuple((told.specification.paste, self._in_short(told)) for told in found.drafts)
        return FileFound(faults, drafts, found.unchanged, found.notes), found.drafts

    def _in_short(self, told: DraftTold) -> str:
        if told.paste is not None:
            return f"a new paste, {told.paste.title}"
        lines = change_lines(self._desk.floor, told.specification)
        return "; ".join(lines) or "the same figures, another source"

    def _ask_import(self, below: FileForm, path: Path, drafts: tuple[DraftTold, ...]) -> None:
        form = EngineerForm(
            f"Write {len(drafts)} drafts" if len(drafts) > 1 else "Write a draft",
            self._desk.host,
            act="Write them" if len(drafts) > 1 else "Write it",
            lines=(f"From {path.name}. All of them are written, or none.",),
            listed=tuple(told.specification.paste for told in drafts),
            reason=WHY,
            people=self._desk.forms.people(),
        )

        def handed(word: LeadWord) -> None:
            told = tuple(replace(draft, explanation=word.reason) for draft in drafts)
            if self._desk.act(lambda: acts.write_drafts(self._desk.work.station, told, proof_of(word), path.name)):
                self._desk.forms.open("specifications", "")

        form.offered.connect(handed)
        self._desk.lay_proof(form)
        below.remark("")

    def export(self, paste: str) -> str:
        """Write what is in force, of one paste or all, and say where it is or why it is not."""
        floor = self._desk.floor
        site = self._desk.work.station.site
        text = write_specifications(floor, (paste,) if paste else (), site.name, site.station)
        stamp = f"{floor.now.astimezone(floor.zone):%Y-%m-%d-%H%M%S}"
        where = self._where() / f"{paste.lower() or 'pastes'}-{stamp}.toml"
        try:
            where.parent.mkdir(parents=True, exist_ok=True)
            where.write_text(text, encoding="utf-8", newline="\n")
        except OSError as trouble:
            return f"{where} can't be written ({trouble.strerror}). Make room or mend the folder, then try again."
        return f"Written: {where}"

    def _where(self) -> Path:
        place = QStandardPaths.StandardLocation.DocumentsLocation
        return self._folder or Path(QStandardPaths.writableLocation(place)) / FOLDER
