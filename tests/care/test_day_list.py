"""The day list: everything that waits for a shift lead, with its true overrun and what to do about it."""

from datetime import timedelta

from station.care import facts as f
from station.care.day_list import DayKind, DayRow, day_list, hold_rows
from station.care.words import Card, HoldReason
from tests.care.bench import Bench
from tests.care.leading import held_lot, newer
from tests.care.places import site_d
from tests.care.test_counting import begun, whole
from tests.care.test_dispenser import cartridge
from tests.care.test_pairing import identity, out, times
from tests.care.test_stock import wanting


def rows(bench: Bench, kind: DayKind) -> list[DayRow]:
    return [row for row in day_list(bench.floor) if row.kind is kind]


def only(bench: Bench, kind: DayKind) -> DayRow:
    (row,) = rows(bench, kind)
    return row


def test_an_empty_plant_needs_nobody() -> None:
    assert day_list(Bench().floor) == ()


def test_a_bead_over_its_end_says_by_how_much_and_to_stop_and_then_asks_for_the_boards() -> None:
    bench = Bench()
    bench.on_line()
    end = bench.clock.wall + timedelta(hours=8)
    bench.later(8 * 60 + 18)
    row = only(bench, DayKind.ALARM)
    assert (row.what, row.since, row.past) == ("Bead on line 1: stencil life", end, timedelta(minutes=18))
    assert (row.todo, row.ready, row.waits) == ("Stop, scrape it off, and record REMOVE.", False, False)
    bench.tag_card("1", Card.REMOVE, "LINE1")
    row = only(bench.later(60), DayKind.ALARM)
    assert (row.past, row.ready) == (timedelta(minutes=18), True)
    assert row.todo == "Say what became of the boards, and clear it."


def test_a_bead_scraped_off_in_time_waits_quietly_in_the_list() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(8 * 60 + 5).tag_card("1", Card.REMOVE, "LINE1")
    row = only(bench.later(60), DayKind.ALARM)
    assert (row.waits, row.past) == (True, timedelta(minutes=5))


def test_the_worst_alarm_comes_first_and_what_ended_grows_no_further() -> None:
    bench = Bench()
    late = bench.receive()
    bench.later(4 * 60 + 1)
    bench.scan(late, "DESK")
    bench.card(Card.DISCARD, "DESK")
    bench.on_line()
    bench.later(8 * 60 + 1)
    first, second = rows(bench, DayKind.ALARM)
    assert [first.what, second.what] == ["Bead on line 1: stencil life", "K7 001: time to cold storage"]
    assert second.past == timedelta(minutes=1)
    assert second.todo == "Say what became of it, and clear it."


def test_forty_lots_that_ran_out_over_a_weekend_off_each_say_their_own_overrun_the_longest_first() -> None:
    """BR-78."""
    bench = Bench(start="2026-11-06T08:00")  # a Friday
    names = list[str]()
    for _ in range(40):
        names.append(bench.receive())
        bench.clock.go_on(timedelta(minutes=5))  # each is to be in the cold 4 h after it came
    bench.clock.go_on(timedelta(days=3))
    again = Bench(journal=bench.journal, start="2026-11-09T11:20")
    found = rows(again, DayKind.ALARM)
    assert [row.what.partition(":")[0].replace(" ", "-") for row in found] == names
    # the first came on Friday at 08:00 and was late from 12:00 on: 2 d 23 h 20 min on Monday at 11:20
    assert [row.past for row in found] == [timedelta(hours=71, minutes=20 - 5 * place) for place in range(40)]
    assert all(row.past == again.clock.wall - (row.since or again.clock.wall) for row in found)


def test_paste_on_hold_in_a_dispenser_is_to_come_off() -> None:
    bench = Bench(site_d())
    name = cartridge(bench)
    bench.tell_own(f.Held(name, HoldReason.EVALUATION, "stringy"))
    row = only(bench, DayKind.ALARM)
    assert row.todo == "Stop, take it off D1, and record DISMOUNT."
    assert (row.past, row.ready) == (None, False)


def test_each_hold_is_a_row_of_its_own_with_what_was_said_of_it() -> None:
    bench = Bench()
    jar = bench.receive(leaking=True)
    held_lot(bench, note="recall")
    lot, own = hold_rows(bench.floor)
    assert (lot.kind, lot.subject) == (DayKind.LOT_HOLD, "SN-4/101")
    assert "recall" in lot.what
    assert lot.todo == "Decide: release it, or discard all of it."
    key = bench.container(jar).holds[0].key
    assert (own.kind, own.subject) == (DayKind.HOLD, f"{jar}:{key}")
    bench.tell(f.LotHeld("PB-1/7", "", HoldReason.INCOMING_TEST))
    assert next(hold_rows(bench.floor)).todo == "Release it by its test report."


def test_labels_are_named_while_they_are_swapped_unpaired_or_did_not_come_out() -> None:
    bench, (first, second) = out()
    assert [row.subject for row in rows(bench, DayKind.UNPAIRED)] == [first, second]
    identity(bench, first)
    times(bench.later(1), second)
    identity(bench.later(1), first)
    times(bench, second)
    assert [row.subject for row in rows(bench, DayKind.SWAPPED)] == [first, second]
    assert rows(bench, DayKind.UNPAIRED) == rows(bench, DayKind.LABEL) == []
    bench.tell(f.LabelAsked(first, 2, ""), f.LabelFailed(first, 2, "No paper."))
    row = only(bench, DayKind.LABEL)
    assert row.what == "K7 001: time label 2 did not come out, or nobody knows"
    bench.tell(f.LabelAsked(first, 3, ""), f.LabelSent(first, 3, "printer"))
    assert rows(bench, DayKind.LABEL) == []


def test_a_clock_in_doubt_a_count_that_differs_and_a_short_paste_are_named() -> None:
    bench = Bench(wanting("SN-4", 3))
    names = [bench.cold() for _ in range(6)]
    whole(bench, begun(bench))
    row = only(bench, DayKind.COUNT)
    assert "6 differences" in row.what
    assert row.what.endswith("and 2 more")
    for name in names[:4]:
        bench.scan(name, "DESK")
        bench.card(Card.DISCARD, "DESK")
    assert "more" not in only(bench, DayKind.COUNT).what
    assert only(bench, DayKind.STOCK).what == "SN-4: 2 usable, at least 3 wanted"
    assert rows(bench, DayKind.CLOCK) == []
    bench.step(-120)
    assert "in doubt" in only(bench, DayKind.CLOCK).what


def test_a_container_that_another_version_would_change_waits_for_a_word() -> None:
    bench = Bench()
    jar = bench.ready()
    newer(bench, room_life=timedelta(days=9))
    assert only(bench, DayKind.VERSION).subject == jar
