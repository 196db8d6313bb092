"""What comes of a room logger's file: its newest air, questions, or sentences, before any window shows them."""

from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from station.ui.room_file.finding import AirAsked, AirFound, find_air
from station.ui.warm_up.asked import Asking, Asks, Faults
from tests.ui.room_file.loggers import hall, written

ZONE = "Europe/Berlin"
BERLIN = ZoneInfo(ZONE)
NOW = datetime(2026, 7, 3, 10, 0, tzinfo=UTC)


def asked(folder: Path, text: str, zone: str = ZONE, **answers: tuple[str, ...]) -> AirAsked:
    told = {name.replace("_", "-"): values for name, values in answers.items()}
    return AirAsked(written(folder, text), zone, told)


def found(told: AirAsked, now: datetime = NOW) -> AirFound:
    answer = find_air(told, now)
    assert isinstance(answer, AirFound), answer
    return answer


def faults(told: AirAsked, now: datetime = NOW) -> str:
    answer = find_air(told, now)
    assert isinstance(answer, Faults), answer
    return "\n".join(answer.sentences)


def questions(told: AirAsked) -> dict[str, Asking]:
    answer = find_air(told, NOW)
    assert isinstance(answer, Asks), answer
    return {question.id: question for question in answer.questions}


def test_where_the_file_names_no_zone_the_plants_is_taken_and_told(tmp_path: Path) -> None:
    answer = found(asked(tmp_path, hall(NOW, BERLIN)))
    assert (answer.air.temperature_c, answer.air.humidity) == (22.5, 45.0)
    assert answer.air.at == NOW - timedelta(minutes=3)
    assert (answer.zone, answer.notes) == (ZONE, ())


def test_where_the_file_names_its_zone_that_one_counts(tmp_path: Path) -> None:
    answer = found(asked(tmp_path, hall(NOW, UTC, head="Time (UTC),Hall (°C),RH %")))
    assert answer.air.at == NOW - timedelta(minutes=3)
    assert answer.zone == ""


@pytest.mark.parametrize(("clock", "ahead", "old"), [(f"{ZONE} standard", 1, "1 h 03"), ("UTC", 0, "2 h 03")])
def test_a_logger_in_another_zone_is_refused_with_the_zone_that_was_taken(
    clock: str, ahead: int, old: str, tmp_path: Path
) -> None:
    """In July a clock left in winter time seems an hour late in Berlin, one on UTC two hours."""
    text = hall(NOW, timezone(timedelta(hours=ahead)))
    assert f"{old} old" in faults(asked(tmp_path, text))
    assert "its times were taken as Europe/Berlin" in faults(asked(tmp_path, text))
    assert found(asked(tmp_path, text, clock)).air.at == NOW - timedelta(minutes=3)


def test_unit_and_day_order_are_asked_together_and_the_answers_taken(tmp_path: Path) -> None:
    """BR-83, and BR-37 for the order of day and month."""
    text = hall(NOW, BERLIN, head="Stamp,Hall,RH %", air="72.5,45").replace("2026-07-03", "07/03/2026")
    asking = questions(asked(tmp_path, text))
    assert set(asking) == {"time-format", "unit"}
    form = asking["time-format"].choices[1].id
    answer = found(asked(tmp_path, text, time_format=(form,), unit=("F",)))
    assert (answer.air.temperature_c, answer.zone) == (22.5, ZONE)


def test_which_of_two_sensors_measured_the_room_is_asked(tmp_path: Path) -> None:
    text = (
        hall(NOW, BERLIN, head="Time,Hall (°C),RH %,Fridge (°C)")
        .replace(",44\n", ",44,5\n")
        .replace(",45\n", ",45,5\n")
    )
    (question,) = questions(asked(tmp_path, text)).values()
    assert [choice.id for choice in question.choices] == ["Hall", "Fridge"]
    assert found(asked(tmp_path, text, room=("Hall",))).air.temperature_c == 22.5


def test_which_of_two_humidities_is_asked_by_their_headings(tmp_path: Path) -> None:
    text = (
        hall(NOW, BERLIN, head="Time,Hall (°C),Hall RH,Store RH")
        .replace(",44\n", ",44,60\n")
        .replace(",45\n", ",45,61\n")
    )
    (question,) = questions(asked(tmp_path, text)).values()
    assert [choice.id for choice in question.choices] == ["Hall RH", "Store RH"]
    assert found(asked(tmp_path, text, humidity=("Store RH",))).air.humidity == 61.0


def test_a_fault_after_the_reading_is_told_beside_it(tmp_path: Path) -> None:
    """BR-82."""
    answer = found(asked(tmp_path, hall(NOW, BERLIN, air="85.0,45")))
    assert answer.air.temperature_c == 21.5
    (told,) = answer.notes
    assert "85.0" in told


def test_times_that_only_count_from_a_start_can_not_say_how_old_they_are(tmp_path: Path) -> None:
    text = "Elapsed (s),Hall (°C),RH %\n" + "".join(f"{second},22.5,45\n" for second in range(0, 600, 60))
    assert "nobody can say how old they are" in faults(asked(tmp_path, text))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "the file is empty"),
        ("hello\nworld\n", "no two lines in it are a time"),
        (hall(NOW, BERLIN, head="Time,Hall (°C),No"), "no column of humidity"),
        (hall(NOW, BERLIN, air="99,45"), "99 C can't be a room"),
        (hall(NOW, BERLIN, air="72.5 °F,45"), "another unit"),
        (hall(NOW, BERLIN).replace("2026-", "26-"), "century"),
    ],
)
def test_what_can_not_be_used_is_refused_with_a_sentence(text: str, told: str, tmp_path: Path) -> None:
    assert told in faults(asked(tmp_path, text))


def test_one_column_can_not_be_both_temperature_and_humidity(tmp_path: Path) -> None:
    told = asked(tmp_path, hall(NOW, BERLIN), humidity=("Hall",))
    assert "Every column has one meaning" in faults(told)


def test_a_file_that_went_away_is_said(tmp_path: Path) -> None:
    assert "gone.csv: it can't be read" in faults(AirAsked(tmp_path / "gone.csv", ZONE))
