"""The room as last read: nothing closed is opened where water would settle in it, and printing only hears of it."""

import math
from dataclasses import replace
from datetime import timedelta

import pytest

from station.care import facts as f
from station.care.choice import usable_instead
from station.care.conditioning import dry_c, time_to_reach
from station.care.room_air import Spell, dry_from, paste_c, room_note, spells_since
from station.care.specification import Band, Kind
from station.care.state import RoomAir
from station.care.verdict import Verdict
from station.care.words import Card, HoldReason, Shape
from tests.care.bench import Bench, berlin, site_t, with_limits, with_room_paste

MINUTE, HOUR = timedelta(minutes=1), timedelta(hours=1)
JAR = Kind("JAR-500", Shape.JAR, 500, False, 45 * MINUTE, 10 * MINUTE, False, False, "jar 500 g")
T0 = berlin("2026-11-09T06:00")


def read(bench: Bench, temperature_c: float, humidity: float) -> None:
    bench.station.read_room(temperature_c, humidity, None)


# ---------------------------------------------------------------------- opening


def test_a_room_too_humid_keeps_a_ready_jar_closed_and_gives_no_time() -> None:
    bench = Bench()
    jar = bench.ready()
    read(bench, 23, 90)
    verdict = bench.scan(jar, "LINE1")
    assert (verdict.word, verdict.code, verdict.headline) == ("WAIT", "room-too-humid", "ROOM TOO HUMID")
    assert "23 C and 90 % at 15:11" in verdict.why
    assert bench.container(jar).opened_at is None


@pytest.mark.parametrize(
    # by hand with the Magnus form: 23 C air has its dew point at 21 C for 88.52 %
    ("humidity", "code"),
    [(88.4, "conditioning"), (88.6, "room-too-humid")],
)
def test_the_gate_is_2_k_above_the_dew_point(humidity: float, code: str) -> None:
    bench = Bench()
    jar = bench.ready()
    read(bench, 23, humidity)
    assert bench.scan(jar, "LINE1").code == code


@pytest.mark.parametrize(("room_c", "code"), [(18.9, "room-too-cold"), (19, "opening-check")])
def test_a_room_below_the_floor_of_the_paste_keeps_it_closed_and_the_floor_itself_does_not(
    room_c: float, code: str
) -> None:
    bench = Bench()
    jar = bench.ready()
    read(bench, room_c, 40)
    assert bench.scan(jar, "LINE1").code == code


def test_too_cold_says_how_cold_it_was_when_and_never_to_heat() -> None:
    bench = Bench()
    jar = bench.ready()
    read(bench, 17.5, 40)
    verdict = bench.scan(jar, "LINE1")
    assert (verdict.word, verdict.headline) == ("WAIT", "ROOM TOO COLD")
    assert verdict.why == "The room was 17.5 C at 15:11; this paste must reach 19 C."
    assert "Never heat paste." in verdict.todo


def test_once_the_room_is_fit_again_it_is_opened() -> None:
    bench = Bench()
    jar = bench.ready()
    read(bench, 23, 95)
    assert bench.scan(jar, "LINE1").code == "room-too-humid"
    read(bench, 23, 40)
    assert bench.later(1).scan(jar, "LINE1").code == "opening-check"


def test_the_room_air_a_site_assumes_stops_nothing() -> None:
    site = site_t()
    bench = Bench()
    jar = bench.ready()
    bench.site = replace(site, plant=replace(site.plant, rules=replace(site.plant.rules, assumed_humidity=95)))
    bench.restart()
    assert bench.scan(jar, "LINE1").code == "opening-check"


def test_what_may_not_be_opened_is_offered_to_nobody() -> None:
    bench = Bench()
    first, second = bench.ready(), bench.ready()
    assert usable_instead(bench.floor, bench.container(first), None) is not None
    read(bench, 23, 95)
    assert usable_instead(bench.floor, bench.container(first), None) is None
    assert bench.scan(second, "DESK").headline == "ROOM TOO HUMID"


