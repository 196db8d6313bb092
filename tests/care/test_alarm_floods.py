"""Many alarms at once: when it is a flood, what shares a card in one, and that nothing urgent is hidden in it."""

from datetime import UTC, datetime, timedelta

from station.care.alarm_floods import Group, cause_of, flooded, grouped, same_cause
from station.care.alarms import open_alarms
from station.care.state import Alarm
from station.care.words import Card, Limit
from tests.care.bench import Bench

T0 = datetime(2026, 11, 9, 6, tzinfo=UTC)


def raised(*minutes: float) -> list[Alarm]:
    return [
        Alarm(f"{number}", "K7-001", Limit.ROOM, T0, T0 + timedelta(minutes=minute), in_use=False)
        for number, minute in enumerate(minutes)
    ]


def late_to_cold(count: int, bench: Bench | None = None, lot: str = "A15") -> Bench:
    """Jars that nobody put away within four hours."""
    bench = bench or Bench()
    for _ in range(count):
        bench.receive(lot=lot)
    return bench.later(4 * 60 + 1)


def test_more_than_ten_new_alarms_in_ten_minutes_are_a_flood_and_ten_are_not() -> None:
    """The bounds of ANSI/ISA-18.2, as quoted by public texts on alarm floods."""
    assert flooded(raised(*range(10))) == frozenset()
    assert len(flooded(raised(*[0.5 * count for count in range(11)]))) == 11
    assert flooded(raised(*range(11))) == frozenset()  # the first lies ten minutes back


def test_a_flood_goes_on_until_fewer_than_five_came_in_ten_minutes() -> None:
    begin = [0.0] * 11
    assert "11" in flooded(raised(*begin, 9))
    assert "16" in flooded(raised(*begin, 9, 9, 9, 9, 9, 15))
    assert "15" not in flooded(raised(*begin, 9, 9, 9, 9, 15))


def test_alarms_of_a_flood_that_share_lot_and_limit_are_one_group() -> None:
    bench = late_to_cold(11)
    (group,) = grouped(bench.floor)
    assert isinstance(group, Group)
    assert (len(group.alarms), group.cause.spoken) == (11, "A15 of SN-4: time to cold storage")


def test_ten_stand_alone_and_so_does_the_only_one_of_its_lot() -> None:
    assert not any(isinstance(found, Group) for found in grouped(late_to_cold(10).floor))
    bench = Bench()
    bench.receive(lot="B20")
    found = grouped(late_to_cold(11, bench).floor)
    assert [isinstance(one, Group) for one in found] == [False, True]


def test_bad_paste_at_a_stencil_stands_alone_in_any_flood() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(4 * 60 - 1)
    for _ in range(11):
        bench.receive(lot="101")
    bench.later(4 * 60 + 2)
    first, *others = grouped(bench.floor)
    assert not isinstance(first, Group)
    assert first[0].subject == "1"
    assert [isinstance(one, Group) for one in others] == [True]


def test_what_is_cleared_by_one_word_leaves_out_what_still_lies_at_a_stencil() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(8 * 60 + 1)
    (alarm, _), *_ = open_alarms(bench.floor)
    assert same_cause(bench.floor, alarm.id) == ()
    bench.tag_card("1", Card.REMOVE, "LINE1")
    assert [found.id for found in same_cause(bench.floor, alarm.id)] == [alarm.id]
    assert same_cause(bench.floor, "no such alarm") == ()


def test_a_bead_of_two_lots_has_no_lot_to_share() -> None:
    bench = Bench()
    bench.on_line(lot="101")
    second = bench.ready(lot="202")
    bench.scan(second, "LINE1")
    bench.card(Card.LOOKS_GOOD, "LINE1")
    bench.later(8 * 60 + 1)
    alarm = next(alarm for alarm, _ in open_alarms(bench.floor) if alarm.subject == "1")
    bead = bench.position("1").bead
    assert bead is not None
    assert len(bead.portions) == 2
    assert cause_of(bench.floor, alarm) is None


def test_an_alarm_of_what_is_not_on_record_here_has_no_lot() -> None:
    assert cause_of(Bench().floor, raised(0)[0]) is None
    lost = Alarm("bead/1/gone/stencil life", "1", Limit.STENCIL, T0, T0, in_use=True)
    assert cause_of(Bench().floor, lost) is None
