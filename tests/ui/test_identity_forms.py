"""An identity label once more at the desk, by a typed number."""

from collections.abc import Iterator
from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from station.labels.plaincodes import TagKind, tag_text
from station.scanning.heard import HeardScan
from station.services.site import LabelRule
from station.ui.desk_work import DeskWork
from station.ui.dialogs.identity_dialog import IdentityDialog
from station.ui.window import StationWindow
from tests.care.bench import Bench, site_t

pytestmark = pytest.mark.qt_log_ignore("does not support propagateSizeHints")


@pytest.fixture
def bench() -> Bench:
    site = site_t()
    at_the_line = LabelRule((), ("LINE1",), replace(site.label, dpi=300))
    return Bench(replace(site, label_for=(at_the_line,)))


@pytest.fixture
def form(bench: Bench, qtbot: QtBot) -> Iterator[IdentityDialog]:
    shown = StationWindow(DeskWork(bench.station), None)
    qtbot.addWidget(shown)
    shown.resize(1024, 768)
    shown.show()
    shown.hear(HeardScan(tag_text(TagKind.PLACE, "DESK"), ""))
    shown.act("identity")
    (dialog,) = shown.findChildren(IdentityDialog)
    yield dialog
    shown.close()


def test_it_prints_where_a_person_says(bench: Bench, form: IdentityDialog) -> None:
    bench.cold()
    form.pad.pressed.emit("1")
    form.number.fill("001")
    assert form.place.chosen == "DESK"
    form.place.choose("LINE1")
    form.hand_in.click()
    assert not form.isVisible()
    assert [label.container for label in bench.printer.sent] == ["K7-001", "K7-001"]


def test_a_number_that_is_none_is_said_in_the_form(bench: Bench, form: IdentityDialog) -> None:
    form.hand_in.click()
    assert "Type the number" in form.number.complaint.text()
    form.number.fill("777")
    form.hand_in.click()
    assert form.isVisible()
    assert "777" in form.sentence.text()
    assert bench.printer.sent == []
