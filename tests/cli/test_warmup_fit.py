"""`station warmup fit`: runs as loggers write them, in and out."""

import math
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from tests.cli.answers import DEMO, Answer
from tests.cli.conftest import Say

START = datetime(2027, 7, 13, 6, 0, tzinfo=UTC)
BERLIN = ZoneInfo("Europe/Berlin")
Sample = tuple[datetime, float, float]
Asked = Callable[..., Answer]


def run(
    tau_min: float, seed: int, *, lag_min: float = 10.0, hours: float = 4.0, step_s: int = 60, before: int = 0
) -> list[Sample]:
    """Instant, paste, room: from 5 to 23 C with a logger's noise, `before` readings of it still in the store."""
    dice = np.random.default_rng(seed)
    found = []
    for index in range(-before, int(hours * 3600 / step_s)):
        warmed = max(index * step_s / 60 - lag_min, 0.0)
        paste = 23 - 18 * np.exp(-warmed / tau_min) + dice.normal(0, 0.08)
        found.append((START + timedelta(seconds=index * step_s), float(paste), 23 + float(dice.normal(0, 0.05))))
    return found


def german(samples: list[Sample]) -> str:
    """Semicolons, decimal commas, date and time apart, local time."""
    rows = (
        f"{at.astimezone(BERLIN):%d.%m.%Y;%H:%M:%S};{paste:.2f};{room:.2f}".replace(".", ",").replace(",07,", ".07.")
        for at, paste, room in samples
    )
    return "\n".join(["Datum;Uhrzeit;Probe °C;Room °C", *rows, ""])


def american(samples: list[Sample]) -> str:
    """Commas, half days, month first, Fahrenheit in a second heading line, a counter, lines about the logger."""
    rows = (
        f"{number},{at.astimezone(BERLIN):%m/%d/%Y %I:%M:%S %p},{paste * 1.8 + 32:.1f},{room * 1.8 + 32:.1f}"
        for number, (at, paste, room) in enumerate(samples, 1)
    )
    head = ["Logger,T-2", "Channels,2", "", "No.,Date/Time,Probe,Room", ",,°F,°F"]
    return "\n".join([*head, *rows, ""])


def elapsed(samples: list[Sample]) -> str:
    """Tabs and minutes since the start."""
    rows = (f"{(at - samples[0][0]).total_seconds() / 60:g}\t{paste:.2f}\t{room:.2f}" for at, paste, room in samples)
    return "\n".join(["Time (min)\tProbe [C]\tRoom [C]", *rows, ""])


def iso(samples: list[Sample]) -> str:
    """ISO times with offset, a broken degree sign, humidity, bars."""
    rows = (f"{at.isoformat()}|{paste:.2f}|{room:.2f}|41.5" for at, paste, room in samples)
    return "\n".join(["Time|Probe Â°C|Room Â°C|RH %", *rows, ""])


LAYOUTS = (german, american, elapsed, iso)


@pytest.fixture
def fit(station: Say, tmp_path: Path) -> Asked:
    """Writes files and fits them; by default the second sensor is the room's and clocks are Berlin's."""

    def ask(*texts: str, options: tuple[object, ...] | None = None, config: Path = DEMO, json: bool = True) -> Answer:
        paths = [tmp_path / f"run{number}.csv" for number, _ in enumerate(texts, 1)]
        for path, text in zip(paths, texts, strict=True):
            path.write_text(text, encoding="utf-8")
        told = options if options is not None else ("--room-sensor", "Room", "--zone", "Europe/Berlin")
        words = ["warmup", "fit", *paths, "--kind", "JAR-500", "--config", config, *told]
        return station(*words, *(["--json"] if json else []))

    return ask


