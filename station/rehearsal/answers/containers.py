"""The states a container is asked in, in the order of its life.

HERE and POS stand for the place that is asked and its (first) position, or for line 1 where no paste is used. The
container is a jar, at a dispenser a cartridge, unless its state says otherwise.
"""

from dataclasses import replace

from station.care.specification import BestChoice, ByLabel
from station.rehearsal.answers.hands import HOUR, true_label
from station.rehearsal.answers.plant import OTHER, RULES
from station.rehearsal.answers.state import H, State, cold, opened, out, received

NAMED_ELSEWHERE = "K9-001"
"""What a container is called that this station has no record of."""

_KNOWN_ONLY_BY_LABEL = "not known here"
_ALLOW, _REFUSE = replace(RULES, by_label=ByLabel.ALLOW), replace(RULES, by_label=ByLabel.REFUSE)
UNKNOWN = (
    State("not known", _KNOWN_ONLY_BY_LABEL, meaning="its identity label is read, and there is no record of it"),
    State("label only, too early", _KNOWN_ONLY_BY_LABEL, label=true_label(ready=2 * HOUR)),
    State("label only, usable", _KNOWN_ONLY_BY_LABEL, meaning="a true time label, no record", label=true_label()),
    State("label only, usable, site allows it", _KNOWN_ONLY_BY_LABEL, rules=_ALLOW, label=true_label()),
    State("label only, usable, site refuses it", _KNOWN_ONLY_BY_LABEL, rules=_REFUSE, label=true_label()),
    State("label only, over", _KNOWN_ONLY_BY_LABEL, label=true_label(end=-2 * HOUR)),
    State("label only, used paste", _KNOWN_ONLY_BY_LABEL, label=true_label(used=True)),
    State("label only, paste not set up here", _KNOWN_ONLY_BY_LABEL, label=true_label(paste=60)),
)

_RECEIVED = "received"
JUST_RECEIVED = (
    State("received", _RECEIVED, received()),
    State("received frozen", _RECEIVED, received(told="paste=PASTE-F"), paste="PASTE-F"),
    State("received, held: too warm", _RECEIVED, received(told="temp=39")),
    State("received, held: below freezing", _RECEIVED, received(told="temp=-3")),
    State("received, held: several reasons", _RECEIVED, received(told="tripped leaking"), "indicator tripped, leaking"),
    State("received, late to the cold", _RECEIVED, received(before=5 * H)),
    State(
        "received, no bin free",
        _RECEIVED,
        (*cold("one", "paste=PASTE-L"), *cold("other", "paste=PASTE-L"), *received(told="paste=PASTE-L")),
        "the one leaded bin is full",
        paste="PASTE-L",
    ),
)

_COLD = "in the cold"
_HUMID, _FIT, _CHILL = "!room 23 95", "!room 23 45", "!room 15 45"
_SOONER = cold("other", "expires=30")
IN_THE_COLD = (
    State("cold", _COLD, cold()),
    State("cold, just put away", _COLD, (*received(), "2m FRIDGE it")),
    State("cold, in another store", _COLD, cold(door="FRIDGE2"), "recorded in the second refrigerator"),
    State("cold, in another store, seen outside", _COLD, (*cold(door="FRIDGE2"), "1h LINE3 it?"), "at line 3"),
    State("just on its way", _COLD, (*cold(), "2m FRIDGE MOVE? it")),
    State("on its way", _COLD, (*cold(), "20m FRIDGE MOVE? it"), "by MOVE, to another store"),
    State("late on its way, released", _COLD, (*cold(), "90m FRIDGE MOVE? it", "10m !release it")),
    State("cold, its store is being counted", _COLD, (*cold(), "1m !count FRIDGE")),
    State("cold, its wrong store is being counted", _COLD, (*cold(door="FRIDGE2"), "1m !count FRIDGE")),
    State("cold, a count just ended", _COLD, (*cold(), "3m !count FRIDGE"), "by itself: nobody scanned any more"),
    State("cold, seen outside", _COLD, (*cold(), "1h LINE3 it?"), "scanned at line 3, never scanned out"),
    State("cold, shelf life over", _COLD, cold(told="expires=-1")),
    State("cold, held: its store was too warm", _COLD, (*cold(), "1h !store-warm FRIDGE")),
    State("cold, lot on hold", _COLD, (*cold(), "1h !hold-lot L1")),
    State("cold, another should go first", _COLD, (*cold(), *_SOONER), "an older one lies in the cold"),
    State("cold, another is ready", _COLD, (*cold(), *out("other"))),
    State(
        "cold, another should go first, site blocks",
        _COLD,
        (*cold(), *_SOONER),
        rules=replace(RULES, best_choice=BestChoice.BLOCK),
    ),
    State("cold, room too humid", _COLD, (*cold(), f"20m {_HUMID}")),
    State("cold, room too cold", _COLD, (*cold(), f"20m {_CHILL}")),
    State("cold again", _COLD, (*out(told=f"paste={OTHER}", before=8 * H), "6h FRIDGE it"), "taken back in", OTHER),
    State("cold, specification a draft", _COLD, cold(told="paste=PASTE-D"), paste="PASTE-D"),
)

