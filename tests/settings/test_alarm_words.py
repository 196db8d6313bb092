"""What a site says to do at its alarms: the words by limit and place, and every slip with its key."""

import pytest

from station.care.reaction_rules import MOST, Reaction
from station.care.words import Limit
from station.settings import load
from tests.settings.folders import DEMO, Folder

OPEN = 'limit = "open life"'
WORDS = 'text = "Call quality, extension 200."'


def test_the_demo_shows_the_table() -> None:
    (told,) = load(DEMO).plant.rules.reactions
    assert (told.limit, told.at_line) == (Limit.STENCIL, True)


def test_words_are_for_both_places_unless_one_is_said(plant_t: Folder) -> None:
    assert load(plant_t.path).plant.rules.reactions == (Reaction(Limit.OPEN, None, "Call quality, extension 200."),)
    told = load(plant_t.edit("site.toml", OPEN, f"{OPEN}\nat_line = false").path).plant.rules.reactions
    assert [one.at_line for one in told] == [False]


def test_a_site_may_say_nothing(plant_t: Folder) -> None:
    assert load(plant_t.edit("site.toml", f"[[alarm]]\n{OPEN}\n{WORDS}\n", "").path).plant.rules.reactions == ()


@pytest.mark.parametrize(
    ("was", "written", "key", "reason"),
    [
        (OPEN, 'limit = "opened life"', "limit", "no such choice"),
        (OPEN, 'limit = "pause"', "limit", "no alarm rings"),
        (OPEN, 'limit = "conditioning"\nat_line = true', "at_line", "away from the lines only"),
        (OPEN, f'{OPEN}\nat_line = "yes"', "at_line", ""),
        (WORDS, f'text = "{"x" * (MOST + 1)}"', "text", "longer"),
        (WORDS, f"{WORDS}\ncall = 1", "call", "no setting has this name"),
        (WORDS, "", "text", "missing"),
        (WORDS, f"{WORDS}\n[[alarm]]\n{OPEN}\n{WORDS}", "limit", "told twice"),
        ("[[alarm]]", "[alarm]", "alarm", "no list of tables"),
    ],
)
def test_a_slip_in_a_table_is_one_fault(plant_t: Folder, was: str, written: str, key: str, reason: str) -> None:
    fault = plant_t.edit("site.toml", was, written).only_fault()
    assert key in fault.key
    assert reason in fault.reason