def test_paste_of_the_room_class_is_opened_in_any_room() -> None:
    bench = Bench(with_room_paste(site_t()))
    jar = bench.receive("BI-9")
    bench.scan(jar, "SHELF")
    read(bench, 23, 95)
    assert bench.later(1).scan(jar, "LINE1").code == "opening-check"


def test_an_open_jar_is_used_on_and_hears_that_no_other_may_be_opened() -> None:
    bench = Bench()
    jar = bench.on_line()
    read(bench, 23, 95)
    verdict = bench.later(1).scan(jar, "LINE1")
    assert verdict.word == "USE"
    assert verdict.note.endswith(
        "The air had 95 % at 15:11; this paste prints at 35 to 60 %. It is too humid to open another container."
    )
    read(bench, 15, 40)
    note = bench.later(1).scan(jar, "LINE1").note
    assert note.endswith("this paste prints at 20 to 26 C. It is too cold to open another container.")


def test_a_jar_opened_all_the_same_is_held() -> None:
    bench = Bench()
    jar = bench.ready()
    read(bench, 23, 95)
    bench.scan(jar, "LINE1")
    verdict = bench.card(Card.LOOKS_GOOD, "LINE1")
    assert (verdict.word, verdict.code) == ("STOP", "opened-early")
    assert verdict.why.startswith("K7 001 was opened in a room that is not fit for it.")
    assert [hold.reason for hold in bench.container(jar).holds] == [HoldReason.OPENED_EARLY]


def test_at_the_take_out_both_still_keep_it_in_the_cold() -> None:
    bench = Bench()
    jar = bench.cold()
    for humidity, room_c, code in ((95, 23, "room-too-humid"), (40, 18, "room-too-cold")):
        read(bench, room_c, humidity)
        verdict = bench.later(11).scan(jar, "FRIDGE")
        assert (verdict.word, verdict.code) == ("WAIT", code)


# ---------------------------------------------------------------------- more humid than at take-out


def test_more_humid_since_the_take_out_it_waits_until_the_paste_is_above_the_dew_point() -> None:
    bench = Bench(start="2026-11-09T05:49")
    jar = bench.cold()
    bench.at("2026-11-09T06:00").scan(jar, "FRIDGE")
    bench.at("2026-11-09T08:50")
    read(bench, 22, 87)
    # by hand: dew point 19.73 C, so 21.73 C from 5 C: 10 min + 45 min x ln(17 / 0.2655) = 197.2 min
    verdict = bench.at("2026-11-09T09:00").scan(jar, "LINE1")
    assert (verdict.word, verdict.code, verdict.headline) == ("WAIT", "conditioning", "READY 09:18")
    assert verdict.why == "The air is more humid than at take-out; K7 001 is still too near its dew point."
    assert bench.later(17.98).scan(jar, "LINE1").code == "conditioning"
    assert bench.later(0.07).scan(jar, "LINE1").code == "opening-check"


def test_opened_while_the_air_keeps_it_too_near_the_dew_point_it_is_held() -> None:
    bench = Bench()
    jar = bench.ready()
    read(bench, 22, 87)
    assert bench.scan(jar, "LINE1").code == "conditioning"
    assert bench.card(Card.LOOKS_BAD, "LINE1").code == "opened-early"


def test_drier_air_makes_nothing_ready_sooner() -> None:
    bench = Bench()
    read(bench, 23, 88)
    jar = bench.cold()
    bench.later(11).scan(jar, "FRIDGE")
    read(bench, 23, 30)
    bench.later(179)
    assert bench.scan(jar, "LINE1").code == "conditioning"


def test_the_same_air_as_at_take_out_adds_nothing_to_its_time() -> None:
    bench = Bench()
    read(bench, 23, 88)
    jar = bench.cold()
    bench.later(11).scan(jar, "FRIDGE")
    earliest = bench.container(jar).earliest_use
    assert earliest is not None
    bench.later((earliest - bench.clock.wall) / MINUTE)
    assert bench.scan(jar, "LINE1").code == "opening-check"


def test_a_take_out_nobody_here_can_name_is_not_judged_by_a_model() -> None:
    bench = Bench()
    jar = bench.ready()
    container = bench.container(jar)
    read(bench, 22, 87)
    ledger = bench.station.ledger
    ledger.containers[jar] = replace(container, taken_out_key=None)
    assert bench.scan(jar, "LINE1").code == "opening-check"