_FROZEN = "frozen paste on its way"
_FREEZER = cold(told="paste=PASTE-F", door="FREEZER")


def _thawing(name: str, before: int, *more: str, meaning: str = "") -> State:
    return State(name, _FROZEN, (*_FREEZER, f"{before}m FREEZER it", *more), meaning, "PASTE-F")


FROZEN = (
    State("frozen", _FROZEN, _FREEZER, "in its freezer", "PASTE-F"),
    State("frozen, seen outside", _FROZEN, (*_FREEZER, "1h LINE3 it?"), "scanned at line 3", "PASTE-F"),
    _thawing("just out of the freezer", 2),
    _thawing("out of the freezer, not put away", 20),
    _thawing("thawing", 6 * H, "350m FRIDGE it", meaning="in the refrigerator, not yet its least time"),
    _thawing("thawed", 20 * H, "1190m FRIDGE it", meaning="in the refrigerator, may go to the room"),
    _thawing("thawed too long", 60 * H, "3590m FRIDGE it"),
    _thawing("thawed too long, released", 60 * H, "3590m FRIDGE it", "30m !release it"),
)

_WARMING = "out, not ready"
_MAY_GO_BACK = out(before=1 * H, told=f"paste={OTHER}")
WARMING = (
    State("just taken out", _WARMING, out(before=2)),
    State("just taken out, beside another", _WARMING, (*out(before=3), *out("other", before=2)), "neither is paired"),
    State(
        "just taken out, labels swapped",
        _WARMING,
        (*out(before=4), *out("other", before=3), "1m !swapped FRIDGE it other"),
        "its identity label was scanned with the time label of another",
    ),
    State("warming", _WARMING, out(before=2 * H)),
    State("warming, seen at a line", _WARMING, (*out(before=2 * H), "1h LINE3 it?")),
    State("warming, label reprinted", _WARMING, (*out(before=2 * H), "1h BENCH it REPRINT")),
    State("warming, may go back", _WARMING, _MAY_GO_BACK, "a cold cycle is left", OTHER),
    State("warming, may go back, on hold", _WARMING, (*_MAY_GO_BACK, "30m DESK badge:SHIFT-LEAD it HOLD"), paste=OTHER),
    State(
        "warming, no time known",
        _WARMING,
        (*cold(), f"3h {_HUMID}", "2h !late it 4h 3h", f"1h {_FIT}"),
        "taken out into a room too humid to give a time",
    ),
    State("warming, opened too early", _WARMING, (*out(before=2 * H), "1h LINE3 it? LOOKS-GOOD?")),
    State("clock in doubt", _WARMING, (*out(before=6 * H), "5h50m !clock 5h"), "the PC's clock was moved ahead"),
    State("clock in doubt, may go back", _WARMING, (*_MAY_GO_BACK, "50m !clock 30m"), paste=OTHER),
    State("clocks disagree", _WARMING, out(before=6 * H), "taken out by a station with another time", ahead=30),
)

_READY = "ready"
_BACK_TWICE = (
    *out(before=14 * H, told=f"paste={OTHER}"),
    *(f"{hour}h FRIDGE it" for hour in (13, 10, 9)),
    "280m FRIDGE it",
)
READY = (
    State("ready", _READY, out()),
    State("ready, label reprinted", _READY, (*out(), "1h BENCH it REPRINT")),
    State("ready, labels swapped", _READY, (*out(), *out("other"), "1h !swapped BENCH it other")),
    State("ready, may go back", _READY, out(before=270, told=f"paste={OTHER}"), "a cold cycle is left", OTHER),
    State("ready, out too long to go back", _READY, out(told=f"paste={OTHER}"), "6 h, where 5 h are allowed", OTHER),
    State("ready, no cold cycle left", _READY, _BACK_TWICE, "it went back into the cold as often as it may", OTHER),
    State("ready, air now more humid", _READY, (*out(before=245), "20m !room 23 85"), "than at take-out"),
    State("ready, room now too humid", _READY, (*out(), f"20m {_HUMID}")),
    State("ready, room now too cold", _READY, (*out(), f"20m {_CHILL}")),
    State("ready, work order required", _READY, out(), rules=replace(RULES, work_order_required=True)),
    State("ready, held by a person", _READY, (*out(), "1h DESK badge:SHIFT-LEAD it HOLD")),
    State("ready, shelf life over", _READY, out(before=20 * H, told="expires=-1")),
    State("ready, room life over", _READY, out(before=8 * 24 * H)),
    State("ready, seen outside before", _READY, (*cold(), "7h LINE3 it?", "6h FRIDGE it"), "held for it"),
)

