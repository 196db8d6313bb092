"""Counting a store: every scan at that place only means "seen here now". Nothing is taken out, nothing is printed."""

from dataclasses import replace
from datetime import datetime, timedelta

from station.care import facts as f
from station.care.answers import about, at_text, plain
from station.care.context import Context
from station.care.counting_fold import Count
from station.care.floor import Floor
from station.care.limits import passed
from station.care.refused import Refused
from station.care.scans import CardScan, ContainerScan, MakersLabelScan, Scan, SeenLabel
from station.care.specification import Store
from station.care.state import Container
from station.care.verdict import Decision, Verdict
from station.care.words import Card, CountEnd, Finding, HoldReason, Limit, Stage, Word

# common practice, no source: a count that nobody goes on with must not swallow the next take-out
IDLE = timedelta(minutes=2)
# whoever counts on without looking up must not take a container out by it
SURPRISE = timedelta(minutes=10)
SAID = {
    Finding.ELSEWHERE: "RECORDED ELSEWHERE",
    Finding.NEVER_AWAY: "NEVER PUT AWAY",
    Finding.OUT: "RECORDED AS OUT",
    Finding.OPEN: "OPEN, NOT IN HERE",
    Finding.ENDED: "ENDED BEFORE",
    Finding.EXPIRED: "PAST ITS LIMIT",
    Finding.HELD: "ON HOLD, WRONG BIN",
    Finding.UNKNOWN: "NOT KNOWN HERE",
    Finding.ON_ITS_WAY: "ON ITS WAY, NOT PUT AWAY",
}
# a container of these lies where the record has it, whatever else is wrong with it
AT_HOME = (Finding.AS_RECORDED, Finding.EXPIRED, Finding.HELD)


class CountRefused(Refused):
    """The count can't be begun, ended or settled as told; the sentence says what to mend."""


def running(floor: Floor, place: str) -> Count | None:
    """The count that goes on at a place."""
    going = (count for count in floor.ledger.counts.values() if count.where == place and _goes_on(floor, count))
    return next(going, None)


def _goes_on(floor: Floor, count: Count) -> bool:
    """Not one of another station whose end was never heard of: its scans must not be swallowed for ever."""
    return count.ended_at is None and floor.moment.ages < count.ends_at


def begin(floor: Floor, name: str, store: str, where: str) -> f.CountBegun:
    """Begin to count a store at a place. Raises CountRefused where that goes on already, or for no store."""
    if store not in floor.plant.stores:
        raise CountRefused("Only a store can be counted. Begin at the door of one.")
    counts = (count for count in floor.ledger.counts.values() if _goes_on(floor, count))
    going = next((count for count in counts if store == count.store or where == count.where), None)
    if going is not None:
        title = floor.plant.stores[going.store].title
        raise CountRefused(f"{title} is being counted since {at_text(floor, going.begun_at)}. End that count first.")
    return f.CountBegun(name, store, where, IDLE)


def expected(floor: Floor, count: Count) -> tuple[str, ...]:
    """What the record has in the store since before the count began, or has been seen in it as recorded."""
    at_home = {seen.container for seen in count.seen if seen.finding in AT_HOME}
    inside = (found for found in floor.alive() if found.store == count.store)
    return tuple(found.id for found in inside if found.id in at_home or _before(found, count))


def _before(container: Container, count: Count) -> bool:
    return container.put_away_at is not None and container.put_away_at <= count.begun_at


def found(floor: Floor, count: Count) -> tuple[str, ...]:
    """What was expected and has been seen."""
    seen = {entry.container for entry in count.seen}
    return tuple(name for name in expected(floor, count) if name in seen)


def missing(floor: Floor, count: Count) -> tuple[str, ...]:
    """What was expected and has not been seen so far."""
    seen = {entry.container for entry in count.seen}
    return tuple(name for name in expected(floor, count) if name not in seen)


def end(floor: Floor, count: Count, how: CountEnd) -> f.CountEnded:
    """End a count. What was not seen counts as missing only where a person says that this was all."""
    whole = how in (CountEnd.WHOLE, CountEnd.WHOLE_LATER)
    return f.CountEnded(count.id, how, missing(floor, count) if whole else ())


def ended(floor: Floor, name: str, how: CountEnd) -> f.CountEnded:
    """End a count by its name. Raises CountRefused for one that is over, or was already said to be whole."""
    count = floor.ledger.counts.get(name)
    later = how is CountEnd.WHOLE_LATER
    if count is None or count.whole or (count.ended_at is None) is later:
        raise CountRefused("That count is not open any more, or its end was told before.")
    return end(floor, count, how)


def idle_ends(floor: Floor, station: int) -> tuple[f.CountEnded, ...]:
    """The end of each count of this station that nobody went on with."""
    counts = floor.ledger.counts.values()
    over = (count for count in counts if _own(count, station) and floor.moment.ages >= count.ends_at)
    return tuple(end(floor, count, CountEnd.IDLE) for count in over)


def next_idle_end(floor: Floor, station: int) -> datetime | None:
    """When the next count of this station ends by itself; None where none goes on."""
    counts = floor.ledger.counts.values()
    return min((count.ends_at for count in counts if _own(count, station)), default=None)


def left_open(floor: Floor, station: int) -> tuple[f.CountEnded, ...]:
    """The end of each count of this station that was going on when the program ended."""
    counts = floor.ledger.counts.values()
    return tuple(end(floor, count, CountEnd.RESTART) for count in counts if _own(count, station))


def _own(count: Count, station: int) -> bool:
    return count.ended_at is None and count.station == station


