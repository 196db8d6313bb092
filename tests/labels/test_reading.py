"""Whatever a scanner adds or Caps Lock turns, the label reads the same or is refused with a sentence."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.care.words import Card
from station.labels.containercode import ContainerCode, pack_container
from station.labels.plaincodes import (
    CardRead,
    TagKind,
    TagRead,
    badge_text,
    card_text,
    known_texts,
    set_up_text,
    tag_text,
)
from station.labels.reading import (
    ContainerRead,
    NotRead,
    TimeLabelRead,
    read,
    read_candidates,
    read_exact,
    trimmed,
)
from station.labels.timecode import pack
from tests.labels.samples import KEYS, LABEL, STRANGER

KNOWN = known_texts(people=["P12"], positions=["L3-2A"])
TIME, CONTAINER = pack(LABEL, KEYS), pack_container(7, 311, KEYS)
OURS = [
    TIME,
    CONTAINER,
    card_text(Card.EMPTY),
    badge_text("P12"),
    tag_text(TagKind.POSITION, "L3-2A"),
    set_up_text(),
]


def test_each_kind_is_known_by_its_prefix() -> None:
    kinds = [read(text, KEYS, KNOWN).kind for text in OURS]
    assert kinds == ["time-label", "container", "card", "badge", "tag", "set-up"]
    assert read(TIME, KEYS, KNOWN) == TimeLabelRead(LABEL)
    assert read(CONTAINER, KEYS, KNOWN) == ContainerRead(ContainerCode(7, 311, 0))
    assert read(OURS[4], KEYS, KNOWN) == TagRead(TagKind.POSITION, "L3-2A")


@pytest.mark.parametrize("prefix", ["]Q1", "]Q3", "]C1", "]d2", "\x1d", "]Q3\x1d", " \t", "\x1d]C1"])
@pytest.mark.parametrize("text", OURS)
def test_what_the_scanner_puts_before_it_is_stripped(prefix: str, text: str) -> None:
    """BR-14."""
    assert read(prefix + text + "\r\n", KEYS, KNOWN) == read(text, KEYS, KNOWN)


@pytest.mark.parametrize("text", OURS)
def test_what_looks_like_a_prefix_further_on_is_not_stripped_br_14(text: str) -> None:
    assert trimmed(f"{text[:5]}]Q1{text[5:]}") == f"{text[:5]}]Q1{text[5:]}"
    assert isinstance(read(f"{text[:5]}]Q1{text[5:]}", KEYS, KNOWN), NotRead)


@pytest.mark.parametrize("text", OURS)
@pytest.mark.parametrize("prefix", ["", "]Q1"])
def test_caps_lock_is_undone_and_said(text: str, prefix: str) -> None:
    """BR-02."""
    reading = read((prefix + text).swapcase(), KEYS, KNOWN)
    plain = read(text, KEYS, KNOWN)
    assert reading.healed
    assert not plain.healed
    assert (reading.kind, reading.fields) == (plain.kind, plain.fields)


def test_half_turned_case_is_no_caps_lock_and_not_healed() -> None:
    assert isinstance(read(TIME[:20] + TIME[20:].lower(), KEYS, KNOWN), NotRead)


def test_nothing_is_guessed_between_two_meanings() -> None:
    empty, undo = card_text(Card.EMPTY), card_text(Card.UNDO)
    reading = read_candidates([empty, undo], KEYS, KNOWN)
    assert isinstance(reading, NotRead)
    assert reading.faults[0][0] == "ambiguous"


def test_a_scan_of_nothing_but_what_scanners_add_is_refused_as_empty_br_11() -> None:
    reading = read_candidates([], KEYS, KNOWN)
    assert isinstance(reading, NotRead)
    assert reading.faults == (("empty", "The scan was empty. Scan again."),)


def test_a_mended_form_is_told_from_the_scan_as_it_came() -> None:
    assert read_candidates(["xx", card_text(Card.UNDO)], KEYS, KNOWN) == CardRead(Card.UNDO, healed=True)
    assert read_exact(TIME.lower(), KEYS, KNOWN).kind == "unknown"


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "empty"),
        (" \r\n", "empty"),
        ("]Q1", "empty"),
        ("WO-2604", "prefix"),
        ("1-47", "prefix"),  # BR-06: only the digits are left when an input method takes the letters
        (TIME[:20], "length"),  # BR-04, BR-05: letters lost or a scan cut in two
        (TIME[:20].lower(), "length"),
        (TIME + TIME, "length"),
        (pack(LABEL, STRANGER), "signature"),
        (pack(LABEL, STRANGER).lower(), "signature"),
        (badge_text("P99"), "unknown"),
        ("V1" + "É" * 36, "alphabet"),  # BR-93: dead keys merge
    ],
)
def test_what_is_refused_says_why_once(text: str, code: str) -> None:
    reading = read(text, KEYS, KNOWN)
    assert isinstance(reading, NotRead)
    assert [found for found, _ in reading.faults] == [code]
    assert reading.faults[0][1].endswith(".")


@given(st.text(max_size=200))
def test_no_text_whatever_makes_it_stumble(text: str) -> None:
    reading = read(text, KEYS, KNOWN)
    assert reading.kind == "unknown" or trimmed(text).upper() in OURS


def test_fields_are_plain_strings_with_utc_times() -> None:
    fields = read(TIME, KEYS, KNOWN).fields
    assert json.loads(json.dumps(fields)) == {
        "container": "K7-311",
        "print": "1",
        "thaw_start": "2026-11-24T13:05Z",
        "earliest_use": "2026-11-24T16:36Z",
        "discard_by": "2026-12-01T13:05Z",
        "open_life_hours": "24",
        "paste_number": "104",
        "governing": "room life",
        "leaded": "no",
        "key": "0",
    }
