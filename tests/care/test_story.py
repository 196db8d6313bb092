"""Stories in plain words, of rehearsed days whose lines say what happened when."""

from dataclasses import fields, replace
from datetime import UTC, datetime, timedelta
from typing import get_args
from zoneinfo import ZoneInfo

import pytest

from station.care import facts as f
from station.care import story
from station.care.ledger import Ledger
from station.care.story_words import SAYS, in_words, named
from station.care.words import Ending, HoldReason, Limit
from tests.care.test_trace import after

ZONE = ZoneInfo("Europe/Berlin")
SIX = datetime(2026, 11, 9, 6, tzinfo=UTC)


def told(day: str, kind: str, name: str) -> list[str]:
    """What a story says, line by line."""
    return [line.what for line in story.story(after(day).ledger, kind, name, ZONE)]


def jar(day: str, lot: str) -> str:
    """The first container of a lot."""
    return next(found.id for found in after(day).ledger.containers.values() if found.lot == lot)


@pytest.mark.parametrize("body", get_args(f.Body), ids=lambda body: body.NAME)
def test_every_sentence_speaks_only_of_what_its_fact_says(body: type[f.Body]) -> None:
    known = {field.name for field in fields(body)}
    parts = SAYS.get(body.NAME, "").split("|")
    asked = {name for part in parts for name in named(part)}
    asked |= {part[1:].split(" ")[0] for part in parts if part.startswith("?")}
    assert asked <= known


def test_what_was_not_said_is_left_out_of_the_sentence() -> None:
    bare = f.Ended("K7-001", Ending.DISCARDED, "", "P1", None)
    whole = f.Ended("K7-001", Ending.DISCARDED, "dry crust", "P1", 120.0)
    assert in_words(bare, ZONE) == "K7-001 discarded"
    assert in_words(whole, ZONE) == "K7-001 discarded: dry crust, 120 g"
    assert in_words(f.LimitExtended("K", Limit.OPEN, timedelta(hours=2), "C 5"), ZONE) == (
        "Open life extended by 2 h, concession C 5"
    )
    assert in_words(f.Resumed("2", "b", knead=True, replace=False), ZONE) == "Printing resumed, wipe and knead"
    assert in_words(f.Decanted("K", ("A", "B"), "SN-4", "JAR", "1", SIX), ZONE) == (
        "Filled from A, B: SN-4 in JAR, use up by 2026-11-09 07:00"
    )
    assert in_words(f.PinProved("P20"), ZONE) == "Pin proved"


def test_a_container_is_told_from_the_dock_to_its_end_with_the_hold_of_its_lot() -> None:
    lines = told("recall_at_two_printers", story.CONTAINER, jar("recall_at_two_printers", "101"))
    assert lines[0].startswith("Received: SN-4 in JAR-500, lot 101")
    assert any(line.startswith("Opened, open life ends 2026-11-10 06:00") for line in lines)
    assert any(line.endswith("used up") or "used up" in line for line in lines)
    assert lines[-1].startswith("Lot SN-4/101 put on hold: lot on hold, recall by the supplier")


def test_a_lot_is_told_with_all_its_containers() -> None:
    lines = told("recall_at_two_printers", story.LOT, "SN-4/101")
    assert sum(line.startswith("Received") for line in lines) == 2


def test_a_position_is_told_with_its_alarms_and_where_each_thing_was() -> None:
    floor = after("recall_at_two_printers")
    lines = story.story(floor.ledger, story.POSITION, "P1", ZONE)
    assert {line.where for line in lines} >= {"P1"}
    assert "Alarm: hold of P1 past since 2026-11-09 12:00" in [line.what for line in lines]
    assert "Bead removed" in [line.what for line in lines]


def test_a_work_order_is_told_from_its_set_up_with_what_happened_meanwhile() -> None:
    lines = told("changeovers", story.WORK_ORDER, "WO2")
    assert lines[0].startswith("Set up for work order WO2")
    assert "Printing paused" in lines
    assert not any("PB-1 lot" in line for line in lines)  # that was the next one


