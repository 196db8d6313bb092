"""Several alarms cleared by one word: all of them or none, each with the same disposition and reason on record."""

import pytest

from station.care.alarms import Clearing, ClearingRefused, open_alarms
from station.care.words import Disposition, Ending
from station.services.attaching import Enclosed
from station.services.attachments import attachments_of
from station.services.clearing import clear_together
from station.services.outcome import Refusal
from station.services.station import Proof
from tests.care.bench import LEAD, LEAD_PIN, Bench
from tests.care.test_alarm_floods import late_to_cold

JPEG = b"\xff\xd8\xff\xe0 a photo"
PROOF = Proof(LEAD, LEAD_PIN)
GONE = Clearing("", Disposition.DISCARDED, "left on the dock")


def ids(bench: Bench) -> list[str]:
    return [alarm.id for alarm, _ in open_alarms(bench.floor)]


def test_one_word_clears_all_of_a_lot_and_limit_and_ends_each_container() -> None:
    bench = late_to_cold(12)
    cleared = ids(bench)
    outcome = clear_together(bench.station, cleared, GONE, PROOF)
    assert outcome.verdict is not None
    assert outcome.verdict.why == "12 alarms: discarded."
    assert ids(bench) == []
    found = [bench.station.ledger.alarms[name] for name in cleared]
    assert {(alarm.disposition, alarm.reason, alarm.cleared_by) for alarm in found} == {
        (Disposition.DISCARDED, "left on the dock", LEAD)
    }
    assert {container.ended for container in bench.station.ledger.containers.values()} == {Ending.DISCARDED}


def test_nothing_is_recorded_where_one_of_them_has_another_cause() -> None:
    bench = Bench()
    bench.receive(lot="B20")
    late_to_cold(2, bench)
    before = len(tuple(bench.journal.facts()))
    with pytest.raises(ClearingRefused, match="do not share a lot and a limit"):
        clear_together(bench.station, ids(bench), GONE, PROOF)
    assert len(ids(bench)) == 3
    assert len(tuple(bench.journal.facts())) == before


def test_nothing_is_recorded_without_a_reason_a_lead_or_an_alarm_or_with_one_mass_for_all() -> None:
    bench = late_to_cold(2)
    wrong = [
        (Clearing("", Disposition.DISCARDED, " "), PROOF, ClearingRefused),
        (Clearing("", Disposition.DISCARDED, "old", grams=40), PROOF, ClearingRefused),
        (GONE, Proof(LEAD, "0000"), Refusal),
        (GONE, Proof("P12", "1212"), Refusal),
    ]
    for clearing, proof, refused in wrong:
        with pytest.raises(refused):
            clear_together(bench.station, ids(bench), clearing, proof)
    with pytest.raises(ClearingRefused):
        clear_together(bench.station, (), GONE, PROOF)
    assert len(ids(bench)) == 2


def test_two_stations_clear_them_once() -> None:
    """BR-81. Whoever comes second is told, and the paste is discarded once."""
    bench = late_to_cold(2)
    both = ids(bench)
    clear_together(bench.station, both, GONE, PROOF)
    with pytest.raises(ClearingRefused):
        clear_together(bench.station, both, GONE, PROOF)
    ended = [fact for fact in bench.journal.facts() if fact.body.NAME == "ended"]
    assert len(ended) == 2


def test_a_photo_is_kept_with_each_of_them_and_none_where_the_word_is_refused() -> None:
    bench = late_to_cold(2)
    cleared, photo = ids(bench), [Enclosed("dock.jpg", JPEG)]
    with pytest.raises(Refusal):
        clear_together(bench.station, cleared, GONE, Proof(LEAD, "0000"), photo)
    with pytest.raises(Refusal, match="no picture"):
        clear_together(bench.station, cleared, GONE, PROOF, [Enclosed("dock.jpg", b"MZ")])
    assert list(bench.station.evidence.digests()) == []
    clear_together(bench.station, cleared, GONE, PROOF, photo)
    found = [attachments_of(bench.station.ledger, f"alarm:{name}") for name in cleared]
    assert [[getattr(fact.body, "name", "") for fact in facts] for facts in found] == [["dock.jpg"], ["dock.jpg"]]
    assert len(list(bench.station.evidence.digests())) == 1
