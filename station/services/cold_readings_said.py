"""What is said of a store's readings once they are in."""

from collections.abc import Sequence

from station.care import facts as f
from station.care.cold_readings_rules import Policy
from station.care.floor import Floor
from station.care.saying import day_time, many
from station.care.specification import Store
from station.care.verdict import Verdict
from station.care.words import Word
from station.services.cold_readings_judged import Known


def known_verdict(known: Known) -> Verdict:
    """The very file again."""
    at = day_time(known.fact.at, known.so_far.now, known.so_far.zone)
    return Verdict(
        Word.DONE,
        "readings-known",
        "NOTHING NEW",
        f"This very file was taken in {at}, and nothing was added.",
        "Read the logger out again for what it measured since.",
    )


def import_verdict(floor: Floor, store: Store, imported: f.ReadingsImported, bodies: Sequence[f.Body]) -> Verdict:
    """What a file brought."""
    found = {one.excursion for one in bodies if isinstance(one, f.ExcursionFound)}
    held = len({one.container for one in bodies if isinstance(one, f.Held)})
    loud = bool(found) and (imported.policy is not Policy.LOG or held > 0)
    charged = sorted({one.container for one in bodies if isinstance(one, f.WarmCharged)})
    new = imported.readings - imported.known - imported.conflicts
    overdue = overdue_sentence(imported.instrument, overdue=imported.overdue)
    why = f"{new} new readings of {store.title}. {_beside(imported)}{overdue}"
    return Verdict(
        Word.DONE,
        "readings-excursion" if loud else "readings-in",
        many(len(found), "excursion").upper() if loud else "READINGS IN",
        why.strip(),
        _todo(len(charged), held, _out_now(floor, charged), loud=loud),
    )


def display_verdict(store: Store, body: f.StoreRead) -> Verdict:
    """What a display showed."""
    inside = body.low_c <= body.temperature_c <= body.high_c
    overdue = overdue_sentence(body.instrument, overdue=body.overdue)
    return Verdict(
        Word.DONE,
        "store-read" if inside else "store-read-outside",
        f"{body.temperature_c:g} °C" if inside else f"{body.temperature_c:g} °C IS OUTSIDE",
        f"{store.title} is to be between {body.low_c:g} and {body.high_c:g} °C.{overdue}",
        "" if inside else "Read its logger out now, so that what lies in it can be judged, and call the shift lead.",
    )


def overdue_sentence(instrument: str, *, overdue: bool) -> str:
    """That an instrument is not to be trusted any more, or nothing."""
    return f" The calibration of {instrument} has run out: have it calibrated." if overdue else ""


def _beside(imported: f.ReadingsImported) -> str:
    counts = (
        (imported.known, "known already"),
        (imported.conflicts, "otherwise than known: the worse of both counts"),
        (imported.faults, "sensor fault" if imported.faults == 1 else "sensor faults"),
        (imported.gaps, "gap" if imported.gaps == 1 else "gaps"),
    )
    told_of = [f"{count} {what}" for count, what in counts if count]
    return f"{', '.join(told_of)}." if told_of else ""


def _todo(charged: int, held: int, out: Sequence[str], *, loud: bool) -> str:
    parts = [
        f"{many(held, 'container')} on hold: a shift lead judges each." if held else "",
        f"{many(charged, 'container')} lost time." if charged else "",
        f"Print new labels of {', '.join(out)}." if out else "",
        "Look at the store." if loud and not held else "",
    ]
    return " ".join(part for part in parts if part)


def _out_now(floor: Floor, names: Sequence[str]) -> tuple[str, ...]:
    """Those of them that have a time label on them, which says too much now."""
    found = (floor.container(name) for name in names)
    return tuple(one.spoken for one in found if one is not None and one.has_been_out and one.ended is None)