# ---------------------------------------------------------------------- the model, piece by piece


def test_in_one_room_it_is_the_model_of_the_take_out() -> None:
    spells = (Spell(T0, 23),)
    for target in (8, 15, 21, 22.9):
        ready = dry_from(JAR, 5, spells, target, T0)
        assert ready is not None
        assert ready - T0 == pytest.approx(time_to_reach(target, 5, 23, JAR), abs=timedelta(seconds=1e-3))
        assert dry_from(JAR, 5, spells, target, ready) is None
        assert dry_from(JAR, 5, spells, target, ready - MINUTE) is not None


def test_within_the_dead_time_the_paste_is_as_cold_as_it_was() -> None:
    assert paste_c(JAR, 5, (Spell(T0, 23),), T0 + 10 * MINUTE) == 5
    assert paste_c(JAR, 5, (Spell(T0, 23),), T0 + 55 * MINUTE) == pytest.approx(23 - 18 / math.e)


def test_in_a_room_that_got_warmer_the_paste_lags_behind_it() -> None:
    # by hand: settled at 20 C, then 30 C for 45 min after the dead time: 30 - 10 / e
    spells = (Spell(T0, 20), Spell(T0 + 100 * HOUR, 30))
    changed = T0 + 100 * HOUR
    assert paste_c(JAR, 5, spells, changed) == pytest.approx(20)
    assert paste_c(JAR, 5, spells, changed + 55 * MINUTE) == pytest.approx(30 - 10 / math.e)
    ready = dry_from(JAR, 5, spells, 25, changed)
    assert ready is not None
    assert (ready - changed) / MINUTE == pytest.approx(10 + 45 * math.log(2))


def test_what_a_warmer_hour_brings_within_the_dead_time_is_waited_for() -> None:
    # cold at 20 C, an hour of 30 C that has just ended, 24 C now: felt only in 10 min, and then above 22 C
    changed = T0 + 100 * HOUR
    spells = (Spell(T0, 20), Spell(changed, 30), Spell(changed + 15 * MINUTE, 24))
    now = changed + 16 * MINUTE
    assert dry_from(JAR, 5, spells, 22, now) == changed + 25 * MINUTE


@pytest.mark.parametrize(
    ("readings", "spells"),
    [
        ([], [(0, 24)]),
        ([(-5, 21)], [(0, 24)]),
        ([(60, 24)], [(0, 20), (60, 24)]),
        ([(60, 18), (120, 24)], [(0, 18), (60, 18), (120, 24)]),
    ],
)
def test_between_two_readings_the_cooler_holds(
    readings: list[tuple[float, float]], spells: list[tuple[float, float]]
) -> None:
    told = [RoomAir(room_c, 40, T0 + minutes * MINUTE) for minutes, room_c in readings]
    found = spells_since(T0, 20, told, RoomAir(24, 40, T0))
    assert [((spell.begins - T0) / MINUTE, spell.room_c) for spell in found] == spells


def test_safely_dry_is_2_k_above_the_dew_point() -> None:
    assert dry_c(23, 40) == pytest.approx(10.67, abs=0.01)


# ---------------------------------------------------------------------- printing


@pytest.mark.parametrize(
    ("room_c", "humidity", "note"),
    [
        (20, 35, ""),
        (26, 60, ""),
        (26.1, 60, "The room was 26.1 C at 12:00; this paste prints at 20 to 26 C."),
        (19.9, 35, "The room was 19.9 C at 12:00; this paste prints at 20 to 26 C."),
        (23, 60.1, "The air had 60.1 % at 12:00; this paste prints at 35 to 60 %."),
        (23, 34.9, "The air had 34.9 % at 12:00; this paste prints at 35 to 60 %."),
    ],
)
def test_printing_limits_are_said_where_the_reading_lies_outside_them(
    room_c: float, humidity: float, note: str
) -> None:
    bench = Bench()
    read(bench, room_c, humidity)
    assert room_note(bench.floor, "SN-4") == note


