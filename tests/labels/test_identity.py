"""The identity label of a container, as it is stuck on at receiving."""

from dataclasses import replace
from datetime import date

import cv2
import numpy
import pytest

from station.care.words import Alloy
from station.labels.builtin import builtin_templates
from station.labels.containercode import pack_container
from station.labels.content import LabelContent
from station.labels.fitting import ArrowMark, TextMark, plan
from station.labels.identity import identity_content, identity_template
from station.labels.keys import KeyRing
from station.labels.raster import render
from tests.labels.samples import content as time_label

KEYS = KeyRing({0: b"a key that signs tests only"}, current=0)


def content(alloy: Alloy = Alloy.SN_AG_CU, *, tip_down: bool = False, lot: str = "26-118") -> LabelContent:
    return identity_content(
        "K7-1311",
        pack_container(7, 1311, KEYS),
        paste="SN-4",
        kind="cartridge 600 g, in its carton",
        tip_down=tip_down,
        alloy=alloy,
        lot=lot,
        expires=date(2027, 3, 31),
    )


@pytest.mark.parametrize("name", ["60x40", "50x25", "40x20"])
@pytest.mark.parametrize("dpi", [203, 300, 600])
@pytest.mark.parametrize("alloy", list(Alloy))
def test_it_fits_and_two_readers_read_it_on_every_stock_and_printer(name: str, dpi: int, alloy: Alloy) -> None:
    template = identity_template(builtin_templates()[name])
    said = content(alloy, tip_down=True, lot="LOT-2026-0118-B")
    image = render(template, said, dpi)
    assert image.width == int(template.width_mm * dpi / 25.4)
    text, _, _ = cv2.QRCodeDetectorAruco().detectAndDecode(numpy.array(image.convert("L")))
    assert text == said.code


@pytest.mark.parametrize(
    ("width", "height", "name"),
    [
        (60, 40, "60x40"),
        (100, 50, "60x40"),
        (60, 30, "50x25"),
        (55, 39, "50x25"),
        (50, 25, "50x25"),
        (49, 25, "40x20"),
        (40, 20, "40x20"),
        (30, 15, "40x20"),
    ],
)
def test_it_never_asks_for_more_stock_than_the_printer_holds(width: float, height: float, name: str) -> None:
    """BR-25: a label larger than the stock would feed a blank one after each print."""
    beside = replace(builtin_templates()["60x40"], width_mm=width, height_mm=height)
    template = identity_template(beside)
    assert (template.name, template.width_mm, template.height_mm) == (f"identity {name}", width, height)


@pytest.mark.parametrize("name", ["60x40", "50x25", "40x20"])
@pytest.mark.parametrize("what", ["time", "identity"])
def test_a_tip_down_container_has_text_upright_and_an_arrow_to_the_lower_edge(name: str, what: str) -> None:
    """Stored tip down, the arrow points to the tip and the text beside it stands upright."""
    times = builtin_templates()[name]
    template = times if what == "time" else identity_template(times)
    down, others = (time_label(tip_down=tip) if what == "time" else content(tip_down=tip) for tip in (True, False))
    planned = plan(template, down, 300)
    arrows = [mark for mark in planned.marks if isinstance(mark, ArrowMark)]
    (words,) = [mark for mark in planned.marks if isinstance(mark, TextMark) and mark.line.text == "TIP DOWN"]
    image = render(template, down, 300)
    assert arrows
    for arrow in arrows:
        left, top, right, bottom = arrow.bounds
        rows = [image.crop((left, row, right, row + 1)).convert("L").histogram()[0] for row in range(top, bottom)]
        assert rows == sorted(rows, reverse=True)
        assert rows[0] > 3 * rows[-1]
        assert top < words.baseline <= bottom + 1
    assert not any(isinstance(mark, ArrowMark) for mark in plan(template, others, 300).marks)


def test_it_names_the_last_three_digits_and_the_day_in_letters() -> None:
    told = content()
    assert told.last_three == "311"
    assert told.discard_day == "31 Mar 2027"


def test_it_says_leaded_loud_and_only_where_it_is() -> None:
    assert content(Alloy.SN_PB).alloy_loud == "LEADED (Pb)"
    assert content(Alloy.SN_AG_CU).alloy_loud == ""


def test_it_has_no_times_because_none_run_yet() -> None:
    told = content()
    assert not told.has_times
    assert (told.thaw_start, told.earliest_use, told.discard_by) == ("", "", "")


def test_a_tip_down_container_says_so() -> None:
    assert content(tip_down=True).tip == "TIP DOWN"
    assert content().tip == ""


def test_a_lot_too_long_for_the_label_is_not_cut_short() -> None:
    template = identity_template(builtin_templates()["50x25"])
    marks = plan(template, content(lot="W" * 30), 203).marks
    lots = [mark.line.text for mark in marks if isinstance(mark, TextMark) and mark.line.text.startswith("lot")]
    assert lots == ["lot: see screen"]
