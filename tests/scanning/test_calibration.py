"""One scan of the set-up card teaches a layout nobody put into a table; what is half understood is not learned."""

import json
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.bootstrap import DEMO_KEYS
from station.labels.plaincodes import QR_CHARACTERS, set_up_text
from station.scanning.calibration import NotTaught, Taught, lesson, table_of
from station.scanning.heard import HeardScan, candidates
from station.scanning.layouts import LAYOUTS
from station.services.reading import Reader
from tests.care.bench import site_t

from .garbling import GARBLES, Garble
from .labels import labels

CARD = set_up_text()
READER = Reader(site_t(), DEMO_KEYS)
FOREIGN = "ěščřžýáíéůúßøåæöäñçğışłąćżźđțășőűþð§°€µ¿¡ºª·¬~^`´\\|<>{}[]#@&?!_=;,'"


def typed(text: str) -> HeardScan:
    """A scan heard without key places."""
    return HeardScan(text, None)


def taught(text: str) -> Taught:
    found = lesson(typed(text))
    assert isinstance(found, Taught)
    return found


def not_taught(text: str) -> NotTaught:
    found = lesson(typed(text))
    assert isinstance(found, NotTaught)
    return found


def stranger(seed: int) -> dict[int, str]:
    """A layout of no country: any character for any other, as `str.translate` takes it."""
    random = Random(seed)
    meant = sorted(QR_CHARACTERS - {" "})
    return str.maketrans(dict(zip(meant, random.sample([*meant, *FOREIGN], len(meant)), strict=True)))


@pytest.mark.parametrize("seed", range(20))
def test_one_scan_teaches_any_layout_br_01(seed: int) -> None:
    layout = stranger(seed)
    found = taught(CARD.translate(layout))
    table = table_of(found.meant, found.written)
    for text, meant in labels(seed, 8):
        got = text.translate(layout)
        assert READER.read(candidates(typed(got), table)) == meant
        assert READER.read(candidates(typed(got))) != meant  # without the card it was lost


@pytest.mark.parametrize("layout", LAYOUTS)
def test_a_layout_taught_without_caps_lock_still_heals_with_it_br_02(layout: str) -> None:
    """Key places that say the same as the text keep the built-in tables out of it."""
    found = taught(Garble(layout, "plain", "X11").of(CARD))
    table = table_of(found.meant, found.written)
    for text, _ in labels(6, 8):
        got = Garble(layout, "Caps Lock of letters", "X11").of(text)
        assert text in candidates(HeardScan(got, got), table)


def test_what_was_taught_replaces_what_the_pc_writes_and_nothing_else() -> None:
    found = taught(Garble("FR", "plain", "X11").of(CARD))
    table = table_of(found.meant, found.written)
    assert {table[got] for got in table} == QR_CHARACTERS - {" "}
    assert (table["à"], table["Q"], table["A"], table["!"], table["M"]) == ("0", "A", "Q", "/", ":")


@pytest.mark.parametrize("garble", GARBLES, ids=str)
def test_the_card_under_every_known_garble_teaches_or_says_why_not_br_01_br_93(garble: Garble) -> None:
    found = lesson(typed(garble.of(CARD)))
    if garble.kind == "Shift lost":
        assert isinstance(found, NotTaught)
        assert "Shift" in found.mend
    elif garble.kind.startswith("keypad") and garble.layout == "FR":
        assert isinstance(found, NotTaught)  # a French PC writes keypad digits for the signs as well
    else:
        assert isinstance(found, Taught)
        assert dict(zip(found.meant, found.written, strict=True)) == {
            character: garble.of(character) for character in found.meant
        }


@pytest.mark.parametrize("layout", LAYOUTS)
def test_dead_signs_are_left_out_and_named_br_93(layout: str) -> None:
    found = taught(Garble(layout, "plain", "X11").of(CARD))
    assert found.dead == ("+" if layout in ("DE", "CH") else "")
    assert set(found.meant) == QR_CHARACTERS - {" "} - set(found.dead)
    assert ("+" in found.sentence) is bool(found.dead)


