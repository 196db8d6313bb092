"""The identity label of a container, as it is stuck on at receiving."""

from datetime import date

import pytest

from station.care.words import Alloy
from station.labels.builtin import builtin_templates
from station.labels.containercode import pack_container
from station.labels.content import LabelContent
from station.labels.identity import identity_content, identity_template
from station.labels.keys import KeyRing
from station.labels.raster import render

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


@pytest.mark.parametrize("name", ["60x40", "50x25"])
@pytest.mark.parametrize("dpi", [203, 300, 600])
@pytest.mark.parametrize("alloy", list(Alloy))
def test_it_fits_and_reads_back_on_every_stock_and_printer(name: str, dpi: int, alloy: Alloy) -> None:
    template = identity_template(builtin_templates()[name])
    image = render(template, content(alloy, tip_down=True, lot="LOT-2026-0118-B"), dpi)
    assert image.width == int(template.width_mm * dpi / 25.4)


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
