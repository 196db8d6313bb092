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

MOST_NAMED = 5
NO_REASON = "Say in a few words what was wrong; it stands in the record."
NO_NOTE = "Say in a few words what you found; it stands in the record."
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
    return fact, _verdict(floor, fact)


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


def _touched(floor: Floor, lost: Sequence[f.ExcursionFound]) -> Iterator[str]:
    """Who is on hold for one of these, or lost minutes by it."""
    names = {name for one in lost for name in (one.excursion, *one.replaces)}
    for name, container in sorted(floor.ledger.containers.items()):
        told = [fact for fact in floor.ledger.history("container", name) if _by(fact.body, names)]
        holds = {hold.key for hold in container.holds}
        if any(isinstance(fact.body, f.WarmCharged) or fact.key in holds for fact in told):
            yield name


def _by(body: f.Body, names: set[str]) -> bool:
    return isinstance(body, f.Held | f.WarmCharged) and body.excursion in names


def _verdict(floor: Floor, fact: f.ReadingsWithdrawn) -> Verdict:
    many = len(fact.excursions)
    fallen = f" {many} excursion{'' if many == 1 else 's'} that only it told of {'falls' if many == 1 else 'fall'}."
    why = f"The readings of {fact.file} count no more for {_title(floor, fact.store)}.{fallen if many else ''}"
    todo = (
        f"Holds and charged minutes stay for {_named(fact.containers)}: decide of each at the desk."
        if fact.containers
        else ""
    )
    again = "Read the file in again where it belongs." if fact.mistake is not Mistake.OTHER else ""
    return plain(Word.DONE, "readings-back", "TAKEN BACK", why, f"{todo} {again}".strip())


def _named(names: Sequence[str]) -> str:
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    return f"{', '.join(name.replace('-', ' ') for name in names[:MOST_NAMED])}{more}"


def _title(floor: Floor, store: str) -> str:
    found = floor.plant.stores.get(store)
    return found.title if found is not None else store