def test_dead_letters_or_digits_are_refused_with_a_hint_br_93() -> None:
    """As on a Vietnamese keyboard, where digits set accents on the vowel before (from memory)."""
    found = not_taught(CARD.replace("4", "").replace("5", ""))
    assert "did not come through whole" in found.sentence
    assert "dead keys" in found.mend


@pytest.mark.parametrize("signs", ["$ * + - . / : ", "$ % * + - . / : : ", "$%*+-./", "$ % * + - . / ", ""])
def test_signs_that_are_lost_or_too_many_are_refused(signs: str) -> None:
    whole = "$ % * + - . / : "
    assert whole in CARD
    assert not isinstance(lesson(typed(CARD.replace(whole, signs))), Taught)


def test_two_characters_that_arrive_as_one_are_refused_by_name() -> None:
    found = not_taught(CARD.replace("$", "4"))
    assert "4 and $" in found.sentence
    assert "United States" in found.mend


def test_a_sign_that_arrives_as_a_blank_is_refused() -> None:
    assert isinstance(lesson(typed(CARD.replace("$", " "))), NotTaught)


def test_a_character_read_two_ways_is_refused() -> None:
    place = CARD.index("H")
    assert "whole" in not_taught(CARD[:place] + "X" + CARD[place + 1 :]).sentence
    assert "whole" in not_taught("Ü" + CARD[1:]).sentence


def test_on_a_matching_pc_there_is_nothing_to_put_right() -> None:
    found = taught(CARD)
    assert found.meant == found.written
    assert found.sentence == "The scanner fits this PC as it is."


def test_what_was_learned_is_counted_and_caps_lock_named_br_02() -> None:
    assert taught(Garble("UK", "plain", "X11").of(CARD)).sentence == "The scanner fits this PC as it is."
    german = taught(Garble("DE", "plain", "X11").of(CARD))
    assert german.sentence.startswith("6 characters arrive as others on this PC")
    small = taught(CARD.lower())
    assert small.letters_are_small
    assert "Caps Lock" in small.sentence


def test_a_card_known_by_its_key_places_alone_teaches_that_the_layout_does_not_matter() -> None:
    found = lesson(HeardScan("", CARD))
    assert found == Taught("", "")
    assert not found.letters_are_small
    assert lesson(HeardScan(CARD.replace("4", ""), CARD)) == Taught("", "")


def test_the_text_teaches_even_where_key_places_are_known() -> None:
    """A scanner set to German on a United States PC: the places are those of the wrong characters."""
    got = CARD.translate(str.maketrans("YZ", "ZY"))
    found = lesson(HeardScan(got, got))
    assert isinstance(found, Taught)
    table = table_of(found.meant, found.written)
    assert "V1YZ" in candidates(HeardScan("V1ZY", "V1ZY"), table)


@pytest.mark.parametrize("prefix", ["]Q1", "\x1d", "+Q1", "$A&", "]q1"])
def test_what_the_scanner_puts_in_front_is_no_hindrance_br_14(prefix: str) -> None:
    assert taught(prefix + CARD).meant == taught(CARD).meant


@pytest.mark.parametrize("text", ["", "A", CARD[:40], CARD[:89], CARD[1:], CARD + "A", CARD * 2, "V1" + "0" * 36])
def test_anything_else_is_no_set_up_card(text: str) -> None:
    assert lesson(typed(text)) is None


def test_no_code_of_a_site_is_taken_for_the_set_up_card() -> None:
    texts = [*READER.known.meaning, *(text for text, _ in labels(3, 50))]
    assert all(lesson(HeardScan(text, text)) is None for text in texts)


@given(st.text(max_size=120))
def test_no_text_whatever_makes_it_stumble(text: str) -> None:
    assert lesson(typed(text)) is None
    found = lesson(typed(f"U1ABCDE{text}EDCBA"))
    assert found is None or isinstance(found, NotTaught)


def test_what_is_kept_can_be_written_down_and_taken_up_again() -> None:
    found = taught(Garble("ES", "plain", "X11").of(CARD))
    kept = json.loads(json.dumps([found.meant, found.written]))
    assert table_of(*kept) == table_of(found.meant, found.written)
    with pytest.raises(ValueError, match="argument"):
        table_of("AB", "A")
