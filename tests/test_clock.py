"""Clocks: the PC's own, and telling a moved clock from a PC that slept."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.care.facts import ClockStepped, Segment
from station.clock import SystemClock, boot_name
from station.services.clockwatch import (
    SLACK,
    ClockStep,
    ClockWatch,
    behind,
    earliest_instant,
    latest_instant,
)
from station.services.ports import Clock, ClockReading

T0 = datetime(2027, 7, 1, 6, 0, tzinfo=UTC)
HOUR = timedelta(hours=1)
MINUTE = timedelta(minutes=1)
NOTHING = timedelta(0)


class Desk:
    """A PC whose clocks are moved by hand."""

    def __init__(self, *, counts_sleep: bool = True) -> None:
        self.wall, self.awake, self.asleep = T0, NOTHING, NOTHING
        self.counts_sleep = counts_sleep

    def read(self) -> ClockReading:
        since_boot = (self.awake + self.asleep).total_seconds() if self.counts_sleep else None
        return ClockReading(self.wall, self.awake.total_seconds(), "boot-a", since_boot)

    def run(self, time: timedelta) -> "Desk":
        self.wall, self.awake = self.wall + time, self.awake + time
        return self

    def sleep(self, time: timedelta) -> "Desk":
        self.wall, self.asleep = self.wall + time, self.asleep + time
        return self

    def set_clock(self, by: timedelta) -> "Desk":
        self.wall += by
        return self


def test_time_that_just_passes_is_no_step() -> None:
    desk = Desk()
    watch = ClockWatch(desk.read())
    for _ in range(1000):
        watch, step = watch.look(desk.run(MINUTE).read())
        assert step is None
    assert watch.segment == Segment("boot-a", 0)


def test_br_42_a_clock_set_back_is_noticed_and_the_alarm_still_comes_in_five_minutes() -> None:
    desk = Desk()
    due = T0 + 5 * MINUTE
    watch, step = ClockWatch(desk.read()).look(desk.set_clock(-2 * HOUR).run(timedelta(seconds=1)).read())
    assert step == ClockStep(by=-2 * HOUR, trusted_until=T0, suspended=False)
    assert watch.segment == Segment("boot-a", 1)

    desk.run(5 * MINUTE - timedelta(seconds=2))
    assert latest_instant(desk.wall, step.by) < due
    desk.run(timedelta(seconds=1))
    assert latest_instant(desk.wall, step.by) == due
    assert latest_instant(desk.wall, step.by) - T0 > NOTHING  # no negative age
    assert watch.look(desk.read())[1] is None


def test_br_43_a_clock_put_right_by_six_hours_gives_one_step_and_nothing_gets_ready_by_it() -> None:
    desk = Desk()
    watch = ClockWatch(desk.read())
    watch, step = watch.look(desk.run(MINUTE).set_clock(6 * HOUR).read())
    assert step == ClockStep(by=6 * HOUR, trusted_until=T0, suspended=False)
    assert step.fact() == ClockStepped(by=6 * HOUR, trusted_until=T0, suspended=False)
    assert earliest_instant(desk.wall, step.by) == T0 + MINUTE
    assert latest_instant(desk.wall, step.by) == desk.wall
    steps = []
    for _ in range(20):
        watch, step = watch.look(desk.run(MINUTE).read())
        steps.append(step)
    assert steps == [None] * 20


def test_br_44_sleep_counts_as_time_and_is_told_as_sleep() -> None:
    desk = Desk()
    due = T0 + 10 * MINUTE
    watch, step = ClockWatch(desk.read()).look(desk.sleep(8 * MINUTE).read())
    assert step == ClockStep(by=8 * MINUTE, trusted_until=T0, suspended=True)
    assert due - latest_instant(desk.wall, NOTHING) == 2 * MINUTE
    assert watch.segment == Segment("boot-a", 0)  # the clock is right, times before and after compare
    _, step = watch.look(desk.run(MINUTE).read())
    assert step is None


def test_a_clock_set_during_sleep_is_a_step_by_what_it_was_set() -> None:
    desk = Desk()
    _, step = ClockWatch(desk.read()).look(desk.sleep(8 * HOUR).set_clock(-HOUR).read())
    assert step == ClockStep(by=-HOUR, trusted_until=T0, suspended=False)


def test_where_no_clock_counts_sleep_a_sleep_is_doubted_like_a_clock_set_ahead() -> None:
    desk = Desk(counts_sleep=False)
    _, step = ClockWatch(desk.read()).look(desk.sleep(HOUR).read())
    assert step == ClockStep(by=HOUR, trusted_until=T0, suspended=False)


def test_sleep_is_not_guessed_from_one_reading_alone() -> None:
    plain, counting = Desk(counts_sleep=False), Desk()
    _, step = ClockWatch(plain.read()).look(counting.sleep(HOUR).read())
    assert step is not None
    assert not step.suspended


@pytest.mark.parametrize("sign", [1, -1])
def test_the_slack_itself_is_let_pass_and_a_microsecond_more_is_not(sign: int) -> None:
    desk = Desk()
    watch, step = ClockWatch(desk.read()).look(desk.set_clock(sign * SLACK).read())
    assert step is None
    _, step = watch.look(desk.set_clock(sign * (SLACK + timedelta(microseconds=1))).read())
    assert step is not None
    assert timedelta(seconds=2) == SLACK


def test_a_nap_within_the_slack_is_not_told() -> None:
    desk = Desk()
    assert ClockWatch(desk.read()).look(desk.sleep(SLACK).read())[1] is None


def test_a_change_of_the_shown_hour_in_autumn_is_no_step() -> None:
    desk = Desk()
    desk.wall = datetime(2027, 10, 31, 0, 59, 30, tzinfo=UTC)  # 02:59:30 in Berlin, next 02:00:30
    assert ClockWatch(desk.read()).look(desk.run(MINUTE).read())[1] is None


def test_readings_of_two_boots_compare_with_nothing() -> None:
    desk = Desk()
    watch, _ = ClockWatch(desk.read()).look(desk.set_clock(HOUR).read())
    watch, step = watch.look(ClockReading(T0, 5.0, "boot-b"))
    assert step is None
    assert watch.segment == Segment("boot-b", 0)


@given(st.lists(st.timedeltas(-100 * HOUR, 100 * HOUR), max_size=6))
def test_steps_add_up_to_what_the_clock_was_moved(moves: list[timedelta]) -> None:
    desk = Desk()
    watch = ClockWatch(desk.read())
    unseen = NOTHING
    for move in moves:
        watch, step = watch.look(desk.run(MINUTE).set_clock(move).read())
        unseen += move - (step.by if step else NOTHING)
    assert abs(unseen) <= SLACK * len(moves)


@given(st.timedeltas(-100 * HOUR, 100 * HOUR))
def test_the_true_time_lies_between_earliest_and_latest(stepped_by: timedelta) -> None:
    wall = T0 + stepped_by
    assert earliest_instant(wall, stepped_by) <= T0 <= latest_instant(wall, stepped_by)
    assert earliest_instant(wall, stepped_by) <= wall <= latest_instant(wall, stepped_by)


def test_a_clock_set_back_while_the_program_was_off_is_noticed_at_the_start() -> None:
    reading = ClockReading(T0, 5.0, "boot-b")
    assert behind(T0 + HOUR, reading) == ClockStep(by=-HOUR, trusted_until=T0 + HOUR, suspended=False)
    assert behind(T0 + SLACK, reading) is None
    assert behind(T0 - HOUR, reading) is None
    assert behind(None, reading) is None


def test_the_pcs_clocks_are_read_together_and_go_forward() -> None:
    clock: Clock = SystemClock()
    first, second = clock.read(), clock.read()
    assert first.wall.utcoffset() == NOTHING
    assert second.monotonic >= first.monotonic
    assert second.boot == first.boot
    assert ClockWatch(first).look(second)[1] is None


@pytest.mark.skipif(not Path("/proc/uptime").exists(), reason="compares with what Linux says")
def test_the_clock_that_counts_sleep_agrees_with_the_kernels_uptime() -> None:
    uptime = float(Path("/proc/uptime").read_text(encoding="ascii").split()[0])
    since_boot = SystemClock().read().since_boot
    assert since_boot == pytest.approx(uptime, abs=5)


def test_two_programs_of_one_boot_name_it_alike_where_the_system_names_it(tmp_path: Path) -> None:
    named = tmp_path / "boot_id"
    named.write_text("0f1e2d3c\n")
    assert boot_name(named) == "0f1e2d3c"
    assert SystemClock(named).read().boot == SystemClock(named).read().boot == "0f1e2d3c"


@pytest.mark.parametrize("content", [None, b"", b"\xff\xfe"])
def test_without_a_name_from_the_system_each_program_start_counts_as_a_boot(
    tmp_path: Path, content: bytes | None
) -> None:
    source = tmp_path / "boot_id"
    if content is not None:
        source.write_bytes(content)
    one, two = SystemClock(source), SystemClock(source)
    assert one.read().boot != two.read().boot
    assert one.read().boot == one.read().boot
