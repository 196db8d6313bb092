"""Which facts are a shift lead's or a process engineer's word, and so may come by badge and PIN only."""

from station.care import facts as f
from station.care.words import HoldReason

# However they came to be written: by a form, a scan, a card, a file or a command. The program itself writes some of
# them from its settings at a start, and what other stations wrote they had proved there.
PROVED: tuple[type, ...] = (
    f.Released,
    f.LimitExtended,
    f.AlarmCleared,
    f.AlarmShelved,
    f.AlarmUnshelved,
    f.LotHeld,
    f.LotReleased,
    f.LotRecertified,
    f.ReceiptCorrected,
    f.DeliveryCorrected,
    f.PersonSet,
    f.BadgesPrinted,
    f.ClockConfirmed,
    f.FiguresAccepted,
    f.SpecificationSet,
    f.SpecificationDrafted,
    f.DraftWithdrawn,
    f.SpecificationApplied,
    f.BeadLifeApplied,
    f.PasteListSet,
    f.ReactionSet,
    f.ReadingsWithdrawn,
    f.ExcursionSeen,
)


def needs_proof(body: f.Body) -> bool:
    """Whether somebody has to prove a role before this may be written. A lot that awaits its incoming test is held by
    its arrival, and by nobody's word."""
    awaits = isinstance(body, f.LotHeld) and body.reason is HoldReason.INCOMING_TEST
    return isinstance(body, PROVED) and not awaits
