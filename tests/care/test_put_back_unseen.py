"""What nobody scanned back into the cold and a count finds there, and moves that are heard of only after a take-out."""

from datetime import timedelta

from station.care import facts as f
from station.care.scans import ContainerScan
from station.care.stores import WholeStore
from station.care.words import HoldReason
from station.services.counting import begin_count
from station.services.stock import store_out_since
from tests.care.bench import Bench, site_t, with_room_paste
from tests.care.leading import PROOF


def count(bench: Bench, *jars: str) -> None:
    begin_count(bench.station, "FRIDGE")
    for jar in jars:
        bench.station.scanned(ContainerScan(jar), "FRIDGE")
    bench.later(3)


def test_a_jar_that_was_taken_out_and_is_counted_in_the_cold_is_no_use_at_its_ready_time() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(11).scan(jar, "FRIDGE")
    bench.later(170)
    count(bench, jar)
    bench.order("WO1-A", "A", "LINE1")
    verdict = bench.later(20).scan(jar, "LINE1")
    assert (verdict.word.value, verdict.code) == ("STOP", "held")
    (hold,) = bench.container(jar).holds
    assert (hold.reason, hold.note) == (HoldReason.EVALUATION, "found in a cold store after it was taken out")


def test_an_open_jar_counted_in_the_cold_is_held_once_and_a_lead_may_release_it() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.later(30)
    count(bench, jar)
    count(bench, jar)
    assert len(bench.container(jar).holds) == 1
    bench.release_all(jar)
    assert not bench.container(jar).held


def test_hours_out_before_a_take_out_count_in_whatever_order_the_two_are_heard() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(11).scan(jar, "FRIDGE")
    before = bench.container(jar)
    assert before.out_from is not None
    assert before.room_end is not None
    out = before.out_from
    bench.tell(f.Transferred(jar, "FRIDGE", "SECOND", "A1", out - timedelta(hours=9), timedelta(hours=8), "moved"))
    after = bench.container(jar)
    assert after.room_end == before.room_end - timedelta(hours=8)
    assert after.warm_spent == before.warm_spent + timedelta(hours=8)
    assert after.store is None


def test_a_count_in_a_store_that_had_failed_proves_no_cold() -> None:
    bench = Bench()
    counted, other = bench.cold(), bench.cold()
    bench.later(600)
    failed = bench.clock.wall
    bench.later(300)
    count(bench, counted)
    bench.later(60)
    store_out_since(bench.station, WholeStore("FRIDGE", failed, "compressor"), PROOF)
    assert bench.container(counted).out_from == bench.container(other).out_from == failed


def test_what_was_opened_in_the_cold_is_not_in_another_store_by_a_move() -> None:
    bench = Bench()
    jar = bench.cold()
    at = bench.clock.wall
    bench.tell(f.Opened(jar, "BENCH", early=True, open_end=at + timedelta(hours=24)))
    before = bench.container(jar)
    assert before.out_from is None
    bench.tell(f.Transferred(jar, "FRIDGE", "SECOND", "A1", at, timedelta(minutes=15), "moved"))
    assert bench.container(jar).store == before.store


def test_open_paste_that_is_kept_at_room_temperature_is_not_held_by_a_count_of_its_shelf() -> None:
    bench = Bench(with_room_paste(site_t()))
    jar = bench.receive("BI-9")
    bench.scan(jar, "SHELF")
    bench.tell(f.Opened(jar, "LINE1", early=False, open_end=bench.clock.wall + timedelta(hours=24)))
    begin_count(bench.station, "SHELF")
    bench.later(1)
    bench.station.scanned(ContainerScan(jar), "SHELF")
    assert not bench.container(jar).held
