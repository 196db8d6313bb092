"""Forward from a lot and back from a work order, on whole days worked by hand.

The affected times are those of the plan of these days: changeovers on line 2, and one lot recalled at two printers.
"""

from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path

import pytest

from station.bootstrap import build_player
from station.care import facts as f
from station.care import trace, use_figures
from station.care.floor import Floor
from station.care.ledger import Ledger
from station.care.trace import Stay
from station.care.words import Limit
from station.rehearsal.script import read_script
from tests.rehearsal.plants import site_of

DAYS = Path(__file__).parents[1] / "rehearsal" / "days"


@cache
def after(day: str) -> Floor:
    """The floor at the end of a rehearsed day."""
    script = DAYS / f"{day}.jsonl"
    site = site_of(script)
    steps = read_script(script, site.zone)
    player = build_player(site, steps[0].at)
    for step in steps:
        player.step(step)
    return player.station.floor()


def spoken(floor: Floor, stay: Stay) -> tuple[str, str, str]:
    """Where, from when, until when: to the minute, plant time."""
    until = f"{stay.until.astimezone(floor.zone):%H:%M}" if stay.until else "still"
    return stay.position, f"{stay.since.astimezone(floor.zone):%H:%M}", until


def past_limits(ledger: Ledger) -> tuple[use_figures.Outside, ...]:
    """Every stretch past a limit on record."""
    return use_figures.outside(ledger, use_figures.uses(ledger))


def orders(floor: Floor, lot: str) -> set[str | None]:
    """The work orders a lot went into."""
    return {stay.work_order for stay in trace.of_lot(floor.ledger, lot)}


def test_a_lot_is_traced_to_the_work_orders_its_bead_was_carried_through_and_no_other() -> None:
    floor = after("changeovers")
    assert orders(floor, "SN-4/301") == {"WO1", "WO2"}
    assert orders(floor, "PB-1/302") == {"WO3"}
    assert orders(floor, "SN-4/303") == set()  # never loaded


def test_a_work_order_is_traced_back_to_its_lots_and_no_other() -> None:
    ledger = after("changeovers").ledger
    back = {
        order: {lot for stay in trace.of_work_order(ledger, order) for lot in stay.lots}
        for order in ("WO1", "WO2", "WO3", "WO9")
    }
    assert back == {"WO1": {"SN-4/301"}, "WO2": {"SN-4/301"}, "WO3": {"PB-1/302"}, "WO9": set()}


def test_a_carried_over_bead_changes_work_order_at_the_word_and_a_removal_taken_back_ends_nothing() -> None:
    floor = after("changeovers")
    assert [(stay.work_order, *spoken(floor, stay)) for stay in trace.stays(floor.ledger)] == [
        ("WO1", "2", "06:00", "09:30"),
        ("WO2", "2", "09:30", "13:00"),
        ("WO3", "2", "13:21", "still"),
    ]


def test_paste_of_a_recalled_lot_counts_until_its_beads_came_off_not_until_its_jar_was_empty() -> None:
    floor = after("recall_at_two_printers")
    found = [spoken(floor, stay) for stay in trace.of_lot(floor.ledger, "SN-4/101")]
    assert found == [("P1", "06:00", "12:10"), ("P2", "06:30", "12:20")]


@pytest.mark.parametrize(
    ("said", "meant"),
    [("301", ("SN-4/301",)), ("sn-4  301", ("SN-4/301",)), ("SN-4/301", ("SN-4/301",)), ("PB-1 301", ()), ("", ())],
)
def test_a_lot_may_be_said_with_its_paste_or_alone(said: str, meant: tuple[str, ...]) -> None:
    ledger = after("changeovers").ledger
    assert trace.lots_named(ledger, said, trace.stays(ledger)) == meant


def test_what_was_filled_here_is_traced_to_the_lots_it_came_from() -> None:
    ledger = after("decanted_and_held").ledger
    filled = [found for found in ledger.containers.values() if found.sources]
    assert filled
    for found in filled:
        assert trace.lots_of(ledger, found.id) == trace.lots_of(ledger, found.sources[0])
    assert trace.lots_of(ledger, "nowhere") == ()


def test_a_mounted_cartridge_is_traced_like_a_bead() -> None:
    floor = after("dispenser_day")
    mounted = [stay for stay in trace.stays(floor.ledger) if stay.mounted]
    assert mounted
    assert all(stay.lots for stay in mounted)