# ---------------------------------------------------------------------- scans


def count_scan(floor: Floor, context: Context, scan: Scan) -> Decision | None:
    """What a scan comes to while its place is counted, or right after a count ended by itself; None for any other."""
    count = running(floor, context.here.id)
    if count is None:
        return _surprised(floor, context, scan)
    match scan:
        case ContainerScan():
            return _counted(floor, count, scan)
        case CardScan(card=card) if card is not Card.SILENCE:
            said = f"{floor.plant.stores[count.store].title} is being counted; cards do nothing meanwhile."
            return Decision(plain(Word.WAIT, "counting", "COUNTING", said, "End the count first, then scan it again."))
        case MakersLabelScan():
            said = f"{floor.plant.stores[count.store].title} is being counted, and this is the maker's label."
            return Decision(plain(Word.WAIT, "counting", "COUNTING", said, "Scan the station's own label."))
        case _:
            return None


def _surprised(floor: Floor, context: Context, scan: Scan) -> Decision | None:
    """The first container scan after a count that ended by itself: whoever made it may think the count goes on."""
    if not isinstance(scan, ContainerScan):
        return None
    over = [count for count in floor.ledger.counts.values() if _just_over(floor, count, context)]
    if not over:
        return None
    at = max(count.ended_at for count in over if count.ended_at is not None)
    why = f"The count ended by itself {at_text(floor, at)}; this scan was not counted. Nothing was recorded."
    todo = "To go on counting, begin the count anew. If you do not count, scan it again."
    return Decision(plain(Word.WAIT, "count-over", "COUNT IS OVER", why, todo))


def _just_over(floor: Floor, count: Count, context: Context) -> bool:
    at = count.ended_at
    if at is None or count.how not in (CountEnd.IDLE, CountEnd.RESTART) or count.where != context.here.id:
        return False
    answered = context.before is not None and context.before.at >= at
    return floor.recently(at, SURPRISE) and not answered


def _counted(floor: Floor, count: Count, scan: ContainerScan) -> Decision:
    store = floor.plant.stores[count.store]
    container = floor.container(scan.container)
    finding = finding_of(floor, store, container, scan.label)
    before = count.seen_of(scan.container)
    again = before is not None and before.finding is finding
    recorded = container.store if container is not None else None
    cold = finding in AT_HOME and floor.ledger.clock.trusted_until is None
    # seen again is told too: somebody is still counting
    fact = f.Counted(count.id, scan.container, store.id, finding, recorded or "", cold)
    if container is None or finding is not Finding.AS_RECORDED:
        return Decision(_unexpected(floor, store, scan.container, finding), (fact,))
    return Decision(_expected(floor, count, container, again=again), (fact,))


def finding_of(floor: Floor, store: Store, container: Container | None, label: SeenLabel | None) -> Finding:
    """What it means that a container, perhaps with this time label, is seen in a store."""
    if container is None:
        return Finding.UNKNOWN
    if container.ended is not None:
        return Finding.ENDED
    if container.opened_at is not None:
        return Finding.OPEN
    newer = label is not None and label.print_number > container.print_number
    if newer or container.has_been_out or container.sighted_warm_at is not None:
        return Finding.OUT
    if container.on_its_way:
        return Finding.ON_ITS_WAY
    if container.store is None:
        return Finding.NEVER_AWAY if floor.stage(container) is Stage.RECEIVED else Finding.OUT
    if container.store != store.id:
        return Finding.ELSEWHERE
    if _over(floor, container):
        return Finding.EXPIRED
    return Finding.HELD if _is_set_apart(container) and not _in_hold_bin(store, container) else Finding.AS_RECORDED


def _over(floor: Floor, container: Container) -> bool:
    past = passed(floor.standing(container).limits, floor.moment_of(container))
    return any(limit is not Limit.CONDITIONING for limit, _ in past)


def _is_set_apart(container: Container) -> bool:
    """Whether it belongs in a hold bin. What is held since a restore only is counted to be released where it lies."""
    return any(hold.reason is not HoldReason.RESTORED for hold in container.all_holds)


def _in_hold_bin(store: Store, container: Container) -> bool:
    return any(bin_.id == container.bin and bin_.hold for bin_ in store.bins)


def _expected(floor: Floor, count: Count, container: Container, *, again: bool) -> Verdict:
    whole = len(expected(floor, count))
    seen = len(set(found(floor, count)) | {container.id})
    progress = f"{seen} OF {whole}"
    if again:
        why = f"{container.spoken} was counted before in this count."
        return about(floor, container, Word.WAIT, "counted-before", f"{progress}, COUNTED BEFORE", why, "Go on.")
    lies = f"{container.spoken} is in bin {container.bin}, as recorded. Nothing is taken out."
    return about(floor, container, Word.DONE, "counted", progress, lies, "Leave it in. Scan the next one.")


def _unexpected(floor: Floor, store: Store, name: str, finding: Finding) -> Verdict:
    spoken = name.replace("-", " ")
    container = floor.container(name)
    where = floor.plant.stores.get(container.store or "") if container is not None else None
    recorded = f" ({where.title})" if finding is Finding.ELSEWHERE and where is not None else ""
    why = f"{spoken}: {finding.value}{recorded}, but it is in {store.title}. It stands among the differences."
    verdict = plain(Word.STOP, "count-difference", SAID[finding], why, "Set it apart and go on counting.")
    return replace(verdict, container=name)


def time_left(floor: Floor, count: Count) -> timedelta:
    """How long until a count ends by itself; never negative."""
    return max(timedelta(0), count.ends_at - floor.now)
