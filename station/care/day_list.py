"""What needs a shift lead today: alarms nobody cleared, holds, labels in doubt, differences, what runs short.

Nothing here is a decision and nothing is recorded by it: each row says what, since when, by how much, and what to do.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from station.care import after_restore, alarms
from station.care.counting_differences import summary, unsettled
from station.care.floor import Floor
from station.care.fold_lot import spoken_lot
from station.care.holding import hold_text
from station.care.label_behind import behind
from station.care.pairing import unpaired
from station.care.saying import many, opening, spot, when
from station.care.state import Alarm, Container
from station.care.stock import shortage, stock, where
from station.care.versions import differing
from station.care.words import HoldReason, Limit

MOST_NAMED = 4


class DayKind(StrEnum):
    """What a row is about, in the order of the list."""

    ALARM = "alarm"
    CLOCK = "clock"
    RESTORED = "restored from a backup"
    SWAPPED = "swapped labels"
    HOLD = "hold"
    LOT_HOLD = "hold of a lot"
    EXCURSION = "store out of its limits"
    LABEL = "label"
    UNPAIRED = "unpaired labels"
    COUNT = "count"
    VERSION = "version"
    STOCK = "stock"


@dataclass(frozen=True, slots=True)
class DayRow:
    """One thing to see to. `subject` names it for the form that deals with it: an alarm, `container:hold`, a lot.

    `since` is its true instant (aware UTC) and `past` how far a limit was exceeded; None where there is none.
    `waits` says that it was dealt with in time, and only wants a word; `ready` that its form may be filled in now.
    """

    kind: DayKind
    subject: str
    what: str
    todo: str
    since: datetime | None = None
    past: timedelta | None = None
    waits: bool = False
    ready: bool = True


def day_list(floor: Floor) -> tuple[DayRow, ...]:
    """Everything that needs a shift lead now, open alarms first, the most urgent and then the oldest of them first."""
    return (
        *alarm_rows(floor),
        *_clock(floor),
        *restored_rows(floor),
        *pairing_rows(floor, swapped=True),
        *hold_rows(floor),
        *excursion_rows(floor),
        *_labels(floor),
        *pairing_rows(floor, swapped=False),
        *_counts(floor),
        *_versions(floor),
        *_short(floor),
    )


# ---------------------------------------------------------------------- alarms

# these say that something was done, not that a time goes on being exceeded
NO_OVERRUN = (Limit.HOLD, Limit.SEEN_AGAIN, Limit.CONDITIONING, Limit.OFF_LIST)


def overrun(floor: Floor, alarm: Alarm) -> timedelta | None:
    """How far a limit was exceeded: until the paste was out of use, or until now; None where no time was exceeded."""
    if alarm.limit in NO_OVERRUN:
        return None
    until = past_until(floor, alarm) or floor.moment.ages
    return max(timedelta(0), until - alarm.since)


def past_until(floor: Floor, alarm: Alarm) -> datetime | None:
    """When the paste was out of use (aware UTC), if it is: what is past stops growing then."""
    between = alarms.boards_between(floor, alarm)
    if between is not None:
        return between[1]
    container = floor.container(alarm.subject)
    return container.ended_at if container is not None else None


def alarm_rows(floor: Floor) -> Iterator[DayRow]:
    """The open alarms, the worst first, each with its true overrun."""
    for alarm, situation in alarms.open_alarms(floor):
        yield DayRow(
            kind=DayKind.ALARM,
            subject=alarm.id,
            what=f"{alarm_name(floor, alarm)}: {alarm.limit.value}",
            todo=_alarm_todo(floor, alarm, situation),
            since=alarm.since,
            past=overrun(floor, alarm),
            waits=situation.quiet and not situation.active,
            ready=not alarms.at_work(floor, alarm, situation),
        )


def alarm_name(floor: Floor, alarm: Alarm) -> str:
    """What an alarm is about: `Bead on line 1`, `K7 298`."""
    if alarm.subject in floor.plant.positions:
        return f"Bead on {spot(alarm.subject)}"
    return alarm.subject.replace("-", " ")


def _alarm_todo(floor: Floor, alarm: Alarm, situation: alarms.Situation) -> str:
    mounted = floor.mounted_at(alarm.subject)
    if situation.shelved and alarm.shelved_until is not None:
        return f"Shelved until {when(alarm.shelved_until, floor.now, floor.zone)}: {alarm.shelved_why}."
    if situation.active and alarm.subject in floor.plant.positions:
        return "Stop, scrape it off, and record REMOVE."
    if situation.active and mounted:
        return f"Stop, take it off {spot(mounted[0])}, and record DISMOUNT."
    if alarms.boards_between(floor, alarm) is not None:
        return "Say what became of the boards, and clear it."
    return "Say what became of it, and clear it."


# ---------------------------------------------------------------------- holds and labels


def hold_rows(floor: Floor) -> Iterator[DayRow]:
    """Every hold: of whole lots, then of single containers, each with the one act that releases it.

    Those since a restore of what lies in a store are not among them: `restored_rows` has them together.
    """
    for lot in sorted(floor.ledger.lots.values(), key=lambda lot: lot.id):
        for hold in lot.holds:
            what = f"Lot {spoken_lot(lot.id)}: {hold_text(floor, hold)}"
            tested = hold.reason is HoldReason.INCOMING_TEST
            todo = "Release it by its test report." if tested else "Decide: release it, or discard all of it."
            yield DayRow(DayKind.LOT_HOLD, lot.id, what, todo, hold.since)
    lying = after_restore.lying(floor)
    together = {one.id for one in (*lying.counted, *lying.unseen)}
    for container in sorted(floor.alive(), key=lambda one: one.id):
        for hold in container.holds:
            if hold.reason is HoldReason.RESTORED and container.id in together:
                continue
            what = f"{container.spoken}: {hold_text(floor, hold)}"
            todo = f"Decide: release it, or discard it. {opening(where(floor, container))}."
            yield DayRow(DayKind.HOLD, f"{container.id}:{hold.key}", what, todo, hold.since)


def restored_rows(floor: Floor) -> Iterator[DayRow]:
    """What is held since a restore and lies in a store, together; then each empty jar whose paste is in a bead."""
    lying = after_restore.lying(floor)
    if lying.counted:
        what = f"{many(len(lying.counted), 'container')} on hold since the restore, counted in store since"
        todo = "If they are unopened and bear no time label of after the backup, release them together."
        yield DayRow(DayKind.RESTORED, "", what, todo)
    if lying.unseen:
        what = f"{many(len(lying.unseen), 'container')} on hold since the restore, not counted in store since"
        todo = "Count the stores, or only what is needed now. What was counted is released together."
        yield DayRow(DayKind.RESTORED, "", what, todo, ready=False)
    for position, container in after_restore.in_beads(floor):
        for hold in after_restore.of_a_restore(container):
            what = f"Bead on {spot(position)}, with paste of {container.spoken}: {hold_text(floor, hold)}"
            todo = "Scrape it off and record REMOVE, or release it if it is known to be the same bead."
            yield DayRow(DayKind.HOLD, f"{container.id}:{hold.key}", what, todo, hold.since)


def excursion_rows(floor: Floor) -> Iterator[DayRow]:
    """Each store with times out of its limits that no lead has seen as far as they go."""
    for store in floor.plant.stores.values():
        found = floor.ledger.cold.unseen(store.id)
        if not found:
            continue
        times = "1 excursion" if len(found) == 1 else f"{len(found)} excursions"
        sides = " and ".join(dict.fromkeys(one.side.value for one in found))
        worst = max(found, key=lambda one: max(one.peak_c - store.high_c, store.low_c - one.peak_c))
        what = f"{store.title}: {times}, {sides}, at worst {worst.peak_c:.1f} °C"
        yield DayRow(DayKind.EXCURSION, store.id, what, "Look at each, and say what you found.", found[-1].start)


def pairing_rows(floor: Floor, *, swapped: bool) -> Iterator[DayRow]:
    """Containers whose two labels are to be scanned together: those found `swapped`, or those never paired."""
    for container in unpaired(floor):
        other = container.swapped_with
        if (other is not None) is not swapped:
            continue
        if other is not None:
            what = f"{container.spoken}: its label was found together with one of {other.replace('-', ' ')}"
            todo = "Put each time label on the one with its number, then scan both labels of each."
            yield DayRow(DayKind.SWAPPED, container.id, what, todo)
        else:
            what = f"{container.spoken}: its two labels were never scanned together"
            todo = f"Scan its identity label, then its time label. {opening(where(floor, container))}."
            yield DayRow(DayKind.UNPAIRED, container.id, what, todo, container.out_from)


def _labels(floor: Floor) -> Iterator[DayRow]:
    for container in sorted(floor.alive(), key=lambda one: one.id):
        if container.print_number > container.newest_label:
            what = f"{container.spoken}: time label {container.print_number} did not come out, or nobody knows"
            todo = f"Scan it and REPRINT, or write its times by hand. {opening(where(floor, container))}."
            yield DayRow(DayKind.LABEL, container.id, what, todo)
        elif found := behind(floor, container):
            said, holds = (when(instant, floor.now, floor.zone) for instant in found)
            what = f"{container.spoken}: its label says {said}, the record {holds}"
            yield DayRow(DayKind.LABEL, container.id, what, f"Scan it and REPRINT. {opening(where(floor, container))}.")


# ---------------------------------------------------------------------- the rest


def _clock(floor: Floor) -> Iterator[DayRow]:
    since = floor.ledger.clock.trusted_until
    if since is not None:
        todo = "Compare it with a clock you trust, set the PC if it is wrong, then say that it is right."
        yield DayRow(
            DayKind.CLOCK, "", "The clock of this PC is in doubt; nothing becomes ready meanwhile", todo, since
        )


def _counts(floor: Floor) -> Iterator[DayRow]:
    for count, found in unsettled(floor):
        named = ", ".join(f"{one.spoken} {one.finding.value}" for one in found[:MOST_NAMED])
        more = f" and {len(found) - MOST_NAMED} more" if len(found) > MOST_NAMED else ""
        what = f"{summary(floor, count, found)}: {named}{more}"
        yield DayRow(DayKind.COUNT, count.id, what, "See to each of them.", count.ended_at)


def _versions(floor: Floor) -> Iterator[DayRow]:
    waiting: list[Container] = sorted((found for found, _ in differing(floor)), key=lambda one: one.id)
    for container in waiting:
        what = f"{container.spoken}: another version of its specification would change its times"
        yield DayRow(DayKind.VERSION, container.id, what, "Say which holds for it; the tighter times hold until then.")


def _short(floor: Floor) -> Iterator[DayRow]:
    for reserve in stock(floor).short:
        yield DayRow(DayKind.STOCK, reserve.paste, shortage(reserve), "Order it, or bring it from another store.")
