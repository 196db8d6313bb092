"""What the set-up card taught is on record for the station it was scanned at, and for no other."""

from station.care.facts import Fact, ScannerSetUp, Segment
from station.care.ledger import Ledger
from tests.care.bench import Bench, berlin

GERMAN, FRENCH, NOTHING = ScannerSetUp("YZ", "ZY"), ScannerSetUp("AQ", "QA"), ScannerSetUp("", "")


def told(seq: int, station: int, body: ScannerSetUp) -> Fact:
    return Fact(station, seq, seq, berlin("2026-11-09T06:00"), station, "P12", Segment("boot", 0), body)


def test_the_latest_set_up_of_each_station_counts() -> None:
    facts = [told(1, 8, GERMAN), told(2, 9, FRENCH), told(3, 8, NOTHING)]
    for order in (facts, facts[::-1]):
        ledger = Ledger()
        for fact in order:
            ledger.apply(fact)
        assert ledger.scanners == {8: NOTHING, 9: FRENCH}


def test_a_station_keeps_its_own_over_a_restart_and_says_who_did_it() -> None:
    bench = Bench()
    assert bench.station.scanner_layout is None
    bench.badge("P12", bench.station.place)
    (fact,) = bench.station.set_up_scanner("YZ", "ZY").facts
    assert (fact.body, fact.who, fact.station) == (GERMAN, "P12", bench.site.station)
    bench.tell(FRENCH)
    bench.restart()
    assert bench.station.scanner_layout == GERMAN
