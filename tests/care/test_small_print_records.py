"""Small print of what the record keeps: what became of paste, who told it, where and how."""

from datetime import date, timedelta

import pytest

from station.care import facts as f
from station.care.alarms import Clearing, clear
from station.care.by_label import stand_in
from station.care.extension import Extending, allowance
from station.care.fold_lot import lot_name
from station.care.receiving import Arrival
from station.care.scans import CardScan
from station.care.words import Boards, Card, Disposition, Ending, HoldReason, Limit
from station.services import lead_acts
from tests.care.bench import EXPIRES, LEAD, LEAD_PIN, Bench, berlin, site_t, with_limits
from tests.care.leading import ENGINEER_PROOF, newer, recertified
from tests.care.places import site_d
from tests.care.test_by_label import JAR, label
from tests.care.test_figures import TOLD
from tests.care.told import FIRST, SECOND, kept, out_without_put_away, unsaid

HOUR, MINUTE, DAY = timedelta(hours=1), timedelta(minutes=1), timedelta(days=1)


# ---------------------------------------------------------------------- alarms


def overdue() -> tuple[Bench, str]:
    """A jar whose open life is over by a minute, last seen at line 1, and its alarm."""
    bench = Bench()
    jar = bench.ready()
    bench.scan(jar, "LINE1")
    bench.later(24 * 60 + 1)
    (alarm,) = bench.alarms()
    return bench, alarm


@pytest.mark.parametrize(
    ("said", "grams", "became"),
    [
        (Disposition.DISCARDED, 40.0, f.Ended(FIRST, Ending.DISCARDED, "stood open", "1", 40.0)),
        (Disposition.USED_IN_TIME, 12.5, f.Ended(FIRST, Ending.USED_UP, "stood open", "1", 12.5)),
        (Disposition.NOT_FOUND, 12.5, f.Ended(FIRST, Ending.NOT_FOUND, "stood open", "1", None)),
        (Disposition.EVALUATION, None, f.Held(FIRST, HoldReason.EVALUATION, "stood open")),
    ],
)
def test_clearing_records_what_became_of_the_paste_where_why_and_how_much(
    said: Disposition, grams: float | None, became: f.Body
) -> None:
    bench, alarm = overdue()
    bodies = clear(bench.floor, Clearing(alarm, said, "stood open", document="MRB 12", grams=grams), LEAD)
    assert bodies == (became, f.AlarmCleared(alarm, said, None, "MRB 12", "stood open"))


def test_a_cleared_alarm_says_who_cleared_it_and_who_took_the_boards() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(8 * 60 + 1).tag_card("1", Card.REMOVE, "LINE1")
    (alarm,) = bench.alarms()
    told = Clearing(alarm, Disposition.BEAD_OFF, "late break", Boards.ACCEPTED, "MRB 12")
    bench.station.clear(told, LEAD, LEAD_PIN)
    found = bench.station.ledger.alarms[alarm]
    assert (found.cleared_by, found.disposition, found.boards, found.document, found.reason) == (
        LEAD,
        Disposition.BEAD_OFF,
        Boards.ACCEPTED,
        "MRB 12",
        "late break",
    )


def test_cleared_in_the_last_minute_of_a_limit_moved_before_nothing_more_is_moved() -> None:
    bench, alarm = overdue()
    bench.station.extend(Extending(FIRST, Limit.OPEN, HOUR, "C-1"), LEAD, LEAD_PIN)
    bench.later(59)
    assert bench.clock.wall == berlin("2026-11-09T16:11")
    bodies = clear(bench.floor, Clearing(alarm, Disposition.EXTENDED, "see C-1", document="C-1"), LEAD)
    assert [body.NAME for body in bodies] == ["alarm-cleared"]


def test_the_alarm_of_a_passed_limit_stands_by_the_name_every_station_gives_it() -> None:
    bench = Bench()
    bench.on_line()
    bead = bench.position("1").bead
    assert bead is not None
    assert bench.later(8 * 60 + 1).alarms() == [f"bead/1/{bead.key}/stencil life"]


# ---------------------------------------------------------------------- extensions, figures, lots


def test_an_extension_records_its_concession_and_speaks_of_its_container() -> None:
    bench, _ = overdue()
    outcome = bench.station.extend(Extending(FIRST, Limit.OPEN, HOUR, " C-1 "), LEAD, LEAD_PIN)
    assert [fact.body for fact in outcome.facts] == [f.LimitExtended(FIRST, Limit.OPEN, HOUR, "C-1", 12 * HOUR)]
    assert outcome.verdict is not None
    assert outcome.verdict.container == FIRST


@pytest.mark.parametrize("limit", [Limit.OPEN, Limit.ROOM])
def test_what_was_extended_before_is_taken_off_the_allowance(limit: Limit) -> None:
    bench = Bench(with_limits(site_t(), "SN-4", open_extension=12 * HOUR, room_extension=12 * HOUR))
    jar = bench.on_line()
    assert allowance(bench.floor, bench.container(jar), limit) == 12 * HOUR
    bench.tell(f.LimitExtended(jar, limit, 5 * HOUR, "C-1"))
    assert allowance(bench.floor, bench.container(jar), limit) == 7 * HOUR