def test_boards_made_while_a_held_bead_lay_there_are_named_with_their_times() -> None:
    floor = after("recall_at_two_printers")
    held = [entry for entry in past_limits(floor.ledger) if entry.alarm.limit is Limit.HOLD]
    times = [(entry.use.position, f"{entry.since.astimezone(floor.zone):%H:%M}", entry.until) for entry in held]
    assert [found[:2] for found in times] == [("P1", "12:00"), ("P2", "12:00")]
    assert [found[2] and f"{found[2].astimezone(floor.zone):%H:%M}" for found in times] == ["12:10", "12:20"]
    assert all(entry.work_orders == () for entry in held)


def test_beads_inside_and_outside_their_limits_are_counted_by_paste() -> None:
    floor = after("recall_at_two_printers")
    uses, past = use_figures.uses(floor.ledger), past_limits(floor.ledger)
    (figures,) = use_figures.in_use(uses, past, datetime(2026, 11, 10, 6, tzinfo=UTC))
    assert (figures.paste, figures.uses, figures.inside, figures.share) == ("SN-4", 4, 2, 0.5)
    assert timedelta(minutes=20) <= figures.longest_outside <= timedelta(minutes=21)


SIX = datetime(2026, 11, 9, 6, tzinfo=UTC)
HOUR = timedelta(hours=1)


def record(*told: tuple[f.Body, str | None]) -> Ledger:
    """Facts an hour apart from 06:00 on, with who said each."""
    ledger = Ledger()
    for place, (body, who) in enumerate(told):
        at = SIX + place * HOUR
        ledger.apply(f.Fact(1, place + 1, place + 1, at, 1, who, f.Segment("boot", 0), body))
    return ledger


def loaded(container: str, order: str | None) -> f.Loaded:
    return f.Loaded(container, "2", "SN-4", f"L{container}", order, True, SIX + 8 * HOUR, (), restart=False)


def key(place: int) -> str:
    """The name of the fact at a place of the record."""
    return f"{1:016x}-{place}"


def test_paste_put_on_after_a_carry_over_belongs_to_the_later_work_order_only() -> None:
    ledger = record(
        (loaded("A", "WO1"), "P1"),
        (f.CarriedOver("2", key(1), "WO2"), "P2"),
        (loaded("B", "WO2"), "P3"),
        (f.Removed("2", key(1), replaced_earlier=False), "P4"),
    )
    told = [(stay.container, stay.work_order, stay.lots, stay.people) for stay in trace.stays(ledger)]
    assert told == [
        ("A", "WO1", ("SN-4/LA",), ("P1",)),
        ("A", "WO2", ("SN-4/LA",), ("P1", "P2")),
        ("B", "WO2", ("SN-4/LB",), ("P3", "P2")),
    ]
    assert [(stay.since, stay.until) for stay in trace.stays(ledger)] == [
        (SIX, SIX + HOUR),
        (SIX + HOUR, SIX + 3 * HOUR),
        (SIX + 2 * HOUR, SIX + 3 * HOUR),
    ]


def mounted(limit: Limit, since: datetime, anchor: str) -> Ledger:
    """A cartridge mounted from 06:00 to 08:00 for WO7, and an alarm about it."""
    return record(
        (f.Mounted("C", "D1", "SN-4", "WO7"), None),
        (f.AlarmRaised(f"{limit.value}/C/{anchor}", "C", limit, since, in_use=True), None),
        (f.Dismounted("C", "D1", key(1)), None),
    )


@pytest.mark.parametrize(
    ("limit", "since", "anchor", "outside"),
    [
        (Limit.ROOM, SIX + HOUR, "x", HOUR),
        (Limit.ROOM, SIX + 2 * HOUR, "x", None),  # off at that minute
        (Limit.ROOM, SIX - HOUR, "x", None),  # passed before it was mounted: its alarm is of another mounting
        (Limit.HOLD, SIX - HOUR, key(1), 2 * HOUR),  # the hold stood when it was mounted
        (Limit.HOLD, SIX, key(9), None),
        (Limit.CONDITIONING, SIX + HOUR, "x", None),
    ],
)
def test_a_mounted_cartridge_makes_boards_from_its_limit_until_it_is_off(
    limit: Limit, since: datetime, anchor: str, outside: timedelta | None
) -> None:
    found = past_limits(mounted(limit, since, anchor))
    assert [entry.until - entry.since for entry in found if entry.until] == ([outside] if outside else [])
    assert all(entry.work_orders == ("WO7",) for entry in found)


def test_what_lay_at_one_position_is_what_lay_anywhere_seen_from_there() -> None:
    ledger = after("changeovers").ledger
    assert trace.stays_at(ledger, "2") == tuple(stay for stay in trace.stays(ledger) if stay.position == "2")
    assert trace.stays_at(ledger, "nowhere") == ()