@pytest.mark.parametrize("written", LAYOUTS)
def test_each_layout_gives_the_same_figures(fit: Asked, written: Callable[[list[Sample]], str]) -> None:
    answer = fit(written(run(45.0, 2)))
    assert answer.code == 0, answer.err
    (found,) = answer.json["runs"]
    assert found["used"]
    assert (found["sensor"], found["reasons"]) == ("Probe", [])
    assert found["time_constant_min"] == pytest.approx(45.0, abs=0.6)
    assert found["dead_time_min"] == pytest.approx(10.0, abs=0.6)
    low, high = found["time_constant_95_min"]
    assert low < 45.0 < high
    assert found["rms_k"] == pytest.approx(0.08, abs=0.02)
    assert found["room_c"] == pytest.approx(23.0, abs=0.05)


def test_four_runs_are_pooled_and_the_safe_pair_is_slower_than_all_of_them(fit: Asked) -> None:
    taus = (44.0, 45.0, 46.0, 45.5)
    answer = fit(*(written(run(tau, seed)) for seed, (tau, written) in enumerate(zip(taus, LAYOUTS, strict=True))))
    assert answer.code == 0, answer.err
    pooled, safe = answer.json["pooled"], answer.json["safe"]
    assert pooled["runs"] == 4
    assert pooled["time_constant_min"] == pytest.approx(45.1, abs=0.3)
    assert pooled["time_constant_between_runs_min"] == pytest.approx(0.85, abs=0.4)
    assert safe["time_constant"] in ("47 min", "48 min")
    assert int(safe["dead_time"].removesuffix(" min")) >= 10
    assert answer.json["present"]["figures"] == "estimate"
    assert answer.json["present"]["time_constant"] == "55 min"
    assert answer.json["present"]["warm_up_5_to_21_of_23_c_min"] == pytest.approx(5 + 55 * math.log(18 / 2), abs=0.1)
    assert safe["warm_up_5_to_21_of_23_c_min"] < answer.json["present"]["warm_up_5_to_21_of_23_c_min"]
    assert "a process engineer accepts" in answer.json["accepting"]


def test_nothing_in_the_settings_is_changed(fit: Asked) -> None:
    before = (DEMO / "kinds.toml").read_bytes()
    fit(german(run(45, 1)), german(run(46, 2)))
    assert (DEMO / "kinds.toml").read_bytes() == before


def test_it_reads_as_tables(fit: Asked) -> None:
    answer = fit(german(run(45, 1)), elapsed(run(46, 2)), json=False)
    assert answer.code == 0
    assert "run1.csv Probe  used  45." in answer.out
    assert "2 runs together" in answer.out
    assert "safe, to accept" in answer.out
    assert "JAR-500 now (estimate)  55 min" in answer.out
    assert "5 C to within 2 K of 23 C" in answer.out
    assert "a process engineer accepts the safe figures" in answer.out
    assert answer.err == ""


def test_one_run_gives_no_safe_figures(fit: Asked) -> None:
    answer = fit(german(run(45, 1)))
    assert (answer.json["pooled"], answer.json["safe"]) == (None, None)
    assert "One run does not show how much containers differ" in answer.json["accepting"]
    told = fit(german(run(45, 1)), json=False)
    assert "safe, to accept" not in told.out
    assert "at least two that count" in told.out


def test_a_refused_run_is_code_1_with_its_reason_and_the_others_still_count(fit: Asked) -> None:
    texts = (german(run(45, 1)), german(run(45, 2, hours=0.8)), german(run(46, 3)))
    answer = fit(*texts)
    assert answer.code == 1
    used = [found["used"] for found in answer.json["runs"]]
    assert used == [True, False, True]
    assert [reason["code"] for reason in answer.json["runs"][1]["reasons"]] == ["too-short"]
    assert answer.json["pooled"]["runs"] == 2
    told = fit(*texts, json=False)
    assert "run2.csv Probe: too-short: It ends" in told.out
    assert "refused  -" in told.out


def test_heated_paste_is_refused_with_the_caution(fit: Asked) -> None:
    answer = fit(german([(at, paste * 1.5, room) for at, paste, room in run(45, 1)]))
    assert answer.code == 1
    reasons = {reason["code"]: reason["sentence"] for reason in answer.json["runs"][0]["reasons"]}
    assert "Never heat paste" in reasons["heated"]


