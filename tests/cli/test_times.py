"""`station times`: the same times the fridge door prints, without recording anything."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from station.bootstrap import build_player
from station.cli.instants import iso
from station.rehearsal.script import read_script
from station.services.times import Question, times
from station.settings.load import load
from tests.cli.answers import DEMO, PLANT_T, Answer
from tests.cli.conftest import Say
from tests.settings.folders import Folder


def ask(station: Say, *more: object, config: Path = PLANT_T, paste: str = "SN-4", kind: str = "JAR-500") -> Answer:
    return station("times", "--config", config, "--paste", paste, "--kind", kind, *more)


def test_the_hand_worked_take_out_of_the_plain_day(station: Say) -> None:
    """06:00:20 plant time in winter; 3 h rounded up, 7 d rounded down (figures of plant T)."""
    answer = ask(station, "--out-at", "2026-11-09T06:00:20", "--json")
    assert answer.code == 0
    assert answer.json == {
        "earliest_use": "2026-11-09T08:01:00Z",
        "discard_by": "2026-11-16T05:00:00Z",
        "governing": "room life",
        "limits": [
            {"name": "conditioning", "from": "2026-11-09T05:00:20Z", "until": "2026-11-09T08:01:00Z"},
            {"name": "room life", "from": "2026-11-09T05:00:00Z", "until": "2026-11-16T05:00:00Z"},
        ],
    }


def test_once_opened_the_open_life_governs(station: Say) -> None:
    answer = ask(station, "--out-at", "2026-11-09T06:00:20", "--opened-at", "2026-11-09T09:01:00", "--json")
    assert answer.json["governing"] == "open life"
    assert answer.json["discard_by"] == "2026-11-10T08:01:00Z"
    assert [limit["name"] for limit in answer.json["limits"]] == ["conditioning", "open life", "room life"]


def test_an_expiry_date_ends_at_2359_of_its_day_in_the_plants_zone(station: Say) -> None:
    answer = ask(station, "--out-at", "2026-11-09T06:00:20", "--expires", "2026-11-10", "--json")
    assert answer.json["discard_by"] == "2026-11-10T22:59:00Z"
    assert answer.json["governing"] == "shelf life"
    assert answer.json["limits"][1] == {"name": "shelf life", "from": None, "until": "2026-11-10T22:59:00Z"}


@pytest.mark.parametrize(("paste", "warm_up_min"), [("FZ-7", 108.9), ("FS-8", 150.1)])
def test_frozen_paste_that_thaws_warms_from_the_refrigerator_and_other_frozen_paste_from_the_freezer(
    paste: str, warm_up_min: float
) -> None:
    # by hand: 10 min + 45 min x ln(18 / 2) from 5 C, and x ln(45 / 2) from -22 C, in a room of 23 C
    answer = times(load(PLANT_T.parent / "plant_f"), Question(paste, "JAR-500", datetime(2026, 11, 9, 6, tzinfo=UTC)))
    assert answer.wait is not None
    assert answer.wait.warm_up / timedelta(minutes=1) == pytest.approx(warm_up_min, abs=0.05)


def test_the_station_itself_comes_to_the_same_times(tmp_path: Path) -> None:
    """The same day once through the station with scans, once asked beforehand."""
    site = load(PLANT_T)
    script = tmp_path / "day.jsonl"
    script.write_text(
        '{"at": "2026-11-09T06:00:20", "receive": {"paste": "SN-4", "kind": "JAR-500", "lot": "1", '
        '"expires": "2027-03-31", "temperature": 8}, "as": "K"}\n'
        '{"place": "FRIDGE", "scan": "K"}\n'
        '{"at": "2026-11-09T06:30:20", "room": {"temperature": 21, "humidity": 60}}\n'
        '{"at": "2026-11-09T06:40:40", "place": "FRIDGE", "scan": "K"}\n'
        '{"at": "2026-11-09T12:00:10", "place": "LINE1", "scan": "K", "expect": {"code": "opening-check"}}\n',
        encoding="utf-8",
    )
    steps = read_script(script, site.zone)
    player = build_player(site, steps[0].at)
    assert [fault for played in player.play(steps) for fault in played.missed] == []
    container = player.station.ledger.containers[player.container("K")]
    asked = times(
        site,
        Question(
            "SN-4",
            "JAR-500",
            out_at=steps[3].at,
            opened_at=steps[4].at,
            room_c=21,
            humidity=60,
            expires=container.expires,
        ),
    )
    assert asked.earliest_use == container.earliest_use
    ends = {limit.name: limit.until for limit in asked.limits}
    assert ends["open life"] == container.open_end
    assert ends["shelf life"] == container.shelf_end
    # the real one lay 40 min at the dock and on the way; room life counts those as well
    assert container.room_end is not None
    assert ends["room life"] - container.room_end <= timedelta(minutes=41)


def test_a_room_too_cold_gives_no_earliest_use_and_says_why(station: Say) -> None:
    answer = ask(station, "--out-at", "2026-11-09T06:00", "--room", "17.5", "--json")
    assert answer.code == 0
    assert answer.json["earliest_use"] is None
    assert answer.json["why"] == "The room is too cold: it is 17.5 C and this paste must reach 19 C."
    assert answer.json["discard_by"] == "2026-11-16T05:00:00Z"


def test_a_room_too_humid_gives_no_earliest_use_and_says_why(station: Say) -> None:
    """25 C at 92 % has its dew point at 23.6 C (Magnus form), within 2 K of the room."""
    answer = ask(station, "--out-at", "2026-11-09T06:00", "--room", "25", "--rh", "92", "--json")
    assert answer.json["earliest_use"] is None
    assert "too humid" in answer.json["why"]


def test_a_muggy_room_lengthens_the_suppliers_figure_and_a_dry_one_never_shortens_it(station: Say) -> None:
    """4 h is the supplier's figure of the demo. At 23 C and 88 % the dew point is near 20.9 C (Magnus form)."""
    dry = ask(station, "--out-at", "2026-11-09T06:00", "--rh", "10", "--json", config=DEMO)
    damp = ask(station, "--out-at", "2026-11-09T06:00", "--rh", "88", "--json", config=DEMO)
    assert dry.json["earliest_use"] == "2026-11-09T09:00:00Z"
    assert damp.json["earliest_use"] > "2026-11-09T09:00:00Z"


