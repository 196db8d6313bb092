"""What a shift lead or a process engineer decides besides alarms: lots, corrections, versions, late entries, figures.

Each is proved by badge and PIN, decided by the rules, and written in one piece. Each raises `Refusal` for the proof and
`care.refused.Refused` for what can't be recorded as told; nothing is recorded then.
"""

from collections.abc import Iterable, Sequence
from datetime import date

from station.care import after_restore, correction, figures, late, lots, versions
from station.care import facts as f
from station.care.answers import REPRINT, plain
from station.care.floor import Floor
from station.care.fold_lot import spoken_lot
from station.care.saying import day_time, span, spot
from station.care.verdict import Decision
from station.care.words import HoldReason, Role, Word
from station.services.attaching import Enclosed, attached
from station.services.outcome import Outcome
from station.services.station import Proof, Station


def hold_lot(
    station: Station, paste: str, lot: str, note: str, proof: Proof, files: Sequence[Enclosed] = ()
) -> Outcome:
    """Put a whole lot on hold; `files` (the maker's letter, a photo) are kept as proof of why."""

    def decide(floor: Floor, person: str) -> Decision:
        fact = lots.hold_lot(floor, paste, lot, note, person)
        said = lots.reach_sentence(lots.reach(floor, fact.lot))
        todo = "Set its containers apart; what arrives later is held by itself."
        proofs = _proofs(station, fact.lot, "hold of the lot", "", files)
        verdict = plain(Word.DONE, "lot-held", f"LOT {lot.strip()} OF {paste} ON HOLD", said, todo)
        return Decision(verdict, (fact, *proofs))

    return station.decided(proof, Role.LEAD, decide)


def release_lot(
    station: Station,
    lot_id: str,
    hold: str,
    note: str,
    proof: Proof,
    document: str = "",
    files: Sequence[Enclosed] = (),
) -> Outcome:
    """Release one hold of a lot; other reasons against its containers stand.

    What awaits its incoming test is released by a `document`, by an engineer too; `files` are kept as its proof.
    """
    standing = lots.standing_hold(station.floor(), lot_id, hold)
    tested = standing is not None and standing.reason is HoldReason.INCOMING_TEST
    role = Role.ENGINEER if tested and station.floor().person_has(proof.badge, Role.ENGINEER) else Role.LEAD

    def decide(floor: Floor, person: str) -> Decision:
        fact = lots.release_lot(floor, lot_id, hold, note, person, document)
        proofs = _proofs(station, lot_id, "release of the lot", document, files)
        why = f"This hold of lot {spoken_lot(lot_id)} is released; what holds a container by itself still does."
        return Decision(plain(Word.DONE, "lot-released", "LOT RELEASED", why, "Go on."), (fact, *proofs))

    return station.decided(proof, role, decide)


def _proofs(
    station: Station, lot_id: str, what: str, document: str, files: Sequence[Enclosed]
) -> tuple[f.Attached, ...]:
    return attached(station.evidence, f"lot:{lot_id}", what, files, document.strip())


def recertify_lot(
    station: Station,
    paste: str,
    lot: str,
    expires: date,
    document: str,
    proofs: tuple[Proof, Proof],
    files: Sequence[Enclosed] = (),
) -> Outcome:
    """Give a lot the supplier's new expiry: a shift lead first, then a process engineer. `files` are the document."""
    lead, engineer = proofs

    def decide(floor: Floor, person: str) -> Decision:
        station.prove(engineer, Role.ENGINEER)
        fact = lots.recertify(floor, paste, lot, expires, document, (person, engineer.badge))
        kept = _proofs(station, fact.lot, "re-certification", document, files)
        until = day_time(fact.shelf_end, floor.now, floor.zone)
        why = f"Lot {lot.strip()} of {paste} may be used until {until} by its shelf life."
        todo = "Its other limits stand. Each of its containers that is out: " + REPRINT
        return Decision(plain(Word.DONE, "lot-recertified", "NEW EXPIRY", why, todo), (fact, *kept))

    return station.decided(lead, Role.LEAD, decide)


def release_counted(station: Station, containers: Iterable[str], note: str, proof: Proof) -> Outcome:
    """Release the holds since a restore of those of `containers` that were counted in their store since."""
    return station.decided(
        proof, Role.LEAD, lambda floor, _person: after_restore.release_counted(floor, containers, note)
    )


def take_out_late(station: Station, told: late.Late, proof: Proof) -> Outcome:
    """Enter a take-out that nobody scanned, and print its label."""
    return station.decided(proof, Role.LEAD, lambda floor, person: late.taken_out_late(floor, told, person))


def correct_receipt(station: Station, told: correction.Correction, proof: Proof) -> Outcome:
    """Put right what was said of a container at receipt."""

    def decide(floor: Floor, person: str) -> Decision:
        bodies = correction.correct_receipt(floor, told, person)
        name = told.container.replace("-", " ")
        why = f"The receipt of {name} is put right; the record keeps both."
        return Decision(plain(Word.DONE, "corrected", "CORRECTED", why, "If it has a time label: " + REPRINT), bodies)

    return station.decided(proof, Role.LEAD, decide)


def take_back(station: Station, subject: tuple[str, str], reason: str, proof: Proof) -> Outcome:
    """Take back the last act on a container or a position, also one that started a clock."""
    kind, name = subject

    def decide(floor: Floor, person: str) -> Decision:
        fact = correction.take_back(floor, kind, name, reason, person)
        taken = floor.ledger.fact(fact.fact)
        act = taken.body.NAME.replace("-", " ") if taken is not None else "last act"
        of = spot(name) if kind == "position" else name.replace("-", " ")
        why = f"The act '{act}' of {of} is taken back; the record keeps both."
        return Decision(plain(Word.DONE, "undone", "TAKEN BACK", why, "Scan it to see how it stands now."), (fact,))

    return station.decided(proof, Role.LEAD, decide)


def choose_version(station: Station, container: str, version: int, reason: str, proof: Proof) -> Outcome:
    """Put one version of the specification in force for one container."""

    def decide(floor: Floor, person: str) -> Decision:
        fact, verdict = versions.choose_version(floor, container, version, reason, person)
        return Decision(verdict, (fact,))

    return station.decided(proof, Role.LEAD, decide)


def accept_figures(station: Station, told: figures.Figures, proof: Proof) -> Outcome:
    """A process engineer accepts measured warm-up figures; the supplier's minimum stays the least there is."""

    def decide(floor: Floor, person: str) -> Decision:
        fact = figures.accept(floor, told, person)
        warms = f"{span(fact.time_constant)} after {span(fact.dead_time)}"
        why = f"{floor.plant.kinds[fact.kind].title} warms with {warms} from the next take-out on."
        todo = "The supplier's minimum stays; these figures can only make it longer."
        return Decision(plain(Word.DONE, "figures-accepted", "FIGURES ACCEPTED", why, todo), (fact,))

    return station.decided(proof, Role.ENGINEER, decide)
