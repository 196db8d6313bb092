"""Drafts at the desk: a new version or a new paste is typed, handed in, looked at, approved or withdrawn."""

from station.care.rulebook import OpenDraft
from station.care.specification import FigureSource, Paste
from station.services import specifications as acts
from station.services.outcome import Outcome
from station.settings.faults import SettingsRefused
from station.ui.dialogs.lead_dialog import LeadWord
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.specs import checked
from station.ui.specs.checked import Begun
from station.ui.specs.desk import Desk, proof_of
from station.ui.specs.edit_form import EditForm
from station.ui.specs.keeping_form import KeepingForm
from station.ui.specs.listing import may_write
from station.ui.specs.new_paste import begin_new, begin_texts
from station.ui.specs.paste_form import PasteForm, PasteWord
from station.ui.specs.preview_form import APPROVE, EDIT, PreviewForm
from station.ui.specs.proof_forms import WHY, EngineerForm
from station.ui.specs.shown import DRAFT, change_lines, figures_in, kind_offers, kind_titles, preview_shown
from station.ui.specs.source_form import SourceForm
from station.ui.specs.typed import Typed, texts_of

WHY_WITHDRAWN = "Why it is withdrawn; it stands in the record"
OTHER_SOURCE = "No figure changes, only its source."
IN_FORCE_UNTIL = "It is a draft until it is approved; until then the version in force goes on."
NEW_UNTIL = "It is a draft until it is approved; until then the paste may be used nowhere."


