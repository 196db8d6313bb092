"""Every report says what it was asked with, and its figures are those worked by hand for the day it is made of."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from station.care import facts as f
from station.care.words import Card
from station.reports.building import REPORTS, build
from station.reports.csv_file import CsvForm, from_csv, to_csv
from station.reports.document import NOTHING_FOUND, Cell, Report
from station.services.site import Shift
from tests.care.bench import Bench
from tests.care.engineering import approved
from tests.reports.floors import HEAD, SINCE, after, asked

RECALL, CHANGEOVERS = "recall_at_two_printers", "changeovers"


def columns(report: Report, *headings: str, table: int = 0) -> list[tuple[Cell, ...]]:
    """Some columns of one table of a report."""
    found = report.tables[table]
    places = [[column.heading for column in found.columns].index(heading) for heading in headings]
    return [tuple(row[place] for place in places) for row in found.rows]


@pytest.mark.parametrize("name", REPORTS)
def test_every_report_says_its_parameters_who_when_where_and_the_end_of_the_record(name: str) -> None:
    told = dict(build(name, asked(RECALL)).told)
    assert (told["from"], told["up to"], told["times in"]) == ("2026-11-01 01:00", "2026-12-01 01:00", "Europe/Berlin")
    assert (told["made at"], told["station"], told["journal head"]) == ("2026-11-10 06:01", "Plant T, station 7", HEAD)
    assert told["made by"].endswith("(P20)")
    assert "this station has on record" in told["figures are"]


@pytest.mark.parametrize("name", [name for name in REPORTS if name != "stock"])
def test_a_report_of_a_time_in_which_nothing_happened_says_that_nothing_was_found(name: str) -> None:
    told = dict(build(name, asked(RECALL, since=SINCE, until=SINCE + timedelta(days=1))).told)
    assert told["found"] == NOTHING_FOUND


@pytest.mark.parametrize("name", REPORTS)
def test_every_table_is_read_back_from_its_csv_as_it_was(name: str) -> None:
    report = build(name, asked(RECALL))
    for table in report.tables:
        assert from_csv(to_csv(table, CsvForm("comma", "comma"), report.told)) == table


def test_what_else_stood_on_a_makers_label_is_found_by_its_lot() -> None:
    bench = Bench()
    bench.receive(lot="A7", maker_said=("country of origin 276", "38X7"))
    found = replace(asked(RECALL, "SN-4 A7"), floor=bench.floor, since=SINCE)
    assert columns(build("trace", found), "container", "also on the maker's label", table=1) == [
        ("K7-001", "country of origin 276, 38X7")
    ]


def test_a_report_nobody_badged_in_for_says_so() -> None:
    found = asked(RECALL)
    told = dict(build("stock", replace(found, made=replace(found.made, who=""))).told)
    assert told["made by"] == "nobody badged in"


def test_a_recalled_lot_is_traced_to_its_positions_until_the_beads_came_off() -> None:
    report = build("trace", asked(RECALL, "SN-4 101"))
    assert columns(report, "position", "from", "until", "work order") == [
        ("P1", "2026-11-09 06:00", "2026-11-09 12:10", "none set up"),
        ("P2", "2026-11-09 06:30", "2026-11-09 12:20", "none set up"),
    ]
    assert columns(report, "ended as", "on hold for", table=1) == [("used up", "lot on hold"), ("", "lot on hold")]


def test_a_trace_tells_under_which_versions_paste_was_used_also_when_a_tighter_one_came_meanwhile() -> None:
    bench = Bench()
    jar = bench.on_line()
    approved(bench, stencil_life=timedelta(hours=6))
    bench.later(60).tag_card("1", Card.REMOVE, "LINE1")
    bench.scan(jar, "LINE1")
    told = replace(asked(RECALL, "SN-4 101"), floor=bench.floor, since=SINCE)
    assert columns(build("trace", told), "container", "specification") == [
        (jar, "SN-4 version 1, SN-4 version 2"),
        (jar, "SN-4 version 1, SN-4 version 2"),
    ]


def test_a_work_order_is_traced_back_to_its_lot_and_a_lot_to_its_work_orders() -> None:
    assert columns(build("trace", asked(CHANGEOVERS, "WO3")), "lot", "work order") == [("302 of PB-1", "WO3")]
    forward = columns(build("trace", asked(CHANGEOVERS, "301")), "lot", "work order")
    assert forward == [("301 of SN-4", "WO1"), ("301 of SN-4", "WO2")]


def test_boards_made_while_held_paste_lay_there_are_listed_as_not_decided() -> None:
    found = columns(build("boards", asked(RECALL)), "position", "limit", "from", "until", "boards")
    assert found == [
        ("P1", "hold", "2026-11-09 12:00", "2026-11-09 12:10", "not yet decided"),
        ("P2", "hold", "2026-11-09 12:00", "2026-11-09 12:20", "not yet decided"),
    ]


def test_use_inside_limits_is_a_share_of_the_beads() -> None:
    found = columns(
        build("use", asked(RECALL)), "paste", "beads and mountings", "never past a limit", "share in percent"
    )
    assert found == [("SN-4", Decimal(4), Decimal(2), Decimal("50.0"))]


def test_waste_that_nobody_weighed_is_at_most_what_the_container_held_and_costs_at_most_that() -> None:
    free = asked("discard_and_seen_again")
    plant = free.floor.plant
    priced = replace(plant, pastes={**plant.pastes, "SN-4": replace(plant.pastes["SN-4"], price_per_kg=80)})
    found = replace(free, floor=replace(free.floor, plant=priced), currency="EUR")
    report = build("waste", found)
    each = report.tables[-1]
    assert each.rows
    assert columns(report, "cost at most in EUR", table=4) == [(Decimal("40.00"),)] * len(each.rows)  # 500 g of 80 / kg
    assert {row[1] for row in columns(report, "grams", "grams at most", table=4)} == {Decimal("500.0")}
    assert columns(build("waste", asked("discard_and_seen_again")), "containers") == [
        (Decimal(row[0]),) for row in columns(report, "containers") if row[0] is not None
    ]


def test_waste_is_told_by_line_and_by_the_shift_that_worked() -> None:
    found = asked("discard_and_seen_again")
    ended = [fact.at for fact in found.floor.ledger.facts() if isinstance(fact.body, f.Ended)]
    assert ended
    local = [at.astimezone(found.floor.zone) for at in ended]
    early = Shift("early", "06:00", timedelta(hours=8), ("MO", "TU", "WE", "TH", "FR"))
    expected = {"early" if 6 <= at.hour < 14 and at.weekday() < 5 else "outside all shifts" for at in local}
    by_shift = columns(build("waste", replace(found, shifts=(early,))), "shift", table=3)
    assert {row[0] for row in by_shift} == expected
    assert (found.line("2"), found.line("DESK")) == (f"line {found.floor.plant.positions['2'].line}", "DESK")


def test_response_names_the_outside_figure_beside_the_one_found() -> None:
    report = build("response", asked(RECALL))
    rates = {row[0]: row[1:] for row in report.tables[1].rows}
    assert rates["alarms raised"] == (Decimal(2), "")
    assert rates["not yet cleared"] == (Decimal(2), "")
    assert "EEMUA 191" in str(rates["alarms per person in 10 minutes"][1])
    assert rates["most alarms in any 10 minutes"] == (Decimal(2), "more than 10 is a flood")  # both at 12:00
    assert rates["percent of the time in floods"][0] == Decimal("0.00")
    assert rates["stood for 24 h or longer"][0] == Decimal(0)  # since 12:00 of the 9th, read at 06:01 of the 10th
    # the record begins on the 8th at 12:00 and is read on the 10th at 06:01: 42 h 1 min, 252.1 times ten minutes
    people = rates["people who acted"][0]
    assert rates["alarms per person in 10 minutes"][0] == round(2 / Decimal("252.1") / Decimal(str(people)), 3)


def test_settled_alarms_say_how_long_it_took() -> None:
    report = build("response", asked("clearing_every_way"))
    cleared = {row[0]: row for row in report.tables[0].rows}["cleared"]
    alarms = after("clearing_every_way").ledger.alarms.values()
    lengths = [one.cleared_at - one.raised_at for one in alarms if one.cleared_at is not None]
    assert cleared[1] == Decimal(len(lengths))
    assert cleared[4] == round(Decimal(str(max(lengths) / timedelta(minutes=1))), 1)


def test_stock_says_what_is_here_now_and_what_is_on_hold() -> None:
    report = build("stock", asked(RECALL))
    assert ("SN-4", "101", "cold", Decimal(1), Decimal(1)) in columns(
        report, "paste", "lot", "state", "containers", "on hold"
    )


def test_the_story_of_a_container_is_told_in_order_with_people_places_and_what_was_taken_back() -> None:
    report = build("story", asked(CHANGEOVERS, "2"))
    assert report.tables[0].title == "Story of position 2"
    told = columns(report, "when", "what", "taken back")
    assert [row[0] for row in told] == sorted(str(row[0]) for row in told)
    removed = [row for row in told if row[1] == "Bead removed"]
    assert [row[2] for row in removed] == ["", "taken back"]
    assert ("2026-11-09 13:33:00", "Taken back: Bead removed", "") in [
        (row[0], str(row[1])[:24], row[2]) for row in told
    ]


def test_a_story_of_what_is_not_known_says_that_nothing_was_found() -> None:
    told = dict(build("story", asked(CHANGEOVERS, "nowhere")).told)
    assert (told["of"], told["found"]) == ("nowhere", NOTHING_FOUND)
