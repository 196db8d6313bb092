"""A label that did not come out stands on the screen with its times, until somebody has had the container in hand."""

from datetime import date, timedelta

import pytest

from station.care.receiving import Arrival
from station.care.scans import ContainerScan
from station.care.words import Card, Word
from station.labels.containercode import container_numbers, pack_container
from station.labels.content import LabelContent
from station.labels.faults import LabelFault
from station.labels.plaincodes import TagKind, card_text, tag_text
from station.labels.target import Fate
from station.services.printouts import CUT_OFF
from station.ui.desk_work import DeskWork
from station.ui.label_news import BY_HAND, NAME_BY_HAND
from station.ui.view_models import BannerModel, HealthMark, Tone
from tests.services.slow_printer import SlowPrinter
from tests.ui.plants import Plant, mid_shift

STOPPED = "Printer queue labels is stopped. Start it again with: cupsenable labels."


class NoPaper:
    """A printer that says at once that it has no paper."""

    name = "no paper"

    def send(self, content: LabelContent) -> str:
        """Refuse every label."""
        raise LabelFault("paper", f"The label printer has no paper for {content.paste}.")


@pytest.fixture
def plant() -> Plant:
    """The demo in mid-shift; labels go to a printer that answers when it is told to."""
    made = mid_shift()
    made.station.target = SlowPrinter()
    made.work.health = {"label": HealthMark("Labels", True, "printer labels")}
    return made


def printer(plant: Plant) -> SlowPrinter:
    assert isinstance(plant.station.target, SlowPrinter)
    return plant.station.target


def reprint(plant: Plant, name: str) -> str:
    """Ask for another label of a container that is out; its name as people say it."""
    plant.work.heard([tag_text(TagKind.PLACE, "LINE1")])
    plant.work.heard([pack_container(*container_numbers(plant.names[name]), plant.station.keys)])
    plant.work.heard([card_text(Card.REPRINT)])
    return plant.names[name].replace("-", " ")


def banner(plant: Plant) -> BannerModel:
    found = plant.work.screen().banner
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("fate", "begins"), [(Fate.FAILED, "NO LABEL CAME OUT: "), (Fate.UNKNOWN, "PERHAPS NO LABEL CAME OUT: ")]
)
def test_the_times_of_a_missing_label_are_shown_large_to_be_copied_by_hand(
    plant: Plant, fate: Fate, begins: str
) -> None:
    """BR-26: with the reason, how to mend it, and that the clocks run."""
    name = reprint(plant, "a4")
    assert plant.work.screen().banner is None
    printer(plant).answers(fate, STOPPED)
    plant.later(timedelta(seconds=1))
    shown = banner(plant)
    assert shown.tone is Tone.PAST
    assert shown.text.startswith(f"{begins}{name}, thaw start ")
    assert [word in shown.text for word in ("earliest use Tue 24 Nov", "discard by ")] == [True, True]
    assert shown.todo == f"{STOPPED} {BY_HAND}"


def test_it_stands_while_other_labels_come_out_and_for_hours(plant: Plant) -> None:
    name = reprint(plant, "a3")
    printer(plant).answers(Fate.FAILED, STOPPED)
    plant.later(timedelta(seconds=1))
    reprint(plant, "a2")
    printer(plant).answers(Fate.SENT, "printer labels, job labels-2")
    plant.later(timedelta(hours=2))
    assert name in banner(plant).text


def test_the_newest_of_several_is_shown_and_the_others_are_counted(plant: Plant) -> None:
    reprint(plant, "a3")
    printer(plant).answers(Fate.FAILED, STOPPED)
    plant.later(timedelta(seconds=1))
    newest = reprint(plant, "a2")
    printer(plant).answers(Fate.FAILED, STOPPED)
    plant.later(timedelta(seconds=1))
    assert newest in banner(plant).text
    assert banner(plant).todo.endswith("1 more labels are missing.")


