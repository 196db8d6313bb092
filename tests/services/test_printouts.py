"""A label is asked for, sent, and confirmed by its first scan; or it failed, or nobody knows. Never is it "printed"."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

import pytest

from station.care import facts as f
from station.care.facts import Fact
from station.care.words import Card
from station.labels.target import Fate, PrintNews
from station.services import printouts
from station.services.label_job import times_by_hand
from station.services.memory import MemoryJournal
from station.services.ports import Draft, JournalEnvironment, JournalTrouble
from tests.care.bench import Bench
from tests.services.slow_printer import SlowPrinter

STOPPED = "Printer queue labels is stopped. Start it again with: cupsenable labels."


class FullDisk(MemoryJournal):
    """A journal whose disk is full for a while."""

    full = False

    def append(self, drafts: Sequence[Draft]) -> tuple[Fact, ...]:
        if self.full:
            raise JournalEnvironment("journal-full", "The disk is full. Free some space.")
        return super().append(drafts)


class Shop:
    """A bench with a slow printer, and one jar taken out whose label is on its way."""

    def __init__(self, journal: MemoryJournal | None = None) -> None:
        self.bench = Bench(journal=journal)
        self.jar = self.bench.cold()
        self.printer = SlowPrinter()
        self.bench.station.target = self.printer
        self.bench.later(11)
        assert self.bench.scan(self.jar, "FRIDGE").code == "taken-out"

    def named(self) -> list[str]:
        """What was recorded of labels since the take-out."""
        names = [fact.body.NAME for fact in self.bench.journal.facts()]
        return [name for name in names[names.index("taken-out") :] if name.startswith("label-")]

    def restart(self) -> tuple[Fact, ...]:
        """The program dies and starts again; what the start records."""
        self.bench.station = self.bench._made()
        self.bench.station.target = self.printer
        return self.bench.station.start("again").facts


def test_the_take_out_waits_for_no_printer_and_its_clock_runs() -> None:
    """BR-26, BR-29."""
    shop = Shop()
    assert shop.named() == ["label-asked"]
    shop.bench.later(600)
    assert shop.named() == ["label-asked"]
    assert shop.bench.container(shop.jar).earliest_use is not None


def test_a_label_handed_to_the_queue_is_sent_at_the_next_tick() -> None:
    """BR-26."""
    shop = Shop()
    shop.printer.answers(Fate.SENT, "printer labels, job labels-1")
    shop.bench.later(0)
    assert shop.named() == ["label-asked", "label-sent"]
    (sent,) = [fact.body for fact in shop.bench.journal.facts() if fact.body.NAME == "label-sent"][-1:]
    assert sent == f.LabelSent(shop.jar, 1, "printer labels, job labels-1")
    assert shop.bench.container(shop.jar).print_confirmed == 0


def test_its_first_scan_is_what_confirms_it() -> None:
    """BR-26: only the code of the label itself, as it was asked for, proves that there is one."""
    shop = Shop()
    shop.printer.answers(Fate.SENT, "printer labels, job labels-1")
    shop.bench.later(0)
    (asked,) = [fact.body for fact in shop.bench.journal.facts() if fact.body.NAME == "label-asked"][-1:]
    assert isinstance(asked, f.LabelAsked)
    shop.bench.station.scan([asked.code], "LINE1")
    assert shop.named() == ["label-asked", "label-sent", "label-confirmed"]


@pytest.mark.parametrize(("fate", "kind"), [(Fate.FAILED, f.LabelFailed), (Fate.UNKNOWN, f.LabelUnknown)])
def test_what_went_wrong_is_on_record_with_its_reason_and_nothing_is_sent_again(
    fate: Fate, kind: type[f.LabelFailed | f.LabelUnknown]
) -> None:
    """BR-28."""
    shop = Shop()
    shop.printer.answers(fate, STOPPED)
    outcome = shop.bench.station.tick()
    assert [fact.body for fact in outcome.facts] == [kind(shop.jar, 1, STOPPED)]
    shop.bench.later(60)
    shop.restart()
    assert len(shop.printer.tickets) == 1
    assert shop.named() == ["label-asked", kind.NAME]


def test_a_label_that_was_sent_may_still_fail() -> None:
    shop = Shop()
    shop.printer.answers(Fate.SENT, "printer labels, job labels-1")
    shop.bench.later(0)
    shop.printer.answers(Fate.FAILED, STOPPED)
    shop.bench.later(1)
    assert shop.named() == ["label-asked", "label-sent", "label-failed"]


def test_a_reprint_is_another_label_with_the_next_number() -> None:
    """BR-28."""
    shop = Shop()
    shop.printer.answers(Fate.UNKNOWN, STOPPED)
    shop.bench.later(1)
    shop.bench.scan(shop.jar, "LINE1")
    assert shop.bench.card(Card.REPRINT, "LINE1").headline == "LABEL 2"
    shop.printer.answers(Fate.SENT, "printer labels, job labels-2")
    shop.bench.later(0)
    assert shop.named() == ["label-asked", "label-unknown", "label-asked", "label-sent"]
    assert shop.bench.container(shop.jar).print_number == 2


def test_news_keep_to_their_own_label() -> None:
    shop = Shop()
    other = shop.bench.receive()
    shop.printer.answers(Fate.FAILED, STOPPED, place=0)
    shop.printer.answers(Fate.SENT, "printer labels, job labels-2", place=1)
    outcome = shop.bench.station.tick()
    assert [fact.body for fact in outcome.facts] == [
        f.LabelFailed(shop.jar, 1, STOPPED),
        f.LabelSent(other, 0, "printer labels, job labels-2"),
    ]


def test_a_program_that_dies_in_between_says_unknown_at_its_next_start_and_once_only() -> None:
    """BR-28."""
    shop = Shop()
    unknown = [fact.body for fact in shop.restart() if isinstance(fact.body, f.LabelUnknown)]
    assert unknown == [f.LabelUnknown(shop.jar, 1, printouts.CUT_OFF)]
    assert [fact for fact in shop.restart() if isinstance(fact.body, f.LabelUnknown)] == []
    assert len(shop.printer.tickets) == 1


@pytest.mark.parametrize(
    "answered",
    [f.LabelSent("", 1, "x"), f.LabelFailed("", 1, "x"), f.LabelUnknown("", 1, "x"), f.LabelConfirmed("", 1)],
)
def test_what_had_its_answer_is_not_called_unknown_after_a_restart(answered: f.LabelSent) -> None:
    shop = Shop()
    shop.bench.tell_own(replace(answered, container=shop.jar))
    assert [fact for fact in shop.restart() if isinstance(fact.body, f.LabelUnknown)] == []


def test_a_label_another_station_asked_for_is_that_stations_affair() -> None:
    shop = Shop()
    shop.bench.tell(f.LabelAsked("K8-5", 1, "a code"))
    unknown = [fact.body for fact in shop.restart() if isinstance(fact.body, f.LabelUnknown)]
    assert [body.container for body in unknown] == [shop.jar]


def test_the_end_of_the_program_waits_a_moment_for_labels_in_line() -> None:
    shop = Shop()
    shop.printer.at_the_end = (PrintNews(shop.printer.tickets[0], Fate.SENT, "printer labels, job labels-1"),)
    shop.bench.station.stop("window closed")
    assert shop.named() == ["label-asked", "label-sent"]
    assert [fact for fact in shop.restart() if isinstance(fact.body, f.LabelUnknown)] == []


def test_labels_the_run_before_sent_and_nobody_scanned_yet_are_looked_for_by_their_job() -> None:
    """BR-26, BR-28: what comes of it is told once; nothing is sent again."""
    shop = Shop()
    shop.bench.tell_own(f.LabelSent(shop.jar, 1, "printer labels, job labels-1", "labels-1"))
    shop.restart()
    assert shop.printer.looked_for == [(shop.jar, 1, "labels-1")]
    shop.printer.untold.append(PrintNews(shop.printer.earlier(), Fate.FAILED, STOPPED))
    shop.bench.later(1)
    assert shop.named() == ["label-asked", "label-sent", "label-failed"]
    shop.restart()
    assert len(shop.printer.looked_for) == 1


def test_a_label_the_run_before_had_no_answer_to_is_unknown_until_it_is_found_in_the_queue() -> None:
    """BR-28."""
    shop = Shop()
    shop.restart()
    assert shop.printer.looked_for == [(shop.jar, 1, "")]
    assert shop.named() == ["label-asked", "label-unknown"]
    shop.printer.untold.append(PrintNews(shop.printer.earlier(), Fate.SENT, "printer labels", job="labels-4"))
    shop.bench.later(1)
    assert shop.named() == ["label-asked", "label-unknown", "label-sent"]
    shop.restart()
    assert shop.printer.looked_for[1:] == [(shop.jar, 1, "labels-4")]


@pytest.mark.parametrize(
    "since", [f.LabelConfirmed("", 1), f.LabelFailed("", 1, STOPPED), f.LabelUnknown("", 1, STOPPED)]
)
def test_a_label_whose_fate_is_on_record_is_not_looked_for(since: f.LabelConfirmed) -> None:
    shop = Shop()
    shop.bench.tell_own(f.LabelSent(shop.jar, 1, "printer", "labels-1"), replace(since, container=shop.jar))
    shop.restart()
    assert shop.printer.looked_for == []


def test_a_restored_journal_has_the_jobs_of_another_pc_which_are_left_alone() -> None:
    shop = Shop()
    shop.bench.tell_own(f.LabelSent(shop.jar, 1, "printer", "labels-1"))
    shop.bench.station = shop.bench._made()
    shop.bench.station.target = shop.printer
    shop.bench.station.start("again", "1-12-" + 64 * "0")
    assert shop.printer.looked_for == []


def test_a_job_of_last_week_is_left_alone_and_no_more_than_some_are_looked_for() -> None:
    shop = Shop()
    shop.bench.tell_own(f.LabelSent(shop.jar, 1, "printer", "labels-1"))
    shop.bench.later((printouts.LOOKED_FOR + timedelta(hours=1)) / timedelta(minutes=1))
    many = printouts.MOST_LOOKED_FOR + 2
    shop.bench.tell_own(
        *(f.LabelSent(shop.jar, number, "printer", f"labels-{number}") for number in range(2, many + 2))
    )
    shop.restart()
    assert [job for _, _, job in shop.printer.looked_for][:: many - 3] == ["labels-4", f"labels-{many + 1}"]


def test_news_that_could_not_be_saved_are_saved_later() -> None:
    """BR-50."""
    journal = FullDisk()
    shop = Shop(journal)
    shop.printer.answers(Fate.FAILED, STOPPED)
    journal.full = True
    with pytest.raises(JournalTrouble):
        shop.bench.station.tick()
    journal.full = False
    shop.bench.later(1)
    shop.bench.later(1)
    assert shop.named() == ["label-asked", "label-failed"]


def test_a_long_day_of_labels_does_not_pile_up() -> None:
    book = printouts.Printouts(7)
    for number in range(printouts.MOST_TICKETS + 5):
        book.on_its_way(f"ticket {number}", "K7-1", number)
    printer = SlowPrinter()
    newest = printouts.MOST_TICKETS + 4
    printer.untold = [PrintNews(f"ticket {number}", Fate.SENT, "printer labels") for number in (0, newest)]
    assert book.news(printer) == (f.LabelSent("K7-1", newest, "printer labels"),)
    assert len(book._tickets) == printouts.MOST_TICKETS


def test_the_three_times_are_there_for_whoever_writes_them_by_hand() -> None:
    shop = Shop()
    container = shop.bench.container(shop.jar)
    told = dict(times_by_hand(shop.bench.floor, container))
    assert told == {
        "thaw start": container.out_to,
        "earliest use": container.earliest_use,
        "discard by": shop.bench.floor.standing(container).discard_by,
    }


def test_what_never_left_the_cold_has_no_times_to_write() -> None:
    bench = Bench()
    assert times_by_hand(bench.floor, bench.container(bench.cold())) == ()