def test_a_container_in_its_carton_has_its_own_figure(station: Say) -> None:
    boxed = ask(station, "--out-at", "2026-11-09T06:00", "--json", config=DEMO, kind="JAR-500-BOXED")
    assert boxed.json["earliest_use"] == "2026-11-09T15:00:00Z"


def test_opened_before_its_earliest_use_is_said(station: Say) -> None:
    answer = ask(station, "--out-at", "2026-11-09T06:00", "--opened-at", "2026-11-09T07:00", "--json")
    assert answer.json["discard_by"] == "2026-11-10T06:00:00Z"
    assert "before its earliest use Mon 9 Nov 09:00" in answer.json["why"]


def test_paste_that_expires_before_it_is_ready_is_said(station: Say) -> None:
    answer = ask(station, "--out-at", "2026-11-09T22:00", "--expires", "2026-11-09", "--json")
    assert "before it would be ready" in answer.json["why"]


def test_paste_kept_at_room_temperature_is_ready_at_once_and_says_what_ends_it(station: Say) -> None:
    shelf = {"config": DEMO, "paste": "RT-3"}
    closed = ask(station, "--out-at", "2026-11-09T06:00:20", "--json", **shelf)  # type: ignore[arg-type]
    assert closed.json["earliest_use"] == "2026-11-09T05:01:00Z"
    assert (closed.json["discard_by"], closed.json["governing"]) == (None, None)
    assert "No limit runs" in closed.json["why"]
    opened = ask(
        station,
        *("--out-at", "2026-11-09T06:00", "--opened-at", "2026-11-09T06:00", "--json"),
        **shelf,  # type: ignore[arg-type]
    )
    assert opened.json["discard_by"] == "2026-11-10T05:00:00Z"
    assert "why" not in opened.json


