"""An identity label names one container and cannot be minted by a stranger."""

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.labels.checkdigit import ALPHABET, check_character
from station.labels.containercode import (
    ContainerCode,
    container_id,
    container_numbers,
    pack_container,
    unpack_container,
)
from station.labels.faults import LabelFault
from station.labels.symbol import modules_of
from tests.labels.samples import KEYS, STRANGER

STATIONS, COUNTERS = st.integers(1, 255), st.integers(1, 2**20 - 1)


@given(STATIONS, COUNTERS)
def test_what_is_packed_comes_back(station: int, counter: int) -> None:
    text = pack_container(station, counter, KEYS)
    assert len(text) == 17
    assert unpack_container(text, KEYS) == ContainerCode(station, counter, 0)


def test_it_is_the_smallest_qr_code_and_never_a_micro_one() -> None:
    """BR-30. 21 modules is version 1; micro forms have 11 to 17 (ISO/IEC 18004)."""
    assert len(modules_of(pack_container(7, 311, KEYS))) == 21
    assert len(modules_of("A")) == 21


def test_changed_characters_are_never_accepted_even_with_a_mended_check() -> None:
    random = Random(11)
    text = pack_container(7, 311, KEYS)
    for _ in range(3000):
        at = random.randrange(2, 16)
        wrong = random.choice([character for character in ALPHABET if character != text[at]])
        forged = text[:at] + wrong + text[at + 1 : 16]
        with pytest.raises(LabelFault):
            unpack_container(forged + check_character(forged), KEYS)


def test_another_sites_container_is_refused() -> None:
    with pytest.raises(LabelFault) as caught:
        unpack_container(pack_container(7, 311, STRANGER), KEYS)
    assert caught.value.code == "signature"


@pytest.mark.parametrize(("station", "counter"), [(0, 1), (256, 1), (1, 0), (1, 2**20)])
def test_numbers_out_of_range_are_refused(station: int, counter: int) -> None:
    with pytest.raises(LabelFault) as caught:
        pack_container(station, counter, KEYS)
    assert caught.value.code == "field"


@given(STATIONS, COUNTERS)
def test_written_numbers_come_back(station: int, counter: int) -> None:
    assert container_numbers(container_id(station, counter)) == (station, counter)


def test_written_as_people_say_it() -> None:
    assert container_id(7, 311) == "K7-311"
    assert container_id(7, 5) == "K7-005"


@pytest.mark.parametrize("text", ["", "K7", "K7-5", "K07-311", "K7-0311", "k7-311", "K7-311 ", "K0-311", "K999-311"])
def test_anything_else_is_no_container_number(text: str) -> None:
    with pytest.raises(LabelFault):
        container_numbers(text)
