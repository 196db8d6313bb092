"""What a person at a place sees after a scan, a touch or a while, without any window."""

from collections.abc import Sequence
from datetime import timedelta

import pytest

from station.care import alarms
from station.care.facts import Fact
from station.care.scans import ContainerScan
from station.care.words import Card, Place, Priority, Word
from station.labels.containercode import container_numbers, pack_container
from station.labels.plaincodes import TagKind, card_text, tag_text
from station.services.memory import MemoryJournal
from station.services.ports import Draft, JournalEnvironment
from station.ui.desk_work import DeskWork
from station.ui.view_models import StretchKind, Tone
from tests.ui.plants import Plant, mid_shift


class FullJournal(MemoryJournal):
    """A disk that can be full."""

    def __init__(self) -> None:
        super().__init__()
        self.full = False
        self.room_for: int | None = None

    def append(self, drafts: Sequence[Draft]) -> tuple[Fact, ...]:
        if self.room_for is not None:
            self.full = self.full or self.room_for == 0
            self.room_for = max(0, self.room_for - 1)
        if self.full:
            raise JournalEnvironment("journal-full", "The disk is full. Free some space.", "SQLITE_FULL")
        return super().append(drafts)


@pytest.fixture
def plant() -> Plant:
    return mid_shift()


def code(plant: Plant, name: str) -> str:
    return pack_container(*container_numbers(plant.names[name]), plant.station.keys)


def at(plant: Plant, place: str) -> DeskWork:
    plant.work.heard([tag_text(TagKind.PLACE, place)])
    return plant.work


def test_the_demo_opens_with_containers_in_every_state(plant: Plant) -> None:
    floor = plant.station.floor()
    stages = {floor.stage(found).value for found in floor.ledger.containers.values()}
    assert stages == {"received", "cold", "conditioning", "ready", "open", "ended"}
    assert any(found.held for found in floor.alive())


def test_the_demo_has_an_overdue_alarm_and_one_that_falls_due_within_two_minutes(plant: Plant) -> None:
    before = len(alarms.open_alarms(plant.station.floor()))
    plant.later(timedelta(minutes=2))
    after = alarms.open_alarms(plant.station.floor())
    assert before >= 1
    assert len(after) == before + 1
    assert after[0][1].priority is Priority.HIGH


def test_the_printer_shows_its_bead_first_and_twice_as_tall(plant: Plant) -> None:
    rows = at(plant, "LINE1").screen().board.rows
    assert rows[0].title == "LINE 1 BEAD"
    assert rows[0].tall
    assert not any(row.tall for row in rows[1:])


def test_the_fridge_door_shows_warming_containers_with_time_to_wait(plant: Plant) -> None:
    rows = at(plant, "FRIDGE").screen().board.rows
    warming = [row for row in rows if row.tone is Tone.WAIT]
    assert warming
    assert all(row.caption.startswith("ready ") for row in warming)
    assert all(row.stretches[0].kind is StretchKind.CONDITIONING for row in warming)


def test_a_stop_makes_room_for_the_next_scan_and_is_kept_in_sight_meanwhile(plant: Plant) -> None:
    work = at(plant, "LINE1")
    work.heard([code(plant, "p1")])
    stop = work.screen().verdict
    assert stop is not None
    assert stop.word is Word.STOP
    work.heard([code(plant, "a2")])
    strips = work.screen().strips
    assert len(strips) == 1
    assert "Sn-Pb ON AN Sn-Ag-Cu JOB" in strips[0].text
    plant.later(timedelta(seconds=30))
    assert work.screen().strips == strips
    work.seen(strips[0].id)
    assert work.screen().strips == ()


def test_a_strip_goes_by_itself_when_what_it_asked_for_is_done(plant: Plant) -> None:
    work = at(plant, "LINE1")
    work.heard([code(plant, "a1")])
    plant.clock.go_on(timedelta(seconds=4))
    work.card(Card.EMPTY)
    assert work.screen().strips == (), "open life is over, said the strip; now the jar is used up"


def test_a_use_takes_the_strips_of_its_container_along(plant: Plant) -> None:
    plant.later(timedelta(minutes=3))
    work = at(plant, "LINE1")
    work.heard([code(plant, "a2")])
    plant.clock.go_on(timedelta(seconds=4))
    work.card(Card.REMOVE)
    plant.clock.go_on(timedelta(seconds=4))
    work.heard([code(plant, "a2")])
    shown = work.screen()
    assert shown.verdict is not None
    assert (shown.verdict.word, shown.strips) == (Word.USE, ())


def test_a_bead_taken_off_takes_its_own_strips_along_and_no_others(plant: Plant) -> None:
    plant.later(timedelta(minutes=3))
    work = at(plant, "LINE1")
    for name in ("a2", "p1"):
        plant.clock.go_on(timedelta(seconds=4))
        work.heard([code(plant, name)])
    plant.clock.go_on(timedelta(seconds=4))
    work.card(Card.REMOVE)
    assert [strip.text for strip in work.screen().strips] == ["K1 009 Sn-Pb ON AN Sn-Ag-Cu JOB"]