def test_it_reads_as_a_table_in_plant_time(station: Say) -> None:
    answer = ask(station, "--out-at", "2026-11-09T06:00:20", "--expires", "2027-03-31")
    assert "earliest use  Mon 09 Nov 2026 09:01" in answer.out
    assert "discard by    Mon 16 Nov 2026 06:00 (room life)" in answer.out
    assert "shelf life    until Wed 31 Mar 2027 23:59" in answer.out
    assert "longest of    supplier 3 h, warm-up" in answer.out
    assert answer.err == ""


def test_what_speaks_against_it_stands_beside_the_table(station: Say) -> None:
    answer = ask(station, "--out-at", "2026-11-09T06:00", config=DEMO, paste="RT-3")
    assert answer.code == 0
    assert "discard by    not known" in answer.out
    assert "longest of" not in answer.out
    assert "No limit runs" in answer.err


def test_a_time_with_its_offset_means_that_instant(station: Say) -> None:
    plant = ask(station, "--out-at", "2026-11-09T06:00", "--json")
    assert ask(station, "--out-at", "2026-11-09T05:00Z", "--json").json == plant.json
    assert ask(station, "--out-at", "2026-11-09T00:00-05:00", "--json").json == plant.json


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("--out-at", "9.11.2026"), "'9.11.2026' is no date and time"),
        (("--out-at", "2026-10-25T02:30"), "comes twice when the clocks change"),
        (("--out-at", "2026-03-29T02:30"), "is left out when the clocks change"),
        (("--out-at", "2026-11-09T06:00", "--opened-at", "2026-11-09T05:59"), "before it was taken out"),
        (("--out-at", "2026-11-09T06:00", "--room", "60"), "60 C can't be a room"),
        (("--out-at", "2026-11-09T06:00", "--room", "nan"), "nan C can't be a room"),
        (("--out-at", "2026-11-09T06:00", "--rh", "0"), "0 % is no humidity"),
        (("--out-at", "2026-11-09T06:00", "--expires", "31.3."), "'31.3.' is no date"),
        (("--out-at", "2026-11-09T06:00", "--paste", "SN-9"), "There is no paste 'SN-9' here. Use one of: "),
        (
            ("--out-at", "2026-11-09T06:00", "--kind", "BUCKET"),
            "no limits for the kind 'BUCKET'. Use one of: ",
        ),
    ],
)
def test_what_cannot_be_worked_out_is_code_2_with_the_way_to_mend_it(
    station: Say, words: tuple[str, ...], sentence: str
) -> None:
    answer = ask(station, *words)
    assert (answer.code, answer.out) == (2, "")
    assert sentence in answer.err


def test_of_two_stores_the_colder_one_is_reckoned_with(tmp_path: Path) -> None:
    folder = Folder(tmp_path / "site", PLANT_T)
    out_at = datetime(2026, 11, 9, 5, tzinfo=UTC)
    before = times(load(folder.path), Question("SN-4", "JAR-500", out_at))
    text = (folder.path / "stores.toml").read_text(encoding="utf-8")
    colder = (
        '\n[[store]]\nid = "COLDER"\ntitle = "Colder"\nstorage = "cold"\nlow = "-1 C"\nhigh = "5 C"\n'
        'bins = [{ id = "X1", capacity = 2, for = "lead-free" }, { id = "X2", capacity = 2, for = "hold" }]\n'
    )
    (folder.path / "stores.toml").write_text(text + colder, encoding="utf-8")
    after = times(load(folder.path), Question("SN-4", "JAR-500", out_at))
    assert before.wait is not None
    assert after.wait is not None
    assert after.wait.warm_up > before.wait.warm_up


def test_instants_are_said_in_utc_to_the_second() -> None:
    assert iso(datetime(2026, 11, 9, 5, 0, 20, 999_999, tzinfo=UTC)) == "2026-11-09T05:00:20Z"
