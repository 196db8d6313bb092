"""Where the site wants to know who works, nothing is recorded before a badge; looking and silencing stay free."""

import pytest

from station.care.words import Card, Word
from station.services.counting import BEGIN, count_by_touch
from station.services.outcome import Refusal
from tests.care.bench import Bench, site_t, with_rules
from tests.services.test_station import named


def strict() -> Bench:
    return Bench(with_rules(site_t(), badge_required=True))


def received(bench: Bench) -> str:
    """A jar that came before, when somebody was badged in."""
    free = Bench(journal=bench.journal)
    jar = free.receive()
    bench.restart()
    return jar


def test_a_form_handed_in_by_nobody_is_refused() -> None:
    bench = strict()
    before = named(bench)
    with pytest.raises(Refusal, match="scan your badge"):
        bench.station.read_room(23.0, 40.0, None)
    with pytest.raises(Refusal, match="scan your badge"):
        bench.station.receive([], None)
    with pytest.raises(Refusal, match="scan your badge"):
        bench.station.reserve("SN-4", 6, None)
    assert named(bench) == before


def test_a_scan_before_the_badge_waits_and_records_nothing() -> None:
    bench = strict()
    jar = received(bench)
    before = named(bench)
    verdict = bench.scan(jar, "FRIDGE")
    assert (verdict.word, verdict.code) == (Word.WAIT, "badge-first")
    assert named(bench) == before


def test_after_the_badge_it_goes_on_and_after_half_an_hour_it_is_asked_for_again() -> None:
    bench = strict()
    jar = received(bench)
    bench.badge("P12", "FRIDGE")
    assert bench.later(1).scan(jar, "FRIDGE").code == "put-away"
    assert bench.later(31).scan(jar, "FRIDGE").code == "badge-first"


def test_looking_and_silencing_need_no_badge() -> None:
    bench = strict()
    jar = received(bench)
    assert bench.card(Card.LOOK, "FRIDGE").code != "badge-first"
    assert bench.scan(jar, "FRIDGE").code != "badge-first"
    assert bench.card(Card.SILENCE, "DESK").code != "badge-first"


def test_a_site_that_does_not_ask_is_not_asked() -> None:
    bench = Bench()
    assert bench.scan(bench.receive(), "FRIDGE").code == "put-away"


def test_a_count_touched_by_nobody_waits_for_a_badge_and_is_no_fault() -> None:
    bench = strict()
    outcome = count_by_touch(bench.station, BEGIN, "FRIDGE")
    assert outcome.verdict is not None
    assert (outcome.verdict.word, outcome.verdict.code) == (Word.WAIT, "badge-first")
    assert bench.station.ledger.counts == {}


def test_half_an_hour_after_the_last_scan_a_form_is_nobodys_either() -> None:
    bench = strict()
    bench.badge("P12", "FRIDGE")
    bench.later(31)
    assert bench.station.sessions["FRIDGE"].context.person is None
    outcome = count_by_touch(bench.station, BEGIN, "FRIDGE")
    assert outcome.verdict is not None
    assert outcome.verdict.code == "badge-first"


def test_the_scanner_is_set_up_before_any_badge_since_no_badge_may_be_readable_till_then() -> None:
    bench = strict()
    (by_nobody,) = bench.station.set_up_scanner("AB", "BA").facts
    bench.badge("P12", bench.station.place)
    (by_robin,) = bench.station.set_up_scanner("AB", "AB").facts
    assert (by_nobody.who, by_robin.who) == (None, "P12")