def test_a_fresh_bead_does_not_wear_the_alarm_of_the_one_before(plant: Plant) -> None:
    plant.later(timedelta(minutes=3))
    work = at(plant, "LINE1")
    assert work.screen().board.rows[0].priority is Priority.HIGH
    work.card(Card.REMOVE)
    plant.clock.go_on(timedelta(seconds=4))
    work.heard([code(plant, "a2")])
    row = work.screen().board.rows[0]
    assert (row.title, row.priority) == ("LINE 1 BEAD", None)
    assert any(alarm.subject == "1" for alarm, _ in alarms.open_alarms(plant.station.floor())), "it waits at the desk"


def test_a_use_does_not_stay_on_the_screen_for_somebody_else_to_believe(plant: Plant) -> None:
    work = at(plant, "LINE3")
    work.heard([code(plant, "b1")])
    assert work.screen().verdict is not None
    plant.later(timedelta(seconds=61))
    assert work.screen().verdict is None


def test_a_use_goes_away_when_its_bead_ends_while_it_is_shown(plant: Plant) -> None:
    plant.later(timedelta(seconds=40))
    work = at(plant, "LINE1")
    work.heard([code(plant, "a2")])
    shown = work.screen().verdict
    assert shown is not None
    assert shown.word is Word.USE
    plant.later(timedelta(seconds=30))
    after = work.screen().verdict
    assert after is None or after.word is not Word.USE


def test_the_opening_check_is_asked_as_a_question_with_two_answers(plant: Plant) -> None:
    work = at(plant, "LINE1")
    work.heard([code(plant, "a3")])
    question = work.screen().question
    assert question is not None
    assert [answer.label for answer in question.answers] == ["Looks good", "Looks bad"]


def test_what_cannot_be_saved_is_shown_as_stop_and_stands_in_a_banner() -> None:
    journal = FullJournal()
    plant = mid_shift(journal)
    work = at(plant, "LINE3")
    journal.full = True
    outcome = work.heard([code(plant, "b1")])
    screen = work.screen()
    assert outcome is None
    assert screen.verdict is not None
    assert screen.verdict.word is Word.STOP
    assert screen.banner is not None
    assert "CANNOT SAVE" in screen.banner.text
    assert "disk is full" in screen.banner.todo


def test_a_limit_that_passes_while_nothing_can_be_saved_sounds_and_leaves_the_panel_alone() -> None:
    """BR-50."""
    journal = FullJournal()
    plant = mid_shift(journal)
    plant.station.acknowledge(tuple(plant.station.ledger.alarms), None)
    work = at(plant, "LINE3")
    journal.full = True
    plant.later(timedelta(minutes=2))
    plant.later(timedelta(seconds=1))
    screen = work.screen()
    assert work.sounding() is Priority.HIGH
    assert screen.verdict is None
    assert screen.strips == ()
    assert screen.banner is not None
    assert "CANNOT SAVE" in screen.banner.text


def test_a_take_out_that_is_on_disk_is_shown_as_done_though_its_label_could_not_be_recorded() -> None:
    journal = FullJournal()
    plant = mid_shift(journal)
    work = at(plant, "FRIDGE")
    work.heard([code(plant, "c2")])
    plant.clock.go_on(timedelta(seconds=4))  # warned of a better one, and insisting
    journal.room_for = 1
    work.heard([code(plant, "c2")])
    screen = work.screen()
    assert plant.station.ledger.containers[plant.names["c2"]].has_been_out
    assert screen.verdict is not None
    assert screen.verdict.word is Word.DONE
    assert screen.banner is not None
    assert "disk is full" in screen.banner.todo


def test_the_banner_goes_when_saving_works_again() -> None:
    journal = FullJournal()
    plant = mid_shift(journal)
    work = at(plant, "LINE3")
    journal.full = True
    work.heard([code(plant, "b1")])
    journal.full = False
    work.heard([code(plant, "b1")])
    assert work.screen().banner is None


def test_the_demo_has_a_syringe_in_its_dispenser_that_can_be_used_and_taken_off(plant: Plant) -> None:
    work = at(plant, "DOTS")
    for outcome, told in ((work.heard([code(plant, "b2")]), "use"), (work.card(Card.DISMOUNT), "dismounted")):
        assert outcome is not None
        assert outcome.verdict is not None
        assert outcome.verdict.code == told


def test_after_a_while_without_a_scan_the_station_goes_home(plant: Plant) -> None:
    work = at(plant, "LINE1")
    plant.later(timedelta(seconds=59))
    assert work.place().id == "LINE1"
    plant.later(timedelta(seconds=3))
    assert work.place().id == "FRIDGE"


