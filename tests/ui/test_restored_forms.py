"""After a restore the desk says so until the last hold is released; what was counted goes by one form."""

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from station.care import after_restore
from station.labels.plaincodes import TagKind, tag_text
from station.scanning.heard import HeardScan
from station.services.outcome import Outcome
from station.ui.desk_work import DeskWork
from station.ui.dialogs.lead_dialog import LeadDialog, LeadWord
from station.ui.dialogs.rows_dialog import RowsDialog
from station.ui.window import StationWindow
from tests.care.bench import LEAD, LEAD_PIN
from tests.care.test_after_restore import Restored, cold_morning, count
from tests.ui.test_day_forms import the, words

pytestmark = pytest.mark.qt_log_ignore("does not support propagateSizeHints")


@pytest.fixture
def morning() -> tuple[Restored, list[str]]:
    bench, jars = cold_morning()
    count(bench, *jars[:2])
    return bench, jars


@pytest.fixture
def desk(morning: tuple[Restored, list[str]], qtbot: QtBot) -> Iterator[StationWindow]:
    bench, _ = morning
    work = DeskWork(bench.station)
    work.started(Outcome(None, trouble=f"{bench.told} The settings are odd."))
    shown = StationWindow(work, None)
    qtbot.addWidget(shown)
    shown.resize(1024, 768)
    shown.show()
    shown.hear(HeardScan(tag_text(TagKind.PLACE, "DESK"), ""))
    yield shown
    shown.close()


def test_the_day_list_leads_to_the_form_that_releases_what_was_counted(
    desk: StationWindow, morning: tuple[Restored, list[str]]
) -> None:
    bench, jars = morning
    desk.act("day-list")
    rows = the(desk, RowsDialog)
    assert "2 containers on hold since the restore, counted in store since" in words(rows)
    assert "1 container on hold since the restore, not counted in store since" in words(rows)
    rows.buttons[0].click()
    form = the(desk, LeadDialog)
    assert form.title == "Release 2 containers counted since the restore"
    assert "unopened and bears no time label of after the backup" in words(form)
    form.offered.emit(LeadWord(LEAD, "0000", "looked at each"))
    assert [bool(bench.container(jar).holds) for jar in jars] == [True] * 4
    form.offered.emit(LeadWord(LEAD, LEAD_PIN, "looked at each"))
    assert [bool(bench.container(jar).holds) for jar in jars] == [False, False, True, True]
    desk.act("restored")
    assert [dialog for dialog in desk.findChildren(LeadDialog) if dialog.isVisible()] == []


def test_the_banner_stands_until_the_last_hold_is_released(
    desk: StationWindow, morning: tuple[Restored, list[str]]
) -> None:
    bench, jars = morning
    banner = desk.work.screen().banner
    assert banner is not None
    assert banner.text == after_restore.standing(bench.floor)
    for jar in jars:
        bench.release_all(jar)
    after = desk.work.screen().banner
    assert after is not None
    assert after.todo == "The settings are odd."
