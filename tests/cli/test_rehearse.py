"""`station rehearse`: a script is played, reported step by step, and compared with what it expects."""

import json
from pathlib import Path

import pytest

from station.cli.script_values import EXPECTATIONS, SINGLE, TABLES, WITHOUT_VALUE, script_faults
from station.rehearsal import script as scripts
from station.rehearsal.script import ACTIONS, read_script
from tests.cli.answers import DEMO, PLAIN_DAY, PLANT_T
from tests.cli.conftest import Say
from tests.rehearsal.plants import site_of
from tests.settings.folders import Folder

RECEIVE = (
    '{"at": "2026-11-09T06:00:00", "receive": {"paste": "SN-4", "kind": "JAR-500", "lot": "1", '
    '"expires": "2027-03-31", "temperature": 8}, "as": "K"}'
)


@pytest.fixture
def script(tmp_path: Path) -> Path:
    return tmp_path / "script.jsonl"


def write(script: Path, *lines: str) -> Path:
    script.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return script


def test_each_step_is_one_line_of_json_with_verdict_why_what_to_do_facts_and_alarms(station: Say) -> None:
    answer = station("rehearse", PLAIN_DAY, "--config", PLANT_T, "--json")
    assert (answer.code, answer.err) == (0, "")
    reports = [json.loads(line) for line in answer.out.splitlines()]
    taken = next(report for report in reports if report["code"] == "taken-out")
    assert taken["verdict"] == "DONE"
    assert taken["times"]["earliest use"] == "2026-11-09T08:01:00Z"
    assert taken["governing"] == "room life"
    assert taken["facts"] == ["taken-out", "label-asked", "label-sent"]
    assert all(taken[key] for key in ("headline", "why", "todo"))
    assert [alarm["limit"] for alarm in reports[-3]["alarms"]] == ["stencil life"]


def test_without_json_it_reads_as_a_table_in_plant_time(station: Say) -> None:
    answer = station("rehearse", PLAIN_DAY, "--config", PLANT_T)
    assert answer.code == 0
    assert "Mon 09 Nov 09:03:00  LINE1    card         USE     BEAD ENDS 17:03" in answer.out
    assert "17:03:01  LINE1    scan         STOP    THE BEAD IS OVER  [1 open]" in answer.out


def test_a_missed_expectation_is_the_answer_no_and_names_the_line(station: Say, script: Path) -> None:
    write(
        script,
        RECEIVE,
        '{"place": "FRIDGE", "scan": "K", "expect": {"verdict": "STOP", "alarms": 1}}',
        '{"place": "LINE1", "scan": "K", "expect": {"verdict": "STOP"}}',
    )
    answer = station("rehearse", script, "--config", PLANT_T)
    assert answer.code == 1
    assert "script.jsonl line 2: missed verdict: expected 'STOP', got 'DONE'" in answer.err
    assert "script.jsonl line 2: missed alarms: expected 1, got 0" in answer.err
    assert "1 of 3 steps did not come out as expected." in answer.err
    assert "\n!   2  " in answer.out
    assert len(answer.out.splitlines()) > 3  # it goes on after the missed step


def test_faults_of_settings_and_script_are_told_together_and_nothing_is_played(
    station: Say, script: Path, tmp_path: Path
) -> None:
    folder = Folder(tmp_path / "site", DEMO).edit("pastes.toml", 'stencil_life = "8 h"\n', "")
    write(script, "nonsense", RECEIVE)
    answer = station("rehearse", script, "--config", folder.path, "--json")
    assert (answer.code, answer.out) == (2, "")
    assert "stencil_life" in answer.err
    assert "script.jsonl line 1: this is no JSON object" in answer.err


def test_a_script_that_is_not_there_is_said(station: Say, script: Path) -> None:
    answer = station("rehearse", script, "--config", PLANT_T)
    assert answer.code == 2
    assert "script.jsonl: can't be read" in answer.err


