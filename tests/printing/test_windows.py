"""A printer of Windows through a helper that is played by a script: what each answer makes of a label."""

import json
import sys
from typing import Any

import pytest

from station.labels.faults import LabelFault
from station.printing.commands import Commands
from station.printing.media import Media
from station.printing.spooler import Drawn, JobLook, UnknownFate
from station.printing.windows import WindowsSpooler

LABEL = Drawn("K7-311-print-1", 203, b"%PDF", b"\x89PNG")
ASKED = "import sys; answers = {!r}; sys.stdin.read(); print(answers[sys.argv[1]])"


def spooler(within_s: float = 20, **answers: Any) -> WindowsSpooler:
    """A printer whose helper gives these answers."""
    script = ASKED.format({what: json.dumps(answer) for what, answer in answers.items()})
    return WindowsSpooler("Labels", Media(60, 40, 203), Commands(within_s), (sys.executable, "-c", script))


def hung() -> WindowsSpooler:
    waiting = (sys.executable, "-c", "import threading; threading.Event().wait()")
    return WindowsSpooler("Labels", Media(60, 40, 203), Commands(0.3), waiting)


def sentence(fault: LabelFault | None) -> str:
    return fault.sentence if fault is not None else ""


@pytest.mark.parametrize(
    ("status", "attributes", "told"),
    [
        (0, 0, ""),
        (0x400, 0, ""),  # printing
        (0, 0x400, "The printer Labels does not answer. Look at its power switch and its cable."),
        (0x10, 0, "The printer Labels has no labels. Load labels."),
        (0x80, 0, "The printer Labels does not answer. Look at its power switch and its cable."),
        (0x1, 0, "The printer Labels is set to pause. Choose Resume in its print queue."),
        (0x8 | 0x2, 0, "The printer Labels has a jam. Open it and take the jammed label out."),
        (0x2, 0, "The printer Labels reports an error. Look at its display."),
    ],
)
def test_both_words_are_looked_at(status: int, attributes: int, told: str) -> None:
    """BR-27: a printer that is off has the status word 0, and an attribute word that says offline."""
    state = {"found": True, "status": status, "attributes": attributes}
    assert sentence(spooler(state=state).trouble()) == told


def test_a_printer_that_is_not_there_is_named() -> None:
    told = sentence(spooler(state={"found": False}).trouble())
    assert told.startswith("This PC has no printer Labels. Set queue in site.toml")


def test_a_hung_spooler_is_given_up_at_the_limit() -> None:
    """BR-29."""
    hung_one = hung()
    assert sentence(hung_one.trouble()) == ("The print service did not answer within 0.3 s. Restart the Print Spooler.")
    with pytest.raises(UnknownFate):
        hung_one.hand_over(LABEL)
    assert not hung_one.cancel("7")


def test_a_helper_that_ends_without_a_word_means_no_service() -> None:
    gone = WindowsSpooler("Labels", Media(60, 40, 203), Commands(20), (sys.executable, "-c", "raise SystemExit(1)"))
    assert sentence(gone.trouble()).endswith("Start the service Print Spooler.")


def test_a_label_is_followed_by_its_number() -> None:
    """BR-26: what is in no list any more has left, which is all that is known of it."""
    queue = spooler(
        print={"job": 7}, jobs={"jobs": [[7, LABEL.title, 0x10], [8, "another", 0]]}, cancel={"cancelled": True}
    )
    assert queue.hand_over(LABEL) == "7"
    assert queue.look("7", LABEL.title) == JobLook(waiting=True)
    assert queue.look("9", LABEL.title) == JobLook(waiting=False)
    assert queue.find(LABEL.title) == "7"
    assert queue.find("K7-311-print-2") is None
    assert queue.cancel("7")


def test_a_number_that_went_to_another_label_since_is_another_job() -> None:
    """BR-28: a spooler that was started anew counts from the beginning."""
    queue = spooler(jobs={"jobs": [[7, "somebody's letter", 0]]})
    assert queue.look("7", LABEL.title) == JobLook(waiting=False)


@pytest.mark.parametrize(
    ("status", "look"),
    [
        (0x80, JobLook(waiting=False)),
        (0x4, JobLook(waiting=False, dropped=True)),
        (0x1, JobLook(waiting=True)),  # paused is not done
    ],
)
def test_a_paused_job_waits_and_a_deleted_one_is_dropped(status: int, look: JobLook) -> None:
    """BR-27."""
    assert spooler(jobs={"jobs": [[7, LABEL.title, status]]}).look("7", LABEL.title) == look


def test_a_label_that_left_before_its_number_was_asked_is_sent_and_can_not_be_taken_back() -> None:
    queue = spooler(print={"job": None}, jobs={"jobs": []})
    job = queue.hand_over(LABEL)
    assert queue.look(job, LABEL.title) == JobLook(waiting=False)
    assert not queue.cancel(job)


def test_what_the_helper_could_not_draw_is_told() -> None:
    with pytest.raises(LabelFault, match="did not begin the page") as caught:
        spooler(print={"trouble": "The printer did not begin the page."}).hand_over(LABEL)
    assert not isinstance(caught.value, UnknownFate)


@pytest.mark.parametrize(
    ("sizes", "custom", "resolutions", "begins"),
    [
        (["101.6x152.4mm"], False, ["203dpi"], "Printer queue Labels is set to 102 x 152 mm and has no size"),
        (["60x40mm"], False, ["300dpi", "600dpi"], "Printer queue Labels prints at 300 x 300, 600 x 600"),
    ],
)
def test_media_that_do_not_match_are_warned_of(
    sizes: list[str], custom: bool, resolutions: list[str], begins: str
) -> None:
    """BR-23, BR-24."""
    (told,) = spooler(media={"sizes": sizes, "custom": custom, "resolutions": resolutions}).warnings()
    assert told.startswith(begins)


@pytest.mark.parametrize(
    ("sizes", "custom"), [(["101.6x152.4mm"], True), (["101.6x152.4mm", "60x40mm"], False), ([], False)]
)
def test_a_printer_that_has_or_takes_our_size_is_right(sizes: list[str], custom: bool) -> None:
    assert spooler(media={"sizes": sizes, "custom": custom, "resolutions": ["203dpi"]}).warnings() == ()