def test_both_outside_both_are_said() -> None:
    bench = Bench()
    read(bench, 28, 20)
    assert room_note(bench.floor, "SN-4").count("this paste prints at") == 2


def test_where_nobody_has_read_the_room_nothing_is_said_of_it() -> None:
    assert room_note(Bench().floor, "SN-4") == ""
    jar = (bench := Bench()).on_line()
    assert "room" not in bench.later(1).scan(jar, "LINE1").note


@pytest.mark.parametrize(("room_c", "minutes", "old"), [(28, 720, False), (28, 720.02, True), (23, 720.02, True)])
def test_a_reading_over_12_h_old_is_said_to_be_old_instead(room_c: float, minutes: float, old: bool) -> None:
    bench = Bench()
    read(bench, room_c, 45)
    note = room_note(bench.later(minutes).floor, "SN-4")
    assert (note == "The room was last read Sun 8 Nov 12:00: read it again.") is old
    assert ("prints at" in note) is not old


def test_room_class_paste_is_printed_in_its_own_limits_and_never_too_humid_to_open() -> None:
    site = with_limits(with_room_paste(site_t()), "BI-9", printing_humidity=Band(0, 100))
    bench = Bench(site)
    read(bench, 23, 95)
    assert room_note(bench.floor, "BI-9") == ""


# ---------------------------------------------------------------------- readings


def test_figures_the_same_to_the_digit_are_marked_as_repeated_and_a_file_is_named() -> None:
    bench = Bench()
    bench.station.read_room(22.5, 45, None)
    bench.station.read_room(22.5, 45, None)
    bench.station.read_room(22.5, 45.1, None, source="logger 3, week 46")
    told = [fact.body for fact in bench.journal.facts() if isinstance(fact.body, f.RoomRead)]
    assert [(entry.repeated, entry.source) for entry in told] == [
        (False, ""),
        (True, ""),
        (False, "logger 3, week 46"),
    ]
    assert bench.station.ledger.room is not None
    assert not bench.station.ledger.room.repeated
    assert len(bench.station.ledger.rooms) == 3


# ---------------------------------------------------------------------- the answer to a reading


def answer(bench: Bench, temperature_c: float, humidity: float) -> Verdict:
    verdict = bench.station.read_room(temperature_c, humidity, None).verdict
    assert verdict is not None
    return verdict


def test_a_room_below_the_floor_is_said_to_make_nothing_ready_and_what_to_do() -> None:
    # 19 C is the floor of plant T: common practice, no source
    verdict = answer(Bench(), 14, 45)
    assert (verdict.word, verdict.headline) == ("WAIT", "ROOM TOO COLD")
    assert "SN-4 must reach 19 C" in verdict.why
    assert "it never becomes ready" in verdict.why
    assert verdict.todo == "Leave what is closed closed. Never heat paste. Warm the room, then read it again; " + (
        "tell the shift lead."
    )


def test_a_room_within_2_k_of_its_dew_point_makes_nothing_ready_either() -> None:
    verdict = answer(Bench(), 23, 90)
    assert (verdict.word, verdict.headline) == ("WAIT", "ROOM TOO HUMID")
    assert "nothing becomes ready" in verdict.why
    assert "Dry the air" in verdict.todo


def test_a_room_that_prints_badly_is_named_by_paste_and_band() -> None:
    site = with_limits(site_t(), "SN-4", printing_room_c=Band(20, 26), printing_humidity=Band(30, 60))
    verdict = answer(Bench(site), 28, 65)
    assert (verdict.word, verdict.headline) == ("DONE", "ROOM OUTSIDE LIMITS")
    assert "SN-4 prints at 20 to 26 C." in verdict.why
    assert "SN-4 prints at 30 to 60 %." in verdict.why


def test_a_room_that_suits_is_recorded_and_said_to_suit() -> None:
    verdict = answer(Bench(), 23, 45)
    assert (verdict.word, verdict.headline) == ("DONE", "ROOM AIR RECORDED")
    assert (verdict.why, verdict.todo) == ("The room is at 23 C and 45 %.", "It suits every paste here.")
