"""Decisions of leads and engineers told in a script, and a day on which the specification changes overnight."""

import json
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest

from station.bootstrap import DEMO_KEYS, NoPrinter, build_station
from station.care.words import HoldReason
from station.rehearsal.clock import SetClock
from station.rehearsal.lead_acts import LEAD_ACTS
from station.rehearsal.player import Player
from station.rehearsal.script import ACTIONS, Step, read_script
from station.services.memory import MemoryJournal
from station.services.site import Site
from station.services.station import Station
from tests.care.bench import Bench, berlin, site_t, with_limits
from tests.care.leading import PROOF, held_lot

LEAD = {"badge": "P20", "pin": "2020"}


def do(bench: Bench, act: str, **told: object) -> str:
    """A lead act as a script tells it; the code of its verdict."""
    verdict = LEAD_ACTS[act](bench.station, told, PROOF).verdict
    assert verdict is not None
    return verdict.code


def test_every_lead_act_may_be_told_in_a_script() -> None:
    assert set(LEAD_ACTS) <= set(ACTIONS)


def test_the_oldest_hold_of_a_lot_is_the_one_a_script_releases() -> None:
    bench = Bench()
    jar = bench.cold()
    held_lot(bench, note="first")
    held_lot(bench, note="second")
    assert do(bench, "release_lot", paste="SN-4", lot="101", note="good") == "lot-released"
    assert [hold.note for hold in bench.container(jar).all_holds] == ["second"]


@pytest.mark.parametrize(("arrived"), ["2026-11-08T09:30", "2026-11-08T08:30+00:00"])
def test_times_are_plant_time_unless_they_say_otherwise(arrived: str) -> None:
    bench = Bench()
    jar = bench.cold()
    assert do(bench, "correct", container=jar, reason="note", arrived=arrived) == "corrected"
    assert bench.container(jar).arrived_at == berlin("2026-11-08T09:30")


def test_only_what_a_script_tells_is_corrected() -> None:
    bench = Bench()
    jar = bench.cold()
    assert do(bench, "correct", container=jar, reason="note", temperature=40, expires="2027-01-31") == "corrected"
    container = bench.container(jar)
    assert (container.temperature_c, str(container.expires), container.lot) == (40, "2027-01-31", "101")
    assert [hold.reason for hold in container.holds] == [HoldReason.ARRIVED_WARM]


@pytest.mark.parametrize("missing", ["earliest", "latest"])
def test_a_late_take_out_without_its_interval_is_a_fault_of_the_script(missing: str) -> None:
    bench = Bench()
    told = {"container": bench.cold(), "earliest": "2026-11-08T12:00", "latest": "2026-11-08T12:00", "reason": "seen"}
    del told[missing]
    with pytest.raises(ValueError, match='"take_out_late" needs "earliest" and "latest"'):
        LEAD_ACTS["take_out_late"](bench.station, told, PROOF)


def test_what_is_taken_back_is_a_container_s_or_else_a_position_s() -> None:
    bench = Bench()
    jar = bench.on_line()
    assert do(bench, "take_back", position="1", reason="a slip") == "undone"
    assert bench.position("1").bead is None
    assert do(bench, "take_back", container=jar, reason="a slip") == "undone"
    assert bench.container(jar).inspected_good is None


def test_a_version_is_chosen_by_its_number() -> None:
    bench = Bench()
    assert do(bench, "choose_version", container=bench.ready(), version=1, reason="letter") == "version-chosen"


def changing_player(start: str, sites: list[Site]) -> tuple[Player, Callable[[], None]]:
    """A player whose station starts with the next of these sites after every restart that is asked for."""
    standing = [sites[0]]

    def make(clock: SetClock, journal: MemoryJournal) -> Station:
        return build_station(standing[0], journal, clock, DEMO_KEYS, NoPrinter(), frozenset({journal.number}))

    def change() -> None:
        standing[0] = sites[sites.index(standing[0]) + 1]

    return Player(make, berlin(start)), change


def steps(path: Path, *lines: dict[str, object]) -> tuple[Step, ...]:
    script = path / "day.jsonl"
    script.write_text("\n".join(json.dumps(line) for line in lines), encoding="utf-8")
    return read_script(script, site_t().zone)


