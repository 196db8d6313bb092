"""A print target that is a queue of the print service: labels are drawn here and leave in a thread of their own."""

import queue
from collections.abc import Iterator

from PIL import Image

from station.labels.card_label import Stock, card_label
from station.labels.content import LabelContent
from station.labels.identity import identity_template
from station.labels.layout import Template
from station.labels.raster import render
from station.labels.sheet_codes import SheetCode
from station.labels.target import PrintNews
from station.printing.pdf import pdf_bytes
from station.printing.png import png_bytes
from station.printing.print_worker import Earlier, Patience, PrintWorker, drained
from station.printing.spooler import Drawn, Spooler


class QueueTarget:
    """Hands labels to `spooler`. `template` is the site's time label; identity labels go on the same stock."""

    def __init__(self, spooler: Spooler, template: Template, dpi: int, patience: Patience | None = None) -> None:
        """The queue is looked at from now on. Needs a QGuiApplication by the first label."""
        self.name = f"printer {spooler.name}"
        self._template, self._dpi = template, dpi
        self._worker = PrintWorker(spooler, patience or Patience())
        self._news = self._worker.news
        self._under_way = 0

    def send(self, content: LabelContent) -> str:
        """Put one label in line; returns the ticket that its news will carry. LabelFault where it can't be drawn."""
        template = self._template if content.has_times else identity_template(self._template)
        image = render(template, content, self._dpi)
        return self._put(_ticket(content.container, content.print_number if content.has_times else "0"), image)

    def send_card(self, code: SheetCode) -> str:
        """Put one card, badge or tag in line, on a label of its own; returns its ticket. LabelFault as from `send`."""
        stock = Stock(self._template.width_mm, self._template.height_mm, self._dpi)
        return self._put(f"{code.kind} {code.name}", card_label(code, stock))

    def _put(self, ticket: str, image: Image.Image) -> str:
        self._under_way += 1
        self._worker.put(Drawn(ticket, self._dpi, pdf_bytes(image, self._dpi), png_bytes(image, self._dpi)))
        return ticket

    def look_for(self, container: str, number: int, job: str) -> str:
        """Find out what became of a label of an earlier run; its news carries the ticket. Nothing is sent again."""
        ticket = _ticket(container, str(number))
        self._worker.look_for(Earlier(ticket, job))
        return ticket

    def news(self) -> tuple[PrintNews, ...]:
        """What became known since it was asked last; never waits."""
        return tuple(self._counted(drained(self._news)))

    def last_news(self, within_s: float) -> tuple[PrintNews, ...]:
        """Wait for the labels still in line, `within_s` seconds for each; what is not known then stays unknown."""
        told = list(self.news())
        while self._under_way:
            try:
                told.extend(self._counted([self._news.get(timeout=within_s)]))
            except queue.Empty:
                break
        return tuple(told)

    def trouble(self) -> str:
        """What stands against printing at this moment, in a sentence; "" where nothing is known."""
        return self._worker.trouble()

    def close(self) -> None:
        """End the thread and whatever it runs."""
        self._worker.close()

    def _counted(self, told: "list[PrintNews]") -> "Iterator[PrintNews]":
        for piece in told:
            self._under_way -= piece.first
            yield piece


def _ticket(container: str, number: str) -> str:
    """The title of a label in the queue, by which it is known again; 0 is the identity label."""
    return f"{container.replace(' ', '-')}-{'identity' if number == '0' else f'print-{number}'}"
