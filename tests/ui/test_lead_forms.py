"""What a lead says at the desk through the forms, and what is on record and on the screen after it."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import TypeVar

import pytest
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from station.care.state import Container
from station.care.words import Card
from station.labels.containercode import container_numbers, pack_container
from station.labels.plaincodes import TagKind, badge_text, tag_text
from station.scanning.heard import HeardScan
from station.ui.desk_work import DeskWork
from station.ui.dialogs.correct_dialog import CorrectDialog, CorrectWord
from station.ui.dialogs.late_dialog import LateDialog, LateWord
from station.ui.dialogs.lot_dialogs import HoldLotDialog, HoldLotWord, ReleaseLotDialog, ReleaseLotWord
from station.ui.dialogs.recertify_dialog import RecertifyDialog
from station.ui.dialogs.sheet import MoreDialog, ReadDialog
from station.ui.dialogs.take_back_dialog import TakeBackDialog, TakeBackWord
from station.ui.dialogs.version_dialog import VersionDialog, VersionWord
from station.ui.present.desk_groups import group_offers
from station.ui.present.lead_offers import lead_offers
from station.ui.view_models import Tone, VerdictModel
from station.ui.window import StationWindow
from tests.care.bench import Bench
from tests.care.leading import newer
from tests.care.places import site_d
from tests.ui.plants import Plant, mid_shift

Dialog = TypeVar("Dialog", bound=QWidget)


@pytest.fixture
def plant() -> Plant:
    return mid_shift()


@pytest.fixture
def desk(plant: Plant, qtbot: QtBot) -> Iterator[StationWindow]:
    shown = StationWindow(plant.work, None)
    qtbot.addWidget(shown)
    shown.resize(1024, 768)
    shown.show()
    shown.hear(HeardScan(tag_text(TagKind.PLACE, "DESK"), ""))
    yield shown
    shown.close()


def scan(window: StationWindow, plant: Plant, name: str) -> None:
    plant.clock.go_on(timedelta(seconds=4))
    text = pack_container(*container_numbers(plant.names[name]), plant.station.keys)
    window.hear(HeardScan(text, text))


def the(window: StationWindow, kind: type[Dialog]) -> Dialog:
    found = [dialog for dialog in window.findChildren(kind) if dialog.isVisible()]
    assert found, f"no {kind.__name__} is open"
    return found[-1]


def verdict(window: StationWindow) -> VerdictModel:
    assert window.view.model is not None
    assert window.view.model.verdict is not None
    return window.view.model.verdict


def offered(window: StationWindow) -> list[str]:
    return [button.action_model.label for button in the(window, MoreDialog).buttons]


def touch(window: StationWindow, label: str) -> None:
    """Touch a button of the screen, or of the form that is open."""
    on_screen = window.view.action_grid.buttons
    forms = [dialog for dialog in window.findChildren(MoreDialog) if dialog.isVisible()]
    buttons = forms[-1].buttons if forms else on_screen
    next(button for button in buttons if button.action_model.label == label).click()


def container(plant: Plant, name: str) -> Container:
    return plant.station.ledger.containers[plant.names[name]]


# ---------------------------------------------------------------------- what is offered


def test_without_a_scan_the_desk_offers_what_is_said_of_any(desk: StationWindow) -> None:
    touch(desk, "More")
    said = ["Take back last act", "Hold lot", "Re-certify lot", "Warm-up figures"]
    said += [offer.label for offer in group_offers()]
    assert offered(desk) == said
    said = [part.text() for part in the(desk, MoreDialog).findChildren(QLabel)]
    assert any(text.startswith("Scan a container first") for text in said)


def test_of_a_container_in_the_cold_a_missed_take_out_can_be_told(desk: StationWindow, plant: Plant) -> None:
    scan(desk, plant, "a6")
    touch(desk, "More")
    assert offered(desk)[:2] == ["Taken out earlier", "Correct receipt"]
    assert "Take back last act" not in offered(desk)


def test_of_one_that_is_out_it_can_not(desk: StationWindow, plant: Plant) -> None:
    scan(desk, plant, "a2")
    touch(desk, "More")
    assert "Taken out earlier" not in offered(desk)
    assert "Take back last act" in offered(desk)


def test_the_shelf_is_no_cold_storage(desk: StationWindow, plant: Plant) -> None:
    scan(desk, plant, "r1")
    touch(desk, "More")
    assert "Taken out earlier" not in offered(desk)


def test_a_touch_leads_on_to_its_form_and_leaving_it_records_nothing(desk: StationWindow, plant: Plant) -> None:
    scan(desk, plant, "a6")
    before = plant.station.ledger.latest_at
    touch(desk, "More")
    touch(desk, "Correct receipt")
    the(desk, CorrectDialog).leave()
    assert not desk.dialogs.busy
    assert plant.station.ledger.latest_at == before


def test_paste_filled_here_has_no_receipt_to_correct_and_the_lot_of_its_source() -> None:
    bench = Bench(site_d())
    jar = bench.on_line()
    bench.later(1).scan(jar, "BENCH")
    bench.card(Card.DECANT, "BENCH")
    labels = {offer.label: offer.hint for offer in lead_offers(bench.floor, bench.container("K7-002"))}
    assert "Correct receipt" not in labels
    assert labels["Hold lot"] == "101"


# ---------------------------------------------------------------------- late, correction, take back


def interval(plant: Plant) -> tuple[datetime, datetime]:
    now = plant.station.floor().now
    return now - timedelta(hours=8), now - timedelta(hours=6)


def test_a_late_take_out_prints_its_label_and_says_from_when_it_may_be_used(desk: StationWindow, plant: Plant) -> None:
    name, sent = plant.names["a6"], len(plant.printer.sent)
    desk.act(f"late:{name}")
    word = LateWord("P20", "2020", "the logger shows the door", *interval(plant))
    the(desk, LateDialog).offered.emit(word)
    assert verdict(desk).headline.startswith("NOT BEFORE ")
    assert "at the earliest" in verdict(desk).why
    assert container(plant, "a6").out_from is not None
    assert len(plant.printer.sent) == sent + 1
    assert not desk.dialogs.busy


def test_a_time_before_it_was_put_away_is_said_in_the_form_and_records_nothing(
    desk: StationWindow, plant: Plant
) -> None:
    desk.act(f"late:{plant.names['a6']}")
    dialog = the(desk, LateDialog)
    now = plant.station.floor().now
    dialog.offered.emit(LateWord("P20", "2020", "guessed", now - timedelta(days=30), now))
    assert "can't have been taken out before" in dialog.sentence.text()
    assert dialog.isVisible()
    assert container(plant, "a6").out_from is None


def test_what_bounds_a_late_take_out_stands_in_its_form(desk: StationWindow, plant: Plant) -> None:
    desk.hear(HeardScan(tag_text(TagKind.PLACE, "LINE1"), ""))
    scan(desk, plant, "a6")
    desk.act(f"late:{plant.names['a6']}")
    said = " ".join(part.text() for part in the(desk, LateDialog).findChildren(QLabel))
    assert "Put away Wed 11 Nov 14:11. Seen outside 14:05." in said


def test_a_corrected_receipt_is_on_record_beside_the_wrong_one(desk: StationWindow, plant: Plant) -> None:
    desk.act(f"correct:{plant.names['a6']}")
    the(desk, CorrectDialog).offered.emit(CorrectWord("P20", "2020", "read 121 for 112", lot="26-112"))
    assert container(plant, "a6").lot == "26-112"
    assert verdict(desk).headline == "CORRECTED"


def test_a_correction_that_changes_nothing_is_refused_in_the_form(desk: StationWindow, plant: Plant) -> None:
    desk.act(f"correct:{plant.names['a6']}")
    dialog = the(desk, CorrectDialog)
    dialog.offered.emit(CorrectWord("P20", "2020", "nothing"))
    assert "Nothing differs" in dialog.sentence.text()


def test_the_last_act_on_a_line_is_named_and_taken_back(desk: StationWindow, plant: Plant) -> None:
    desk.act("take-back:")
    dialog = the(desk, TakeBackDialog)
    hints = [button.action_model.hint for button in dialog.acts.buttons]
    assert "K1 002 on line 1, 10:05" in hints
    dialog.offered.emit(TakeBackWord("P20", "2020", "scanned at the wrong line", "position:1"))
    assert verdict(desk).headline == "TAKEN BACK"
    bead = plant.station.ledger.positions["1"].bead
    assert bead is not None
    assert len(bead.portions) == 1


def test_a_removed_bead_is_offered_where_its_container_is_scanned(desk: StationWindow, plant: Plant) -> None:
    desk.hear(HeardScan(tag_text(TagKind.PLACE, "LINE1"), ""))
    plant.clock.go_on(timedelta(seconds=4))
    desk.act("card:REMOVE")
    desk.act(f"take-back:{plant.names['a2']}")
    labels = [button.action_model.label for button in the(desk, TakeBackDialog).acts.buttons]
    assert "Bead removed" in labels


# ---------------------------------------------------------------------- lots


def hold(desk: StationWindow, plant: Plant) -> None:
    desk.act(f"hold-lot:{plant.names['a2']}")
    dialog = the(desk, HoldLotDialog)
    dialog.offered.emit(HoldLotWord("P20", "2020", "supplier's letter", "SN-4", dialog.which.lot.text))


def test_what_a_hold_reached_is_shown_after_it_is_said(desk: StationWindow, plant: Plant) -> None:
    hold(desk, plant)
    said = [part.text() for part in the(desk, ReadDialog).findChildren(QLabel)]
    assert "K1 002, open, on line 1" in said
    assert "Line 1 since 06:06: STILL ON. Stop and scrape it off." in said
    assert "WO8836" in said
    the(desk, ReadDialog).hand_in.click()
    assert verdict(desk).headline == "LOT 26-118 OF SN-4 ON HOLD"
    assert all(container(plant, name).held for name in ("a1", "a2", "a3"))
    assert not container(plant, "a4").held


def test_a_lot_that_nobody_knows_is_asked_about_before_it_is_held(desk: StationWindow, plant: Plant) -> None:
    """One finger beside SN-4 holds a lot of another paste, and the paste that was meant goes on being printed."""
    desk.act(f"hold-lot:{plant.names['a2']}")
    which = the(desk, HoldLotDialog).which
    assert "line 1" in which.lot.remark.text()
    which.paste.choose("BI-2")
    assert which.lot.remark.text() == "No BI-2 of this lot is on record here. Are paste and lot right?"


def test_where_a_container_was_seen_is_said_by_the_name_of_the_place(desk: StationWindow, plant: Plant) -> None:
    hold(desk, plant)
    said = [part.text() for part in the(desk, ReadDialog).findChildren(QLabel)]
    assert "K1 003, ready, last seen at Paste refrigerator" in said


def test_a_bead_of_a_held_lot_stands_out_on_the_board(desk: StationWindow, plant: Plant) -> None:
    hold(desk, plant)
    rows = {row.title: row for row in plant.work.screen().board.rows}
    assert (rows["LINE 1 BEAD"].caption, rows["LINE 1 BEAD"].tone) == ("paste on hold", Tone.PAST)
    assert rows["LINE 2A BEAD"].tone is not Tone.PAST


def test_a_wrong_pin_holds_no_lot_and_shows_no_reach(desk: StationWindow, plant: Plant) -> None:
    desk.act("hold-lot:")
    dialog = the(desk, HoldLotDialog)
    dialog.offered.emit(HoldLotWord("P20", "1111", "because", "SN-4", "26-118"))
    assert "PIN" in dialog.sentence.text()
    assert plant.station.ledger.lots == {}


def test_a_held_lot_is_released_from_the_desk(desk: StationWindow, plant: Plant) -> None:
    hold(desk, plant)
    the(desk, ReadDialog).leave()
    touch(desk, "More")
    assert {"Release lot", "What it reached"} <= set(offered(desk))
    touch(desk, "Release lot")
    dialog = the(desk, ReleaseLotDialog)
    (button,) = dialog.holds.buttons
    assert button.action_model.hint == "14:05, supplier's letter"
    dialog.offered.emit(ReleaseLotWord("P20", "2020", "judged good", button.action_model.id))
    assert not container(plant, "a3").held
    assert verdict(desk).headline == "LOT RELEASED"


def test_a_lot_of_another_container_offers_no_release(desk: StationWindow, plant: Plant) -> None:
    hold(desk, plant)
    the(desk, ReadDialog).leave()
    scan(desk, plant, "a6")
    touch(desk, "More")
    assert "Release lot" not in offered(desk)


def recertified(desk: StationWindow, plant: Plant, engineer: tuple[str, str]) -> RecertifyDialog:
    desk.act(f"recertify:{plant.names['p1']}")
    dialog = the(desk, RecertifyDialog)
    for badge, pin in (("P20", "2020"), engineer):
        desk.hear(HeardScan(badge_text(badge), ""))
        for digit in pin:
            dialog.pad.touch(digit)
    dialog.expires.fill("2027-06-30")
    dialog.document.fill("letter 26-7")
    dialog.hand_in.click()
    return dialog


def test_a_lot_gets_its_new_expiry_by_two_scanned_badges_and_their_pins(desk: StationWindow, plant: Plant) -> None:
    recertified(desk, plant, ("P30", "3030"))
    assert verdict(desk).headline == "NEW EXPIRY"
    end = container(plant, "p1").shelf_end
    assert end is not None
    assert end.astimezone(plant.station.site.zone).date().isoformat() == "2027-06-30"


def test_a_new_expiry_is_asked_with_the_old_one_in_sight_and_stops_no_line(desk: StationWindow, plant: Plant) -> None:
    desk.act(f"recertify:{plant.names['a2']}")
    which = the(desk, RecertifyDialog).which
    assert which.lot.remark.text() == "3 containers of it here, which may be used until 28 Feb 2027 now."
    which.paste.choose("RT-3")
    assert which.lot.remark.text().startswith("No RT-3 of this lot is on record here.")


def test_one_wrong_pin_of_two_moves_no_shelf_life(desk: StationWindow, plant: Plant) -> None:
    before = container(plant, "p1").shelf_end
    dialog = recertified(desk, plant, ("P30", "3131"))
    assert "PIN" in dialog.sentence.text()
    assert dialog.isVisible()
    assert container(plant, "p1").shelf_end == before


# ---------------------------------------------------------------------- versions


@pytest.fixture
def looser(qtbot: QtBot) -> Iterator[tuple[StationWindow, Bench, str]]:
    """A ready jar, and a newer version of its specification with a longer room life."""
    bench = Bench()
    jar = bench.ready()
    newer(bench, room_life=timedelta(days=30))
    window = StationWindow(DeskWork(bench.station), None)
    qtbot.addWidget(window)
    window.show()
    yield window, bench, jar
    window.close()


def test_the_desk_says_whose_times_another_version_would_change(looser: tuple[StationWindow, Bench, str]) -> None:
    window, _, jar = looser
    window.act("more:")
    said = " ".join(part.text() for part in the(window, MoreDialog).findChildren(QLabel))
    assert f"would change the times of {jar.replace('-', ' ')}." in said


def test_the_tighter_version_which_holds_is_chosen_beforehand(looser: tuple[StationWindow, Bench, str]) -> None:
    window, _, jar = looser
    window.act(f"version:{jar}")
    dialog = the(window, VersionDialog)
    first, second = dialog.versions.buttons
    assert (first.action_model.label, dialog.versions.chosen) == ("Version 1", "1")
    assert first.action_model.hint.endswith("as it is now")
    assert second.action_model.label == "Version 2"


def test_a_lead_puts_the_looser_version_in_force_for_one_container(looser: tuple[StationWindow, Bench, str]) -> None:
    window, bench, jar = looser
    before = bench.container(jar).room_end
    window.act(f"version:{jar}")
    the(window, VersionDialog).offered.emit(VersionWord("P20", "2020", "new data sheet", 2))
    after = bench.container(jar).room_end
    assert before is not None
    assert after is not None
    assert after - before == timedelta(days=23)
    assert verdict(window).why.startswith("SN-4 version 2 holds for")


def test_where_no_version_differs_none_is_offered(desk: StationWindow, plant: Plant) -> None:
    scan(desk, plant, "a2")
    touch(desk, "More")
    assert "Other version" not in offered(desk)


# ---------------------------------------------------------------------- of nothing


@pytest.mark.parametrize("act", ["late", "correct", "version", "release-lot", "reach"])
def test_a_form_about_something_that_is_gone_does_not_open(desk: StationWindow, act: str) -> None:
    desk.act(f"{act}:K9-999")
    assert not desk.dialogs.busy


def test_a_lot_on_hold_is_not_released_container_by_container(desk: StationWindow, plant: Plant) -> None:
    hold(desk, plant)
    the(desk, ReadDialog).leave()
    scan(desk, plant, "a2")
    labels = [button.action_model.label for button in desk.view.action_grid.buttons]
    assert "Release" not in labels
    assert container(plant, "a2").held
