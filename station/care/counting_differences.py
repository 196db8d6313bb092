"""What a count found to differ from the record: each stands until somebody has seen to it by a deliberate act."""

from collections.abc import Iterator
from dataclasses import dataclass

from station.care import facts as f
from station.care.answers import at_text, plain
from station.care.counting import CountRefused
from station.care.counting_fold import Count
from station.care.floor import Floor
from station.care.limits import passed
from station.care.state import Container
from station.care.verdict import Decision
from station.care.waste import into_the_waste
from station.care.words import Ending, Finding, Role, Settling, Word

TODO = {
    Finding.MISSING: "Look for it. Found: say where. Taken out unscanned: enter the take-out. Else: not found (lead).",
    Finding.ELSEWHERE: "End the count. Scan it here, then MOVED HERE; or take it to the store it is recorded in.",
    Finding.NEVER_AWAY: "End the count, then scan it here to put it away.",
    Finding.OUT: "It may not go back. Take it out and call the shift lead.",
    Finding.OPEN: "Open paste may not lie in here. Take it out and call the shift lead.",
    Finding.ENDED: "Its life is over. Take it out and call the shift lead.",
    Finding.EXPIRED: "Discard it, by the local rules for paste waste; leaded (Pb) waste apart.",
    Finding.HELD: "Put it into the hold bin and tell the shift lead.",
    Finding.ON_ITS_WAY: "End the count, then scan it here to put it away.",
    Finding.UNKNOWN: "Set it apart. Receive it, or ask the shift lead.",
}


@dataclass(frozen=True, slots=True)
class Difference:
    """One container that is not as the record has it."""

    container: str
    finding: Finding

    @property
    def spoken(self) -> str:
        """Its number as people say it."""
        return self.container.replace("-", " ")


def differences(floor: Floor, count: Count) -> tuple[Difference, ...]:
    """What of a count still differs and was not seen to: missing ones first, then the others as they were scanned."""
    settled = {name for name, _ in count.settled}
    return tuple(
        found
        for found in _all(count)
        if found.container not in settled and _stands(floor, count, found.finding, floor.container(found.container))
    )


def _all(count: Count) -> Iterator[Difference]:
    yield from (Difference(name, Finding.MISSING) for name in count.missing)
    newest = {seen.container: seen.finding for seen in count.seen}
    yield from (Difference(name, found) for name, found in newest.items() if found is not Finding.AS_RECORDED)


def _stands(floor: Floor, count: Count, finding: Finding, container: Container | None) -> bool:
    """Whether nothing on record since has settled it, such as a take-out entered late or the DISCARD card."""
    if container is None:
        return True
    if finding in (Finding.UNKNOWN, Finding.ENDED):
        return finding is Finding.ENDED and container.ended is not None
    if container.ended is not None:
        return False
    inside = container.store == count.store
    if finding is Finding.MISSING:
        last = container.last_cold_at
        return inside and (last is None or last <= count.begun_at)
    if finding is Finding.ON_ITS_WAY:
        return container.on_its_way
    if finding in (Finding.ELSEWHERE, Finding.NEVER_AWAY, Finding.OUT):
        return not inside and (finding is not Finding.ELSEWHERE or container.store is not None)
    if finding is Finding.HELD:
        return container.held and inside
    return finding is Finding.OPEN or bool(passed(floor.standing(container).limits, floor.moment_of(container)))


def unsettled(floor: Floor) -> tuple[tuple[Count, tuple[Difference, ...]], ...]:
    """Every count that is over and still has differences, the oldest first."""
    over = sorted((found for found in floor.ledger.counts.values() if found.ended_at), key=lambda found: found.begun_at)
    standing = ((count, differences(floor, count)) for count in over)
    return tuple((count, found) for count, found in standing if found)


def summary(floor: Floor, count: Count, found: tuple[Difference, ...]) -> str:
    """`3 differences of the count of 09:12`."""
    many = "1 difference" if len(found) == 1 else f"{len(found)} differences"
    return f"{many} of the count of {at_text(floor, count.begun_at)}"


# ---------------------------------------------------------------------- settling one


@dataclass(frozen=True, slots=True)
class Settled:
    """What a person says became of one difference; `note` says where it was found, or how it is known."""

    count: str
    container: str
    how: Settling
    note: str


LEAD_ONLY = (Settling.NOT_FOUND, Settling.DISCARDED, Settling.LOOKED_INTO)
ENDINGS = {Settling.NOT_FOUND: Ending.NOT_FOUND, Settling.DISCARDED: Ending.DISCARDED}
_MISSING = (Settling.FOUND, Settling.NOT_FOUND)
_SEEN = (Settling.DISCARDED, Settling.LOOKED_INTO)


def ways(finding: Finding) -> tuple[Settling, ...]:
    """How a difference may be settled here; whatever else settles it is done by its own scan or form."""
    if finding is Finding.MISSING:
        return _MISSING
    return (Settling.LOOKED_INTO,) if finding in (Finding.UNKNOWN, Finding.ENDED) else _SEEN


def settle(floor: Floor, told: Settled, person: str | None) -> Decision:
    """The facts that settle one difference. Raises CountRefused where it does not stand, or may not be settled so."""
    count = floor.ledger.counts.get(told.count)
    standing = differences(floor, count) if count is not None and count.ended_at is not None else ()
    difference = next((found for found in standing if found.container == told.container), None)
    if difference is None:
        raise CountRefused("That difference does not stand any more. Look at the list again.")
    if told.how not in ways(difference.finding):
        raise CountRefused(f"{difference.spoken} is {difference.finding.value}; that can't be settled so.")
    if told.how in LEAD_ONLY and not floor.person_has(person, Role.LEAD):
        raise CountRefused("Only a shift lead settles this. Badge in with your PIN.")
    if not told.note.strip():
        raise CountRefused("Say in a few words where it was found, or how it is known; it stands in the record.")
    ending, note = ENDINGS.get(told.how), told.note.strip()
    over = (f.Ended(told.container, ending, note, "", None),) if ending is not None else ()
    settled = f.DifferenceSettled(told.count, told.container, told.how, note)
    why = f"{difference.spoken} ({difference.finding.value}): {told.how.value}, {note.rstrip('.')}."
    verdict = plain(Word.DONE, "count-settled", "DIFFERENCE SETTLED", why, _then(floor, told))
    return Decision(verdict, (*over, settled))


def _then(floor: Floor, told: Settled) -> str:
    container = floor.container(told.container)
    if told.how is Settling.DISCARDED and container is not None:
        return into_the_waste(floor, container.paste)
    if told.how is Settling.FOUND:
        return "This is no proof that it was cold all the time; if it was warm, enter its take-out."
    return "Go on with the next difference."
