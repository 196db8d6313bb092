"""Who says it, on the command line: a badge by its id, and the PIN asked on the terminal where a role is needed.

A PIN is never an argument: arguments stand in the shell's history and in the list of processes.
"""

import sys
from collections.abc import Mapping
from getpass import getpass

from station.care.state import Somebody
from station.services.outcome import Refusal
from station.services.station import Proof, Station

MISSING = "This site wants to know who works. Add --by BADGE, the id on your badge."


def signed_in(station: Station, badge: str | None) -> str | None:
    """Sign in whoever `--by` names at the station's place. Refusal for a badge of nobody here, and for none where
    the site wants one."""
    if badge is None:
        if station.site.plant.rules.badge_required:
            raise Refusal("badge-first", MISSING)
        return None
    refuse_stranger(station.ledger.people, badge)
    now = station.floor().now
    station.sessions[station.place] = station.sessions[station.place].signed_in(badge, now)
    return badge


def refuse_stranger(people: Mapping[str, Somebody], badge: str) -> None:
    """Refusal for a badge of nobody who works here by the record, which the settings need not know of."""
    found = people.get(badge)
    if found is None:
        raise Refusal("unknown-badge", f"Nobody here has badge {badge!r}. Give the id on a badge of this site.")
    if found.left:
        raise Refusal("unknown-badge", f"{found.name}, whose badge {badge!r} was, does not work here any more.")


def proof_of(station: Station, badge: str | None, act: str) -> Proof:
    """Badge and PIN of whoever `--by` names; `act` says what they are asked for. Refusal where one is missing."""
    if badge is None:
        raise Refusal("needs-role", f"{act} needs a shift lead or a process engineer. Add --by BADGE.")
    refuse_stranger(station.ledger.people, badge)
    return Proof(badge, _asked_pin(badge))


def _asked_pin(badge: str) -> str:
    """From the terminal unseen, or the first line of what is piped in."""
    if sys.stdin is None:
        raise Refusal("no-terminal", "The PIN is asked on a terminal, and there is none. Start it in one.")
    if sys.stdin.isatty():
        return getpass(f"PIN of {badge}: ")
    return sys.stdin.readline().rstrip("\r\n")
