"""A queue as a target: what is told of each label, whatever the print service does, and in what order."""

import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace

import pytest

from station.care.words import Alloy
from station.labels.builtin import builtin_templates
from station.labels.faults import LabelFault
from station.labels.identity import identity_content
from station.labels.sheet_codes import SheetCode
from station.labels.target import Fate, PrintNews, SlowTarget
from station.printing.print_worker import MAY_COME, Patience
from station.printing.queue_target import QueueTarget
from station.printing.spooler import Drawn, JobLook, UnknownFate
from tests.labels.samples import content

TEMPLATE = builtin_templates()["60x40"]
WITHIN_S = 20
QUICK = Patience(look_every_s=0.01, idle_every_s=0.01, slow_looks=2, most_looks=4)
STOPPED = LabelFault("stopped", "Printer queue labels is stopped. Start it again with: cupsenable labels.")
HUNG = LabelFault("service-hung", "The print service did not answer within 8 s. Start it anew.")


@dataclass
class Scripted:
    """A print service that does as it is told; `done` lists what it was asked to do with labels."""

    name: str = "labels"
    against: LabelFault | None = None
    refuses: Exception | None = None
    seen: Callable[[], JobLook] = lambda: JobLook(waiting=False)
    cancels: bool = True
    told: tuple[str, ...] = ()
    waits_as: str | None = None
    done: list[str] = field(default_factory=list)
    gate: threading.Event = field(default_factory=threading.Event)

    def __post_init__(self) -> None:
        self.gate.set()

    def trouble(self) -> LabelFault | None:
        self.gate.wait(WITHIN_S)
        return self.against

    def hand_over(self, label: Drawn) -> str:
        assert (label.pdf[:4], label.png[1:4], label.dpi) == (b"%PDF", b"PNG", 203)
        self.done.append(f"print {label.title}")
        if self.refuses is not None:
            raise self.refuses
        return f"labels-{len(self.done)}"

    def look(self, job: str, title: str) -> JobLook:
        assert job.startswith("labels-")
        assert title.startswith(("K7-311-", "Command card "))
        return self.seen()

    def find(self, title: str) -> str | None:
        self.done.append(f"find {title}")
        if self.refuses is not None:
            raise self.refuses
        return self.waits_as

    def cancel(self, job: str) -> bool:
        self.done.append(f"cancel {job}")
        return self.cancels

    def warnings(self) -> tuple[str, ...]:
        return self.told

    def close(self) -> None:
        self.gate.set()


Make = Callable[[Scripted], QueueTarget]


@pytest.fixture
def target() -> Iterator[Make]:
    made: list[QueueTarget] = []

    def make(service: Scripted) -> QueueTarget:
        made.append(QueueTarget(service, TEMPLATE, 203, QUICK))
        return made[-1]

    yield make
    for each in made:
        each.close()


def numbered(number: int) -> str:
    return f"K7-311-print-{number}"


def send(target: QueueTarget, *numbers: int) -> list[str]:
    return [target.send(replace(content(), print_number=str(number))) for number in numbers]


def later(target: QueueTarget) -> PrintNews:
    return target._news.get(timeout=WITHIN_S)


def raising(fault: Exception) -> Callable[[], JobLook]:
    def look() -> JobLook:
        raise fault

    return look


def test_a_label_that_leaves_is_sent_once_and_nothing_else_is_told(target: Make) -> None:
    """BR-26, BR-28."""
    service = Scripted()
    queue = target(service)
    tickets = send(queue, 1, 2)
    told = queue.last_news(WITHIN_S)
    assert [(piece.ticket, piece.fate) for piece in told] == [(ticket, Fate.SENT) for ticket in tickets]
    assert (told[0].sentence, told[0].job) == ("printer labels, job labels-1", "labels-1")
    assert service.done == [f"print {numbered(1)}", f"print {numbered(2)}"]


def test_the_identity_label_goes_the_same_way_under_its_own_name(target: Make) -> None:
    identity = identity_content(
        "K7-311", content().code, paste="SN-4", kind="jar 500 g", tip_down=False, alloy=Alloy.SN_AG_CU, lot="26-121",
        expires=None,
    )  # fmt: skip
    assert target(Scripted()).send(identity) == "K7-311-identity"