def test_a_person_and_a_day_have_their_stories() -> None:
    by_lead = story.story(after("recall_at_two_printers").ledger, story.PERSON, "P20", ZONE)
    assert any("put on hold" in line.what and line.who == "P20" for line in by_lead)
    days = {day: told("recall_at_two_printers", story.DAY, day) for day in ("2026-11-08", "2026-11-09", "2026-11-12")}
    assert sum(line.startswith("Received") for line in days["2026-11-08"]) == 3
    assert any(line.startswith("Received") for line in days["2026-11-09"])
    assert days["2026-11-12"] == []


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("302", ["lot"]),
        ("pb-1 302", ["lot"]),
        ("2", ["position"]),
        ("WO3", ["work order"]),
        ("p20", ["person"]),
        ("2026-11-09", ["day"]),
        ("2026-11-30", []),
        ("nowhere", []),
    ],
)
def test_what_is_typed_is_found_by_its_name(text: str, kinds: list[str]) -> None:
    assert [kind for kind, _ in story.named(after("changeovers").ledger, text, ZONE)] == kinds


def test_a_container_is_found_as_people_say_its_number() -> None:
    name = jar("changeovers", "302")
    assert story.named(after("changeovers").ledger, name.lower().replace("-", " "), ZONE) == ((story.CONTAINER, name),)


def record(*bodies: f.Body) -> Ledger:
    """Facts of one minute each."""
    ledger = Ledger()
    for place, body in enumerate(bodies, start=1):
        at = SIX + timedelta(minutes=place)
        ledger.apply(f.Fact(1, place, place, at, 1, "P1", f.Segment("boot", 0), body))
    return ledger


def test_a_word_taken_back_is_told_with_what_it_was_and_files_kept_with_a_jar_are_told() -> None:
    received = f.Received("K1", "SN-4", "JAR-500", "A1", None, None, SIX, None, "not measured", False, None)
    held = f.Held("K1", HoldReason.PERSON, "odd")
    back = f.Undone(f"{1:016x}-2", "wrong jar")
    kept = f.Attached("container:K1", "photo", "lid.jpg", "ab", 3, "")
    found = story.story(record(received, held, back, kept), story.CONTAINER, "K1", ZONE)
    assert [(line.what, line.taken_back) for line in found[1:]] == [
        ("Put on hold: held by a person, odd", True),
        ("Taken back: Put on hold: held by a person, odd (wrong jar)", False),
        ("Kept with it: photo, lid.jpg", False),
    ]
    unheard = story.story(record(f.Undone("x-1", "")), story.DAY, "2026-11-09", ZONE)
    assert [line.what for line in unheard] == ["Taken back: something this station has not heard of"]


def noted(ledger: Ledger, about: str) -> None:
    """A note of something, as another station's fact."""
    fact = ledger.facts()[-1]
    body = f.Attached(about, "note", "", "", 0, "seen at the audit")
    ledger.apply(replace(fact, journal=99, seq=len(ledger.facts()), body=body))


@pytest.mark.parametrize(
    ("kind", "name"),
    [(story.POSITION, "2B"), (story.STORE, "SHELF-9"), (story.PERSON, "P20"), (story.LOT, "SN-4/101")],
)
def test_a_note_stands_in_the_story_of_what_it_is_of_also_where_nothing_else_does(kind: str, name: str) -> None:
    ledger = after("recall_at_two_printers").ledger.copied()
    noted(ledger, f"{kind}:{name}")
    assert [line.what for line in story.story(ledger, kind, name, ZONE)][-1] == "Kept with it: note: seen at the audit"
    spoken = name.partition("/")[2] or name
    assert (kind, name) in story.named(ledger, spoken, ZONE)


def test_a_note_of_an_alarm_stands_in_the_story_of_its_subject() -> None:
    ledger = after("recall_at_two_printers").ledger.copied()
    alarm = next(iter(ledger.alarms.values()))
    kind = story.POSITION if alarm.subject in ledger.positions else story.CONTAINER
    noted(ledger, f"alarm:{alarm.id}")
    assert any("seen at the audit" in line.what for line in story.story(ledger, kind, alarm.subject, ZONE))


def test_a_store_is_told_by_what_came_into_it_and_went() -> None:
    ledger = after("recall_at_two_printers").ledger
    store = next(fact.body.store for fact in ledger.facts() if isinstance(fact.body, f.PutAway))
    told_of = [line.what for line in story.story(ledger, story.STORE, store, ZONE)]
    assert any(line.startswith("Put into") for line in told_of)
    assert (story.STORE, store) in story.named(ledger, store, ZONE)
    assert story.named(ledger, "", ZONE) == ()