def test_the_day_a_tighter_version_came_goes_as_worked_by_hand(tmp_path: Path) -> None:
    """Out 06:00, opened 09:00:05. Version 2 at 12:00: 5 d, 20 h and 6 h instead of 7 d, 24 h and 8 h. The bead of
    09:00 ends 15:00, the jar is open until 05:00 instead of 09:00. A, kept on version 1 by a lead at 06:00, may be
    used until 09:00 again, and passes anew one second later. B stays on version 2: out 06:00 + 5 d."""
    first = site_t()
    second = with_limits(
        first,
        "SN-4",
        version=2,
        room_life=timedelta(days=5),
        open_life=timedelta(hours=20),
        stencil_life=timedelta(hours=6),
    )
    player, change = changing_player("2026-11-08T12:00", [first, second])
    received = {"paste": "SN-4", "kind": "JAR-500", "lot": "101", "expires": "2027-03-31", "temperature": 8}
    chosen = {"container": "A", "version": 1, "reason": "supplier's letter 9", **LEAD}
    day = steps(
        tmp_path,
        {"at": "2026-11-08T12:00", "receive": received, "as": "A"},
        {"at": "2026-11-08T12:00", "place": "FRIDGE", "scan": "A"},
        {"at": "2026-11-08T12:01", "receive": received, "as": "B"},
        {"at": "2026-11-08T12:01", "place": "FRIDGE", "scan": "B"},
        {"at": "2026-11-09T06:00", "place": "FRIDGE", "scan": "A"},
        {"at": "2026-11-09T06:00:05", "place": "FRIDGE", "scan": "B"},
        {"at": "2026-11-09T09:00", "place": "LINE1", "scan": "A"},
        {
            "at": "2026-11-09T09:00:05",
            "place": "LINE1",
            "card": "LOOKS-GOOD",
            "expect": {"verdict": "USE", "says": "BEAD ENDS 17:00"},
        },
        {
            "at": "2026-11-09T11:00",
            "choose_version": {**chosen, "version": 2},
            "expect": {"refused": True, "says": "There is no version 2 of the specification of SN-4 on record."},
        },
        {
            "at": "2026-11-09T12:00",
            "restart": True,
            "note": "version 2",
            "expect": {
                "facts": [
                    "station-started",
                    "specification-set",
                    "specification-applied",
                    "specification-applied",
                    "bead-life-applied",
                ],
                "alarms": 0,
            },
        },
        {"at": "2026-11-09T12:01", "place": "LINE1", "scan": "A", "expect": {"says": "BEAD ENDS 15:00"}},
        {
            "at": "2026-11-09T15:00:01",
            "tick": True,
            "expect": {"alarm": {"subject": "1", "limit": "stencil life", "since": "2026-11-09T15:00"}},
        },
        {"at": "2026-11-09T15:05", "place": "LINE1", "tag": "1"},
        {"at": "2026-11-09T15:05:05", "place": "LINE1", "card": "REMOVE"},
        {
            "at": "2026-11-10T05:00:01",
            "tick": True,
            "expect": {"alarms": 2, "alarm": {"subject": "A", "limit": "open life", "since": "2026-11-10T05:00"}},
        },
        {"at": "2026-11-10T05:01", "place": "LINE1", "scan": "A", "expect": {"verdict": "STOP", "code": "open-life"}},
        {
            "at": "2026-11-10T06:00",
            "choose_version": {**chosen, "badge": "P12"},
            "expect": {"refused": True, "says": "needs a shift lead's badge"},
        },
        {"at": "2026-11-10T06:00", "choose_version": chosen, "expect": {"says": "DISCARD BY 09:00", "alarms": 2}},
        {"at": "2026-11-10T06:01", "restart": True, "expect": {"facts": ["station-started"]}},
        {
            "at": "2026-11-10T06:02",
            "place": "LINE1",
            "scan": "A",
            "expect": {"verdict": "USE", "says": "BEAD ENDS 09:00"},
        },
        {"at": "2026-11-10T08:59", "place": "LINE1", "tag": "1"},
        {"at": "2026-11-10T08:59:05", "place": "LINE1", "card": "REMOVE"},
        {"at": "2026-11-10T09:00", "tick": True, "expect": {"alarms": 2}},
        {
            "at": "2026-11-10T09:00:01",
            "tick": True,
            "expect": {"alarms": 3, "alarm": {"subject": "A", "limit": "open life", "since": "2026-11-10T09:00"}},
        },
        {"at": "2026-11-14T06:00", "place": "LINE2", "scan": "B", "expect": {"code": "opening-check"}},
        {
            "at": "2026-11-14T06:00:01",
            "place": "LINE2",
            "scan": "B",
            "expect": {"verdict": "STOP", "code": "room-life"},
        },
    )
    for step in day:
        if step.note == "version 2":
            change()
        played = player.step(step)
        assert not played.missed, (step.line, played.missed)
