"""The set-up card typed by key place on layouts that no table here has, on a real X display."""

import pytest

from station.bootstrap import DEMO_KEYS
from station.labels.plaincodes import set_up_text
from station.scanning.calibration import Taught, lesson, table_of
from station.scanning.heard import HeardScan, candidates
from station.services.reading import Reader
from tests.care.bench import site_t

from .display.server import ENTER, Display, Probe, key_names
from .labels import labels

pytestmark = pytest.mark.display

# Czech moves all digits, Turkish two letters and signs, Swedish and Portuguese have dead keys, Belgian moves letters
# and digits. By xkb's names.
LAYOUTS = ["cz", "tr", "se", "pt", "be"]
READER = Reader(site_t(), DEMO_KEYS)


def typed(probe: Probe, display: Display, text: str) -> HeardScan:
    """What the program hears, without the key places: a dead key composed in a text field loses them anyway."""
    display.press([*key_names(text), ENTER])
    (event,), _ = probe.outcome()
    assert event["kind"] == "scan"
    assert event["by_place"] in (text, None)
    return HeardScan(event["text"], None)


@pytest.mark.parametrize("target", ["button", "line"])
@pytest.mark.parametrize("layout", LAYOUTS)
def test_one_scan_of_the_card_teaches_a_layout_nobody_wrote_down_br_01(
    probe: Probe, display: Display, layout: str, target: str
) -> None:
    display.layout(layout)
    assert probe.ask(f"focus {target}")["focus"]
    found = lesson(typed(probe, display, set_up_text()))
    assert isinstance(found, Taught)
    table = table_of(found.meant, found.written)
    for text, meant in labels(5, 3):
        heard = typed(probe, display, text)
        assert READER.read(candidates(heard, table)) == meant
