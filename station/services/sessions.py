"""What each place remembers between scans: who works there, what is armed, what was scanned last."""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from station.care import facts as f
from station.care.context import Before, Context
from station.care.facts import Fact
from station.care.saying import spot
from station.care.scans import (
    BadgeScan,
    BinScan,
    CardScan,
    ContainerScan,
    Here,
    MakersLabelScan,
    PlaceScan,
    Scan,
    StoreScan,
    TagScan,
    UnreadScan,
    WorkOrderScan,
)
from station.care.verdict import Armed, Decision
from station.services.site import PlaceSetting

SIGNED_IN_FOR = timedelta(minutes=30)


@dataclass(frozen=True, slots=True)
class Seen:
    """One line of what was scanned just now."""

    at: datetime
    text: str
    word: str
    short: str
    by_label: bool = False


@dataclass(frozen=True, slots=True)
class Session:
    """One place between two scans."""

    context: Context
    scanned_at: datetime | None = None
    recent: tuple[Seen, ...] = ()

    def at(self, now: datetime) -> "Session":
        """The session as it is now: a person is signed out after half an hour without a scan."""
        seen = self.scanned_at
        idle = seen is not None and now - seen > SIGNED_IN_FOR
        return replace(self, context=replace(self.context, person=None, badged_at=None)) if idle else self

    def clock_moved(self) -> "Session":
        """The session once the clock was seen to move: how old a badge is can't be told any more."""
        return replace(self, context=replace(self.context, badged_at=None))

    def after(self, scan: Scan, decision: Decision, facts: tuple[Fact, ...], now: datetime) -> "Session":
        """The session after a decided scan. A load made by this scan may be withdrawn by a DISCARD card."""
        armed = decision.armed
        if armed is not None and armed is not self.context.armed:  # a scan repeated by bounce keeps what was armed
            loads = tuple(fact.key for fact in facts if isinstance(fact.body, f.Loaded | f.Mounted))
            armed = replace(armed, withdraws=loads or armed.withdraws)
        context = replace(self.context, armed=armed, before=Before(scan, now, decision.verdict))
        verdict = decision.verdict
        line = Seen(now, _named(scan), verdict.word.value, verdict.headline, verdict.by_label)
        return replace(self, context=context, scanned_at=now, recent=(line, *self.recent)[:6])

    def about(self, container: str, now: datetime) -> "Session":
        """The session with a container named for the card that comes next."""
        return replace(self, context=replace(self.context, armed=Armed(at=now, container=container)))

    def signed_in(self, person: str, now: datetime) -> "Session":
        """The session with somebody working at it, whose badge was scanned now."""
        return replace(self, context=replace(self.context, person=person, badged_at=now))


def _named(scan: Scan) -> str:
    """What was scanned, as short as people call it."""
    match scan:
        case ContainerScan(container=name):
            return name.replace("-", " ")
        case CardScan(card=card):
            return card.value.replace("-", " ")
        case TagScan(position=name):
            return spot(name)
        case WorkOrderScan():
            return "work order"
        case BadgeScan():
            return "badge"
        case BinScan(bin=name):
            return f"bin {name}"
        case StoreScan():
            return "store"
        case PlaceScan():
            return "place"
        case MakersLabelScan():
            return "maker's label"
        case UnreadScan():
            return "not read"


def session_for(place: PlaceSetting) -> Session:
    """A fresh session of a place."""
    here = Here(place.id, place.kind, place.title, place.store, place.positions, place.label_printer)
    return Session(Context(here=here, person=None))
