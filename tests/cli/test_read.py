"""`station read`: what a code means, and never a guess."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from station.bootstrap import DEMO_KEYS, keys_in
from station.care.words import Card, Limit
from station.labels.containercode import pack_container
from station.labels.keys import KeyRing
from station.labels.plaincodes import TagKind, badge_text, card_text, tag_text
from station.labels.timecode import TimeLabel, pack
from tests.cli.answers import DEMO, PLANT_T
from tests.cli.conftest import Say

OUT = datetime(2026, 11, 9, 5, 0, tzinfo=UTC)


def time_label(keys: KeyRing) -> str:
    label = TimeLabel(
        station=1,
        counter=311,
        print_number=2,
        thaw_start=OUT,
        earliest_use=OUT + timedelta(hours=4),
        discard_by=OUT + timedelta(days=7),
        open_life=timedelta(hours=24),
        paste_number=104,
        governing=Limit.ROOM,
        leaded=False,
        key_id=keys.current,
    )
    return pack(label, keys)


def test_a_time_label_of_the_demo_is_read_with_the_demos_settings(station: Say) -> None:
    answer = station("read", time_label(DEMO_KEYS), "--config", DEMO, "--json")
    assert answer.code == 0
    assert answer.json["kind"] == "time-label"
    assert answer.json["faults"] == []
    fields = answer.json["fields"]
    assert fields["container"] == "K1-311"
    assert fields["earliest_use"] == "2026-11-09T09:00Z"
    assert fields["discard_by"] == "2026-11-16T05:00Z"
    assert fields["governing"] == "room life"


def test_a_label_of_this_station_is_read_with_the_key_in_its_data_folder(station: Say, data: Path) -> None:
    text = time_label(keys_in(data, create=False))
    assert station("read", text, "--data", data, "--json").json["kind"] == "time-label"
    identity = pack_container(1, 311, keys_in(data, create=False))
    answer = station("read", identity, "--data", data, "--config", DEMO, "--json")
    assert (answer.json["kind"], answer.json["fields"]["container"]) == ("container", "K1-311")


@pytest.mark.parametrize("words", [(), ("--config", PLANT_T)])
def test_without_a_key_a_signed_label_is_not_believed(station: Say, words: tuple[object, ...]) -> None:
    """A demo's key counts for a demo's settings only: anybody knows it."""
    answer = station("read", time_label(DEMO_KEYS), *words, "--json")
    assert answer.code == 1
    assert answer.json["kind"] == "unknown"
    assert [fault["code"] for fault in answer.json["faults"]] == ["key"]


def test_a_forged_label_is_not_read(station: Say, data: Path) -> None:
    forged = time_label(KeyRing({0: b"another site's key 0123456789"}, current=0))
    answer = station("read", forged, "--data", data, "--json")
    assert answer.code == 1
    assert answer.json["kind"] == "unknown"
    assert [fault["code"] for fault in answer.json["faults"]] == ["signature"]


@pytest.mark.parametrize(
    ("text", "kind", "fields"),
    [
        (card_text(Card.EMPTY), "card", {"card": "EMPTY"}),
        (badge_text("P12"), "badge", {"person": "P12"}),
        (tag_text(TagKind.POSITION, "2A"), "tag", {"tag": "position", "id": "2A"}),
        ("WO8836-CTRL", "work-order", {"order": "WO8836", "product": "CTRL"}),
        (card_text(Card.EMPTY).lower(), "card", {"card": "EMPTY", "healed": "yes"}),
        ("]Q1" + card_text(Card.EMPTY), "card", {"card": "EMPTY"}),
    ],
)
def test_cards_badges_tags_and_work_orders_of_a_site(
    station: Say, text: str, kind: str, fields: dict[str, str]
) -> None:
    answer = station("read", text, "--config", DEMO, "--json")
    assert answer.code == 0
    assert answer.json == {"kind": kind, "fields": fields, "faults": []}


def test_a_command_card_is_read_without_any_settings(station: Say) -> None:
    assert station("read", card_text(Card.LOOK), "--json").json["kind"] == "card"


def test_a_badge_of_nobody_is_not_read(station: Say) -> None:
    answer = station("read", badge_text("P99"), "--config", DEMO, "--json")
    assert [fault["code"] for fault in answer.json["faults"]] == ["unknown"]


@pytest.mark.parametrize(
    ("text", "fields"),
    [
        ("[)>\x1e06\x1d1PHW-104-500\x1e\x04", {"carrier": "ISO/IEC 15434 message", "maker's part": "HW-104-500"}),
        (
            "]C101095011015300031723113010101",
            {"carrier": "GS1 element string", "lot": "101", "gtin": "09501101530003", "expires": "2023-11-30"},
        ),
        ("]d20109501101530003", {"carrier": "GS1 element string", "gtin": "09501101530003"}),
        ("https://example.org/01/09501101530003", {"carrier": "GS1 Digital Link", "gtin": "09501101530003"}),
    ],
)
def test_a_makers_label_is_said_field_by_field(station: Say, text: str, fields: dict[str, str]) -> None:
    """ISO/IEC 15434 message header; AIM symbology identifiers of GS1 data (from memory)."""
    answer = station("read", text, "--json")
    assert answer.code == 0
    assert answer.json == {"kind": "maker-label", "fields": {"text": text, **fields}, "faults": []}


def test_what_a_makers_label_leaves_open_is_listed_and_nothing_is_lost(station: Say) -> None:
    """BR-71, BR-73."""
    fields = station("read", "010950110153000310L42A17270430\x1d38X7\x1d3012", "--config", DEMO, "--json").json[
        "fields"
    ]
    assert fields["unknown 1"] == "38X7"
    assert fields["asked: lot"].endswith("L42A or L42A17270430")
    assert fields["asked: expires"].endswith("2027-04-30")
    assert "lot" not in fields
    assert fields["quantity"] == "12"


def test_a_damaged_makers_label_is_the_answer_no_with_its_reason(station: Say) -> None:
    """BR-75."""
    answer = station("read", "[)>06P12-451T42A14D20270430Q12", "--json")
    assert answer.code == 1
    assert answer.json["kind"] == "maker-label"
    assert "separators were lost" in answer.json["faults"][0]["sentence"]
    assert station("read", "]Q3010950110153").code == 1


@pytest.mark.parametrize("text", ["", "HELLO", "V1", "V1" + "0" * 400, "C1?", "\x1d"])
def test_what_means_nothing_is_unknown_with_a_sentence_and_no_traceback(station: Say, text: str) -> None:
    answer = station("read", text, "--config", DEMO, "--json")
    assert answer.code == 1
    assert answer.json["kind"] == "unknown"
    assert answer.json["faults"][0]["sentence"].endswith(".")


def test_people_get_a_list_and_the_fault_apart(station: Say) -> None:
    good = station("read", tag_text(TagKind.BIN, "A1"), "--config", DEMO)
    assert good.out.splitlines() == ["tag", "  tag  bin", "  id   A1"]
    bad = station("read", "HELLO", "--config", DEMO)
    assert bad.out.splitlines()[0] == "unknown"
    assert "No code of this station begins like" in bad.err


def test_a_garbled_key_file_is_said_and_not_worked_with(station: Say, data: Path) -> None:
    (data / "labels.key").write_text("not hexadecimal", encoding="ascii")
    answer = station("read", card_text(Card.LOOK), "--data", data)
    assert answer.code == 2
    assert "can't be read. Bring it back from the latest backup." in answer.err


def test_a_data_folder_without_a_key_is_said_and_none_is_made(station: Say, tmp_path: Path) -> None:
    answer = station("read", card_text(Card.LOOK), "--data", tmp_path / "empty")
    assert answer.code == 2
    assert "There is no key file" in answer.err
    assert not (tmp_path / "empty").exists()
