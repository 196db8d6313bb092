"""Small print of the rules themselves: which one goes first, what lies on a boundary, and what two stations tell."""

from dataclasses import replace
from datetime import date, timedelta
from itertools import permutations

import pytest

from station.care import facts as f
from station.care.choice import better_take_out, usable_instead
from station.care.conditioning import RoomTooHumid, dry_c, waiting
from station.care.due import due_facts
from station.care.excursions import Reading, survey
from station.care.ledger import Ledger
from station.care.lots import reach
from station.care.outside import Limits, Span
from station.care.room_air import Spell, spells_since
from station.care.saying import a
from station.care.specification import Bin
from station.care.state import ClockTrust, RoomAir
from station.care.words import Card, HoldReason, Limit, Stage
from station.services.site import Site
from tests.care.bench import LEAD, Bench, berlin, site_f, site_t, with_room_paste
from tests.care.fleet import Fleet
from tests.care.leading import newer
from tests.care.places import site_d
from tests.care.test_dispenser import cartridge
from tests.care.test_other_clocks import apart
from tests.care.test_thaw import frozen, thawed

HOUR, MINUTE, DAY = timedelta(hours=1), timedelta(minutes=1), timedelta(days=1)


# ---------------------------------------------------------------------- which one first


def test_of_several_that_must_go_sooner_the_soonest_is_named() -> None:
    bench = Bench()
    days = (date(2027, 2, 28), date(2027, 1, 31), date(2027, 2, 15))
    _, soonest, _ = (bench.cold(expires=day) for day in days)
    newest = bench.container(bench.cold())
    found = better_take_out(bench.floor, newest)
    assert found is not None
    assert found.id == soonest


def test_what_has_thawed_goes_before_frozen_paste_that_expires_sooner() -> None:
    bench = Bench(site_f())
    thaw = thawed(bench)
    frozen(bench, expires=date(2026, 11, 9))
    newest = bench.container(frozen(bench))
    found = better_take_out(bench.floor, newest)
    assert found is not None
    assert found.id == thaw


def opened(bench: Bench, place: str, expires: date) -> str:
    name = bench.ready(expires=expires)
    bench.scan(name, place)
    bench.card(Card.LOOKS_GOOD, place)
    return name


def test_what_already_feeds_the_line_is_named_before_an_open_one_that_must_go_sooner() -> None:
    bench = Bench()
    feeding = opened(bench, "LINE1", date(2027, 3, 31))
    opened(bench, "LINE2", date(2026, 11, 8))
    held = bench.container(bench.receive(leaking=True))
    found = usable_instead(bench.floor, held, "1")
    assert found is not None
    assert found.id == feeding


def test_of_two_open_ones_the_one_that_must_go_sooner_is_named() -> None:
    bench = Bench()
    opened(bench, "LINE1", date(2027, 3, 31))
    sooner = opened(bench, "LINE2", date(2026, 11, 8))
    found = usable_instead(bench.floor, bench.container(bench.receive(leaking=True)), None)
    assert found is not None
    assert found.id == sooner


# ---------------------------------------------------------------------- two stations tell


def test_taken_out_by_two_stations_of_different_lives_it_ends_by_the_earlier_start_and_the_shorter_life() -> None:
    bench = Bench()
    jar = bench.ready()  # out at 12:11 with seven days
    out = berlin("2026-11-08T14:00")
    given = (out, out, out + 3 * HOUR, out + 5 * DAY, 3 * HOUR, None, None, 23.0, 40.0, 5.0)
    bench.tell(f.TakenOut(jar, "FRIDGE", *given, "SN-4 version 1", "Europe/Berlin", "", 5 * DAY, timedelta(0)))
    container = bench.container(jar)
    assert (container.room_end, container.room_given) == (berlin("2026-11-13T12:11"), 5 * DAY)


def test_a_bead_of_paste_another_station_decanted_by_a_fast_clock_ends_sooner_by_as_much() -> None:
    fleet = Fleet(site=site_d())
    a, b = fleet["A"], fleet["B"]
    b.clock.step(3 * MINUTE)
    b.restart()
    jar = b.on_line("HEAD")
    b.scan(jar, "BENCH")
    name = b.card(Card.DECANT, "BENCH").container
    assert name is not None
    told = b.container(name).content_end
    assert told is not None
    a.later(195)
    fleet.meet("A", "B")
    a.tell_own(f.ClockCompared(f"{b.journal.number:016x}", 3 * MINUTE))
    a.scan(name, "LINE1")
    assert a.card(Card.LOOKS_GOOD, "LINE1").word == "USE"
    bead = a.position("1").bead
    assert bead is not None
    assert a.floor.bead_end(bead) == (Limit.DECANTED, told - 3 * MINUTE)


