"""A logger's reading in the record: named, marked when it repeats, and refused when it can't stand for now."""

from datetime import timedelta

import pytest

from station.care import facts as f
from station.services.outcome import Refusal
from station.services.room_air import Air, record_air
from tests.care.bench import LEAD, LEAD_PIN, Bench

MINUTE = timedelta(minutes=1)


def air(bench: Bench, minutes: float, temperature: float = 22.5, humidity: float = 45.0) -> Air:
    """What a logger measured so many minutes ago."""
    return Air(temperature, humidity, bench.clock.read().wall - minutes * MINUTE, "hall.csv", 7)


def readings(bench: Bench) -> list[f.RoomRead]:
    return [fact.body for fact in bench.journal.facts() if isinstance(fact.body, f.RoomRead)]


def test_it_is_recorded_with_its_file_and_its_own_time() -> None:
    bench = Bench()
    told = air(bench, 5)
    outcome = record_air(bench.station, told, "P12")
    (fact,) = readings(bench)
    assert (fact.temperature_c, fact.humidity, fact.repeated) == (22.5, 45.0, False)
    assert fact.source == f"hall.csv line 7, {told.at:%Y-%m-%dT%H:%M:%SZ}"
    assert [recorded.who for recorded in outcome.facts] == ["P12"]


def test_a_logger_that_repeats_the_reading_before_is_marked() -> None:
    bench = Bench()
    bench.station.read_room(22.5, 45, None)
    bench.later(30)
    record_air(bench.station, air(bench, 5), None)
    assert [fact.repeated for fact in readings(bench)] == [False, True]


@pytest.mark.parametrize(("minutes", "code"), [(60.1, "air-old"), (-5.1, "air-ahead")])
def test_what_got_too_old_while_the_form_lay_open_is_refused(minutes: float, code: str) -> None:
    bench = Bench()
    with pytest.raises(Refusal) as refused:
        record_air(bench.station, air(bench, minutes), None)
    assert refused.value.code == code
    assert readings(bench) == []


def test_what_somebody_read_since_is_not_overtaken_by_an_older_row() -> None:
    bench = Bench()
    bench.station.read_room(26, 60, None)
    bench.later(10)
    with pytest.raises(Refusal) as refused:
        record_air(bench.station, air(bench, 20), None)
    assert refused.value.code == "air-overtaken"
    assert [fact.temperature_c for fact in readings(bench)] == [26]


def test_a_clock_in_doubt_can_not_say_how_old_a_row_is_until_a_lead_confirms_it() -> None:
    bench = Bench()
    bench.clock.step(timedelta(hours=3))
    with pytest.raises(Refusal) as refused:
        record_air(bench.station, air(bench, 5), None)
    assert refused.value.code == "clock-in-doubt"
    bench.station.confirm_clock(LEAD, LEAD_PIN)
    record_air(bench.station, air(bench, 5), None)
    assert len(readings(bench)) == 1
