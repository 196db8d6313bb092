"""`station warmup estimate`: figures for a container kind from scales and rule, always called an estimate."""

import subprocess
import sys
import tomllib

import pytest

from station.cli.warmup_estimate import CLOSE_K
from station.settings.quantities import duration
from tests.cli.answers import ROOT, Answer, as_a_program
from tests.cli.conftest import Say

JAR = ("--mass", 500, "--diameter", 66)


def ask(station: Say, *more: object) -> Answer:
    return station("warmup", "estimate", *more)


def minutes(answer: Answer, kelvin: float) -> float:
    return float(next(row["seconds"] for row in answer.json["within"] if row["kelvin"] == kelvin)) / 60


def test_a_500_g_jar_and_the_lines_for_its_kind(station: Say) -> None:
    """About 2 h to within 2 K: common practice, no source, says 2 to 3 h for such a jar."""
    answer = ask(station, *JAR)
    assert (answer.code, answer.err) == (0, "")
    assert "time constant             55 min (estimate)\n" in answer.out
    assert "within 2 K of the room    2 h 06 (estimate), in detail 1 h 56\n" in answer.out
    assert "Biot number               0.110, the middle lags behind\n" in answer.out
    assert "conductivity              1 W/mK; pastes like this lie between 0.6 and 2.2\n" in answer.out


def test_the_lines_can_be_pasted_into_the_settings(station: Say) -> None:
    said, lines = ask(station, *JAR).out.split("For kinds.toml:\n")
    assert "the supplier's conditioning time stays the least. Never heat paste." in said
    settings = tomllib.loads(lines)
    assert settings == {"time_constant": "55 min", "dead_time": "5 min", "figures": "estimate"}
    assert duration(settings["time_constant"]) > duration(settings["dead_time"])


def test_the_same_for_machines(station: Say) -> None:
    answer = ask(station, *JAR, "--json").json
    assert [answer[name] for name in ("figures", "time_constant", "dead_time", "in_bath")] == [
        "estimate",
        "55 min",
        "5 min",
        False,
    ]
    assert [row["kelvin"] for row in answer["within"]] == list(CLOSE_K)
    assert all(row["seconds"] >= row["detailed_seconds"] > 0 for row in answer["within"])
    assert "the supplier's conditioning time stays the least" in answer["caution"]
    assert 0.1 < answer["biot"] < 0.12


@pytest.mark.parametrize(
    "slower",
    [
        ("--wall", 4),
        ("--wall-mass", 120),
        ("--coefficient", 5),
        ("--start", -20),
        ("--room", 28),
        ("--conductivity", 0.6),
    ],
)
def test_what_makes_it_slower(station: Say, slower: tuple[object, ...]) -> None:
    assert minutes(ask(station, *JAR, *slower, "--json"), 2) > minutes(ask(station, *JAR, "--json"), 2)


@pytest.mark.parametrize("quicker", [("--no-bench",), ("--coefficient", 15), ("--alloy", "sn-pb"), ("--metal", 92)])
def test_what_makes_it_quicker(station: Say, quicker: tuple[object, ...]) -> None:
    assert minutes(ask(station, *JAR, *quicker, "--json"), 2) < minutes(ask(station, *JAR, "--json"), 2)


def test_a_small_syringe_is_nearly_of_one_temperature(station: Say) -> None:
    answer = ask(station, "--mass", 35, "--diameter", 15.5, "--fill", 42, "--no-bench")
    assert "nearly one temperature throughout" in answer.out


def test_a_bath_of_room_temperature_has_its_own_figures_which_are_not_for_the_kind(station: Say) -> None:
    answer = ask(station, *JAR, "--bath", 22)
    assert "within 2 K of the bath    " in answer.out
    assert "For a bath only." in answer.out
    assert "water never warmer than the room. Never heat paste." in answer.out
    assert "time_constant =" not in answer.out
    in_bath = ask(station, *JAR, "--bath", 22, "--json")
    assert in_bath.json["in_bath"] is True
    assert in_bath.json["caution"].startswith("Only where the supplier's data sheet and the specification allow a bath")
    assert 10 < minutes(in_bath, 1) < 30
    livelier = ask(station, *JAR, "--bath", 22, "--coefficient", 500, "--json")
    assert livelier.json["within"][1]["detailed_seconds"] < in_bath.json["within"][1]["detailed_seconds"]


@pytest.mark.parametrize(
    ("wrong", "why"),
    [
        (("--bath", 40), "The bath is 40 C, warmer than the room of 23 C. Never heat paste"),
        (("--bath", 15), "Let the water come within 3 K of it."),
        (("--mass", 0), "The net mass is 0 g. Give 1 to 5000 g."),
        (("--diameter", "nan"), "The diameter is nan mm."),
        (("--fill", 60), "Measure the filling, not the container"),
        (("--metal", 50), "Metal is 50 % by weight. Give 75 to 95 % by weight."),
        (("--alloy", "gold"), 'Alloy "gold" is not known here. Use one of Sn-Ag-Cu, Sn-Pb, Sn-Bi.'),
        (("--wall", 0), "The wall is 0 mm."),
        (("--coefficient", 0), "The coefficient is 0 W/m2K. Give 1 to 2000 W/m2K."),
        (("--start", 20), "Give temperatures 8 to 80 K apart."),
        (("--start", -300), "The start is -300 C. Give -60 to 40 C."),
        (("--room", 90), "The room is 90 C."),
    ],
)
def test_what_cannot_be_reckoned_is_code_2_with_one_sentence_and_no_figures(
    station: Say, wrong: tuple[object, ...], why: str
) -> None:
    answer = ask(station, *JAR, *wrong)
    assert (answer.code, answer.out) == (2, "")
    assert why in answer.err
    assert answer.err.count("\n") == 1


@pytest.mark.parametrize("words", [(), ("estimate",), ("estimate", "--mass", "heavy", "--diameter", "66"), ("guess",)])
def test_a_request_that_is_not_understood_is_code_2(station: Say, words: tuple[str, ...]) -> None:
    answer = station("warmup", *words)
    assert answer.code == 2
    assert "error:" in answer.err


def test_it_explains_itself(station: Say) -> None:
    answer = ask(station, "--help")
    assert answer.code == 0
    assert answer.out.startswith("usage: station warmup estimate")
    assert "else still air" in answer.out


def test_it_runs_from_the_terminal() -> None:
    answer = as_a_program("warmup", "estimate", *JAR, "--json")
    assert (answer.code, answer.err) == (0, "")
    assert answer.json["figures"] == "estimate"


@pytest.mark.parametrize(
    "module", ["station.bootstrap", "station.services.station", "station.ui.app", "station.cli.main"]
)
def test_nothing_on_the_way_to_the_window_loads_the_physics(module: str) -> None:
    """numpy and scipy cost a second and a hundred megabytes; the floor works with stored figures."""
    asked = (
        f"import sys, {module}\n"
        "heavy = ('numpy', 'scipy', 'station.care.warmup')\n"
        "print([name for name in heavy if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, cwd=ROOT, check=True)
    assert done.stdout.strip() == "[]"
