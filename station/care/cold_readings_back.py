"""What a shift lead says of a store's readings: a file is taken back, excursions were seen.

Taking back undoes no hold and no charged minute by itself: paste that may have been warm is judged by a person.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from station.care import facts as f
from station.care.answers import plain
from station.care.cold_readings_rules import Mistake
from station.care.floor import Floor
from station.care.refused import Refused
from station.care.verdict import Verdict
from station.care.words import Role, Word

NO_REASON = "Say in a few words what was wrong; it stands in the record."
NO_NOTE = "Say in a few words what you found; it stands in the record."
DECIDE = "A shift lead decides on each: the day list has the holds, Excursions gives minutes back."
GONE = "That file does not count any more. Look at the list again."
NOTHING_NEW = "A shift lead has seen all of these already. Look at the list again."
CHANGED = "The excursion has grown since it was shown. Look at the list again."


class ReadingsRefused(Refused):
    """It can't be recorded as told; the sentence says why."""


@dataclass(frozen=True, slots=True)
class TakeBack:
    """Which file of which store, by the fact that took it in, and what was wrong with it."""

    store: str
    taken_in: str
    mistake: Mistake
    reason: str


def take_back(floor: Floor, told: TakeBack, person: str | None) -> tuple[f.ReadingsWithdrawn, Verdict]:
    """The fact of a file taken back, and its answer. Raises ReadingsRefused; nothing is recorded then."""
    _only_a_lead(floor, person)
    if not told.reason.strip():
        raise ReadingsRefused(NO_REASON)
    chosen = _file(floor, told.store, told.taken_in)
    if chosen is None:
        raise ReadingsRefused(GONE)
    imports = alike(floor, told.store, told.taken_in)
    lost = alone(floor, told.store, imports)
    touched = tuple(_touched(floor, lost))
    fact = f.ReadingsWithdrawn(
        store=told.store,
        file=chosen.file,
        digest=chosen.digest,
        series=chosen.series,
        imports=imports,
        mistake=told.mistake,
        reason=told.reason.strip(),
        excursions=tuple(one.excursion for one in lost),
        containers=touched,
    )
    return fact, _verdict(floor, fact, lost)


def alike(floor: Floor, store: str, taken_in: str) -> tuple[str, ...]:
    """The imports of the same file read in the same way, this one among them: two stations may each have one."""
    chosen = _file(floor, store, taken_in)
    files = floor.ledger.cold.files(store)
    return tuple(sorted(fact.key for fact in files if chosen is not None and _same_readings(fact.body, chosen)))


def alone(floor: Floor, store: str, imports: Sequence[str]) -> tuple[f.ExcursionFound, ...]:
    """The excursions that these imports alone tell of."""
    stay = {one.excursion for one in floor.ledger.cold.without(store, imports)}
    return tuple(one for one in floor.ledger.cold.excursions(store) if one.excursion not in stay)


def seen(
    floor: Floor, store: str, shown: Sequence[f.ExcursionFound], note: str, person: str | None
) -> tuple[tuple[f.ExcursionSeen, ...], Verdict]:
    """The facts of excursions a lead has seen as they were shown. Raises ReadingsRefused where one went further."""
    _only_a_lead(floor, person)
    if not note.strip():
        raise ReadingsRefused(NO_NOTE)
    open_now = floor.ledger.cold.unseen(store)
    found = [one for one in shown if one in open_now]
    if len(found) < len(shown):
        raise ReadingsRefused(CHANGED if found or open_now else NOTHING_NEW)
    if not found:
        raise ReadingsRefused(NOTHING_NEW)
    facts = tuple(f.ExcursionSeen(store, one.excursion, one.start, one.end, one.peak_c, note.strip()) for one in found)
    many = "1 excursion" if len(facts) == 1 else f"{len(facts)} excursions"
    are = "is" if len(facts) == 1 else "are"
    why = f"{many} of {_title(floor, store)} {are} recorded as seen. Holds and charged minutes stay."
    return facts, plain(Word.DONE, "excursions-seen", "SEEN", why, "Judge each container on hold at the desk.")


# ---------------------------------------------------------------------- inside


def _only_a_lead(floor: Floor, person: str | None) -> None:
    if not floor.person_has(person, Role.LEAD):
        raise ReadingsRefused("Only a shift lead says this. Badge in with your PIN.")


def _file(floor: Floor, store: str, taken_in: str) -> f.ReadingsImported | None:
    bodies = (fact.body for fact in floor.ledger.cold.files(store) if fact.key == taken_in)
    return next((body for body in bodies if isinstance(body, f.ReadingsImported)), None)


def _same_readings(body: f.Body, chosen: f.ReadingsImported) -> bool:
    return isinstance(body, f.ReadingsImported) and (body.digest, body.series) == (chosen.digest, chosen.series)


def stays(floor: Floor, lost: Sequence[f.ExcursionFound]) -> str:
    """What these came to and stays until a lead decides: every container by name, on hold or charged."""
    kinds = ((f.Held, "Still on hold"), (f.WarmCharged, "Minutes still charged"))
    named = ((what, _named(tuple(_touched_by(floor, lost, kind)))) for kind, what in kinds)
    return " ".join(f"{what}: {names}." for what, names in named if names)


def _touched(floor: Floor, lost: Sequence[f.ExcursionFound]) -> Iterator[str]:
    """Who is on hold for one of these, or lost minutes by it."""
    yield from sorted({name for kind in (f.Held, f.WarmCharged) for name in _touched_by(floor, lost, kind)})


def _touched_by(floor: Floor, lost: Sequence[f.ExcursionFound], kind: type[f.Held | f.WarmCharged]) -> Iterator[str]:
    names = {name for one in lost for name in (one.excursion, *one.replaces)}
    for name, container in sorted(floor.ledger.containers.items()):
        holds = {hold.key for hold in container.holds}
        told = (fact for fact in floor.ledger.history("container", name) if isinstance(fact.body, kind))
        found = (fact for fact in told if _excursion_of(fact.body) in names)
        if any(kind is f.WarmCharged or fact.key in holds for fact in found):
            yield name


def _excursion_of(body: f.Body) -> str:
    return body.excursion if isinstance(body, f.Held | f.WarmCharged) else ""


def _verdict(floor: Floor, fact: f.ReadingsWithdrawn, lost: Sequence[f.ExcursionFound]) -> Verdict:
    many = len(fact.excursions)
    rested = " 1 excursion rested on it alone and counts no more." if many == 1 else ""
    rested = f" {many} excursions rested on it alone and count no more." if many > 1 else rested
    why = f"The readings of {fact.file} count no more for {_title(floor, fact.store)}.{rested}"
    stay = stays(floor, lost)
    todo = f"{stay} {DECIDE}" if stay else ""
    again = "Read the file in again where it belongs." if fact.mistake is not Mistake.OTHER else ""
    return plain(Word.DONE, "readings-back", "TAKEN BACK", why, f"{todo} {again}".strip())


def _named(names: Sequence[str]) -> str:
    return ", ".join(name.replace("-", " ") for name in names)


def _title(floor: Floor, store: str) -> str:
    found = floor.plant.stores.get(store)
    return found.title if found is not None else store
