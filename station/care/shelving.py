"""Shelving (ISA-18.2, IEC 62682): a shift lead keeps an alarm quiet for a stated time, with a reason.

It ends by itself. Never a high one, which is bad paste at a stencil, and never a latched one, whose condition is gone
and which only wants a word. The alarm stays open and in sight.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from station.care import alarms
from station.care import facts as f
from station.care.answers import plain
from station.care.floor import Floor
from station.care.refused import Refused
from station.care.saying import when
from station.care.state import Alarm
from station.care.verdict import Decision
from station.care.words import Priority, Role, Word

LONGEST = timedelta(hours=8)
"""One shift: whoever comes next decides anew (common practice, no source)."""


class ShelvingRefused(Refused):
    """The alarm can't be shelved, or is not; the sentence says why."""


@dataclass(frozen=True, slots=True)
class Shelving:
    """What a shift lead says: which alarm, for how long, and why."""

    alarm: str
    length: timedelta
    reason: str


def shelvable(floor: Floor) -> tuple[Alarm, ...]:
    """The open alarms that may be shelved, and are not."""
    return tuple(alarm for alarm, seen in alarms.open_alarms(floor) if not any(_against(seen)) and not seen.shelved)


def shelved(floor: Floor) -> tuple[Alarm, ...]:
    """The alarms that are shelved now."""
    return tuple(alarm for alarm, seen in alarms.open_alarms(floor) if seen.shelved)


def _against(seen: alarms.Situation) -> Iterator[str]:
    if not seen.active:
        yield "What it was about is over; it only wants a word. Clear it."
    elif seen.priority is Priority.HIGH:
        yield "Bad paste lies at a stencil or in a dispenser. Take it off; that can't be put aside."


def shelve(floor: Floor, told: Shelving, person: str | None) -> Decision:
    """The facts that shelve an alarm: it was seen, and until when it is quiet. Raises ShelvingRefused."""
    alarm = _open(floor, told.alarm, person)
    for reason in _against(alarms.situation(floor, alarm)):
        raise ShelvingRefused(reason)
    if not timedelta(0) < told.length <= LONGEST:
        raise ShelvingRefused(f"Shelve it for at most {LONGEST // timedelta(hours=1)} h; then decide anew.")
    if not told.reason.strip():
        raise ShelvingRefused("Say in a few words why; it stands in the record.")
    until = floor.moment.ages + told.length
    seen = alarms.acknowledge(floor, (alarm.id,))
    why = f"It stays open and is quiet until {_at(floor, until)}."
    verdict = plain(Word.DONE, "alarm-shelved", "ALARM SHELVED", why, "It sounds again then, if it is still true.")
    return Decision(verdict, (*seen, f.AlarmShelved(alarm.id, until, told.reason.strip())))


def unshelve(floor: Floor, alarm_id: str, person: str | None) -> Decision:
    """The fact that ends a shelving before its time. Raises ShelvingRefused."""
    alarm = _open(floor, alarm_id, person)
    if not alarms.situation(floor, alarm).shelved:
        raise ShelvingRefused("That alarm is not shelved any more.")
    verdict = plain(Word.DONE, "alarm-unshelved", "SHELVING ENDED", "The alarm sounds again.", "See to it.")
    return Decision(verdict, (f.AlarmUnshelved(alarm.id),))


def _open(floor: Floor, alarm_id: str, person: str | None) -> Alarm:
    alarm = floor.ledger.alarms.get(alarm_id)
    if alarm is None or not alarms.is_open(alarm):
        raise ShelvingRefused("That alarm is not open any more.")
    if not floor.person_has(person, Role.LEAD):
        raise ShelvingRefused("Only a shift lead shelves an alarm. Badge in with your PIN.")
    return alarm


def _at(floor: Floor, instant: datetime) -> str:
    return when(instant, floor.now, floor.zone)
