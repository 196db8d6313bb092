"""Where paste goes once somebody said that it is discarded: always said, leaded paste always apart."""

import pytest

from station.care import alarms
from station.care.waste import after_clearing
from station.care.words import Disposition
from tests.care.bench import Bench


def alarm_of(bench: Bench, subject: str) -> str:
    return next(alarm.id for alarm, _ in alarms.open_alarms(bench.floor) if alarm.subject == subject)


@pytest.mark.parametrize(("paste", "said"), [("SN-4", "by the local rules."), ("PB-1", "leaded (Pb) waste apart.")])
def test_a_discarded_container_goes_into_the_paste_waste(paste: str, said: str) -> None:
    bench = Bench()
    jar = bench.ready(paste)
    bench.later(8 * 24 * 60)
    todo = after_clearing(bench.floor, Disposition.DISCARDED, alarm_of(bench, jar))
    assert todo.startswith("Into the paste waste")
    assert todo.endswith(said)


def test_of_a_bead_it_is_said_for_whatever_lay_in_it() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(9 * 60)
    alarm = alarm_of(bench, "1")
    assert "leaded (Pb) waste apart" in after_clearing(bench.floor, Disposition.DISCARDED, alarm)
    assert after_clearing(bench.floor, Disposition.BEAD_OFF, alarm) == "Go on."
