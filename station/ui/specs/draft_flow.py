"""Drafts at the desk: a new version or a new paste is typed, handed in, looked at, approved or withdrawn."""

from station.care.rulebook import OpenDraft
from station.care.spec_drafts import draft_faults
from station.care.spec_preview import changes
from station.care.specification import Paste, Specification
from station.services import specifications as acts
from station.services.outcome import Outcome
from station.ui.dialogs.lead_dialog import LeadWord
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.specs.begin import begin_figures
from station.ui.specs.desk import Desk, proof_of
from station.ui.specs.edit_form import EditForm
from station.ui.specs.listing import MAY_WRITE
from station.ui.specs.pages import caption
from station.ui.specs.paste_form import PasteBegun, PasteForm, PasteWord
from station.ui.specs.preview_form import APPROVE, EDIT, PreviewForm
from station.ui.specs.proof_forms import WHY, EngineerForm
from station.ui.specs.shown import DRAFT, change_line, preview_shown
from station.ui.specs.source_form import SourceForm
from station.ui.specs.typed import Begun, Typed
from station.ui.view_models import ActionModel

WHY_WITHDRAWN = "Why it is withdrawn; it stands in the record"
IN_FORCE_UNTIL = "It is a draft until it is approved; until then the version in force goes on."
NEW_UNTIL = "It is a draft until it is approved; until then the paste may be used nowhere."


class DraftFlow:
    """Makes the forms a draft goes through."""

    def __init__(self, desk: Desk) -> None:
        """No form is open."""
        self._desk = desk

    def version(self, paste: str) -> PaperDialog | None:
        """A new version of a paste that has one in force."""
        found, known = self._desk.floor.ledger.specifications.get(paste), self._desk.paste(paste)
        return self._edit(Begun(found, known)) if found is not None and known is not None else None

    def new_paste(self, like: str) -> PaperDialog:
        """A paste the site does not have yet, like another one or from nothing."""
        floor = self._desk.floor
        template = self._desk.paste(like) if like else None
        taken = [*floor.plant.pastes.values(), *(draft.paste for draft in self._desk.drafts if draft.paste is not None)]
        numbers = frozenset(paste.number for paste in taken)
        copied = floor.ledger.specifications.get(like)
        begun = PasteBegun(
            like=template,
            kinds=tuple(entry.kind for entry in copied.conditioning) if copied is not None else (),
            number=next(number for number in range(len(numbers) + 1) if number not in numbers),
            taken_ids=frozenset(paste.id for paste in taken),
            taken_numbers=numbers,
        )
        kinds = tuple(ActionModel(kind.id, kind.id, kind.title) for kind in floor.plant.kinds.values())
        dialog = PasteForm(begun, kinds, self._desk.host, lines=(MAY_WRITE,))
        dialog.offered.connect(lambda word: self._founded(dialog, word, copied, template))
        return dialog

    def _founded(self, dialog: PaperDialog, word: PasteWord, copied: Specification | None, like: Paste | None) -> None:
        """On to the figures; the form of the paste waits below, so that going back loses nothing."""
        begun = Begun(begin_figures(word, copied, like), word.paste, founds=True)
        self._desk.forms.lay(self._edit(begun))
        dialog.remark("")

    def _edit(self, begun: Begun) -> EditForm:
        typed = Typed(begun, lambda told: draft_faults(self._desk.floor, told))
        kind = "figures of a new paste" if begun.founds else "a new version"
        dialog = EditForm(f"{begun.paste.id}: {kind}", typed, self._desk.host, lines=(MAY_WRITE,))
        dialog.offered.connect(lambda _typed: self._hand_in(dialog))
        dialog.source_wanted.connect(lambda key: self._ask_source(dialog, key))
        return dialog

    def _ask_source(self, edit: EditForm, key: str) -> None:
        figure = edit.fields[key].figure
        dialog = SourceForm(caption(figure), edit.typed.source(key), self._desk.host)

        def put(source: object) -> None:
            dialog.leave()
            edit.put_source(source)  # type: ignore[arg-type]

        dialog.offered.connect(put)
        self._desk.forms.lay(dialog)

    def _hand_in(self, edit: EditForm) -> None:
        typed = edit.typed
        told = typed.told("")
        listed = tuple(map(change_line, changes(self._desk.floor, told.specification, typed.begun.paste.storage)))
        dialog = EngineerForm(
            f"Write the draft of {typed.begun.paste.id}",
            self._desk.host,
            act="Write it",
            lines=(NEW_UNTIL if typed.begun.founds else IN_FORCE_UNTIL,),
            listed=listed,
            reason=WHY,
            people=self._desk.forms.people(),
        )
        dialog.offered.connect(lambda word: self._written(edit, word))
        self._desk.lay_proof(dialog)

    def _written(self, edit: EditForm, word: LeadWord) -> None:
        told = edit.typed.told(word.reason)

        def write() -> Outcome:
            outcome = acts.write_drafts(self._desk.work.station, (told,), proof_of(word))
            edit.settled = True
            return outcome

        if self._desk.act(write):
            self._go_on_with_draft(edit.typed.begun.paste.id)

    def _go_on_with_draft(self, paste: str) -> None:
        """A draft is written to be approved: what it would change comes next."""
        draft = self._desk.draft_of(paste)
        if draft is not None:
            self._desk.forms.open(DRAFT, draft.key)

    def look_at(self, key: str) -> PaperDialog | None:
        """What a draft would change, and what may be done with it."""
        draft = self._desk.floor.ledger.rulebook.draft(key)
        paste = self._desk.paste(draft.specification.paste) if draft is not None else None
        if draft is None or paste is None:
            return None
        dialog = PreviewForm(preview_shown(self._desk.floor, draft, paste), self._desk.host)
        dialog.offered.connect(lambda act: self._with_draft(dialog, draft, paste, act))
        return dialog

    def _with_draft(self, dialog: PreviewForm, draft: OpenDraft, paste: Paste, act: str) -> None:
        if act == APPROVE:
            self._ask_approval(dialog, draft, paste)
        elif act == EDIT:
            founds = draft.paste is not None
            dialog.leave()
            self._desk.forms.lay(self._edit(Begun(draft.specification, paste, founds=founds, replaces=draft.key)))
        else:
            self._ask_withdrawal(draft, paste)

    def _ask_approval(self, preview: PreviewForm, draft: OpenDraft, paste: Paste) -> None:
        shown = preview.shown
        lines = tuple(line for line in (shown.hint, shown.note) if line)
        form = EngineerForm(
            f"Approve {paste.id} version {draft.specification.version}",
            self._desk.host,
            act="Approve it",
            lines=lines,
            loud=shown.warning,
            listed=tuple(map(change_line, changes(self._desk.floor, draft.specification, paste.storage))),
            people=self._desk.forms.people(),
        )
        station = self._desk.work.station
        form.offered.connect(
            lambda word: self._desk.act(lambda: acts.approve_draft(station, draft.key, proof_of(word)))
        )
        self._desk.lay_proof(form)

    def _ask_withdrawal(self, draft: OpenDraft, paste: Paste) -> None:
        form = EngineerForm(
            f"Withdraw the draft of {paste.id} version {draft.specification.version}",
            self._desk.host,
            act="Withdraw it",
            reason=WHY_WITHDRAWN,
            people=self._desk.forms.people(),
        )
        station = self._desk.work.station
        form.offered.connect(
            lambda word: self._desk.act(lambda: acts.withdraw_draft(station, draft.key, word.reason, proof_of(word)))
        )
        self._desk.lay_proof(form)
