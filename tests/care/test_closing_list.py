"""The closing list: what has to be seen to so that nothing passes between two shifts."""

from datetime import date, timedelta

from station.care.closing_list import Closing, closing_list
from station.care.words import Card, Limit
from tests.care.bench import Bench, berlin, site_f
from tests.care.places import site_d
from tests.care.test_dispenser import cartridge
from tests.care.test_pairing import out
from tests.care.test_thaw import thawing


def until(bench: Bench, hours: float, stops: float = 0) -> Closing:
    now = bench.floor.now
    return closing_list(bench.floor, now + timedelta(hours=hours), now + timedelta(hours=stops))


def test_an_empty_line_may_be_left_as_it_is() -> None:
    assert until(Bench(), 64).nothing


def test_a_bead_that_ends_before_the_next_shift_is_to_come_off() -> None:
    bench = Bench()
    bench.on_line()
    (bead,) = until(bench, 9, stops=9).at_lines
    assert (bead.what, bead.limit, bead.at) == (
        "Bead on line 1",
        Limit.STENCIL,
        bench.clock.wall + timedelta(hours=8),
    )
    assert bead.todo == "Use it up or scrape it off before you leave, and record REMOVE."
    assert until(bench, 7, stops=7).at_lines == ()


def test_a_bead_left_lying_longer_than_a_pause_may_last_is_to_come_off_too() -> None:
    """Plant T has a bead replaced after a pause of 60 min."""
    bench = Bench()
    bench.on_line()
    assert until(bench, 2.9, stops=2).at_lines == ()
    (bead,) = until(bench, 3.1, stops=2).at_lines
    assert (bead.limit, bead.at) == (Limit.PAUSE, bench.clock.wall + timedelta(hours=3))
    bench.tag_card("1", Card.PAUSE, "LINE1")
    bench.later(30)
    assert [one.limit for one in until(bench, 1, stops=0.5).at_lines] == [Limit.PAUSE]


def test_containers_that_will_have_passed_come_the_first_to_pass_first_and_say_where_they_are() -> None:
    bench = Bench()
    jar = bench.on_line()
    late = bench.receive()
    bench.cold(expires=date(2027, 3, 31))
    found = until(bench, 30, stops=30).containers
    assert [(one.subject, one.limit) for one in found] == [(late, Limit.TO_COLD), (jar, Limit.OPEN)]
    assert found[0].todo == "Put it into cold storage. Last seen at receiving."
    assert found[1].todo == "Use it before, or discard it (DISCARD). On line 1."


def test_what_passed_already_is_an_alarm_and_no_longer_in_this_list() -> None:
    bench = Bench()
    bench.receive()
    bench.later(4 * 60 + 1)
    assert until(bench, 30).containers == ()


def test_a_cartridge_in_a_dispenser_is_to_come_off() -> None:
    bench = Bench(site_d())
    name = cartridge(bench)
    found = until(bench, 30)
    assert [(one.subject, one.what, one.limit) for one in found.at_lines] == [(name, "K7 001 on D1", Limit.OPEN)]
    assert found.containers == ()
    assert until(bench, 20).at_lines == ()


def test_frozen_paste_that_thaws_is_to_leave_the_refrigerator() -> None:
    bench = Bench(site_f())
    name = thawing(bench)
    end = bench.container(name).thaw_not_after
    (passing,) = until(bench, 100).containers
    assert (passing.limit, passing.at) == (Limit.THAW, end)
    assert passing.todo.startswith("Take it out of the refrigerator before.")


def test_what_is_held_or_unpaired_is_named_until_somebody_sees_to_it() -> None:
    bench, jars = out()
    held = bench.receive(leaking=True)
    found = until(bench, 1)
    assert [row.subject for row in found.unpaired] == jars
    assert [row.subject.partition(":")[0] for row in found.held] == [held]
    assert not found.nothing


def test_without_a_word_on_when_work_stops_it_stops_now() -> None:
    bench = Bench()
    bench.on_line()
    assert [one.limit for one in closing_list(bench.floor, berlin("2026-11-08T17:00")).at_lines] == [Limit.PAUSE]