def test_a_touched_card_at_a_line_with_one_position_needs_no_tag(plant: Plant) -> None:
    outcome = at(plant, "LINE3").card(Card.PAUSE)
    assert outcome is not None
    assert outcome.verdict is not None
    assert outcome.verdict.code == "paused"
    assert any(action.id == "card:RESUME" for action in plant.work.screen().actions)


def test_a_touched_card_at_a_dual_lane_asks_which_lane(plant: Plant) -> None:
    outcome = at(plant, "LINE2").card(Card.REMOVE)
    assert outcome is not None
    assert outcome.verdict is not None
    assert outcome.verdict.code == "card-alone"


def test_an_incomplete_scan_is_shown_and_changes_nothing(plant: Plant) -> None:
    before = len(list(plant.station.ledger.containers))
    plant.work.incomplete("C1O8J")
    shown = plant.work.screen().verdict
    assert shown is not None
    assert shown.headline == "INCOMPLETE SCAN"
    assert len(list(plant.station.ledger.containers)) == before


def test_silence_by_card_leaves_the_alarm_open_and_quiet(plant: Plant) -> None:
    assert plant.work.sounding() is not None
    plant.work.heard([card_text(Card.SILENCE)])
    assert plant.work.sounding() is None
    assert alarms.open_alarms(plant.station.floor())


def test_the_desk_shows_the_most_urgent_alarm_and_no_clear_button_while_the_bead_is_on(plant: Plant) -> None:
    plant.later(timedelta(minutes=2))
    card = at(plant, "DESK").screen().alarm_cards[0]
    assert card.priority is Priority.HIGH
    clear = next(action for action in card.actions if action.label == "Clear")
    assert not clear.enabled


def test_the_alarm_of_the_container_scanned_at_the_desk_comes_first(plant: Plant) -> None:
    plant.later(timedelta(minutes=2))
    work = at(plant, "DESK")
    assert "bead on line 1" in work.screen().alarm_cards[0].title
    work.heard([code(plant, "a1")])
    assert work.screen().alarm_cards[0].title.startswith("K1 001 is past its open life by")


def test_a_removed_bead_is_told_in_the_past_and_its_overrun_stops_growing(plant: Plant) -> None:
    plant.later(timedelta(minutes=6))
    at(plant, "LINE1").card(Card.REMOVE)
    plant.later(timedelta(minutes=30))
    titles = [card.title for card in at(plant, "DESK").screen().alarm_cards]
    assert "The bead on line 1 was past its stencil life by 5 min" in titles


def test_a_held_container_scanned_at_the_desk_offers_its_release(plant: Plant) -> None:
    work = at(plant, "DESK")
    work.scanned(ContainerScan(plant.names["a5"]))
    releases = [action for action in work.screen().actions if action.id.startswith("release:")]
    assert [action.hint for action in releases] == ["looked bad when opened"]


def test_a_clock_set_back_stands_in_a_banner_until_a_lead_confirms(plant: Plant) -> None:
    plant.clock.step(timedelta(hours=-2))
    plant.work.tick()
    banner = at(plant, "DESK").screen().banner
    assert banner is not None
    assert "120 min back" in banner.text
    assert any(action.id == "confirm-clock" for action in plant.work.screen().actions)
    plant.station.confirm_clock("P20", "2020")
    assert plant.work.screen().banner is None


def test_a_sleep_of_the_pc_is_said_and_its_time_counted(plant: Plant) -> None:
    """BR-44."""
    before = at(plant, "FRIDGE").screen().board.rows[0].countdown
    plant.clock.sleep(timedelta(minutes=8))
    plant.work.tick()
    screen = plant.work.screen()
    assert screen.banner is not None
    assert "slept for 8 min" in screen.banner.text
    assert screen.board.rows[0].countdown != before
    plant.later(timedelta(seconds=61))
    assert plant.work.screen().banner is None


def test_what_fell_due_while_the_station_was_off_is_said_once_with_true_times(plant: Plant) -> None:
    plant.clock.go_on(timedelta(hours=10))
    plant.work.started(plant.station.tick())
    banner = plant.work.screen().banner
    assert banner is not None
    assert "passed while this station was off" in banner.text
    assert "line 1 Tue 24 Nov 14:06" in banner.text
    plant.work.heard([card_text(Card.SILENCE)])
    plant.work.tick()
    assert plant.work.screen().banner is None


@pytest.mark.parametrize("place", ["FRIDGE", "LINE1", "LINE2", "LINE3", "DESK", "SHELF"])
def test_every_place_has_a_screen_that_names_it_and_the_zone(plant: Plant, place: str) -> None:
    screen = at(plant, place).screen()
    assert plant.station.site.place(place).title in screen.top.place
    assert screen.top.zone == "CET"
    assert screen.place in (Place.FRIDGE, Place.PRINTER, Place.DESK)
