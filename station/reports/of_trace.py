"""Trace: which containers of a lot went where, for which work orders, by whom; and a work order back to its lots."""

from station.care import trace
from station.care.facts import Received
from station.care.fold_lot import spoken_lot
from station.care.ledger import Ledger
from station.care.pace import paced
from station.care.state import Container
from station.care.trace import Stay
from station.care.under_version import versions_used
from station.reports.asked import Asked, report
from station.reports.document import Column, Report, Table

STAYS = tuple(
    map(
        Column,
        ("lot", "container", "paste", "position", "work order", "from", "until", "people", "ended as", "specification"),
    )
)
HELD = tuple(
    map(Column, ("container", "lot", "paste", "arrived", "ended as", "on hold for", "also on the maker's label"))
)
READING = "reading the containers"
STILL = "still there"
NO_ORDER = "none set up"
CARRIED = "a bead carried over counts for each of its work orders; paste put on it later, for those still to come only"


def trace_report(asked: Asked) -> Report:
    """Of a lot (`SN-4 101`, or `101`) or of a work order; of everything in the period where nothing is named."""
    ledger = asked.floor.ledger
    known = trace.stays(ledger, asked.pace)
    found = [stay for stay in known if _in_period(asked, stay)]
    lots = trace.lots_named(ledger, asked.of, known)
    if asked.of:
        found = [stay for stay in found if stay.work_order == asked.of or set(lots) & set(stay.lots)]
    wanted = set(lots) if lots else {lot for stay in found for lot in stay.lots}
    stays = Table("Where it was used", STAYS, tuple(_row(asked, stay) for stay in found))
    tables = (stays, Table("Containers of these lots", HELD, _containers(asked, wanted)))
    return report(asked, "Trace", tables, ("work orders", CARRIED))


def _in_period(asked: Asked, stay: Stay) -> bool:
    return stay.since < asked.until and (stay.until is None or stay.until >= asked.since)


def _row(asked: Asked, stay: Stay) -> tuple[str, ...]:
    container = asked.floor.container(stay.container)
    return (
        ", ".join(map(spoken_lot, stay.lots)),
        stay.container,
        stay.paste,
        stay.position,
        stay.work_order or NO_ORDER,
        asked.instant(stay.since),
        asked.instant(stay.until) or STILL,
        ", ".join(map(asked.person, stay.people)),
        container.ended.value if container is not None and container.ended is not None else "",
        ", ".join(_versions(asked, stay)),
    )


def _versions(asked: Asked, stay: Stay) -> tuple[str, ...]:
    """The versions it was used under, from when it came to lie there."""
    instants = (stay.since, stay.until or asked.until)
    ledger = asked.floor.ledger
    told = (versions_used(ledger, stay.container, stay.paste, at) for at in instants)
    return tuple(dict.fromkeys(version for versions in told for version in versions))


def _containers(asked: Asked, lots: set[str]) -> tuple[tuple[str, ...], ...]:
    ledger = asked.floor.ledger
    known = paced(ledger.containers.values(), asked.pace, READING)
    found = [found for found in known if lots & set(trace.lots_of(ledger, found.id))]
    return tuple(
        (
            one.id,
            ", ".join(map(spoken_lot, trace.lots_of(ledger, one.id))),
            one.paste,
            asked.instant(one.arrived_at),
            one.ended.value if one.ended is not None else "",
            ", ".join(hold.reason.value for hold in one.all_holds),
            ", ".join(_makers_words(ledger, one)),
        )
        for one in sorted(found, key=lambda found: found.id)
    )


def _makers_words(ledger: Ledger, container: Container) -> tuple[str, ...]:
    """What stood on the maker's label besides, of which the station makes nothing."""
    receipt = ledger.fact(container.received_key)
    return receipt.body.maker_said if receipt is not None and isinstance(receipt.body, Received) else ()
