"""What comes of an engineer's files: questions, faults or figures, before any window shows them."""

import hashlib
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from station.ui.warm_up.asked import Asking, Asks, Faults, Found, RunsAsked
from station.ui.warm_up.working_out import work_out
from tests.ui.warm_up.loggers import START, four, plain, samples, terse, written

ZONE = "Europe/Berlin"


def asked(paths: tuple[Path, ...], **told: object) -> RunsAsked:
    return RunsAsked(**{"kind": "JAR-500", "files": paths, "room_c": 23.0, "from_start": True, **told})  # type: ignore[arg-type]


def found(told: RunsAsked) -> Found:
    answer = work_out(told, ZONE)
    assert isinstance(answer, Found), answer
    return answer


def questions(told: RunsAsked) -> dict[str, Asking]:
    answer = work_out(told, ZONE)
    assert isinstance(answer, Asks), answer
    return {question.id: question for question in answer.questions}


def faults(told: RunsAsked) -> tuple[str, ...]:
    answer = work_out(told, ZONE)
    assert isinstance(answer, Faults), answer
    return answer.sentences


SENSOR_ROOM = {"room_c": None, "answers": {"room": ("Room",)}}


def test_each_run_counts_or_says_why_not_and_the_safe_pair_is_slower_than_all(tmp_path: Path) -> None:
    answer = found(asked(four(tmp_path), **SENSOR_ROOM))
    assert [run.used for run in answer.runs] == [True, True, True, False]
    assert answer.runs[3].reasons[0].startswith("It ends ")
    assert answer.pooled is not None
    assert answer.pooled.runs == 3
    assert answer.pooled.safe_time_constant > timedelta(minutes=46.5)
    assert answer.runs[0].room_c == pytest.approx(23.0, abs=0.1)


def test_the_record_gets_a_digest_of_each_file_that_counts(tmp_path: Path) -> None:
    paths = four(tmp_path)
    answer = found(asked(paths, **SENSOR_ROOM))
    hashes = [hashlib.sha256(path.read_bytes()).hexdigest()[:16] for path in paths[:3]]
    assert answer.digests == tuple(f"{start} run{number}.csv" for number, start in enumerate(hashes, 1))


def test_which_sensor_is_the_rooms_is_asked_and_never_guessed(tmp_path: Path) -> None:
    (question,) = questions(asked(four(tmp_path), room_c=None)).values()
    assert question.id == "room"
    assert [choice.id for choice in question.choices] == ["Probe", "Room"]


def test_files_without_a_sensor_in_common_need_the_rooms_temperature(tmp_path: Path) -> None:
    paths = written(tmp_path, plain(samples(45, 1)), "Time,Jar °C\n" + _renamed())
    assert "none can have measured the room" in faults(asked(paths, room_c=None))[0]


def _renamed() -> str:
    return "\n".join(f"{at.isoformat()},{paste:.2f}" for at, paste, _ in samples(45, 2)) + "\n"


def test_day_order_zone_and_unit_are_asked_with_their_choices(tmp_path: Path) -> None:
    paths = written(tmp_path, terse(samples(45, 1)), terse(samples(46, 2)))
    asking = questions(asked(paths))
    assert set(asking) == {"time-format", "zone", "unit"}
    assert [choice.hint for choice in asking["time-format"].choices] == ["the day first", "the month first"]
    assert [choice.id for choice in asking["zone"].choices] == [ZONE, f"{ZONE} standard", "UTC"]
    assert [choice.label for choice in asking["unit"].choices] == ["°C", "°F"]
    assert "run1.csv" in asking["zone"].what


def test_the_answers_are_taken_for_all_the_files(tmp_path: Path) -> None:
    paths = written(tmp_path, terse(samples(45, 1)), terse(samples(46, 2)))
    form = questions(asked(paths))["time-format"].choices[0].id
    answers = {"time-format": (form,), "zone": (ZONE,), "unit": ("C",), "room": ("Room",)}
    answer = found(asked(paths, room_c=None, answers=answers))
    assert [run.used for run in answer.runs] == [True, True]
    assert answer.runs[0].fitted is not None
    assert answer.runs[0].fitted.time_constant / timedelta(minutes=1) == pytest.approx(45, abs=1)


