"""Labels, cards and tags as every wrong keyboard writes them: read as themselves or refused, never as another.

Measured on a few hundred here, on 20,000 labels in `tests/bench`.
"""

from pathlib import Path
from random import Random

import pytest

from station.bootstrap import DEMO_KEYS
from station.care.scans import UnreadScan
from station.labels.faults import LabelFault
from station.labels.plaincodes import KnownTexts, known_texts
from station.labels.reading import NotRead, read_candidates
from station.scanning.heard import HeardScan, candidates
from station.scanning.layouts import LAYOUTS
from station.services.reading import Reader
from station.settings import load
from tests.care.bench import site_t

from .garbling import GARBLES, GARBLES_OF_LETTERS, Garble, random_texts
from .labels import became, labels

ROOT = Path(__file__).parents[2]
PLANTS = [ROOT / "demo_config", *(ROOT / "tests" / name for name in ("plant_d", "plant_f", "plant_t"))]
READER = Reader(site_t(), DEMO_KEYS)
FEW = 60


@pytest.mark.parametrize("layout", ["US", *LAYOUTS])
def test_every_label_is_read_as_itself_from_the_text_alone_br_01_br_02_br_03_br_12(layout: str) -> None:
    garbles = [garble for garble in GARBLES_OF_LETTERS if garble.layout == layout]
    assert became(READER, labels(1, FEW), garbles) == {"itself": FEW * len(garbles)}


def test_every_label_is_read_as_itself_by_its_key_places_br_01() -> None:
    count = FEW // 3
    found = became(READER, labels(2, count), GARBLES_OF_LETTERS, places=lambda text: text)
    assert found == {"itself": count * len(GARBLES_OF_LETTERS)}


def outcomes(known: KnownTexts, texts: tuple[str, ...], *, places: bool) -> dict[str, int]:
    """How many garbled texts of a closed list became what."""
    found = {"itself": 0, "refused": 0, "another": 0}
    for text in texts:
        for garble in GARBLES:
            heard = HeardScan(garble.of(text), text if places else None)
            reading = read_candidates(candidates(heard), DEMO_KEYS, known)
            itself = (reading.kind, reading.fields) == (known.meaning[text].kind, known.meaning[text].fields)
            found["itself" if itself else "refused" if isinstance(reading, NotRead) else "another"] += 1
    return found


@pytest.mark.parametrize("plant", PLANTS, ids=lambda path: path.name)
def test_every_card_badge_and_tag_of_a_site_is_itself_or_nothing_br_01_br_93(plant: Path) -> None:
    known = Reader(load(plant), DEMO_KEYS).known
    found = outcomes(known, tuple(known.meaning), places=False)
    assert found["another"] == 0
    assert found["itself"] > 0.9 * sum(found.values())


def test_every_card_of_a_site_is_itself_by_its_key_places() -> None:
    found = outcomes(READER.known, tuple(READER.known.meaning), places=True)
    assert (found["another"], found["refused"]) == (0, 0)


@pytest.mark.parametrize("seed", range(3))
def test_tags_with_the_most_awkward_ids_are_never_another_br_93(seed: int) -> None:
    """All of the characters that layouts move, and the one that is a dead key on German and Swiss keyboards."""
    ids = tuple(random_texts(Random(seed), "YZAQWM+-:/ 14AEO", 60, 1, 6))
    known = only_good(ids)
    found = outcomes(known, tuple(known.meaning)[-60:], places=False)
    assert found["another"] == 0
    assert found["itself"] > found["refused"]


def only_good(ids: tuple[str, ...]) -> KnownTexts:
    """The closed list of those ids that can be printed."""
    good: list[str] = []
    for id_ in dict.fromkeys(ids):
        try:
            known_texts(bins=[*good, id_])
        except LabelFault:
            continue
        good.append(id_)
    return known_texts(bins=good)


def test_two_tags_that_a_layout_turns_into_each_other_are_refused_and_not_mixed_up_br_01() -> None:
    """Both texts are printed, so from the text alone nobody can tell; by its key places each is itself."""
    known = known_texts(bins=["1YZ", "1ZY"])
    first, second = texts = tuple(known.meaning)[-2:]
    assert Garble("DE", "plain", "X11").of(first) == second
    found = outcomes(known, texts, places=False)
    assert found["another"] == 0
    assert found["refused"] > 0
    assert outcomes(known, texts, places=True)["another"] == 0
    assert read_candidates(candidates(HeardScan(first, first)), DEMO_KEYS, known) == known.meaning[first]


def test_a_dead_key_in_an_id_is_refused_with_the_layout_named_br_93() -> None:
    known = known_texts(bins=["A+E"])
    text = next(text for text in known.meaning if "A+E" in text)
    for composing in ("X11", "Windows"):
        got = Garble("DE", "plain", composing).of(text)
        assert "È" in got
        scan = READER.read(candidates(HeardScan(got, None)))
        assert isinstance(scan, UnreadScan)
        assert scan.sentence == "The scanner layout does not match this PC."


def test_every_garble_changes_what_it_should() -> None:
    """Guards the tests above: a garble that changes nothing would prove nothing."""
    text = "V1AYZ:+E4"
    expected = {
        Garble("US", "plain", "X11"): text,
        Garble("US", "Caps Lock of letters", "X11"): "v1ayz:+e4",
        Garble("DE", "plain", "X11"): "V1AZYÖÈ4",
        Garble("FR", "plain", "X11"): "V&QYWM+E'",
        Garble("FR", "keypad", "X11"): "V1QYWM+E4",
        Garble("FR", "Caps Lock of all keys", "X11"): "v1qywm=e4",
        Garble("DE", "Shift lost", "Windows"): "v1azyöé4",
        Garble("CH", "Shift lost", "Windows"): "v1azyöê4",
    }
    assert {garble: garble.of(text) for garble in expected} == expected


def test_a_dead_key_before_what_it_does_not_fit() -> None:
    assert Garble("DE", "plain", "X11").of("A+B+") == "A"
    assert Garble("DE", "plain", "Windows").of("A+B+") == "A`B`"
    assert Garble("DE", "plain", "X11").of("A+ B") == "A`B"