_OPEN = "open"
OPEN = (
    State("open, not looked at", _OPEN, (*out(), "10m LINE3 it"), "opened at line 3, no word on how it looks"),
    State("open", _OPEN, opened()),
    State("open, feeding here", _OPEN, (*out(before=8 * H), "1h HERE tag:POS it LOOKS-GOOD"), "its bead lies here"),
    State("open, feeding elsewhere", _OPEN, (*out(before=8 * H), "1h LINE3 it LOOKS-GOOD"), "at line 3"),
    State("open, near its end", _OPEN, opened(before=1430), "10 min left"),
    State("open, label reprinted", _OPEN, (*opened(), "30m BENCH it REPRINT")),
    State("open, room now too humid", _OPEN, (*opened(), f"20m {_HUMID}")),
    State("open, room now too cold", _OPEN, (*opened(), f"20m {_CHILL}")),
    State("open, room read yesterday", _OPEN, (*opened(), f"14h {_FIT}")),
    State("open, could have gone back", _OPEN, opened(told=f"paste={OTHER}"), "a cold cycle was left", OTHER),
    State("open, looked bad", _OPEN, (*out(), "1h LINE3 it LOOKS-BAD?")),
    State("open, mixed too often", _OPEN, (*opened(), "30m BENCH it MIXED", "20m BENCH it MIXED?")),
    State("open, held for evaluation", _OPEN, (*opened(before=26 * H), "1h !clear it held for evaluation")),
    State("open, open life over", _OPEN, opened(before=26 * H)),
    State("mounted elsewhere", _OPEN, (*out(told="kind=CARTRIDGE"), "1h DOTS2 it LOOKS-GOOD"), kind="CARTRIDGE"),
    State(
        "just taken off a dispenser",
        _OPEN,
        (*out(told="kind=CARTRIDGE"), "1h DOTS2 it LOOKS-GOOD", "2m DOTS2 tag:D2 DISMOUNT"),
        kind="CARTRIDGE",
    ),
)

_FILLED = "filled here"


def _used_after(minutes: int, kept: int) -> tuple[str, ...]:
    bead = kept + minutes
    return (
        *out("jar", bead + 6 * H),
        f"{bead}m LINE3 jar LOOKS-GOOD",
        f"{kept}m LINE3 tag:3 REMOVE KEEP-USED=it",
    )


FILLED = (
    State("decanted", _FILLED, (*opened("jar", 3 * H), "1h BENCH jar DECANT=it")),
    State("decanted, decanted life over", _FILLED, (*opened("jar", 12 * H), "9h BENCH jar DECANT=it")),
    State(
        "decanted, source not known",
        _FILLED,
        (*opened("jar", 3 * H), "1h BENCH jar DECANT=it"),
        "filled at another station, with no record of its source here",
        ahead=0,
        hears_only_it=True,
    ),
    State("used paste", _FILLED, _used_after(2 * H, 1 * H), "lay 2 h on a stencil"),
    State("used paste, 7 h spent", _FILLED, _used_after(7 * H, 1 * H), "of 8 h on a stencil, 6 h in a head"),
    State("used paste, its life over", _FILLED, _used_after(1 * H, 5 * H)),
)

_ROOM = "paste kept at room temperature"
_SHELF = cold(told="paste=PASTE-R", door="SHELF")
AT_ROOM = (
    State("room paste, received", _ROOM, received(told="paste=PASTE-R"), paste="PASTE-R"),
    State("room paste, on its shelf", _ROOM, _SHELF, paste="PASTE-R"),
    State("room paste, just put away", _ROOM, (*received(told="paste=PASTE-R"), "2m SHELF it"), paste="PASTE-R"),
    State("room paste, open", _ROOM, (*_SHELF, "1h LINE3 it LOOKS-GOOD", "50m LINE3 tag:3 REMOVE"), paste="PASTE-R"),
)

_ENDED = "ended"
ENDED = (
    State("just used up", _ENDED, (*opened(), "2m LINE3 it EMPTY")),
    State("used up", _ENDED, (*opened(before=3 * H), "2h LINE3 it EMPTY")),
    State("discarded", _ENDED, (*opened(before=3 * H), "2h BENCH it DISCARD")),
    State("not found", _ENDED, (*out(before=8 * 24 * H), "2h !clear it not found")),
)

STATES = (
    *UNKNOWN,
    *JUST_RECEIVED,
    *IN_THE_COLD,
    *FROZEN,
    *WARMING,
    *READY,
    *OPEN,
    *FILLED,
    *AT_ROOM,
    *ENDED,
)