def test_the_room_may_be_told_and_sensors_chosen(fit: Asked) -> None:
    text = german(run(45, 1))
    zone = ("--zone", "Europe/Berlin")
    told = fit(text, options=("--room", "23", "--sensor", "Probe", *zone))
    assert [found["sensor"] for found in told.json["runs"]] == ["Probe"]
    assert told.json["runs"][0]["time_constant_min"] == pytest.approx(45, abs=0.6)
    both = fit(text, options=("--sensor", "Probe °C", "--room-sensor", "4", *zone))
    assert both.json["runs"][0]["time_constant_min"] == pytest.approx(45, abs=0.6)
    every = fit(text, options=("--room", "23", *zone))
    assert [found["used"] for found in every.json["runs"]] == [True, False]  # the room itself never was cold
    assert every.json["runs"][1]["reasons"][0]["code"] == "start-not-cold"


def test_a_run_given_twice_counts_once(fit: Asked) -> None:
    """BR-87: else two copies of one run would look like two containers that agree."""
    answer = fit(german(run(45, 1)), german(run(45, 1)), german(run(46, 2)))
    assert answer.code == 1
    assert answer.json["pooled"]["runs"] == 2
    (reason,) = answer.json["runs"][1]["reasons"]
    assert reason["code"] == "repeated-run"
    assert "the same readings as" in reason["sentence"]


def test_of_a_run_and_its_beginning_the_whole_counts(fit: Asked) -> None:
    """BR-87."""
    whole = run(45, 1)
    answer = fit(german(whole[:200]), german(whole))
    assert [found["used"] for found in answer.json["runs"]] == [False, True]


def test_a_take_out_after_hours_in_the_store_is_asked_for_and_may_be_told(fit: Asked) -> None:
    text = german(run(45, 1, before=90))
    asked = fit(text)
    assert [reason["code"] for reason in asked.json["runs"][0]["reasons"]] == ["take-out-unknown"]
    for moment in ("2027-07-13T08:00", "2027-07-13T06:00Z"):
        told = fit(text, options=("--room-sensor", "Room", "--zone", "Europe/Berlin", "--taken-out", moment))
        assert told.json["runs"][0]["dead_time_min"] == pytest.approx(10, abs=0.6)


def test_a_carton_that_stays_cold_for_long_needs_its_take_out_told(fit: Asked) -> None:
    """Forty minutes without warming could as well be forty minutes in the store."""
    text = elapsed(run(120, 4, lag_min=40, hours=8))
    assert [reason["code"] for reason in fit(text).json["runs"][0]["reasons"]] == ["take-out-unknown"]
    told = fit(text, options=("--room-sensor", "Room", "--taken-out", "start"))
    assert told.code == 0
    assert told.json["runs"][0]["dead_time_min"] == pytest.approx(40, abs=1.0)


def test_sensor_faults_are_left_out_and_told(fit: Asked) -> None:
    """BR-82."""
    lines = german(run(45, 1)).splitlines()
    for index in (50, 51, 120):
        cells = lines[index].split(";")
        lines[index] = ";".join([*cells[:2], "85,0" if index == 120 else "Open", cells[3]])
    answer = fit("\n".join(lines))
    assert answer.code == 0
    assert answer.json["runs"][0]["time_constant_min"] == pytest.approx(45, abs=0.6)
    assert [note.partition(": ")[2].partition(":")[0] for note in answer.json["notes"]] == [
        "lines 51 to 52",
        "line 121",
    ]
    assert "value at power-up" in fit("\n".join(lines), json=False).err


def test_a_sensor_that_never_measured_is_refused(fit: Asked) -> None:
    lines = [line.rsplit(";", 2)[0] + ";Open;23,0" for line in german(run(45, 1)).splitlines()[1:]]
    answer = fit("\n".join(["Datum;Uhrzeit;Probe °C;Room °C", *lines]))
    assert [reason["code"] for reason in answer.json["runs"][0]["reasons"]] == ["too-few-readings"]


