"""A time label carries its times to the minute, errs to the safe side, and takes nothing on trust."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.care.words import Limit
from station.labels.checkdigit import ALPHABET, check_character
from station.labels.faults import LabelFault
from station.labels.keys import KeyRing
from station.labels.symbol import modules_of
from station.labels.timecode import BITS, EPOCH, FRAME, GOVERNING, TimeLabel, pack, unpack
from tests.labels.samples import KEYS, LABEL, STRANGER, TUESDAY

MINUTES = st.integers(0, 2**24 - 1).map(lambda count: EPOCH + timedelta(minutes=count))


@st.composite
def labels(draw: st.DrawFn) -> TimeLabel:
    thaw_start = draw(MINUTES)
    return TimeLabel(
        station=draw(st.integers(1, 255)),
        counter=draw(st.integers(1, 2**20 - 1)),
        print_number=draw(st.integers(1, 63)),
        thaw_start=thaw_start,
        earliest_use=thaw_start + timedelta(minutes=draw(st.integers(0, 4095))),
        discard_by=thaw_start + timedelta(minutes=draw(st.integers(0, 2**19 - 1))),
        open_life=timedelta(hours=draw(st.integers(1, 255))),
        paste_number=draw(st.integers(0, 1023)),
        governing=draw(st.sampled_from(GOVERNING)),
        leaded=draw(st.booleans()),
        key_id=draw(st.sampled_from([0, 3])),
    )


def refused(action: Callable[..., object], *arguments: Any) -> LabelFault:
    with pytest.raises(LabelFault) as caught:
        action(*arguments)
    return caught.value


@given(labels())
def test_what_is_packed_comes_back(label: TimeLabel) -> None:
    text = pack(label, KEYS)
    assert len(text) == 38
    assert set(text) <= set(ALPHABET)
    assert unpack(text, KEYS) == label


@given(labels())
@settings(max_examples=60)
def test_every_label_is_a_qr_code_of_version_2(label: TimeLabel) -> None:
    """25 modules a side; a version 2 symbol at level M holds 38 alphanumeric characters (ISO/IEC 18004)."""
    assert len(modules_of(pack(label, KEYS))) == 25


def test_the_body_has_115_bits_and_the_whole_fits_35_characters() -> None:
    assert sum(BITS.values()) == 115
    assert 2 ** (115 + 64) <= 36**35
    assert FRAME.length == 38


def test_no_single_wrong_character_is_ever_accepted() -> None:
    random = Random(2026)
    for number in range(4000):
        text = pack(replace(LABEL, counter=number + 1), KEYS)
        at = random.randrange(38)
        wrong = random.choice([character for character in ALPHABET if character != text[at]])
        refused(unpack, text[:at] + wrong + text[at + 1 :], KEYS)


def test_a_wrong_character_with_a_mended_check_character_fails_the_signature() -> None:
    random = Random(7)
    text = pack(LABEL, KEYS)
    for _ in range(2000):
        at = random.randrange(10, 37)
        wrong = random.choice([character for character in ALPHABET if character != text[at]])
        forged = text[:at] + wrong + text[at + 1 : 37]
        assert refused(unpack, forged + check_character(forged), KEYS).code in {"signature", "key", "field"}


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "prefix"),
        ("C1000", "prefix"),
        ("V1ABC", "length"),
        (pack(LABEL, KEYS) + "0", "length"),
        (pack(LABEL, KEYS)[:-3] + "ß00", "alphabet"),
        (pack(LABEL, KEYS)[:-1].lower() + "0", "prefix"),
        (pack(LABEL, KEYS)[:-1] + ("0" if pack(LABEL, KEYS)[-1] != "0" else "1"), "check"),
    ],
)
def test_the_first_thing_wrong_is_named(text: str, code: str) -> None:
    fault = refused(unpack, text, KEYS)
    assert fault.code == code
    assert fault.sentence.endswith(".")


def test_another_sites_label_is_refused() -> None:
    assert refused(unpack, pack(LABEL, STRANGER), KEYS).code == "signature"


def test_a_label_of_an_old_key_still_reads_and_one_of_a_lost_key_says_so() -> None:
    old = pack(replace(LABEL, key_id=3), KEYS)
    assert unpack(old, KEYS).key_id == 3
    assert refused(unpack, old, KeyRing({0: KEYS.keys[0]}, 0)).code == "key"


def test_seconds_err_to_the_safe_side() -> None:
    label = replace(
        LABEL,
        thaw_start=TUESDAY + timedelta(seconds=59),
        earliest_use=TUESDAY + timedelta(hours=4, seconds=1),
        discard_by=TUESDAY + timedelta(days=7, seconds=59),
        open_life=timedelta(hours=24, minutes=59),
    )
    read = unpack(pack(label, KEYS), KEYS)
    assert read.thaw_start == TUESDAY
    assert read.earliest_use == TUESDAY + timedelta(hours=4, minutes=1)
    assert read.discard_by == TUESDAY + timedelta(days=7)
    assert read.open_life == timedelta(hours=24)


def test_a_discard_by_too_far_away_becomes_the_farthest_one_there_is_never_a_later_one() -> None:
    far = replace(LABEL, discard_by=TUESDAY + timedelta(days=500), open_life=timedelta(days=30))
    read = unpack(pack(far, KEYS), KEYS)
    assert read.discard_by == TUESDAY + timedelta(minutes=2**19 - 1)
    assert read.open_life == timedelta(hours=255)


def test_an_earliest_use_too_far_away_is_refused_since_any_smaller_one_is_too_early() -> None:
    assert unpack(pack(replace(LABEL, earliest_use=TUESDAY + timedelta(minutes=4095)), KEYS), KEYS)
    fault = refused(pack, replace(LABEL, earliest_use=TUESDAY + timedelta(minutes=4095, seconds=1)), KEYS)
    assert fault.code == "field"
    assert "earliest-use" in fault.sentence


@pytest.mark.parametrize(
    "wrong",
    [
        {"station": 0},
        {"station": 256},
        {"counter": 0},
        {"counter": 2**20},
        {"print_number": 0},
        {"print_number": 64},
        {"paste_number": 1024},
        {"key_id": 8},
        {"governing": Limit.PAUSE},
        {"open_life": timedelta(minutes=59)},
        {"thaw_start": EPOCH - timedelta(minutes=1)},
        {"thaw_start": datetime(2056, 1, 1, tzinfo=UTC)},
        {"earliest_use": TUESDAY - timedelta(minutes=1)},
        {"discard_by": TUESDAY - timedelta(minutes=1)},
        {"discard_by": datetime(2026, 12, 1, 14, 5)},  # noqa: DTZ001  # a time without its zone is the fault shown
    ],
)
def test_what_a_label_cannot_carry_is_refused_before_it_is_printed(wrong: dict[str, Any]) -> None:
    assert refused(pack, replace(LABEL, **wrong), KEYS).code == "field"


@pytest.mark.parametrize("spoiled", ["station", "counter", "print", "open", "governing", "spare"])
def test_a_signed_body_that_means_nothing_is_refused(spoiled: str) -> None:
    body, below = FRAME.unseal(pack(LABEL, KEYS), KEYS), 0
    for name, bits in reversed(BITS.items()):
        if name == spoiled:
            mask = ((1 << bits) - 1) << below
            body = body | mask if name == "spare" else body & ~mask
        below += bits
    assert refused(unpack, FRAME.seal(body, KEYS), KEYS).code == "field"


def test_a_number_over_179_bits_is_refused() -> None:
    text = "V1" + "Z" * 35
    assert refused(unpack, text + check_character(text), KEYS).code == "field"


def test_printed_labels_stay_readable_in_later_versions() -> None:
    """A label on a jar outlives the program that printed it: this text must read like this for ever."""
    assert unpack("V1015CLMDKW65TUPU4H56AGEAQF3W9HY2FHIVJ", KEYS) == LABEL
