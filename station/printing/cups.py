"""A queue of CUPS, spoken to by its own programs: lp, lpstat, lpoptions, cancel."""

import re
import shlex
from collections.abc import Iterator

from station.labels.faults import LabelFault
from station.printing import saying
from station.printing.commands import Answer, Commands, NoAnswer
from station.printing.media import Media, media_of, options_for, warnings_for
from station.printing.spooler import Drawn, JobLook, UnknownFate

_JOB_ID = re.compile(r"^request id is (\S+-[0-9]+)", re.MULTILINE)
# the label is drawn dot for dot; whatever makes it fit makes it unreadable
AS_IT_IS = ("print-scaling=none", "fit-to-page=false", "number-up=1", "sides=one-sided", "copies=1")


class CupsSpooler:
    """The queue `name` of the print service this PC speaks to, printing labels of `media`."""

    def __init__(self, name: str, media: Media, commands: Commands | None = None) -> None:
        """Asks nothing yet."""
        self.name = name
        self._media = media
        self._commands = commands or Commands()

    def trouble(self) -> LabelFault | None:
        """Why the queue would not print now, None where it says nothing against it."""
        try:
            attributes = self._attributes()
            if "printer-state" in attributes:
                return saying.queue_fault(self.name, attributes)
            if "not running" in self._ask("lpstat", "-r").out:
                return saying.dead()
            return None if self._ask("lpstat", "-p", self.name).code == 0 else saying.no_queue(self.name)
        except LabelFault as fault:
            return fault

    def hand_over(self, label: Drawn) -> str:
        """Give a label to the queue; returns the job's id. LabelFault where it was not taken, or UnknownFate."""
        options = [part for option in (*AS_IT_IS, *self._options()) for part in ("-o", option)]
        try:
            answer = self._commands.run("lp", "-d", self.name, "-t", label.title, *options, "-", data=label.pdf)
        except NoAnswer:
            fault = saying.hung(self._commands.within_s)
            raise UnknownFate(fault.code, fault.sentence) from None
        except OSError:
            raise saying.not_installed("lp") from None
        if answer.code != 0:
            raise self.trouble() or LabelFault("not-taken", self._not_taken(answer))
        found = _JOB_ID.search(answer.out)
        if found is None:
            raise UnknownFate("no-job", f"Printer queue {self.name} took the label without naming its job.")
        return found[1]

    def look(self, job: str, title: str) -> JobLook:  # noqa: ARG002  no number is given twice here
        """How the job stands. LabelFault where the service does not answer."""
        waiting = self._told_of(job, "not-completed")
        if waiting is not None:
            return JobLook(waiting=True, words=_words(waiting))
        over = self._told_of(job, "completed") or ""
        dropped = re.search(r"Alerts: .*(cancel|abort)", over) is not None
        return JobLook(waiting=False, dropped=dropped, words=_words(over))

    def find(self, title: str) -> str | None:
        """The job that waits with a label of this title. Only lpq tells titles; without it nothing is found."""
        try:
            listed = self._commands.run("lpq", "-P", self.name).out
        except NoAnswer:
            raise saying.hung(self._commands.within_s) from None
        except OSError:
            return None
        found = re.search(rf"^\S+\s+\S+\s+([0-9]+)\s+{re.escape(title)}\s", listed, re.MULTILINE)
        return f"{self.name}-{found[1]}" if found else None

    def cancel(self, job: str) -> bool:
        """Take the job back; False where the service did not say that it did."""
        try:
            return self._ask("cancel", job).code == 0
        except LabelFault:
            return False

    def warnings(self) -> tuple[str, ...]:
        """What in the queue's settings does not go with the label, a sentence each."""
        return warnings_for(self.name, self._media, media_of(self._ask("lpoptions", "-p", self.name, "-l").out))

    def close(self) -> None:
        """Give up the call that is under way, and make no other."""
        self._commands.close()

    def _options(self) -> Iterator[str]:
        """The queue's own names for this label and resolution, where it has any."""
        yield from options_for(self._media, media_of(self._ask("lpoptions", "-p", self.name, "-l").out))

    def _attributes(self) -> dict[str, str]:
        told = self._ask("lpoptions", "-p", self.name).out
        try:
            words = shlex.split(told)
        except ValueError:  # an odd quote in somebody's text; the attributes that matter have none
            words = told.split()
        return dict(word.split("=", 1) for word in words if "=" in word)

    def _told_of(self, job: str, which: str) -> str | None:
        """The lines about one job: its own, and those set in from the margin below it."""
        listed = self._ask("lpstat", "-l", "-W", which, "-o", self.name).out
        found = re.search(rf"^{re.escape(job)}\s.*\n(?:\s.*\n)*", listed, re.MULTILINE)
        return found[0] if found else None

    def _ask(self, *command: str) -> Answer:
        try:
            return self._commands.run(*command)
        except NoAnswer:
            raise saying.hung(self._commands.within_s) from None
        except OSError:
            raise saying.not_installed(command[0]) from None

    def _not_taken(self, answer: Answer) -> str:
        told = (answer.err.strip().splitlines() or ["no reason given"])[0]
        return f"Printer queue {self.name} did not take the label ({told}). Ask whoever looks after the printers."


def _words(told: str) -> str:
    found = re.search(r"^\s+Status: (.+)$", told, re.MULTILINE)
    return found[1].strip() if found else ""