def test_a_clock_in_doubt_refuses_the_run(fit: Asked) -> None:
    """BR-85: minutes counted by a clock that runs backwards mean nothing."""
    lines = german(run(45, 1)).splitlines()
    answer = fit("\n".join([*lines[:150], *lines[90:]]))
    (reason,) = answer.json["runs"][0]["reasons"]
    assert reason["code"] == "time-runs-backwards"
    assert "declare the zone as standard" in reason["sentence"]


def test_what_the_files_leave_open_is_asked_for_all_of_them_at_once(fit: Asked) -> None:
    """BR-37, BR-83: nothing is guessed; every question names its option."""
    open_day = "Time;Probe\n12.07.2027 10:00;4,0\n12.07.2027 10:05;4,1\n"
    answer = fit(open_day, "nothing at all\n", options=("--room", "23"))
    assert (answer.code, answer.out) == (2, "")
    for option in ("--time-format", "--zone", "--unit"):
        assert option in answer.err
    assert "run2.csv: no two lines in it are a time and a temperature" in answer.err


def test_everything_can_be_declared(fit: Asked) -> None:
    samples = run(45, 1)
    rows = (
        f"{at:%m.%d.%Y %H.%M.%S}/{paste * 1.8 + 32:.2f}/{room:.2f}".replace(".", ",") for at, paste, room in samples
    )
    text = "\n".join(["Logger 5/7/9", "When/Probe/Room", *rows]).replace("07,13,2027", "07.13.2027").replace(",", ".")
    answer = fit(
        text,
        options=(
            *("--delimiter", "/", "--decimal", "point", "--header-rows", "2", "--time-column", "When"),
            *("--time-format", "MM.DD.YYYY hh.mm.ss", "--unit", "C", "--unit", "Probe=F", "--zone", "UTC"),
            *("--encoding", "utf-8", "--room-sensor", "Room"),
        ),
    )
    assert answer.code == 0, answer.err
    assert answer.json["runs"][0]["time_constant_min"] == pytest.approx(45, abs=0.6)


@pytest.mark.parametrize(
    ("options", "told"),
    [
        ((), "either --room C or --room-sensor NAME"),
        (("--room", "23", "--room-sensor", "Room"), "either --room C or --room-sensor NAME"),
        (("--room", "95"), "95 C can't be a room"),
        (
            ("--room-sensor", "Wall", "--zone", "UTC"),
            "there is no sensor 'Wall' for the room. Use one of: Probe, Room.",
        ),
        (("--room-sensor", "Room", "--zone", "Europe/Berlinn"), 'There is no zone "Europe/Berlinn"'),
        (("--room", "23", "--unit", "K"), "--unit 'K' is no unit"),
        (("--room", "23", "--zone", "UTC", "--taken-out", "2026-01-01T10:00"), "lies in none of the files"),
        (("--room", "23", "--zone", "UTC", "--decimal", "x"), "decimal sign a point or a comma"),
        (("--room-sensor", "Room", "--sensor", "Room", "--zone", "UTC"), "no sensor beside that of the room"),
    ],
)
def test_what_can_not_be_done_is_code_2_with_the_way_to_mend_it(
    fit: Asked, options: tuple[str, ...], told: str
) -> None:
    answer = fit(german(run(45, 1)), options=options)
    assert (answer.code, answer.out) == (2, "")
    assert told in answer.err


def test_a_kind_or_a_file_that_is_not_there(station: Say, tmp_path: Path) -> None:
    wanted = ("--config", DEMO, "--room", "23")
    answer = station("warmup", "fit", tmp_path / "none.csv", "--kind", "JAR-500", *wanted)
    assert answer.code == 2
    assert "none.csv: it can't be read" in answer.err
    answer = station("warmup", "fit", tmp_path / "none.csv", "--kind", "BUCKET", *wanted)
    assert answer.code == 2
    assert "There is no kind 'BUCKET' here. Use one of: JAR-250" in answer.err


def test_the_command_explains_itself(station: Say) -> None:
    answer = station("warmup", "fit", "--help")
    assert answer.code == 0
    assert answer.out.startswith("usage: station warmup fit")
    for option in ("--delimiter", "--decimal", "--time-column", "--time-format", "--unit", "--zone", "--taken-out"):
        assert option in answer.out