def test_a_card_goes_the_same_way_on_a_label_of_its_own_and_is_sent_once(target: Make) -> None:
    """BR-28."""
    service = Scripted()
    queue = target(service)
    ticket = queue.send_card(SheetCode("card", "Command card", "HOLD", "D1HOLD.Y", "It goes on hold."))
    assert [(piece.ticket, piece.fate) for piece in queue.last_news(WITHIN_S)] == [(ticket, Fate.SENT)]
    assert service.done == ["print Command card HOLD"]


def test_while_the_service_hangs_nobody_waits_and_all_in_line_fail_together(target: Make) -> None:
    """BR-29: one time limit for the whole line, not one for each label in it."""
    service = Scripted(against=HUNG)
    service.gate.clear()
    queue = target(service)
    tickets = send(queue, 1, 2, 3)
    assert queue.news() == ()
    service.gate.set()
    told = queue.last_news(WITHIN_S)
    assert [(piece.ticket, piece.fate, piece.sentence) for piece in told] == [
        (ticket, Fate.FAILED, HUNG.sentence) for ticket in tickets
    ]
    assert service.done == []


def test_after_a_failure_nothing_is_sent_by_itself_but_the_next_label_is(target: Make) -> None:
    """BR-28."""
    service = Scripted(against=STOPPED)
    queue = target(service)
    send(queue, 1)
    assert [piece.fate for piece in queue.last_news(WITHIN_S)] == [Fate.FAILED]
    service.against = None
    send(queue, 2)
    assert [piece.fate for piece in queue.last_news(WITHIN_S)] == [Fate.SENT]
    assert service.done == [f"print {numbered(2)}"]


def test_a_lost_answer_is_unknown_and_the_label_not_sent_again(target: Make) -> None:
    """BR-28: the service may have taken it before it stopped to answer."""
    service = Scripted(refuses=UnknownFate(HUNG.code, HUNG.sentence))
    queue = target(service)
    send(queue, 1)
    (told,) = queue.last_news(WITHIN_S)
    assert (told.fate, told.sentence) == (Fate.UNKNOWN, f"{HUNG.sentence} {MAY_COME}")
    assert service.done == [f"print {numbered(1)}"]


def test_what_the_service_does_not_take_has_failed(target: Make) -> None:
    queue = target(Scripted(refuses=STOPPED))
    send(queue, 1)
    (told,) = queue.last_news(WITHIN_S)
    assert (told.fate, told.sentence) == (Fate.FAILED, STOPPED.sentence)


def test_a_fault_of_the_program_itself_is_unknown_and_the_next_label_goes_its_way(
    target: Make, caplog: pytest.LogCaptureFixture
) -> None:
    service = Scripted(refuses=ZeroDivisionError())
    queue = target(service)
    send(queue, 1)
    (told,) = queue.last_news(WITHIN_S)
    assert told.fate is Fate.UNKNOWN
    assert told.sentence.startswith("A fault in the program")
    service.refuses = None
    send(queue, 2)
    assert [piece.fate for piece in queue.last_news(WITHIN_S)] == [Fate.SENT]
    assert "ZeroDivisionError" in caplog.text


@pytest.mark.parametrize(
    ("cancels", "fate", "end"),
    [(True, Fate.FAILED, " and was taken back."), (False, Fate.UNKNOWN, ", and can't be taken back.")],
)
def test_a_label_that_waits_too_long_is_taken_back(target: Make, cancels: bool, fate: Fate, end: str) -> None:
    service = Scripted(seen=lambda: JobLook(waiting=True, words="No route to the printer."), cancels=cancels)
    queue = target(service)
    send(queue, 1)
    assert later(queue).fate is Fate.SENT
    told = later(queue)
    assert told.fate is fate
    assert told.sentence == (
        'The printer of queue labels does not take the label ("No route to the printer."). '
        f"Look at its power switch and its cable. The label waited too long{end} {MAY_COME}"
    )
    assert service.done[:2] == [f"print {numbered(1)}", "cancel labels-1"]


def test_while_a_label_waits_the_screen_has_the_reason(target: Make) -> None:
    service = Scripted()

    def seen() -> JobLook:
        service.against = STOPPED
        return JobLook(waiting=True)

    service.seen = seen
    queue = target(service)
    send(queue, 1)
    assert later(queue).fate is Fate.SENT
    assert later(queue).sentence.startswith(STOPPED.sentence)
    assert queue.trouble() == STOPPED.sentence


