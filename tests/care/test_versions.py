"""Another version of a specification: tighter limits hold at once, looser ones only by a shift lead's word.

Worked by hand on plant T (all limits common practice, no source): a jar put away on Sunday at 12:00, taken out at
12:11 and opened at 15:11 has room life until the next Sunday 12:11 (seven days), open life until Monday 15:11 (a
day) and a bead until 23:11 (eight hours). A version with less of it takes off the difference.
"""

from datetime import datetime, timedelta
from random import Random

import pytest

from station.care import facts as f
from station.care.correction import Correction
from station.care.versions import VersionRefused, choose_version, differing, named
from station.care.words import Card, Limit, Word
from station.services.lead_acts import choose_version as chosen_version
from station.services.lead_acts import correct_receipt
from station.services.outcome import Outcome
from tests.care.bench import LEAD, Bench, berlin, site_f, site_t, with_limits, with_rules
from tests.care.fleet import Fleet
from tests.care.leading import ENGINEER, OPERATOR, PROOF, newer
from tests.care.places import site_d
from tests.care.test_folds import picture, replayed

HOUR, DAY, MINUTE = timedelta(hours=1), timedelta(days=1), timedelta(minutes=1)


def chosen(bench: Bench, jar: str, version: int, reason: str = "letter 9 of the supplier") -> Outcome:
    return chosen_version(bench.station, jar, version, reason, PROOF)


def applied(bench: Bench) -> list[str]:
    """The names of the facts by which versions were put in force."""
    names = ("specification-applied", "bead-life-applied")
    return [fact.body.NAME for fact in bench.journal.facts() if fact.body.NAME in names]


def ends(bench: Bench, jar: str) -> tuple[datetime | None, datetime | None]:
    container = bench.container(jar)
    return container.room_end, container.open_end


def bead_end(bench: Bench, position: str = "1") -> datetime:
    bead = bench.position(position).bead
    assert bead is not None
    return bead.stencil_end


# ---------------------------------------------------------------------- tighter, by itself


def test_a_tighter_version_shortens_what_runs_when_the_program_starts_with_it() -> None:
    bench = Bench()
    jar = bench.on_line()
    newer(bench, room_life=5 * DAY, open_life=20 * HOUR, stencil_life=6 * HOUR)
    assert ends(bench, jar) == (berlin("2026-11-13T12:11"), berlin("2026-11-09T11:11"))
    assert bead_end(bench) == berlin("2026-11-08T21:11")
    assert applied(bench) == ["specification-applied", "bead-life-applied"]


def test_what_was_spent_at_the_dock_stays_spent() -> None:
    bench = Bench()
    jar = bench.ready(arrived_at=berlin("2026-11-08T10:00"))
    assert bench.container(jar).room_end == berlin("2026-11-15T10:11")
    newer(bench, room_life=5 * DAY)
    assert bench.container(jar).room_end == berlin("2026-11-13T10:11")


def test_what_is_over_by_the_tighter_version_is_stopped_with_its_true_time() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.at("2026-11-08T20:00")
    newer(bench, stencil_life=4 * HOUR)
    (alarm,) = bench.station.ledger.alarms.values()
    assert (alarm.limit, alarm.since) == (Limit.STENCIL, berlin("2026-11-08T19:11"))
    assert bench.later(1).scan(jar, "LINE1").code == "bead-past"


def test_readiness_gets_later_and_never_earlier() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(11).scan(jar, "FRIDGE")
    minimum = bench.limits().conditioning[0]
    for version, hours, expected in ((2, 4, "16:11"), (3, 2, "16:11"), (4, 3, "16:11")):
        newer(bench, version=version, conditioning=(type(minimum)("JAR-500", hours * HOUR),))
        assert bench.container(jar).earliest_use == berlin(f"2026-11-08T{expected}")
    bench.at("2026-11-08T16:10:59")
    assert bench.scan(jar, "LINE1").code == "conditioning"
    assert bench.at("2026-11-08T16:11").scan(jar, "LINE1").code == "opening-check"


def test_the_time_to_the_cold_of_what_stands_at_the_dock_gets_shorter() -> None:
    bench = Bench()
    jar = bench.receive()
    lying = bench.cold()
    bench.later(150)
    newer(bench, to_cold=2 * HOUR)
    assert bench.container(jar).to_cold_by == berlin("2026-11-08T14:00")
    assert [alarm.since for alarm in bench.station.ledger.alarms.values()] == [berlin("2026-11-08T14:00")]
    assert (bench.container(jar).held, bench.container(lying).held) == (True, False)


