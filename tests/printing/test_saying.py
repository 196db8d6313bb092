"""Each thing that can be wrong with a queue is one sentence, which ends in how to mend it."""

import pytest

from station.printing import saying
from station.printing.saying import queue_fault

IDLE = {"printer-state": "3", "printer-state-reasons": "none", "printer-is-accepting-jobs": "true"}


def fault(**changed: str) -> str:
    found = queue_fault("labels", {**IDLE, **{name.replace("_", "-"): told for name, told in changed.items()}})
    return found.sentence if found is not None else ""


@pytest.mark.parametrize(
    ("reason", "sentence"),  # reasons of RFC 8011 section 5.4.12, as drivers report them with their suffixes
    [
        ("media-empty-error", "The printer of queue labels has no labels. Load labels."),
        ("media-needed", "The printer of queue labels has no labels. Load labels."),
        ("media-jam-error", "The printer of queue labels has a jam. Open it and take the jammed label out."),
        ("cover-open-warning", "The printer of queue labels is open. Close its cover."),
        ("marker-supply-empty-error", "The printer of queue labels has no ribbon. Put a new ribbon in."),
        (
            "offline-report",
            "The printer of queue labels does not answer. Look at its power switch and its cable.",
        ),
        ("fuser-over-temp-error", "The printer of queue labels reports fuser-over-temp. Look at its display."),
    ],
)
def test_what_a_printer_reports_is_told_with_its_mending(reason: str, sentence: str) -> None:
    """BR-26, BR-27."""
    assert fault(printer_state_reasons=reason) == sentence


@pytest.mark.parametrize("reason", ["none", "connecting-to-device", "media-empty-report", "toner-low-warning"])
def test_what_stops_no_label_is_not_told(reason: str) -> None:
    assert fault(printer_state_reasons=reason) == ""


def test_of_several_reasons_the_one_with_a_mending_comes_first() -> None:
    assert "Load labels" in fault(printer_state_reasons="fuser-over-temp-error,media-empty-error", printer_state="5")


def test_a_stopped_queue_and_a_closed_one_name_the_command_that_mends_them() -> None:
    assert fault(printer_state="5", printer_state_reasons="paused").endswith("Start it again with: cupsenable labels.")
    assert fault(printer_is_accepting_jobs="false").endswith("Open it with: cupsaccept labels.")


def test_every_sentence_is_two_short_ones_the_second_of_which_mends() -> None:
    told = [saying.no_queue("labels"), saying.dead(), saying.hung(8), saying.not_installed("lp")]
    for found in told:
        what, mending = found.sentence.rstrip(".").split(". ", 1)
        assert what
        assert mending.split()[0] in {"Set", "Start", "Install"}
