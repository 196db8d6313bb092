"""A queue of Windows, spoken to by the print helper, a process of its own with a time limit. Not tried on Windows yet.

Status words are those of the Win32 documentation (PRINTER_INFO_2, JOB_INFO_1). The status word alone is no proof: it
stays 0 for a printer that is off, while the attribute word says that it works offline.
"""

import json
import sys
from typing import Any

from station.labels.faults import LabelFault
from station.printing.commands import Commands, NoAnswer
from station.printing.media import Choices, Media, QueueMedia, warnings_for
from station.printing.spooler import Drawn, JobLook, UnknownFate

HELPER = (sys.executable, "-m", "station.printing.print_helper")
WORKS_OFFLINE = 0x400
_LABELS = "has no labels. Load labels"
_SILENT = "does not answer. Look at its power switch and its cable"
OF_STATUS = {
    0x10: _LABELS,
    0x40: _LABELS,
    0x8: "has a jam. Open it and take the jammed label out",
    0x400000: "is open. Close its cover",
    0x40000: "has no ribbon. Put a new ribbon in",
    0x80: _SILENT,
    0x1000: _SILENT,
    0x1: "is set to pause. Choose Resume in its print queue",
    0x100000: "waits for somebody. Look at its display",
    0x2: "reports an error. Look at its display",
}
JOB_PRINTED, JOB_DELETED = 0x80 | 0x1000, 0x4 | 0x100


class WindowsSpooler:
    """The printer `name` of this PC, printing labels of `media`."""

    def __init__(
        self, name: str, media: Media, commands: Commands | None = None, helper: tuple[str, ...] = HELPER
    ) -> None:
        """Asks nothing yet. `helper` is the command line of the print helper."""
        self.name = name
        self._media = media
        self._commands = commands or Commands()
        self._helper = helper

    def trouble(self) -> LabelFault | None:
        """Why the queue would not print, None where it says nothing against it."""
        try:
            told = self._ask("state")
        except LabelFault as fault:
            return fault
        if not told.get("found"):
            text = f"This PC has no printer {self.name}. Set queue in site.toml, [label], to the name Windows gives it."
            return LabelFault("no-queue", text)
        if told["attributes"] & WORKS_OFFLINE:
            return LabelFault("offline", f"The printer {self.name} {_SILENT}.")
        mending = next((text for bit, text in OF_STATUS.items() if told["status"] & bit), None)
        return None if mending is None else LabelFault("printer", f"The printer {self.name} {mending}.")

    def hand_over(self, label: Drawn) -> str:
        """Give a label to the queue; returns the job's number. LabelFault where it was not taken, or UnknownFate."""
        try:
            told = self._ask("print", str(label.dpi), label.title, data=label.png)
        except LabelFault as fault:
            raise UnknownFate(fault.code, fault.sentence) from None
        if "trouble" in told:
            raise LabelFault("not-taken", told["trouble"])
        # a label that left at once is in no list any more
        return label.title if told.get("job") is None else str(told["job"])

    def look(self, job: str, title: str) -> JobLook:
        """How the job stands; a number that another title has by now is another job. LabelFault for no answer."""
        listed = self._ask("jobs")["jobs"]
        status = next((word for number, name, word in listed if (str(number), name) == (job, title)), None)
        if status is None or status & JOB_PRINTED:
            return JobLook(waiting=False)
        return JobLook(waiting=not status & JOB_DELETED, dropped=bool(status & JOB_DELETED))

    def find(self, title: str) -> str | None:
        """The job that waits with a label of this title. LabelFault where the service does not answer."""
        return next((str(number) for number, name, _ in self._ask("jobs")["jobs"] if name == title), None)

    def cancel(self, job: str) -> bool:
        """Take the job back; False where the service did not say that it did."""
        try:
            return job.isdigit() and bool(self._ask("cancel", job)["cancelled"])
        except LabelFault:
            return False

    def warnings(self) -> tuple[str, ...]:
        """What in the printer's settings does not go with the label, a sentence each."""
        told = self._ask("media")
        sizes = (*told["sizes"], *(("Custom.",) if told["custom"] else ()))
        default = sizes[0] if sizes else ""
        found = QueueMedia(Choices(default, sizes), Choices("", tuple(told["resolutions"])))
        return warnings_for(self.name, self._media, found)

    def close(self) -> None:
        """Give up the call that is under way, and make no other."""
        self._commands.close()

    def _ask(self, what: str, *more: str, data: bytes = b"") -> dict[str, Any]:
        try:
            answer = self._commands.run(*self._helper, what, self.name, *more, data=data)
        except NoAnswer:
            told = f"The print service did not answer within {self._commands.within_s:g} s. Restart the Print Spooler."
            raise LabelFault("service-hung", told) from None
        try:
            found: dict[str, Any] = json.loads(answer.out)
        except ValueError:
            told = "The print service of this PC does not answer. Start the service Print Spooler."
            raise LabelFault("service-dead", told) from None
        return found
