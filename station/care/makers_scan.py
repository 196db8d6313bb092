"""A maker's label scanned: at the fridge door or the desk it fills in the form of a delivery, elsewhere nothing."""

from dataclasses import replace

from station.care import facts as f
from station.care.answers import plain
from station.care.context import Context
from station.care.floor import Floor
from station.care.makers_label import MakersLabel
from station.care.scans import MakersLabelScan
from station.care.specification import Plant
from station.care.verdict import Decision
from station.care.words import Place, Word

RECEIVED_AT = (Place.FRIDGE, Place.DESK)


def makers_label_scan(floor: Floor, context: Context, scan: MakersLabelScan) -> Decision:
    """What to do with it. Nothing is recorded before a person has handed the form in."""
    label = scan.label
    if context.here.kind not in RECEIVED_AT:
        verdict = plain(
            Word.STOP,
            "makers-label-here",
            "MAKER'S LABEL",
            "This is the maker's label; it says nothing of how the paste was handled.",
            "Scan the station's own label. A container without one is received at the fridge door or the desk.",
        )
        return Decision(verdict, (f.ScanRefused(None, context.here.id, "makers-label-here", label.text[:80]),))
    verdict = plain(
        Word.DONE,
        "makers-label",
        "MAKER'S LABEL",
        said_by(label),
        "Look at the form, add what is missing and hand it in. Nothing is recorded yet.",
    )
    return Decision(replace(verdict, note=_notes(floor, label)))


def said_by(label: MakersLabel) -> str:
    """The label in one sentence."""
    said = [f"{name.replace('_', ' ')} {value}" for name, value in label.fields.items()]
    return f"It says: {', '.join(said)}." if said else "It says nothing that is certain."


def named_by(plant: Plant, label: MakersLabel) -> tuple[tuple[str, str], ...]:
    """The pastes and kinds of container the site knows by the numbers on this label; one, if all is well."""
    numbers = {number for _, number in label.items}
    return tuple(
        dict.fromkeys(
            (paste.id, known.kind)
            for paste in plant.pastes.values()
            for known in paste.maker_codes
            if known.code in numbers
        )
    )


def received_before(floor: Floor, label: MakersLabel) -> str:
    """The container that came with this serial number of this lot, as people call it; "" if none did."""
    same = (
        container.spoken
        for container in floor.ledger.containers.values()
        if container.maker_serial == label.serial and label.lot in ("", container.lot)
    )
    return next(same, "") if label.serial else ""


def _notes(floor: Floor, label: MakersLabel) -> str:
    notes = []
    if spoken := received_before(floor, label):
        notes.append(f"Serial {label.serial} was received before, as {spoken}: look for the label of this station.")
    if label.questions:
        notes.append(f"To be asked: {', '.join(dict.fromkeys(question.field for question in label.questions))}.")
    if label.unknown:
        notes.append(f"Not known here: {', '.join(label.unknown)}.")
    if label.items and not named_by(floor.plant, label):
        notes.append("No paste of this site has its number: choose the paste yourself.")
    return " ".join(notes)