def test_a_bead_another_clock_dated_ahead_has_spent_nothing_yet() -> None:
    fleet, here, there, jar = apart(3)
    fleet.later(190)
    there.scan(jar, "LINE1")
    assert there.card(Card.LOOKS_GOOD, "LINE1").word == "USE"
    fleet.meet("A", "B")
    here.tag_card("1", Card.REMOVE, "LINE1")
    kept = here.card(Card.KEEP_USED, "LINE1").container
    assert kept is not None
    assert here.container(kept).stencil_spent == timedelta(0)


def test_used_paste_has_spent_what_it_lay_though_another_station_gave_its_bead_longer() -> None:
    bench = Bench()
    jar = bench.ready()
    now = bench.clock.wall
    bench.tell(f.Loaded(jar, "1", "SN-4", "101", None, True, now + 9 * HOUR, (), restart=False))
    bench.later(60).tag_card("1", Card.REMOVE, "LINE1")
    kept = bench.card(Card.KEEP_USED, "LINE1").container
    assert kept is not None
    assert bench.container(kept).stencil_spent == HOUR


def test_a_hold_told_before_the_receipt_counts_once_it_is_received() -> None:
    bench = Bench()
    bench.tell(f.Held("K7-001", HoldReason.PERSON, "seen leaking"))
    assert [hold.note for hold in bench.container(bench.receive()).holds] == ["seen leaking"]


@pytest.mark.parametrize("order", list(permutations(range(3))))
def test_told_twice_with_other_words_a_version_is_as_it_was_last_said(order: tuple[int, ...]) -> None:
    bench = Bench()
    told = [replace(bench.limits(), version=2, page=page) for page in ("1", "2", "3")]
    facts = bench.tell(*(f.SpecificationSet(version, version.page) for version in told))
    ledger = Ledger()
    for place in order:
        ledger.apply(facts[place])
    assert ledger.specifications["SN-4"].page == "3"


def test_before_anything_was_told_no_clock_is_in_doubt() -> None:
    assert Ledger().clock == ClockTrust()


def test_paste_of_a_lot_is_found_in_what_was_kept_twice() -> None:
    bench = Bench()
    jars = bench.cold(lot="A7"), bench.cold(lot="B1")
    end = bench.clock.wall + DAY
    bench.tell(f.UsedPasteKept("K9-001", jars, "SN-4", "JAR-500", "several", "bead 1", HOUR, end))
    bench.tell(f.UsedPasteKept("K9-002", ("K9-001",), "SN-4", "JAR-500", "several", "bead 2", HOUR, end))
    found = {container.id for container in reach(bench.floor, "SN-4/A7").containers}
    assert found == {jars[0], "K9-001", "K9-002"}


# ---------------------------------------------------------------------- alarms


def test_an_end_the_program_itself_brought_forward_raises_no_second_alarm() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.scan(jar, "LINE1")
    bench.later(24 * 60 + 1)
    (alarm,) = bench.alarms()
    newer(bench, open_life=20 * HOUR)
    assert bench.container(jar).open_end == berlin("2026-11-09T11:11")
    assert bench.alarms() == [alarm]
    assert bench.container(jar).moved == ()


@pytest.mark.parametrize(("seconds", "count"), [(0, 0), (1, 1)])
def test_a_container_is_overdue_a_second_after_its_last_minute_and_not_in_it(seconds: float, count: int) -> None:
    bench = Bench()
    bench.scan(bench.ready(), "LINE1")
    bench.at("2026-11-09T15:11")
    bench.clock.go_on(timedelta(seconds=seconds))
    assert len(due_facts(bench.floor)) == count


def test_what_is_mounted_on_hold_is_found_behind_an_empty_line() -> None:
    bench = Bench(site_d())
    bench.tag_card("1", Card.CLEANED, "LINE1")  # known to the record, with nothing on it
    name = cartridge(bench)
    bench.badge(LEAD, "DESK")
    bench.scan(name, "DESK")
    bench.card(Card.HOLD, "DESK")
    assert [alarm.split("/")[:2] for alarm in bench.alarms()] == [["held", name]]


# ---------------------------------------------------------------------- at a line and at a door