def test_an_answer_that_is_no_zone_is_asked_again_with_the_reason(tmp_path: Path) -> None:
    told = asked(written(tmp_path, terse(samples(45, 1))))
    answers = {"time-format": ("DD/MM/YYYY hh:mm:ss",), "unit": ("C",), "zone": ("Berlin",)}
    asking = questions(replace(told, answers=answers))
    assert list(asking) == ["zone"]
    assert 'There is no zone "Berlin"' in asking["zone"].what


def test_columns_are_chosen_by_their_headings(tmp_path: Path) -> None:
    rows = "\n".join(f"{at:%Y-%m-%dT%H:%M:%SZ},{at:%Y-%m-%dT%H:%M:%SZ},{paste:.2f}" for at, paste, _ in samples(45, 1))
    paths = written(tmp_path, f"Logged,Sent,Probe °C\n{rows}\n")
    asking = questions(asked(paths))
    assert [choice.id for choice in asking["time-column"].choices] == ["Logged", "Sent", "Probe"]
    answer = found(asked(paths, answers={"time-column": ("Logged",)}))
    assert [run.name for run in answer.runs] == ["run1.csv Probe"]
    assert answer.runs[0].used


def test_what_only_the_logger_can_mend_is_a_fault_and_no_question(tmp_path: Path) -> None:
    rows = "\n".join(f"{at:%d/%m/%y %H:%M:%S};{paste:.2f}" for at, paste, _ in samples(45, 1))
    (sentence, *_) = faults(asked(written(tmp_path, f"Stamp;Probe °C\n{rows}\n")))
    assert sentence.endswith("Export it again with four-digit years.")


@pytest.mark.parametrize(
    ("text", "said"), [("", "the file is empty"), ("hello\nworld\n", "no two lines in it are a time")]
)
def test_a_file_that_holds_no_run_is_refused_with_a_sentence(tmp_path: Path, text: str, said: str) -> None:
    assert any(said in sentence for sentence in faults(asked(written(tmp_path, text))))


def test_a_file_that_went_away_is_said(tmp_path: Path) -> None:
    (sentence,) = faults(asked((tmp_path / "gone.csv",)))
    assert "gone.csv: it can't be read" in sentence


def test_a_take_out_in_none_of_the_files_is_refused(tmp_path: Path) -> None:
    paths = written(tmp_path, plain(samples(45, 1)))
    out = START - timedelta(days=1)
    (sentence,) = faults(asked(paths, from_start=False, outs=(out,), **SENSOR_ROOM))
    assert "lies in none of the files" in sentence


def test_a_room_no_room_has_is_refused(tmp_path: Path) -> None:
    (sentence,) = faults(asked(written(tmp_path, plain(samples(45, 1))), room_c=73.4))
    assert "73.4 C can't be a room" in sentence


def test_two_files_of_one_name_are_told_apart_by_their_folders(tmp_path: Path) -> None:
    folders = (tmp_path / "a", tmp_path / "b")
    for folder in folders:
        folder.mkdir()
    paths = tuple(written(folder, plain(samples(45, seed)))[0] for seed, folder in enumerate(folders))
    answer = found(asked(paths, **SENSOR_ROOM))
    assert [run.file for run in answer.runs] == [str(path) for path in paths]
    assert all(digest.endswith(" run1.csv") for digest in answer.digests)


def test_one_file_chosen_twice_counts_once(tmp_path: Path) -> None:
    text = plain(samples(45, 1))
    answer = found(asked(written(tmp_path, text, text), **SENSOR_ROOM))
    assert [run.used for run in answer.runs] == [True, False]
    assert "counts once" in answer.runs[1].reasons[0]
    assert answer.runs[1].points
    assert answer.pooled is None
