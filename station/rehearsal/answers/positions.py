"""The states a position is asked in: what lies on the stencil, in the head or in the dispenser, and for which job.

`jar` is the container whose paste is there (a cartridge in a dispenser). HERE, POS and LIFE stand for the place, its
(first) position, and how many minutes a bead lasts there.
"""

from dataclasses import replace

from station.care.specification import BestChoice
from station.rehearsal.answers.plant import LEADED, OTHER, RULES
from station.rehearsal.answers.state import H, State, out

ANY_CHOICE = replace(RULES, best_choice=BestChoice.OFF)
"""Nobody is told to use another container first: here they are brought out side by side."""
NEAR_END, PAST_END = -20, 65
"""Minutes by which a bead is older than its life allows, negative: younger."""


def _here(before: int, *codes: str) -> str:
    return f"{before}m HERE tag:POS {' '.join(codes)}"


def _bead(before: int, paste: str = "") -> tuple[str, ...]:
    told = f"paste={paste}" if paste else ""
    return *out("jar", 12 * H, told), _here(before, "jar LOOKS-GOOD")


def _aged(older_by: int) -> tuple[str, ...]:
    """A bead as old as its life there and so many minutes more."""
    return *out("jar", 16 * H), f"LIFE{older_by:+d} HERE tag:POS jar LOOKS-GOOD"


_BARE, _LIES, _PAUSED, _OFF = "nothing on it", "a bead on it", "a pause", "just removed"
_BY_LABEL = "1h HERE badge:SHIFT-LEAD tag:POS seen:K9-007"
_REQUIRED = replace(ANY_CHOICE, work_order_required=True)
ON_STENCIL = (
    State("empty", _BARE),
    State("set up for the same paste", _BARE, (_here(H, "order:BOARD-A"),)),
    State("set up for leaded paste", _BARE, (_here(H, "order:BOARD-B"),)),
    State("not set up, work order required", _BARE, rules=_REQUIRED),
    State("soiled by another paste", _BARE, (*_bead(3 * H, OTHER), _here(H, "REMOVE"))),
    State("cleaned after another paste", _BARE, (*_bead(3 * H, OTHER), _here(H, "REMOVE CLEANED"))),
    State("removed an hour ago", _BARE, (*_bead(2 * H), _here(H, "REMOVE")), "a bead of the same paste"),
    State("opening check unanswered", _BARE, (*out("jar"), _here(5, "jar")), "of another container, 5 min ago"),
    State("bead", _LIES, _bead(H), "of the same paste, an hour old"),
    State("bead, set up for it", _LIES, (_here(2 * H, "order:BOARD-A"), *_bead(H))),
    State("bead, set up for leaded paste", _LIES, (*_bead(H), _here(30, "order:BOARD-B?"))),
    State("bead of another paste", _LIES, _bead(H, OTHER)),
    State("bead, nothing heard for 3 h", _LIES, _bead(3 * H)),
    State("bead, its jar empty", _LIES, (*_bead(H), "30m HERE jar EMPTY")),
    State("bead near its end", _LIES, _aged(NEAR_END)),
    State("bead past its end", _LIES, _aged(PAST_END)),
    State("bead with held paste", _LIES, (*_bead(H), "30m DESK badge:SHIFT-LEAD jar HOLD")),
    State("bead judged by a label", _LIES, (_BY_LABEL,), "no record of its container"),
    State("paused 10 min", _PAUSED, (*_bead(H), _here(10, "PAUSE"))),
    State("paused 45 min", _PAUSED, (*_bead(H), _here(45, "PAUSE"))),
    State("paused 2 h", _PAUSED, (*_bead(3 * H), _here(2 * H, "PAUSE"))),
    State(
        "to be replaced",
        _PAUSED,
        (*_bead(4 * H), _here(3 * H, "PAUSE"), f"{H}m HERE tag:POS? RESUME?"),
        "resumed after 2 h",
    ),
    State("just removed", _OFF, (*_bead(H), _here(2, "REMOVE")), "a bead of the same paste"),
    State("just removed and kept", _OFF, (*_bead(H), _here(2, "REMOVE KEEP-USED"))),
    State("just removed, past its end", _OFF, (*_aged(PAST_END), "2m HERE tag:POS? REMOVE")),
    State("just removed, judged by a label", _OFF, (_BY_LABEL, _here(2, "REMOVE"))),
    State("just told of, gone before", _OFF, (*_bead(4 * H), _here(2, "NEW-BEAD")), "NEW BEAD was scanned"),
)
WITH_LEADED = (
    State("leaded bead", _LIES, _bead(H, LEADED)),
    State("leaded bead just removed", _OFF, (*_bead(H, LEADED), _here(2, "REMOVE"))),
    State("soiled by leaded paste", _BARE, (*_bead(3 * H, LEADED), _here(H, "REMOVE"))),
)
"""Not in an enclosed head, which leaded paste may not go into here."""


def _mounted(before: int, told: str = "") -> tuple[str, ...]:
    return *out("jar", before + 6 * H, f"kind=CARTRIDGE {told}"), _here(before, "jar LOOKS-GOOD")


_IN = "something mounted"
IN_DISPENSER = (
    State("empty", _BARE),
    State("set up for the same paste", _BARE, (_here(H, "order:BOARD-A"),)),
    State("set up for leaded paste", _BARE, (_here(H, "order:BOARD-B"),)),
    State("not set up, work order required", _BARE, rules=_REQUIRED),
    State("soiled by another paste", _BARE, (*_mounted(3 * H, f"paste={OTHER}"), _here(H, "DISMOUNT"))),
    State("just taken off", _BARE, (*_mounted(H), _here(2, "DISMOUNT"))),
    State("mounted", _IN, _mounted(H), "the same paste"),
    State("mounted, set up for it", _IN, (_here(2 * H, "order:BOARD-A"), *_mounted(H))),
    State("mounted, set up for leaded paste", _IN, (*_mounted(H), _here(30, "order:BOARD-B?"))),
    State("another paste mounted", _IN, _mounted(H, f"paste={OTHER}")),
    State("mounted, near its end", _IN, _mounted(1430)),
    State("mounted, open life over", _IN, _mounted(26 * H)),
    State("mounted, on hold", _IN, (*_mounted(H), "30m DESK badge:SHIFT-LEAD jar HOLD")),
)


def _opened_before(minutes: int) -> tuple[str, ...]:
    at_line_3 = "LINE3 order:BOARD-A it LOOKS-GOOD tag:3 REMOVE CLEANED"
    return *out("it", minutes + 6 * H), f"{minutes}m {at_line_3}"


PROBES = (
    State("ready, same paste", "", out()),
    State("ready, another paste", "", out(told=f"paste={OTHER}"), paste=OTHER),
    State("ready, leaded paste", "", out(told=f"paste={LEADED}"), paste=LEADED),
    State("open, same paste", "", _opened_before(2 * H)),
    State("open, 10 min left", "", _opened_before(1430)),
)
"""The containers a position is asked about in each of its states, besides the one whose paste is there."""
