"""A station that prints on a real print service: from the take-out to the first scan of the label, and its faults."""

import threading
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
import zxingcpp

from station.bootstrap import target_for, template_for
from station.care.facts import LabelFailed
from station.printing.commands import Commands
from station.printing.cups import CupsSpooler
from station.printing.media import Media
from station.printing.print_worker import Patience
from station.printing.queue_target import QueueTarget
from tests.care.bench import Bench
from tests.labels.samples import content
from tests.printing.pages import rasterised
from tests.printing.service import DEADLINE_S, Printer, Service

QUICK = Patience(look_every_s=0.1, idle_every_s=0.1, slow_looks=1, most_looks=20)
PATIENT = Patience(look_every_s=0.1, idle_every_s=0.1, slow_looks=1, most_looks=10_000)
PAUSE_S = 0.05


class Shop:
    """A bench that prints on a queue of the service."""

    def __init__(self, service: Service, within_s: float = DEADLINE_S) -> None:
        self.bench = Bench()
        self.jar = self.bench.cold()
        self._service, self._within_s = service, within_s
        self.target = self._made(PATIENT)
        self.bench.station.target = self.target

    def _made(self, patience: Patience) -> QueueTarget:
        template, dpi = template_for(self.bench.site), self.bench.site.label.dpi
        media = Media(template.width_mm, template.height_mm, dpi)
        spooler = CupsSpooler("labels", media, Commands(self._within_s, self._service.environment))
        return QueueTarget(spooler, template, dpi, patience)

    def restart(self) -> None:
        """The program dies and starts again."""
        self.target.close()
        self.target = self._made(QUICK)
        self.bench.station = self.bench._made()
        self.bench.station.target = self.target
        self.bench.station.start("again")

    def take_out(self) -> None:
        """Take the jar out of the cold."""
        assert self.bench.later(11).scan(self.jar, "FRIDGE").code == "taken-out"

    def labels(self) -> list[str]:
        """What was recorded of labels since the take-out."""
        names = [fact.body.NAME for fact in self.bench.journal.facts()]
        return [name for name in names[names.index("taken-out") :] if name.startswith("label-")]

    def until(self, recorded: str) -> None:
        """Let seconds pass until this is on record."""
        for _ in range(int(DEADLINE_S / PAUSE_S)):
            self.bench.later(1 / 60)
            if recorded in self.labels():
                return
            threading.Event().wait(PAUSE_S)
        raise AssertionError(self.labels())


@pytest.fixture
def shop(service: Service) -> Iterator[Callable[..., Shop]]:
    made: list[Shop] = []

    def make(within_s: float = DEADLINE_S) -> Shop:
        made.append(Shop(service, within_s))
        return made[-1]

    yield make
    for each in made:
        each.target.close()


def test_a_label_is_asked_for_then_sent_and_its_first_scan_proves_it(
    service: Service, label_printer: Printer, shop: Callable[..., Shop], tmp_path: Path
) -> None:
    """BR-26: what comes out of the printer is what the station reads back."""
    service.add_queue("labels", label_printer.port)
    here = shop()
    here.take_out()
    page = rasterised(label_printer.label(), 203, tmp_path)
    here.until("label-sent")
    (found,) = zxingcpp.read_barcodes(page)
    here.bench.station.scan([found.text], "LINE1")
    assert here.labels() == ["label-asked", "label-sent", "label-confirmed"]
    assert label_printer.is_empty


def test_a_hung_print_service_holds_up_neither_answers_nor_clocks(
    service: Service, label_printer: Printer, shop: Callable[..., Shop]
) -> None:
    """BR-29: the take-out is answered, its clock runs, other containers are answered, and then the label is missed."""
    service.add_queue("labels", label_printer.port)
    here = shop(1.0)
    service.hang()
    here.take_out()
    assert here.labels() == ["label-asked"]
    other = here.bench.receive()
    assert here.bench.scan(other, "FRIDGE").code == "put-away"
    ready = here.bench.container(here.jar).earliest_use
    here.until("label-failed")
    assert here.bench.container(here.jar).earliest_use == ready
    reasons = [fact.body.reason for fact in here.bench.journal.facts() if isinstance(fact.body, LabelFailed)]
    assert reasons[0].startswith("The print service did not answer within 1 s.")


def test_a_stopped_queue_leaves_the_clocks_alone_and_the_next_label_leaves_once_it_is_started(
    service: Service, label_printer: Printer, shop: Callable[..., Shop]
) -> None:
    """BR-26, BR-28."""
    service.add_queue("labels", label_printer.port)
    service.run("cupsdisable", "labels")
    here = shop()
    here.take_out()
    here.until("label-failed")
    service.run("cupsenable", "labels")
    here.bench.later(200)
    here.bench.scan(here.jar, "LINE1")
    assert here.labels() == ["label-asked", "label-failed"]
    assert label_printer.is_empty


def test_a_label_that_waited_over_a_restart_is_looked_up_by_its_job_and_taken_back(
    service: Service, shop: Callable[..., Shop]
) -> None:
    """BR-28: the printer was off; nothing comes out hours later as a surprise, and nothing is sent twice."""
    service.add_queue("labels", 9)  # nobody listens there
    here = shop()
    here.take_out()
    here.until("label-sent")
    here.restart()
    assert "labels-1" in service.jobs()
    here.until("label-failed")
    assert here.labels() == ["label-asked", "label-sent", "label-failed"]
    service.await_no_jobs()


def test_the_queue_that_the_settings_name_is_the_one_printed_on(
    service: Service, label_printer: Printer, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    service.add_queue("labels", label_printer.port)
    for name, value in service.environment.items():
        monkeypatch.setenv(name, value)
    site = Bench().site
    target = target_for(replace(site, label=replace(site.label, queue="labels")), tmp_path)
    assert isinstance(target, QueueTarget)
    try:
        target.send(content())
        assert [told.sentence for told in target.last_news(DEADLINE_S)] == ["printer labels, job labels-1"]
    finally:
        target.close()


def test_without_a_queue_labels_go_into_the_folder(tmp_path: Path) -> None:
    target = target_for(Bench().site, tmp_path)
    assert target.send(content()) == str(tmp_path / "labels" / "K7-311-print-1.png")
