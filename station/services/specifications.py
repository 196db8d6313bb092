"""What a process engineer decides at the desk: drafts of specifications, their approval, the pastes of products.

Each is proved by badge and PIN, decided by the rules, and written in one piece. Each raises `Refusal` for the proof and
`care.spec_drafts.SpecificationRefused` for what can't be recorded as told; nothing is recorded then.
"""

from collections.abc import Sequence

from station.care import facts as f
from station.care import paste_lists, spec_drafts
from station.care.answers import plain
from station.care.floor import Floor
from station.care.paste_lists import ListTold
from station.care.rulebook import OpenDraft
from station.care.spec_drafts import DraftTold
from station.care.verdict import Decision, Verdict
from station.care.words import Role, Word
from station.services.outcome import Outcome
from station.services.station import Proof, Station

SCRAPE = "Scrape each off, record REMOVE there; into the paste waste, gloves on, leaded (Pb) apart. "
SCRAPE += "Set aside the boards if in doubt."
MOST_NAMED = 5


def write_drafts(station: Station, told: Sequence[DraftTold], proof: Proof, source: str = "") -> Outcome:
    """Write drafts, all or none; `source` names the file they came from, "" where they were typed."""

    def decide(floor: Floor, by: str) -> Decision:
        facts = spec_drafts.write_drafts(floor, tuple(told), source, by)
        return Decision(_written(floor, facts), facts)

    return station.decided(proof, Role.ENGINEER, decide)


def _written(floor: Floor, facts: tuple[f.SpecificationDrafted, ...]) -> Verdict:
    names = ", ".join(str(fact.specification) for fact in facts)
    who = "Another process engineer approves it" if floor.rules.two_person else "Look at its preview, then approve it"
    why = f"{names}: a draft, by which nothing goes yet. What was in force still is."
    many = "DRAFT WRITTEN" if len(facts) == 1 else f"{len(facts)} DRAFTS WRITTEN"
    return plain(Word.DONE, "draft-written", many, why, f"{who}: Specifications at the desk.")


def approve_draft(station: Station, draft: str, proof: Proof) -> Outcome:
    """Put a draft in force, and everything it tightens with it; `draft` is the key of its fact."""

    def decide(floor: Floor, by: str) -> Decision:
        bodies = spec_drafts.approve_draft(floor, draft, by)
        return Decision(_approved(floor.ledger.rulebook.draft(draft), bodies), bodies)

    return station.decided(proof, Role.ENGINEER, decide)


def _approved(draft: OpenDraft | None, bodies: tuple[f.Body, ...]) -> Verdict:
    name = str(draft.specification) if draft is not None else ""
    containers = [body.container for body in bodies if isinstance(body, f.SpecificationApplied)]
    beads = sum(isinstance(body, f.BeadLifeApplied) for body in bodies)
    told = [_count(len(containers), "container"), _count(beads, "bead")]
    shorter = " and ".join(part for part in told if part)
    why = f"It tightens {shorter} at once." if shorter else "No time of paste in use moves by it."
    todo = f"Print new labels (REPRINT): {_some(containers)}." if containers else "Go on."
    return plain(Word.DONE, "specification-approved", f"{name.upper()} IN FORCE", why, todo)


def _some(containers: Sequence[str]) -> str:
    more = len(containers) - MOST_NAMED
    named = ", ".join(name.replace("-", " ") for name in containers[:MOST_NAMED])
    return f"{named} and {more} more" if more > 0 else named


def _count(many: int, of: str) -> str:
    return "" if not many else f"1 {of}" if many == 1 else f"{many} {of}s"


def withdraw_draft(station: Station, draft: str, reason: str, proof: Proof) -> Outcome:
    """Take a draft back, with the reason; it can't be approved any more."""

    def decide(floor: Floor, by: str) -> Decision:
        fact = spec_drafts.withdraw_draft(floor, draft, reason, by)
        why = "The draft can't be approved any more; the record keeps it."
        return Decision(plain(Word.DONE, "draft-withdrawn", "DRAFT WITHDRAWN", why, "Go on."), (fact,))

    return station.decided(proof, Role.ENGINEER, decide)


def set_paste_list(station: Station, told: ListTold, proof: Proof) -> Outcome:
    """Decide the pastes of a product, or of one order of it; the verdict names positions it takes a bead from."""

    def decide(floor: Floor, by: str) -> Decision:
        fact = paste_lists.set_list(floor, told, by)
        ledger = floor.ledger.imagined((fact,), floor.now)
        against = paste_lists.set_up_otherwise(Floor(floor.plant, ledger, floor.now, floor.zone))
        return Decision(_listed(fact, against), (fact,))

    return station.decided(proof, Role.ENGINEER, decide)


def _listed(fact: f.PasteListSet, against: tuple[str, ...]) -> Verdict:
    of = f"Order {fact.order} of {fact.product}" if fact.order else fact.product
    pastes = " or ".join(fact.pastes)
    why = f"{of} is built with {pastes}." if pastes else f"{of} has no list of its own any more."
    todo = f"{' '.join(against)} {SCRAPE}" if against else "Scan work orders again where a paste was added."
    return plain(Word.DONE, "paste-list-set", f"PASTES OF {(fact.order or fact.product).upper()}", why, todo)