def test_a_second_pause_does_not_make_the_first_shorter() -> None:
    bench = Bench()
    bench.on_line()
    bench.tag_card("1", Card.PAUSE, "LINE1")
    bench.later(40).tag_card("1", Card.PAUSE, "LINE1")
    assert bench.later(21).tag_card("1", Card.RESUME, "LINE1").code == "bead-replace"


def test_said_to_be_the_same_a_bead_is_not_asked_about_again_at_once() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.later(150).tag_card("1", Card.SAME_BEAD, "LINE1")
    assert bench.later(1).scan(jar, "LINE1").asks == ()


def test_a_cleaned_line_knows_when_it_was_cleaned() -> None:
    bench = Bench()
    bench.tag_card("1", Card.CLEANED, "LINE1")
    assert bench.position("1").cleaned_at == bench.clock.wall


def test_mounted_without_a_work_order_it_is_traced_to_none() -> None:
    bench = Bench(site_d())
    cartridge(bench)
    mount = bench.position("D1").mounted
    assert mount is not None
    assert mount.work_orders == ()


def test_what_was_taken_back_is_not_taken_back_again() -> None:
    bench = Bench()
    jar = bench.on_line()
    codes = []
    for card in (Card.EMPTY, Card.UNDO, Card.UNDO):
        bench.later(0.1).scan(jar, "DESK")
        codes.append(bench.card(card, "DESK").code)
    assert codes == ["emptied", "undone", "nothing-to-undo"]


def small_fridge(capacity: int) -> Site:
    site = site_t()
    stores = {
        "FRIDGE": replace(site.plant.stores["FRIDGE"], bins=(Bin("A1", capacity, leaded=False, hold=False),)),
    }
    return replace(site, plant=replace(site.plant, stores=stores))


def test_a_bin_for_two_takes_two_and_no_third() -> None:
    bench = Bench(small_fridge(2))
    codes = [bench.scan(bench.receive(), "FRIDGE").code for _ in range(3)]
    assert codes == ["put-away", "put-away", "store-full"]


def test_paste_kept_at_room_temperature_is_ready_on_its_shelf() -> None:
    bench = Bench(with_room_paste(site_t()))
    jar = bench.receive("BI-9")
    assert bench.floor.standing(bench.container(jar)).stage is Stage.RECEIVED
    bench.scan(jar, "SHELF")
    assert bench.floor.standing(bench.container(jar)).stage is Stage.READY


# ---------------------------------------------------------------------- on the boundary


@pytest.mark.parametrize(("minutes", "count"), [(25, 0), (25.1, 1)])
def test_a_series_that_ends_a_longest_step_after_its_last_reading_has_no_gap_there(minutes: float, count: int) -> None:
    """Warm for less than the delay is no excursion, unless a gap hides how long it really was."""
    start = berlin("2026-11-24T00:00")
    readings = [Reading(start + place * 5 * MINUTE, warm) for place, warm in enumerate((5.0, 5.0, 5.0, 5.0, 8.5))]
    limits = Limits(low_c=2, high_c=8, dead_band_k=0.5, delay=10 * MINUTE)
    seen = survey(readings, limits, 5 * MINUTE, Span(start, start + minutes * MINUTE))
    assert (len(seen.excursions), len(seen.gaps)) == (count, count)


def test_a_reading_at_the_very_take_out_tells_no_more_than_the_take_out() -> None:
    begin = berlin("2026-11-09T06:00")
    at_once, now = RoomAir(20, 40, begin), RoomAir(23, 40, begin + HOUR)
    assert spells_since(begin, 22, [at_once], now) == (Spell(begin, 23),)


@pytest.mark.parametrize("room_c", range(19, 31))
def test_up_to_the_last_humidity_that_lets_paste_dry_there_is_a_time_and_from_the_next_on_none(room_c: float) -> None:
    dries, damp = 50.0, 100.0
    while (between := (dries + damp) / 2) not in (dries, damp):
        dries, damp = (between, damp) if dry_c(room_c, between) < room_c else (dries, between)
    jar = Bench().plant.kinds["JAR-500"]
    assert waiting(jar, 3 * HOUR, 5, room_c, dries, 19).dew_point > HOUR
    with pytest.raises(RoomTooHumid):
        waiting(jar, 3 * HOUR, 5, room_c, damp, 19)


def test_a_name_of_one_letter_has_its_article_too() -> None:
    assert (a("X-9"), a("B-9")) == ("an X-9", "a B-9")