def test_accepted_figures_are_recorded_as_measured_and_read_so() -> None:
    bench = Bench()
    lead_acts.accept_figures(bench.station, TOLD, ENGINEER_PROOF)
    assert [body.estimate for body in kept(bench, f.FiguresAccepted)] == [False]
    assert bench.floor.kind_called("JAR-500").estimate is False


def test_a_lot_with_a_new_expiry_names_the_letter_that_gave_it() -> None:
    bench = Bench()
    bench.cold()
    recertified(bench, date(2027, 6, 30))
    assert bench.station.ledger.lots[lot_name("SN-4", "101")].document == "letter 7"


# ---------------------------------------------------------------------- other facts


def test_a_take_out_records_the_zone_of_the_plant_and_the_warm_up_it_was_reckoned_with() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(11).scan(jar, "FRIDGE")
    (told,) = kept(bench, f.TakenOut)
    assert told.zone == "Europe/Berlin"
    # 10 min + 45 min * ln(18 / 2), from 5 C to within 2 K of 23 C
    assert told.warm_up == pytest.approx(timedelta(minutes=108.9), abs=timedelta(seconds=6))


def test_opened_too_early_it_is_recorded_where_nobody_knows_and_in_no_use() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(11).scan(jar, "FRIDGE")
    bench.later(30).scan(jar, "LINE1")
    bench.card(Card.LOOKS_GOOD, "LINE1")
    opened, alarm = kept(bench, f.Opened)[0], kept(bench, f.AlarmRaised)[0]
    assert opened == f.Opened(jar, "", early=True, open_end=berlin("2026-11-09T12:41"))
    assert (alarm.limit, alarm.in_use) == (Limit.CONDITIONING, False)


@pytest.mark.parametrize("place", ["LINE1", "BENCH"])
def test_opened_when_it_was_ready_it_is_not_recorded_as_early(place: str) -> None:
    bench = Bench(site_d())
    bench.scan(bench.ready(), place)
    if place == "BENCH":
        bench.card(Card.DECANT, place)
    assert [body.early for body in kept(bench, f.Opened)] == [False]


def test_what_is_thrown_away_is_recorded_where_it_was_said() -> None:
    bench = Bench()
    bench.scan(bench.cold(), "DESK")
    bench.card(Card.DISCARD, "DESK")
    assert kept(bench, f.Ended) == [f.Ended(FIRST, Ending.DISCARDED, "", "DESK", None)]


def test_put_away_for_the_first_time_it_is_no_return() -> None:
    bench = Bench()
    bench.cold()
    assert kept(bench, f.PutAway) == [f.PutAway(FIRST, "FRIDGE", "A1", returning=False)]


def test_a_delivery_was_last_seen_at_the_dock_when_it_was_scanned_in() -> None:
    bench = Bench()
    name = bench.station.new_container()
    arrival = Arrival(name, "SN-4", "JAR-500", "101", EXPIRES, None, bench.clock.wall, 8, "measured", leaking=False)
    assert unsaid(bench.station.receive([arrival], None).verdict) == []
    found = bench.container(name)
    assert (found.last_seen_at, found.last_seen_where) == (bench.clock.wall, "receiving")


def test_what_was_filled_was_opened_and_last_seen_at_its_filling() -> None:
    bench = Bench(site_d())
    bench.scan(bench.on_line(), "BENCH")
    outcome = bench.outcome(CardScan(Card.DECANT), "BENCH")
    (fact,) = [fact for fact in outcome.facts if isinstance(fact.body, f.Decanted)]
    found = bench.container(SECOND)
    assert (found.opened_key, found.opened_at, found.arrived_at) == (fact.key, fact.at, fact.at)
    bench.tell(f.Decanted("K9-050", (FIRST,), "SN-4", "JAR-500", "101", bench.clock.wall + 8 * HOUR, "BENCH"))
    assert bench.container("K9-050").last_seen_at == bench.clock.wall


def test_a_tighter_version_is_written_down_without_a_reason() -> None:
    bench = Bench()
    bench.ready()
    newer(bench, room_life=5 * DAY)
    assert [body.reason for body in kept(bench, f.SpecificationApplied)] == [""]


def test_a_confirmed_clock_says_since_when_it_was_trusted() -> None:
    bench = Bench()
    started = bench.clock.wall
    bench.later(60).step(30)
    bench.station.confirm_clock(LEAD, LEAD_PIN)
    assert [body.segment_from for body in kept(bench, f.ClockConfirmed)] == [started]


def test_what_is_known_of_a_container_by_its_label_is_what_the_label_says() -> None:
    bench = Bench().at("2026-11-10T09:30")
    found = stand_in(bench.floor, JAR, label(print_number=3))
    assert found is not None
    out = berlin("2026-11-10T06:00")
    assert (found.arrived_at, found.put_away_at, found.out_from, found.out_to) == (out, out, out, out)
    assert (found.print_number, found.print_confirmed, found.inspected_good) == (3, 3, True)


def test_no_label_is_torn_off_where_none_was_printed_here() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(11).tell(out_without_put_away(bench, jar))
    bench.scan(jar, "DESK")
    assert "ear the old label" not in bench.card(Card.REPRINT, "DESK").todo
    bench.scan(jar, "DESK")
    assert "ear the old label" in bench.card(Card.REPRINT, "DESK").todo
