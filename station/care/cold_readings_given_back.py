"""Minutes charged for a time out of the limits that counts no more are given back by a lead, container by container."""

from collections.abc import Iterable
from datetime import timedelta

from station.care import facts as f
from station.care.answers import REPRINT, plain
from station.care.cold_readings_back import ReadingsRefused
from station.care.cold_readings_charge import length, union
from station.care.floor import Floor
from station.care.outside import Side
from station.care.saying import span
from station.care.state import Container
from station.care.verdict import Verdict
from station.care.words import Role, Word

NONE_TO_GIVE = "No minute of it was charged by a file that was taken back, or other files tell of the same time."


def returnable(floor: Floor, container: str) -> tuple[f.Fact, ...]:
    """The charges of a container whose file was taken back, where no excursion that stands tells of their time."""
    told = floor.ledger.history("container", container)
    return tuple(
        fact
        for fact in told
        if isinstance(fact.body, f.WarmCharged)
        and not floor.ledger.is_undone(fact.key)
        and _counts_no_more(floor, fact.body)
    )


def to_decide(floor: Floor) -> tuple[tuple[Container, timedelta], ...]:
    """Containers still here that a file taken back charged, each with what may be given back to it."""
    if not any(floor.ledger.cold.taken_back(store) for store in floor.plant.stores):
        return ()
    found = ((one, returnable(floor, one.id)) for one in sorted(floor.alive(), key=lambda one: one.id))
    return tuple((one, minutes(charges)) for one, charges in found if charges)


def give_back(floor: Floor, container: str, reason: str, person: str | None) -> tuple[tuple[f.Undone, ...], Verdict]:
    """The facts that take these charges back, and the answer. Raises ReadingsRefused; nothing is recorded then."""
    if not floor.person_has(person, Role.LEAD):
        raise ReadingsRefused("Only a shift lead gives minutes back. Badge in with your PIN.")
    if not reason.strip():
        raise ReadingsRefused("Say in a few words why; it stands in the record.")
    found = returnable(floor, container)
    if not found:
        raise ReadingsRefused(NONE_TO_GIVE)
    name = container.replace("-", " ")
    why = f"{span(minutes(found))} charged to {name} by a file that was taken back count no more."
    verdict = plain(Word.DONE, "minutes-back", "MINUTES GIVEN BACK", why, f"If it has a time label: {REPRINT}")
    return tuple(f.Undone(fact.key, reason.strip()) for fact in found), verdict


def minutes(charges: Iterable[f.Fact]) -> timedelta:
    """How long these are together, each minute once."""
    bodies = (fact.body for fact in charges)
    return length(union((body.start, body.end) for body in bodies if isinstance(body, f.WarmCharged)))


def _counts_no_more(floor: Floor, charge: f.WarmCharged) -> bool:
    cold = floor.ledger.cold
    gone = {name for one in cold.taken_back(charge.store) for name in (one.excursion, *one.replaces)}
    still = (one for one in cold.excursions(charge.store) if one.side is Side.HIGH)
    return charge.excursion in gone and not any(one.start < charge.end and charge.start < one.end for one in still)
