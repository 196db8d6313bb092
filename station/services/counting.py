"""Counting a store: begin, end, and see to each difference. One function for each thing a person does."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from station.care import counting
from station.care import facts as f
from station.care.answers import at_text, plain
from station.care.counting_differences import LEAD_ONLY, Difference, Settled, differences, settle
from station.care.counting_fold import Count
from station.care.floor import Floor
from station.care.verdict import Decision, Verdict
from station.care.words import CountEnd, Role, Word
from station.labels.containercode import container_id
from station.services.outcome import Outcome, Refusal
from station.services.station import Proof, Station

# touches that begin or end a count
BEGIN, WHOLE, STOP, LATER = "count-begin", "count-whole", "count-stop", "count-later"
ENDS = {WHOLE: CountEnd.WHOLE, STOP: CountEnd.BROKEN_OFF, LATER: CountEnd.WHOLE_LATER}
TOUCHES = frozenset({BEGIN, *ENDS})
ALONE = (CountEnd.IDLE, CountEnd.RESTART)


def count_by_touch(station: Station, touch: str, name: str) -> Outcome:
    """Begin a count at the place `name`, or end the count `name`. What is refused is said and records nothing."""
    try:
        return begin_count(station, name) if touch == BEGIN else end_count(station, name, ENDS[touch])
    except Refusal:  # the only one before anything is counted
        why = "Nobody is badged in here, and this site wants to know who works."
        return Outcome(plain(Word.WAIT, "badge-first", "BADGE FIRST", why, "Scan your badge, then touch it again."))
    except counting.CountRefused as refused:
        return Outcome(plain(Word.STOP, "count-refused", "NOT COUNTED SO", str(refused), "Look at the screen again."))


def begin_count(station: Station, place: str) -> Outcome:
    """Begin to count the store of a fridge door. Raises counting.CountRefused; nothing is recorded then."""
    setting = station.site.place(place)

    def decide(floor: Floor) -> Decision:
        fact = counting.begin(floor, _name(station), setting.store or "", place)
        title = floor.plant.stores[fact.store].title
        why = f"{title} is counted from now on. Nothing is taken out and nothing is printed until it is ended."
        return Decision(plain(Word.DONE, "count-begun", "COUNTING", why, "Scan every container in it."), (fact,))

    return _at(station, place, station.said(decide, place))


def end_count(station: Station, count: str, how: CountEnd) -> Outcome:
    """A person says that this was all, or breaks the count off. Raises counting.CountRefused."""

    def decide(floor: Floor) -> Decision:
        fact = counting.ended(floor, count, how)
        return Decision(_over(floor, count, fact), (fact,))

    going = station.ledger.counts.get(count)
    place = going.where if going is not None else station.place
    return _at(station, place, station.said(decide, place))


def ended_by_itself(station: Station, facts: Iterable[f.Fact]) -> Iterator[tuple[str, Verdict]]:
    """What to say, and at which place, of each count that ended because nobody went on with it."""
    floor = station.floor()
    for fact in facts:
        body = fact.body
        if isinstance(body, f.CountEnded) and body.how in ALONE:
            yield floor.ledger.counts[body.count].where, _alone(floor, floor.ledger.counts[body.count])


def _alone(floor: Floor, count: Count) -> Verdict:
    title = floor.plant.stores[count.store].title
    seen, whole = len(counting.found(floor, count)), len(counting.expected(floor, count))
    why = f"{title}: {whole} recorded, {seen} of them seen; the others are not claimed as missing."
    todo = "If that was all, say so: touch It was all. To go on, begin the count anew."
    return plain(Word.WAIT, "count-alone", "THE COUNT ENDED BY ITSELF", why, todo)


def settle_difference(station: Station, told: Settled, proof: Proof | None) -> Outcome:
    """See to one difference; all but "found" needs a shift lead's proof. Raises Refusal or counting.CountRefused."""
    if told.how in LEAD_ONLY:
        if proof is None:
            raise Refusal("needs-role", "This needs a shift lead's badge and PIN.")
        return station.decided(proof, Role.LEAD, lambda floor, person: settle(floor, told, person))
    person = station.sessions[station.place].context.person
    return station.said(lambda floor: settle(floor, told, person), station.place)


def _name(station: Station) -> str:
    """The next number of a count of this station, such as `K7-C003`."""
    own = sum(1 for count in station.ledger.counts.values() if count.station == station.site.station)
    stem, _, _ = container_id(station.site.station, 1).partition("-")
    return f"{stem}-C{own + 1:03d}"


def _at(station: Station, place: str, outcome: Outcome) -> Outcome:
    """What was scanned or armed before the count began or ended means nothing after it."""
    session = station.sessions[place]
    station.sessions[place] = replace(session, context=replace(session.context, armed=None, before=None))
    return outcome


def _headline(found: tuple[Difference, ...]) -> str:
    return "1 DIFFERENCE" if len(found) == 1 else f"{len(found)} DIFFERENCES"


def _over(floor: Floor, name: str, fact: f.CountEnded) -> Verdict:
    count = floor.ledger.counts[name]
    after = replace(count, how=fact.how, missing=fact.missing, ended_at=floor.now)
    found = differences(floor, after)
    seen, whole = len(counting.found(floor, count)), len(counting.expected(floor, count))
    title = floor.plant.stores[count.store].title
    why = f"{title}: {whole} recorded, {seen} of them seen (begun {at_text(floor, count.begun_at)})."
    todo = "Scans take out and put away again."
    if found:
        return plain(Word.WAIT, "count-differs", _headline(found), why, f"See to each. {todo}")
    headline = "ALL AS RECORDED" if after.whole else "BROKEN OFF, NOTHING DIFFERS"
    return plain(Word.DONE, "count-done", headline, why, todo)
