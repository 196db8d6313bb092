"""The doctor's look at the label printer: its queue, and whether the queue's labels go with the template."""

from collections.abc import Iterator

from station.bootstrap import label_settings, spooler_for, template_for
from station.cli.findings import Finding
from station.labels.faults import LabelFault
from station.printing.spooler import Spooler
from station.services.site import Site

WHAT = "printer"


def printer_findings(site: Site) -> Iterator[Finding]:
    """Nothing is printed; the print service is asked, with a time limit."""
    with_queue = [label for label in label_settings(site) if label.queue]
    if len(with_queue) < len(label_settings(site)):
        which = "none set in site.toml, [label]" if not site.label.queue else "none set for some of [[label_for]]"
        yield Finding(None, WHAT, f"{which}; labels are put into the folder labels")
    for label in with_queue:
        spooler = spooler_for(label, template_for(site, label))
        try:
            yield from queue_findings(spooler)
        finally:
            spooler.close()


def queue_findings(spooler: Spooler) -> Iterator[Finding]:
    """How a queue stands, and what in its settings does not go with the label."""
    trouble = spooler.trouble()
    if trouble is not None:
        yield Finding(False, WHAT, trouble.sentence)
        return
    yield Finding(True, WHAT, f"queue {spooler.name} takes labels; whether they come out only a scan can tell")
    try:
        warnings = spooler.warnings()
    except LabelFault as fault:
        warnings = (fault.sentence,)
    for sentence in warnings:
        yield Finding(False, "label size", sentence)
