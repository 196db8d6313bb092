"""What process engineers decide about specifications and paste lists on a bench, as short calls."""

from dataclasses import replace
from typing import Any

from station.care.paste_lists import ListTold
from station.care.rulebook import OpenDraft
from station.care.spec_drafts import DraftTold
from station.care.specification import Paste, Specification
from station.care.words import Alloy, Role, Storage
from station.services.outcome import Outcome
from station.services.people_acts import PersonWord, record_person
from station.services.specifications import approve_draft, set_paste_list, write_drafts
from station.services.station import Proof
from tests.care.bench import Bench
from tests.care.leading import ENGINEER_PROOF

SECOND_PROOF = Proof("P31", "3131")
SHEET = {"data_sheet": "SN-4 sheet, edition 8", "page": "5"}
"""Where the tests say a new version stands; an invented sheet."""


def second_engineer(bench: Bench) -> Bench:
    """Another process engineer comes to work here."""
    word = PersonWord("P31", "Second engineer", (Role.ENGINEER,), pin=SECOND_PROOF.pin)
    record_person(bench.station, word, ENGINEER_PROOF)
    return bench


def content(bench: Bench, of: str = "SN-4", **figures: Any) -> Specification:
    """What is in force for a paste with some figures changed, and the sheet they are from."""
    return replace(bench.limits(of), **{**SHEET, **figures})


def told(bench: Bench, of: str = "SN-4", explanation: str = "", **figures: Any) -> DraftTold:
    """A draft that changes some figures of a paste."""
    return DraftTold(content(bench, of, **figures), explanation=explanation)


def drafted(bench: Bench, of: str = "SN-4", proof: Proof = ENGINEER_PROOF, **figures: Any) -> OpenDraft:
    """An engineer writes a draft; it is the newest open one."""
    write_drafts(bench.station, [told(bench, of, **figures)], proof)
    return bench.station.ledger.rulebook.drafts[-1]


def approved(bench: Bench, of: str = "SN-4", proof: Proof = ENGINEER_PROOF, **figures: Any) -> Outcome:
    """An engineer writes a new version and approves it."""
    return approve_draft(bench.station, drafted(bench, of, proof, **figures).key, proof)


def new_paste(number: int = 77, alloy: Alloy = Alloy.SN_AG_CU, name: str = "SN-9") -> Paste:
    """A paste plant T does not know."""
    return Paste(name, number, "SN-9 no-clean", "T-9", alloy, "ROL0", "type 5", Storage.COLD)


def listed(bench: Bench, *pastes: str, product: str = "CTRL", order: str = "") -> Outcome:
    """An engineer decides the pastes of a product, or of one order of it."""
    return set_paste_list(bench.station, ListTold(product, pastes, order=order), ENGINEER_PROOF)