class DraftFlow:
    """Makes the forms a draft goes through."""

    def __init__(self, desk: Desk) -> None:
        """No form is open."""
        self._desk = desk

    # ------------------------------------------------------------------ typing

    def version(self, paste: str) -> PaperDialog | None:
        """A new version of a paste that has one in force."""
        floor = self._desk.floor
        found, known = floor.ledger.specifications.get(paste), floor.plant.pastes.get(paste)
        if found is None or known is None:
            return None
        return self._edit(Begun(known, texts_of(figures_in(floor, known, found), found)))

    def new_paste(self, like: str) -> PaperDialog:
        """A paste the site does not have yet, like another one or from nothing."""
        floor = self._desk.floor
        drafted = tuple(draft.paste for draft in self._desk.drafts if draft.paste is not None)
        kinds, lines = kind_offers(kind_titles(floor)), (may_write(floor),)
        dialog = PasteForm(begin_new(floor, drafted, like), kinds, self._desk.host, lines=lines)
        dialog.offered.connect(lambda word: self._founded(dialog, word, like))
        return dialog

    def _founded(self, below: PasteForm, word: PasteWord, like: str) -> None:
        """On to the figures; the form of the paste waits below, so that going back loses nothing."""
        begun = Begun(word.paste, begin_texts(self._desk.floor, word, like), founds=True)
        dialog = self._edit(begun, below)
        dialog.name_leaving("Back")
        self._desk.forms.lay(dialog)

    def _edit(self, begun: Begun, *below: KeepingForm) -> EditForm:
        titles = kind_titles(self._desk.floor)
        typed = Typed(
            begun.paste.storage,
            titles,
            begun.texts,
            lambda kinds, written: checked.sentences(begun, kinds, written, self._desk.floor),
        )
        what = "figures of a new paste" if begun.founds else "a new version"
        dialog = EditForm(
            f"{begun.paste.id}: {what}",
            typed,
            kind_offers(titles),
            self._desk.host,
            lines=(may_write(self._desk.floor),),
            fresh=begun.founds,
        )
        dialog.offered.connect(lambda _typed: self._hand_in((dialog, *below), dialog.typed, begun))
        dialog.source_wanted.connect(lambda key: self._ask_source(dialog, key))
        return dialog

    def _ask_source(self, edit: EditForm, key: str) -> None:
        dialog = SourceForm(edit.fields[key].figure.name, edit.typed.source(key), self._desk.host)

        def put(source: FigureSource) -> None:
            dialog.leave()
            edit.put_source(source)

        dialog.offered.connect(put)
        self._desk.forms.lay(dialog)

    def _hand_in(self, forms: tuple[KeepingForm, ...], typed: Typed, begun: Begun) -> None:
        floor = self._desk.floor
        try:
            told = checked.told(begun, typed.kinds, typed.written(), floor)
        except SettingsRefused as refused:  # what was right a moment ago is not any more
            forms[0].refuse(str(refused))
            return
        dialog = EngineerForm(
            f"Write the draft of {begun.paste.id}",
            self._desk.host,
            act="Write it",
            lines=(NEW_UNTIL if begun.founds else IN_FORCE_UNTIL,),
            listed=change_lines(floor, told.specification) or (OTHER_SOURCE,),
            reason=WHY,
            people=self._desk.forms.people(),
        )
        dialog.offered.connect(lambda word: self._write(forms, typed, begun, word))
        self._desk.lay_proof(dialog)

    def _write(self, forms: tuple[KeepingForm, ...], typed: Typed, begun: Begun, word: LeadWord) -> None:
        station = self._desk.work.station

        def write() -> Outcome:
            told = checked.told(begun, typed.kinds, typed.written(), self._desk.floor, word.reason)
            outcome = acts.write_drafts(station, (told,), proof_of(word))
            for form in forms:
                form.settled = True
            return outcome

        if self._desk.act(write):
            draft = self._desk.draft_of(begun.paste.id)
            if draft is not None:  # a draft is written to be approved: what it would change comes next
                self._desk.forms.open(DRAFT, draft.key)

    # ------------------------------------------------------------------ with a draft

    def look_at(self, key: str) -> PaperDialog | None:
        """What a draft would change, and what may be done with it."""
        floor = self._desk.floor
        draft = floor.ledger.rulebook.draft(key)
        paste = self._desk.paste(draft.specification.paste) if draft is not None else None
        if draft is None or paste is None:
            return None
        dialog = PreviewForm(preview_shown(floor, draft, paste), self._desk.host)
        dialog.offered.connect(lambda act: self._go_on(dialog, draft, paste, act))
        return dialog

    def _go_on(self, dialog: PreviewForm, draft: OpenDraft, paste: Paste, act: str) -> None:
        if act == APPROVE:
            self._ask_approval(dialog, draft, paste)
        elif act == EDIT:
            dialog.leave()
            found = draft.specification
            texts = texts_of(figures_in(self._desk.floor, paste, found), found)
            self._desk.forms.lay(self._edit(Begun(paste, texts, draft.paste is not None, draft.key)))
        else:
            self._ask_withdrawal(draft, paste)

    def _ask_approval(self, preview: PreviewForm, draft: OpenDraft, paste: Paste) -> None:
        shown, station = preview.shown, self._desk.work.station
        form = EngineerForm(
            f"Approve {paste.id} version {draft.specification.version}",
            self._desk.host,
            act="Approve it",
            lines=tuple(line for line in (shown.hint, shown.note) if line),
            loud=shown.warning,
            listed=change_lines(self._desk.floor, draft.specification) or (OTHER_SOURCE,),
            people=self._desk.forms.people(),
        )
        form.offered.connect(
            lambda word: self._desk.act(lambda: acts.approve_draft(station, draft.key, proof_of(word)))
        )
        self._desk.lay_proof(form)

    def _ask_withdrawal(self, draft: OpenDraft, paste: Paste) -> None:
        station = self._desk.work.station
        form = EngineerForm(
            f"Withdraw the draft of {paste.id} version {draft.specification.version}",
            self._desk.host,
            act="Withdraw it",
            reason=WHY_WITHDRAWN,
            people=self._desk.forms.people(),
        )

        def withdraw(word: LeadWord) -> None:
            self._desk.act(lambda: acts.withdraw_draft(station, draft.key, word.reason, proof_of(word)))

        form.offered.connect(withdraw)
        self._desk.lay_proof(form)
