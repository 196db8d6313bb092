"""The check character agrees with the standard and with an independent implementation of it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_36

from station.labels.checkdigit import ALPHABET, check_character, checks, from_base36, to_base36

TEXTS = st.text(ALPHABET, min_size=1, max_size=40)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "A12425GABC1234002",
            "M",
        ),  # published example of ISO/IEC 7064 MOD 37,36, as in python-stdnum's documentation
        ("SP260001", "S"),  # this and the rest: reckoned with python-stdnum 2.2
        ("SP000001", "A"),
        ("GRACE", "T"),
        ("A1B2C3", "3"),
        ("HELLO", "E"),
        ("J0000001", "I"),
        ("ABC123", "0"),
    ],
)
def test_known_values(text: str, expected: str) -> None:
    assert check_character(text) == expected
    assert checks(text + expected)


@given(TEXTS)
def test_same_as_an_independent_implementation(text: str) -> None:
    assert check_character(text) == mod_37_36.calc_check_digit(text)


@given(TEXTS, st.data())
def test_every_single_wrong_character_is_noticed(text: str, data: st.DataObject) -> None:
    whole = text + check_character(text)
    at = data.draw(st.integers(0, len(whole) - 1))
    wrong = data.draw(st.sampled_from([character for character in ALPHABET if character != whole[at]]))
    assert not checks(whole[:at] + wrong + whole[at + 1 :])


def test_a_few_swapped_neighbours_slip_through_as_the_docstring_admits() -> None:
    """From an exhaustive search with python-stdnum 2.2: why a signature is needed as well."""
    assert check_character("JI0")[0] == check_character("IJ0")[0]


@pytest.mark.parametrize("text", ["", "abc", "A-1", "É1"])
def test_what_is_not_in_the_alphabet_does_not_check(text: str) -> None:
    assert not checks(text)


@given(st.integers(0, 36**9 - 1))
def test_base36_gives_the_number_back(number: int) -> None:
    assert from_base36(to_base36(number, 9)) == number == int(to_base36(number, 9), 36)


def test_a_number_too_long_for_its_room_is_refused_not_cut() -> None:
    with pytest.raises(OverflowError):
        to_base36(36**2, 2)
