"""Paste lists at the desk: of every product, and of the work orders that have one of their own."""

from dataclasses import replace

from station.care.paste_lists import ListTold, list_faults
from station.services import specifications as acts
from station.services.outcome import Outcome
from station.ui.dialogs.lead_dialog import LeadWord
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.specs.chosen_pastes import ChosenPastes
from station.ui.specs.desk import Desk, proof_of
from station.ui.specs.list_form import ListForm
from station.ui.specs.listing import LIST, list_rows, list_words, pastes_words
from station.ui.specs.paste_list_form import PasteListForm
from station.ui.specs.proof_forms import EngineerForm
from station.ui.view_models import ActionModel

MAY_CHOOSE = "Everybody may read. A process engineer approves a list, by badge and PIN; each is either leaded (Pb) or "
MAY_CHOOSE += "lead-free, never both."


class ListFlow:
    """Makes the forms of paste lists."""

    def __init__(self, desk: Desk) -> None:
        """No form is open."""
        self._desk = desk

    def all(self) -> PaperDialog:
        """The lists there are."""
        more = (ActionModel(f"{LIST}::", "New product"),)
        dialog = ListForm("Paste lists", list_rows(self._desk.floor), self._desk.host, lines=(MAY_CHOOSE,), acts=more)
        dialog.offered.connect(lambda act: self._desk.go_to(dialog, act))
        return dialog

    def one(self, name: str) -> PaperDialog:
        """One list, by `product:order`; a new product where there is none."""
        floor = self._desk.floor
        product, _, order = name.partition(":")
        known, told = floor.plant.products.get(product), floor.ledger.rulebook.lists.get((product, order))
        title = known.title if known is not None else ""
        pastes = told.pastes if told is not None else known.pastes if known is not None else ()
        begun = ListTold(product, pastes, title, order)
        lines = (*((pastes_words(floor, pastes), list_words(floor, told)) if product else ()), MAY_CHOOSE)
        choice = ChosenPastes(begun, tuple(floor.plant.pastes.values()), lambda one: list_faults(self._desk.floor, one))
        heading = f"{product}, work order {order}" if order else f"{product}: {title}" if product else "A new product"
        dialog = PasteListForm(heading, choice, self._desk.host, lines=lines)
        dialog.offered.connect(lambda word: self._ask_list(dialog, word))
        return dialog

    def _ask_list(self, below: PasteListForm, told: ListTold) -> None:
        floor = self._desk.floor
        what = f"work order {told.order} of {told.product}" if told.order else told.product
        form = EngineerForm(
            f"Approve the pastes of {what}",
            self._desk.host,
            act="Approve it",
            listed=(pastes_words(floor, told.pastes),),
            reason="Why; it stands in the record",
            people=self._desk.forms.people(),
        )

        def approve(word: LeadWord) -> Outcome:
            outcome = acts.set_paste_list(self._desk.work.station, replace(told, note=word.reason), proof_of(word))
            below.settled = True
            return outcome

        form.offered.connect(lambda word: self._desk.act(lambda: approve(word)))
        self._desk.lay_proof(form)