BAD_VALUES = (
    ('"scan": 7', '"scan" must be a text'),
    ('"scan": "K", "place": "ROOF"', 'there is no place "ROOF". Use one of: FRIDGE'),
    ('"card": "DANCE"', '"card" can\'t be "DANCE". Use one of: LOOKS-GOOD'),
    ('"receive": "K"', '"receive" must be an object with paste, kind'),
    ('"receive": {"kind": "JAR-500"}', '"receive" needs "paste"'),
    ('"receive": {"paste": "SN-4", "kind": "JAR-500", "colour": "grey"}', '"receive" has no "colour"'),
    (
        '"receive": {"paste": "SN-4", "kind": "JAR-500", "expires": "soon"}',
        '"expires" of "receive" must be',
    ),
    (
        '"receive": {"paste": "SN-4", "kind": "JAR-500", "temperature": "8 C"}',
        '"temperature" of "receive" must',
    ),
    ('"receive": {"paste": "SN-4", "kind": "JAR-500", "leaking": 1}', '"leaking" of "receive" must be true or'),
    (
        '"receive": {"paste": "SN-4", "kind": "JAR-500", "arrived": "early"}',
        '"arrived" of "receive" must be',
    ),
    ('"receive": {"paste": "SN-4", "kind": "JAR-500", "indicator": "red"}', '"indicator" of "receive" can\'t be'),
    ('"room": {"temperature": 23}', '"room" needs "humidity"'),
    ('"count": "all"', '"count" can\'t be "all". Use one of: begin'),
    ('"readings": {"store": "FRIDGE", "from": "2026-11-09T06:00"}', '"readings" needs "celsius"'),
    *(
        (f'"readings": {{"store": "FRIDGE", "from": "2026-11-09T06:00", "celsius": {runs}}}', '"celsius" of "readings"')
        for runs in ("[]", "[4, 5]", "[[4]]", '[["4", 5]]', "[[4, -1]]")
    ),
    ('"display": {"store": "FRIDGE", "celsius": "cold"}', '"celsius" of "display" must be a number'),
    ('"clock_step": "5"', '"clock_step" must be a number'),
    ('"sleep": -5', '"sleep" must not be negative'),
    ('"confirm_clock": {"badge": "P20", "pin": 2020}', '"pin" of "confirm_clock" must be a text'),
    ('"tick": true, "expect": {"verdict": "FINE"}', '"verdict" of "expect" can\'t be "FINE"'),
    ('"tick": true, "expect": {"alarms": -1}', '"alarms" of "expect" must be a whole number'),
    ('"tick": true, "expect": {"alarm": {"colour": "red"}}', '"alarm" of "expect" must be an object'),
    ('"extend": {"container": "K", "limit": "mood", "minutes": 5, "badge": "P20", "pin": "1"}', '"limit" of'),
    ('"tick": true, "expect": {"facts": "opened"}', '"facts" of "expect" must be a list of texts'),
    ('"tick": true, "expect": {"says": 5}', '"says" of "expect" must be a text or a list of texts'),
    ('"tick": true, "expect": {"refused": "yes"}', '"refused" of "expect" must be true or false'),
    (
        '"release": {"container": "K", "reason": "mood", "badge": "P20", "pin": "1"}',
        '"reason" of "release" can',
    ),
)


@pytest.mark.parametrize(("step", "sentence"), BAD_VALUES, ids=lambda value: value[:40])
def test_a_value_an_action_cannot_use_is_said_before_anything_is_played(
    station: Say, script: Path, step: str, sentence: str
) -> None:
    answer = station("rehearse", write(script, RECEIVE, "{" + step + "}"), "--config", PLANT_T, "--json")
    assert (answer.code, answer.out) == (2, "")
    assert f"script.jsonl line 2: {sentence}" in answer.err


def test_all_bad_values_of_a_script_are_told_at_once(station: Say, script: Path) -> None:
    lines = ("{" + step + "}" for step, _ in BAD_VALUES)
    answer = station("rehearse", write(script, RECEIVE, *lines), "--config", PLANT_T)
    assert answer.code == 2
    assert len(answer.err.splitlines()) == len(BAD_VALUES)


def test_a_release_of_something_never_received_stops_there_with_its_line(station: Say, script: Path) -> None:
    release = '{"release": {"container": "K9", "reason": "held by a person", "badge": "P20", "pin": "2020"}}'
    answer = station("rehearse", write(script, RECEIVE, release), "--config", PLANT_T, "--json")
    assert answer.code == 2
    assert len(answer.out.splitlines()) == 1
    assert "script.jsonl line 2: 'K9' is not known then." in answer.err


def test_a_refused_act_is_reported_and_may_be_expected(station: Say, script: Path) -> None:
    clear = (
        '{"clear": {"subject": "1", "disposition": "discarded", "reason": "x", "badge": "P20", "pin": "0"}, '
        '"expect": {"refused": true}}'
    )
    answer = station("rehearse", write(script, RECEIVE, clear), "--config", PLANT_T)
    assert answer.code == 0
    assert "refused" in answer.out


def test_every_action_and_expectation_of_scripts_is_checked() -> None:
    checked = {*SINGLE, *TABLES, *WITHOUT_VALUE}
    assert checked == set(ACTIONS)
    assert set(EXPECTATIONS) == set(scripts.EXPECTATIONS)


@pytest.mark.parametrize("day", sorted(PLAIN_DAY.parent.glob("*.jsonl")), ids=lambda path: path.stem)
def test_the_worked_days_have_no_fault(day: Path) -> None:
    site = site_of(day)
    assert script_faults(day.name, read_script(day, site.zone), site) == ()
