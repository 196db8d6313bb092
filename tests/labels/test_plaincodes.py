"""Cards, badges and tags count only if the site has printed them."""

import pytest

from station.care.words import Card
from station.labels.faults import LabelFault
from station.labels.plaincodes import (
    QR_CHARACTERS,
    BadgeRead,
    CardRead,
    SetUpRead,
    TagKind,
    TagRead,
    badge_text,
    card_text,
    known_texts,
    read_plain,
    set_up_text,
    tag_text,
)
from station.labels.symbol import modules_of

KNOWN = known_texts(people=["P12"], positions=["L3-2A"], bins=["cs1/A3"], stores=["cs1"], places=["fridge-1"])


@pytest.mark.parametrize("card", Card)
def test_every_command_card_reads_as_itself(card: Card) -> None:
    assert set(card_text(card)) <= QR_CHARACTERS
    assert read_plain(card_text(card), KNOWN) == CardRead(card)


def test_badges_and_tags_give_the_id_as_the_site_writes_it() -> None:
    assert read_plain(badge_text("P12"), KNOWN) == BadgeRead("P12")
    assert read_plain(tag_text(TagKind.POSITION, "L3-2A"), KNOWN) == TagRead(TagKind.POSITION, "L3-2A")
    assert read_plain(tag_text(TagKind.BIN, "cs1/A3"), KNOWN) == TagRead(TagKind.BIN, "cs1/A3")
    assert read_plain(tag_text(TagKind.STORE, "cs1"), KNOWN) == TagRead(TagKind.STORE, "cs1")
    assert read_plain(tag_text(TagKind.PLACE, "fridge-1"), KNOWN) == TagRead(TagKind.PLACE, "fridge-1")


def test_the_same_id_on_a_badge_and_a_tag_gives_two_texts() -> None:
    assert len({badge_text("X1"), *(tag_text(kind, "X1") for kind in TagKind)}) == 5


def test_a_good_check_character_is_not_enough() -> None:
    with pytest.raises(LabelFault) as caught:
        read_plain(badge_text("P13"), KNOWN)
    assert caught.value.code == "unknown"


def test_a_misread_one_says_to_scan_again() -> None:
    text = badge_text("P12")
    with pytest.raises(LabelFault) as caught:
        read_plain(text[:2] + "Q" + text[3:], KNOWN)
    assert caught.value.code == "check"


def test_what_has_another_prefix_is_not_ours() -> None:
    with pytest.raises(LabelFault) as caught:
        read_plain("ZZ123", KNOWN)
    assert caught.value.code == "prefix"


def test_ids_that_differ_only_by_case_are_refused() -> None:
    """BR-03: a scanner that loses Shift must never turn one id into another."""
    with pytest.raises(LabelFault, match="only by case"):
        known_texts(bins=["a3", "A3"])


@pytest.mark.parametrize("id_", ["", " A", "Öl", "straße", "a_b", "a,b", "a\x1db"])
def test_ids_a_code_cannot_carry_are_refused_when_the_list_is_built(id_: str) -> None:
    """BR-92: what is in a code is plain ASCII, and here what QR's alphanumeric mode holds."""
    with pytest.raises(LabelFault) as caught:
        badge_text(id_)
    assert caught.value.code == "alphabet"


def test_the_set_up_card_holds_every_character_a_code_may_have_and_fits_the_largest_symbol_printed() -> None:
    text = set_up_text()
    assert set(text) == QR_CHARACTERS
    assert len(text) == 90  # ISO/IEC 18004: version 4 at level M holds 90 alphanumeric characters
    assert len(modules_of(text)) == 33  # version 4


def test_every_letter_and_digit_stands_twice_on_the_set_up_card_and_every_sign_before_a_blank() -> None:
    text = set_up_text()
    letters_and_digits = [character for character in text if character.isalnum()]
    assert all(letters_and_digits.count(character) >= 2 for character in letters_and_digits)
    assert all(text[place + 1] == " " for place, character in enumerate(text) if character in "$%*+-./:")


def test_the_set_up_card_is_known_at_every_site_and_is_no_card_of_work() -> None:
    assert read_plain(set_up_text(), KNOWN) == SetUpRead()
    assert set_up_text() not in KNOWN.meaning


def test_half_a_set_up_card_is_refused() -> None:
    with pytest.raises(LabelFault) as caught:
        read_plain(set_up_text()[:45], KNOWN)
    assert caught.value.code in {"check", "unknown"}
