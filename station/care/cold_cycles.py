"""Back into the cold: never, unless the specification has a cold cycle left and nothing else speaks against it.

The first cycle is the one it is put away for. Only a container that was never opened, mounted, mixed or loaded goes
back, on no hold and inside every limit, and only within `return_within`, counted from the earliest it can have left
the cold. Thawed paste goes back to a refrigerator, where its thaw limit goes on, never to a freezer.
"""

from collections.abc import Iterator
from datetime import datetime, timedelta

from station.care import facts as f
from station.care.answers import about, at_text
from station.care.floor import Floor
from station.care.moments import minute_down
from station.care.reasons import against
from station.care.saying import span, span_up
from station.care.specification import Store
from station.care.state import Container
from station.care.verdict import Decision
from station.care.words import Storage, Word

# any of these says that it was opened, or handled as only opened paste is
IN_USE = (f.Opened, f.Inspected, f.Loaded, f.Mounted, f.Mixed, f.Decanted)
COOLED_AGAIN = "Cooling it again draws water in and separates the flux."


def cycles_left(floor: Floor, container: Container) -> int:
    """How many times it may still go back into the cold."""
    return max(0, floor.specification(container.paste).cold_cycles - 1 - container.cold_cycles)


def return_refused(floor: Floor, store: Store, container: Container) -> Decision | None:
    """The answer at the door where a container may not go back; None where it may."""
    why = next(_against_return(floor, store, container), None)
    if why is not None:
        return _never_back(floor, store, container, why)
    if floor.ledger.clock.trusted_until is None and not floor.clocks_disagree(container):
        return None
    verdict = about(
        floor,
        container,
        Word.WAIT,
        "clock-doubt",
        "CLOCK IN DOUBT",
        f"The clock of this PC was moved, so nobody knows how long {container.spoken} was out.",
        "Leave it out and ask a shift lead to check the time and confirm it.",
    )
    return Decision(verdict, (f.ScanRefused(container.id, store.id, "clock-doubt", ""),))


def _against_return(floor: Floor, store: Store, container: Container) -> Iterator[str]:
    """Why it may not go back, the plainest reason first."""
    specification, out_from = floor.specification(container.paste), container.out_from
    within = specification.return_within
    if specification.cold_cycles <= 1 or within is None or out_from is None:
        yield f"{container.spoken} has been out since {at_text(floor, out_from or container.arrived_at)}."
    else:
        yield from _against_another_cycle(floor, store, container)
        yield from _out_too_long(floor, container, out_from, within)


def _against_another_cycle(floor: Floor, store: Store, container: Container) -> Iterator[str]:
    name = container.spoken
    if _in_use(floor, container):
        yield f"{name} is in use; only a closed one that was never used may go back."
    if not cycles_left(floor, container):
        cycles = floor.specification(container.paste).cold_cycles
        yield f"{name} has no cold cycle left of the {cycles} its specification allows."
    if container.thaw_key is not None and store.storage is Storage.FROZEN:
        yield f"{name} has thawed."
    yield from (reason.why for reason in against(floor, container, None) if reason.word is Word.STOP)


def _out_too_long(floor: Floor, container: Container, out_from: datetime, within: timedelta) -> Iterator[str]:
    ages = floor.moment_of(container).ages
    if ages > minute_down(out_from + within):
        out = span_up(ages - out_from)
        yield f"{container.spoken} has been out for {out}; its specification allows {span(within)}."


def _in_use(floor: Floor, container: Container) -> bool:
    told = floor.ledger.history("container", container.id)
    return container.opened_at is not None or any(
        isinstance(fact.body, IN_USE) and not floor.ledger.is_undone(fact.key) for fact in told
    )


def _never_back(floor: Floor, store: Store, container: Container, why: str) -> Decision:
    shape = floor.kind(container).shape
    stops = (reason.todo for reason in against(floor, container, None) if reason.word is Word.STOP)
    verdict = about(
        floor,
        container,
        Word.STOP,
        "never-back",
        "NEVER BACK IN THE COLD",
        f"{why} {COOLED_AGAIN}",
        next(stops, f"Keep the {shape.value} closed at room temperature and use it in time."),
    )
    return Decision(verdict, (f.ReturnRefused(container.id, store.id),))