def test_decanted_and_used_paste_end_by_the_tighter_version() -> None:
    bench = Bench(site_d())
    jar = bench.ready()
    bench.scan(jar, "BENCH")
    small = bench.card(Card.DECANT, "BENCH").container
    bench.on_line()
    bench.later(60).tag_card("1", Card.REMOVE, "LINE1")
    removed_at = bench.clock.wall
    bench.later(5).tag("1", "LINE1")
    used = bench.card(Card.KEEP_USED, "LINE1").container
    assert small is not None
    assert used is not None
    newer(bench, decanted_life=6 * HOUR, used_paste_life=10 * HOUR)
    assert bench.container(small).content_end == berlin("2026-11-08T21:11")
    assert bench.container(used).content_end == removed_at + 10 * HOUR
    newer(bench, version=3, decanted_life=None, used_paste_life=None)
    assert bench.container(small).content_end == berlin("2026-11-08T15:11")
    assert bench.container(used).content_end == removed_at
    newer(bench, version=4, decanted_life=8 * HOUR, used_paste_life=24 * HOUR)
    assert bench.container(used).content_end == removed_at


def test_paste_on_its_way_through_the_thaw_gets_the_narrower_window() -> None:
    bench = Bench(site_f())
    jar = bench.receive("FZ-7", temperature_c=-18)
    bench.scan(jar, "FREEZER")
    bench.later(11).scan(jar, "FREEZER")
    begun = bench.clock.wall
    thaw = bench.limits("FZ-7").thaw
    assert thaw is not None
    newer(bench, "FZ-7", thaw=type(thaw)(14 * HOUR, 40 * HOUR))
    container = bench.container(jar)
    assert (container.thaw_not_before, container.thaw_not_after) == (begun + 14 * HOUR, begun + 40 * HOUR)
    newer(bench, "FZ-7", version=3, thaw=type(thaw)(10 * HOUR, 60 * HOUR))
    newer(bench, "FZ-7", version=4, thaw=None)
    assert bench.container(jar).thaw_not_after == begun + 40 * HOUR


def test_a_version_that_forbids_enclosed_heads_ends_the_bead_in_one_now() -> None:
    bench = Bench(site_d())
    jar = bench.on_line("HEAD")
    bench.later(60)
    newer(bench, enclosed_life=None)
    (alarm,) = bench.station.ledger.alarms.values()
    assert (alarm.subject, alarm.limit, alarm.in_use) == ("H1", Limit.STENCIL, True)
    verdict = bench.later(1).scan(jar, "HEAD")
    assert (verdict.word, verdict.code) == (Word.STOP, "not-in-head")
    assert bench.tag_card("H1", Card.SAME_BEAD, "HEAD").code == "bead-past"


def test_a_shorter_life_in_a_head_leaves_beads_on_open_stencils_alone() -> None:
    bench = Bench(site_d())
    bench.on_line("HEAD")
    bench.on_line("LINE1")
    before = bead_end(bench)
    newer(bench, enclosed_life=5 * HOUR)
    assert (bead_end(bench, "H1"), bead_end(bench)) == (berlin("2026-11-08T20:11"), before)


def test_a_bead_with_used_paste_in_it_loses_the_difference_too() -> None:
    bench = Bench(site_d())
    bench.on_line()
    bench.later(60.5).tag_card("1", Card.REMOVE, "LINE1")
    used = bench.card(Card.KEEP_USED, "LINE1").container
    assert used is not None
    bench.later(1).scan(used, "LINE1")
    bench.card(Card.LOOKS_GOOD, "LINE1")
    before = bead_end(bench)
    bench.restart()
    assert applied(bench) == []
    newer(bench, stencil_life=7 * HOUR)
    assert bead_end(bench) == before - HOUR


@pytest.mark.parametrize("at", ["2026-11-08T12:00:00", "2026-11-08T12:00:37"])
def test_the_same_limits_again_or_a_restart_change_nothing(at: str) -> None:
    bench = Bench(start=at)
    bench.receive()
    bench.cold()
    bench.later(0.25)
    bench.on_line(arrived_at=berlin("2026-11-08T11:59:13"))
    newer(bench, page="2")
    bench.restart()
    assert applied(bench) == []


def test_ended_jars_other_pastes_and_lines_that_are_gone_are_left_alone() -> None:
    bench = Bench()
    jar = bench.on_line()
    leaded = bench.on_line("LINE2", "PB-1")
    bench.later(1).scan(jar, "LINE1")
    bench.card(Card.EMPTY, "LINE1")
    before = bead_end(bench)
    plant = bench.site.plant
    positions = {name: position for name, position in plant.positions.items() if name != "1"}
    object.__setattr__(plant, "positions", positions)
    try:
        newer(bench, room_life=5 * DAY, stencil_life=6 * HOUR)
    finally:
        object.__setattr__(plant, "positions", {**positions, "1": site_t().plant.positions.get("1", positions["2"])})
    assert (bead_end(bench), applied(bench)) == (before, [])
    assert bench.container(leaded).room_given == 7 * DAY
