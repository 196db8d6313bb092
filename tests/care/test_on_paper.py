"""Numbers on a down-station sheet: kept for what was received by hand while the station was down."""

from dataclasses import replace

import pytest

from station.care import facts as f
from station.care.on_paper import numbers_on_paper
from station.care.receiving import Arrival, ArrivalRefused
from tests.care.bench import EXPIRES, Bench


def reserved(bench: Bench, count: int = 3) -> tuple[str, ...]:
    return bench.station.reserve("SN-4", count, "P1")


def test_who_printed_a_sheet_when_and_with_which_numbers_is_on_record() -> None:
    bench = Bench()
    numbers = reserved(bench)
    fact = list(bench.journal.facts())[-1]
    assert fact.body == f.NumbersReserved("SN-4", numbers)
    assert (fact.who, fact.at) == ("P1", bench.clock.wall)
    assert numbers == ("K7-001", "K7-002", "K7-003")


def test_no_other_container_ever_gets_a_number_of_a_sheet() -> None:
    bench = Bench()
    first = reserved(bench)
    assert bench.receive() == "K7-004"
    again = bench.restart().station
    assert again.new_container() == "K7-005"
    assert again.reserve("SN-4", 1, None) == ("K7-006",)
    assert set(first).isdisjoint(again.ledger.containers)


def test_printing_a_sheet_beside_a_program_that_ended_well_makes_it_no_crash() -> None:
    bench = Bench()
    bench.station.stop("closed")
    reserved(bench, 1)
    bench.restart()
    started = [fact.body for fact in bench.journal.facts() if isinstance(fact.body, f.StationStarted)]
    assert started[-1].clean


@pytest.mark.parametrize("said", ["K7 002", "k7-002", "002", " K7  002 "])
def test_a_number_is_taken_as_people_write_it(said: str) -> None:
    bench = Bench()
    reserved(bench)
    assert numbers_on_paper(bench.floor, said, "SN-4", 1) == ("K7-002",)


@pytest.mark.parametrize("said", ["K7 001, 003", "001 003", "K7 001 K7 003", "001; K7-003"])
def test_so_are_several(said: str) -> None:
    bench = Bench()
    reserved(bench)
    assert numbers_on_paper(bench.floor, said, "SN-4", 2) == ("K7-001", "K7-003")


@pytest.mark.parametrize(
    ("said", "paste", "count", "sentence"),
    [
        ("jar two", "SN-4", 1, "'JAR' is no container number"),
        ("009", "SN-4", 1, "stands on no down-station sheet"),
        ("K8 002", "SN-4", 1, "stands on no down-station sheet"),
        ("002", "PB-1", 1, "K7 002 stands on the sheet of SN-4"),
        ("001 002", "SN-4", 1, "Numbers given: 2, containers: 1"),
        ("001 001", "SN-4", 2, "named twice"),
    ],
)
def test_a_number_that_can_not_be_right_is_refused(said: str, paste: str, count: int, sentence: str) -> None:
    bench = Bench()
    reserved(bench)
    with pytest.raises(ArrivalRefused, match=sentence):
        numbers_on_paper(bench.floor, said, paste, count)


def test_a_number_taken_once_is_taken() -> None:
    bench = Bench()
    name = reserved(bench)[0]
    bench.station.receive([replace(bench_arrival(bench), container=name)], None)
    with pytest.raises(ArrivalRefused, match="K7 001 was received before"):
        numbers_on_paper(bench.floor, "001", "SN-4", 1)


def test_the_last_digits_of_two_stations_sheets_are_not_guessed_between() -> None:
    bench = Bench()
    reserved(bench)
    bench.station.ledger.reserved["K8-002"] = "SN-4"
    with pytest.raises(ArrivalRefused, match=r"K7 002 or K8 002\. Type it with its K"):
        numbers_on_paper(bench.floor, "002", "SN-4", 1)
    assert numbers_on_paper(bench.floor, "K8 002", "SN-4", 1) == ("K8-002",)


def bench_arrival(bench: Bench) -> Arrival:
    return Arrival("", "SN-4", "JAR-500", "101", EXPIRES, None, bench.clock.wall, 8, "measured", leaking=False)
