"""Under which version paste was used, also after newer ones were approved or a shift lead chose another."""

from datetime import timedelta

from station.care.under_version import versions_used
from tests.care.bench import Bench, site_t, with_room_paste
from tests.care.engineering import approved
from tests.care.test_versions import chosen

DAY = timedelta(days=1)


def used(bench: Bench, jar: str, paste: str = "SN-4") -> tuple[str, ...]:
    return versions_used(bench.station.ledger, jar, paste, bench.clock.wall)


def test_the_version_of_the_take_out_stands_beside_a_newer_one_that_moved_nothing() -> None:
    bench = Bench()
    jar = bench.ready()
    assert used(bench, jar) == ("SN-4 version 1",)
    approved(bench, room_life=9 * DAY)
    before = bench.clock.wall
    bench.later(1).scan(jar, "LINE1")
    assert used(bench, jar) == ("SN-4 version 1", "SN-4 version 2")
    assert versions_used(bench.station.ledger, jar, "SN-4", before) == ("SN-4 version 1",)


def test_a_tighter_version_is_the_one_and_a_lead_s_choice_is_told() -> None:
    bench = Bench()
    jar = bench.ready()
    approved(bench, room_life=5 * DAY)
    assert used(bench, jar) == ("SN-4 version 2",)
    chosen(bench, jar, 1)
    assert used(bench, jar) == ("SN-4 version 1", "SN-4 version 2")


def test_paste_without_a_take_out_goes_by_what_was_in_force() -> None:
    bench = Bench(with_room_paste(site_t()))
    jar = bench.receive("BI-9")
    assert used(bench, jar, "BI-9") == ("BI-9 version 1",)
    assert used(bench, "K9-999", "BI-9") == ()
    assert used(bench, jar, "XX-1") == ()
