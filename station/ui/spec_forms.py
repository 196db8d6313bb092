"""Specifications and paste lists at the desk: which form opens for which touch."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QWidget

from station.ui.desk_work import DeskWork
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.forms import Forms
from station.ui.specs.desk import Desk
from station.ui.specs.draft_flow import DraftFlow
from station.ui.specs.file_flow import FileFlow
from station.ui.specs.list_flow import ListFlow
from station.ui.specs.list_form import ListForm
from station.ui.specs.listing import LIST, READ, may_write, specification_rows
from station.ui.specs.read_form import ReadForm
from station.ui.specs.shown import COPY, DRAFT, EXPORT, VERSION, specification_shown
from station.ui.view_models import ActionModel

IMPORT = "spec-import"


class SpecForms:
    """Makes the forms; `openers` says which act each belongs to."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms, folder: Path | None = None) -> None:
        """Files go into `folder`, by default one among the account's own documents."""
        self._desk = desk = Desk(host, work, forms)
        self._files = FileFlow(desk, folder)
        drafts, lists = DraftFlow(desk), ListFlow(desk)
        self.openers: dict[str, Callable[[str], PaperDialog | None]] = {
            "specifications": lambda _rest: self._list(),
            READ: self._read,
            VERSION: drafts.version,
            COPY: drafts.new_paste,
            DRAFT: drafts.look_at,
            IMPORT: lambda _rest: self._files.begin(),
            "paste-lists": lambda _rest: lists.all(),
            LIST: lists.one,
        }

    def _list(self) -> PaperDialog:
        rows = specification_rows(self._desk.floor)
        more = (
            ActionModel(f"{COPY}:", "New paste"),
            ActionModel(f"{IMPORT}:", "From a file"),
            ActionModel(f"{EXPORT}:", "All as a file"),
        )
        lines = (may_write(self._desk.floor),)
        dialog = ListForm("Specifications", rows, self._desk.host, lines=lines, acts=more)
        dialog.offered.connect(lambda act: self._go_to(dialog, act))
        return dialog

    def _read(self, paste: str) -> PaperDialog | None:
        floor = self._desk.floor
        found, draft = self._desk.paste(paste), self._desk.draft_of(paste)
        shown = specification_shown(floor, found, draft) if found is not None else None
        if shown is None:
            return None
        dialog = ReadForm(shown, self._desk.host)
        dialog.offered.connect(lambda act: self._go_to(dialog, act))
        return dialog

    def _go_to(self, dialog: PaperDialog, act: str) -> None:
        """On to another form; a file is written with the form still open, which says where."""
        kind, _, rest = act.partition(":")
        if kind == EXPORT:
            dialog.remark(self._files.export(rest))
            return
        self._desk.go_to(dialog, act)