def test_a_label_that_the_service_gave_up_has_failed(target: Make) -> None:
    service = Scripted(seen=lambda: JobLook(waiting=False, dropped=True, words="Filter failed"))
    queue = target(service)
    send(queue, 1)
    assert later(queue).fate is Fate.SENT
    told = later(queue)
    assert told.fate is Fate.FAILED
    assert told.sentence == 'The print service gave the label up ("Filter failed"). Look at the printer.'


def test_a_service_that_stops_to_answer_leaves_the_label_unknown_and_takes_it_back_when_it_answers(
    target: Make,
) -> None:
    service = Scripted(seen=raising(HUNG))
    queue = target(service)
    send(queue, 1)
    assert later(queue).fate is Fate.SENT
    assert later(queue).fate is Fate.UNKNOWN
    send(queue, 2)
    assert later(queue).fate is Fate.SENT
    assert "cancel labels-1" in service.done


def test_media_that_do_not_match_are_said_before_anything_is_printed(target: Make) -> None:
    """BR-24."""
    warning = "Printer queue labels has no size for our label of 60 x 40 mm. Add that size to the queue."
    queue = target(Scripted(told=(warning,)))
    send(queue, 1)
    queue.last_news(WITHIN_S)
    assert queue.trouble() == warning


def test_at_the_end_of_the_program_it_waits_no_longer_than_told_and_forgets_the_rest(target: Make) -> None:
    service = Scripted()
    service.gate.clear()
    queue = target(service)
    send(queue, 1)
    assert queue.last_news(0.01) == ()
    queue.close()
    assert queue.news() == ()
    assert service.done == []


def test_a_label_of_an_earlier_run_is_looked_at_by_its_job_and_never_sent_again(target: Make) -> None:
    """BR-28: a job that still waits is taken back in its time, as if the program had never ended."""
    service = Scripted(seen=lambda: JobLook(waiting=True))
    queue = target(service)
    assert queue.look_for("K7-311", 1, "labels-9") == numbered(1)
    told = later(queue)
    assert (told.ticket, told.fate) == (numbered(1), Fate.FAILED)
    assert service.done == ["cancel labels-9"]


def test_a_label_of_an_earlier_run_without_a_job_is_looked_for_by_its_title(target: Make) -> None:
    service = Scripted(waits_as="labels-9")
    queue = target(service)
    queue.look_for("K7-311", 0, "")
    told = later(queue)
    assert (told.ticket, told.fate, told.job) == ("K7-311-identity", Fate.SENT, "labels-9")
    assert service.done == ["find K7-311-identity"]


def test_a_label_nobody_finds_any_more_is_no_news(target: Make) -> None:
    service = Scripted()
    queue = target(service)
    queue.look_for("K7-311", 1, "")
    send(queue, 2)
    assert [piece.ticket for piece in queue.last_news(WITHIN_S)] == [numbered(2)]
    assert service.done == [f"find {numbered(1)}", f"print {numbered(2)}"]


def test_a_service_that_answers_nobody_leaves_an_earlier_label_as_it_was(target: Make) -> None:
    """BR-29: and what stands in line behind a label that failed is looked for all the same."""
    service = Scripted(against=HUNG, refuses=HUNG)
    service.gate.clear()
    queue = target(service)
    send(queue, 2)
    queue.look_for("K7-311", 1, "")
    service.gate.set()
    assert [piece.ticket for piece in queue.last_news(WITHIN_S)] == [numbered(2)]
    send(queue, 3)
    assert [piece.ticket for piece in queue.last_news(WITHIN_S)] == [numbered(3)]
    assert service.done == [f"find {numbered(1)}"]


def test_it_keeps_the_promise_of_a_slow_target_and_is_named_by_its_queue(target: Make) -> None:
    queue = target(Scripted())
    assert isinstance(queue, SlowTarget)
    assert queue.name == "printer labels"


def test_how_long_a_label_may_wait_is_told_in_seconds() -> None:
    assert Patience().giving_up_after(60).most_looks == 30
    assert Patience().giving_up_after(0).most_looks == 1