def test_whoever_has_the_container_in_hand_again_was_told_and_a_reprint_that_fails_is_told_anew(plant: Plant) -> None:
    reprint(plant, "a3")
    printer(plant).answers(Fate.FAILED, STOPPED)
    plant.later(timedelta(seconds=1))
    name = reprint(plant, "a3")
    assert plant.work.screen().banner is None
    printer(plant).answers(Fate.FAILED, STOPPED)
    plant.later(timedelta(seconds=1))
    assert name in banner(plant).text


def test_a_later_label_that_leaves_takes_it_off(plant: Plant) -> None:
    reprint(plant, "a3")
    reprint(plant, "a3")
    printer(plant).answers(Fate.FAILED, STOPPED, place=0)
    plant.later(timedelta(seconds=1))
    assert "NO LABEL" in banner(plant).text
    printer(plant).answers(Fate.SENT, "printer labels, job labels-2", place=1)
    plant.later(timedelta(seconds=1))
    assert plant.work.screen().banner is None


def test_a_container_that_is_used_up_needs_no_label(plant: Plant) -> None:
    reprint(plant, "a3")
    printer(plant).answers(Fate.FAILED, STOPPED)
    plant.later(timedelta(seconds=1))
    plant.work.scanned(ContainerScan(plant.names["a3"]))
    plant.work.heard([card_text(Card.DISCARD)])
    assert plant.station.ledger.containers[plant.names["a3"]].ended is not None
    assert plant.work.screen().banner is None


def test_a_printer_that_refuses_at_once_is_told_the_same_way(plant: Plant) -> None:
    plant.station.target = NoPaper()
    name = reprint(plant, "a3")
    assert banner(plant).text.startswith(f"NO LABEL CAME OUT: {name}, opened ")
    assert banner(plant).todo == f"The label printer has no paper for SN-4. {BY_HAND}"


def test_without_an_identity_label_the_number_is_to_be_written(plant: Plant) -> None:
    name = plant.station.new_container()
    now = plant.clock.wall
    arrival = Arrival(name, "SN-4", "JAR-500", "101", date(2027, 3, 31), None, now, 8, "measured", leaking=False)
    plant.work.receive([arrival], None)
    printer(plant).answers(Fate.FAILED, STOPPED)
    plant.later(timedelta(seconds=1))
    told = f"NO LABEL CAME OUT: {name.replace('-', ' ')}."
    assert banner(plant) == BannerModel(told, f"{STOPPED} {NAME_BY_HAND}", Tone.PAST)


def test_after_the_program_died_in_between_the_person_is_told_and_offered_a_reprint(plant: Plant) -> None:
    """BR-28."""
    name = reprint(plant, "a3")
    again = Plant(plant.station, plant.clock, plant.names, DeskWork(plant.station), plant.printer)
    again.work.started(plant.station.start("again"))
    assert banner(again).text.startswith(f"PERHAPS NO LABEL CAME OUT: {name}, opened ")
    assert banner(again).todo == f"{CUT_OFF} {BY_HAND}"
    assert "REPRINT" in BY_HAND


def test_the_printer_that_has_trouble_says_so_below_the_screen_and_says_no_more_once_it_is_mended(
    plant: Plant,
) -> None:
    """BR-27: no green mark beside a printer that does not answer."""
    printer(plant).against = STOPPED
    (mark,) = plant.work.screen().top.health
    assert (mark.ok, mark.text) == (False, STOPPED)
    printer(plant).against = ""
    (mark,) = plant.work.screen().top.health
    assert (mark.ok, mark.text) == (True, "printer labels")


def test_countdowns_and_answers_go_on_while_a_label_is_under_way(plant: Plant) -> None:
    """BR-29."""
    reprint(plant, "a3")
    before = plant.work.screen().board.rows
    plant.later(timedelta(minutes=1))
    after = plant.work.screen().board.rows
    assert [row.countdown for row in before] != [row.countdown for row in after]
    plant.work.heard([tag_text(TagKind.PLACE, "LINE2")])
    outcome = plant.work.heard([pack_container(*container_numbers(plant.names["a2"]), plant.station.keys)])
    assert outcome is not None
    assert outcome.verdict is not None
    assert outcome.verdict.word in set(Word)
