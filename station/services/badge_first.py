"""Who has to say who they are: anybody where the site wants it, and a lead or an engineer by PIN for their acts."""

from collections.abc import Iterable

from station.care.answers import plain
from station.care.context import Context
from station.care.facts import Body
from station.care.floor import Floor
from station.care.proofs import needs_proof
from station.care.scans import BadgeScan, CardScan, ContainerScan, PlaceScan, Scan, TagScan, UnreadScan
from station.care.specification import Rules
from station.care.verdict import Decision
from station.care.words import Card, Word
from station.services.outcome import Refusal

# seen by anybody: an alarm is silenced by whoever is nearest, and looking changes nothing
FREE = (Card.SILENCE, Card.LOOK)


def badge_first(floor: Floor, context: Context, scan: Scan) -> Decision | None:
    """WAIT for a badge, or None where the scan may be decided."""
    if not floor.rules.badge_required or context.person is not None or _free(floor, context, scan):
        return None
    why = "Nobody is badged in here, and this site wants to know who works."
    verdict = plain(Word.WAIT, "badge-first", "BADGE FIRST", why, "Scan your badge, then scan this again.")
    return Decision(verdict)


def refuse_nobody(rules: Rules, person: str | None) -> None:
    """Refusal for something said in a form by nobody, where the site wants to know who."""
    if rules.badge_required and person is None:
        raise Refusal("badge-first", "Nobody is badged in here. Leave this form, scan your badge, then say it again.")


def refuse_unproved(bodies: Iterable[Body]) -> None:
    """Refusal for a shift lead's or a process engineer's word that nobody proved: whatever led here must not act."""
    unproved = [body.NAME for body in bodies if needs_proof(body)]
    if unproved:
        told = unproved[0].replace("-", " ")
        raise Refusal("needs-proof", f"Badge and PIN are needed for this ({told}). Say it at the shift desk.")


def _free(floor: Floor, context: Context, scan: Scan) -> bool:
    armed = context.armed_at(floor.now)
    looked_at = isinstance(scan, ContainerScan | TagScan) and armed is not None and armed.look
    return looked_at or isinstance(scan, BadgeScan | PlaceScan | UnreadScan) or _card(scan) in FREE


def _card(scan: Scan) -> Card | None:
    return scan.card if isinstance(scan, CardScan) else None
