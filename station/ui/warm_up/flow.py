"""The way from files to accepted figures: one form after another, each over the one before, the reading beside them.

Nothing is recorded before a process engineer accepts with badge, PIN and a note.
"""

from collections.abc import Mapping
from dataclasses import replace
from datetime import timedelta
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget
from shiboken6 import isValid

from station.care.figures import Figures
from station.care.floor import Floor
from station.care.saying import span
from station.care.specification import Kind
from station.services import lead_acts
from station.services.station import Proof
from station.ui.desk_work import DeskWork
from station.ui.dialogs.lead_dialog import LeadDialog, LeadWord
from station.ui.forms import Forms
from station.ui.view_models import ActionModel
from station.ui.warm_up.asked import Asks, Faults, Found, RunsAsked
from station.ui.warm_up.errand import Errand
from station.ui.warm_up.files_form import FilesForm
from station.ui.warm_up.questions_form import QuestionsForm
from station.ui.warm_up.result_form import ResultForm
from station.ui.warm_up.working_out import work_out

if TYPE_CHECKING:
    from station.care.warmup.fit import Pooled

FAILED = "The runs could not be worked out: a fault in the program. Tell the process engineer; the record is safe."


class WarmUpFlow(QObject):
    """One go at figures for a kind."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms) -> None:
        """Nothing is read before files are handed in."""
        super().__init__(host)
        self._host, self._work, self._forms = host, work, forms
        self._errand: Errand | None = None
        self._asked: RunsAsked | None = None
        self._files: FilesForm | None = None

    def begin(self, kind: str) -> FilesForm:
        """The first form; `kind` is chosen already if it is one."""
        floor = self._work.station.floor()
        kinds = tuple(ActionModel(name, found.title, _now(floor, name)) for name, found in floor.plant.kinds.items())
        form = FilesForm(kinds, kind, floor.zone, self._host)
        form.offered.connect(self._read)
        self._files = form
        return form

    def finish(self) -> None:
        """Wait for what is still being worked out: a thread must not outlive the window."""
        if self._errand is not None:
            self._errand.wait()

    def _read(self, asked: RunsAsked) -> None:
        """Read and fit beside the window; a second go has to wait for the first."""
        form = self._files
        if self._errand is not None or form is None:
            return
        form.wait(self.tr("Reading …"))
        self._asked = asked
        zone = self._work.station.site.zone.key
        self._errand = Errand(lambda: work_out(asked, zone), self)
        self._errand.told.connect(self._told)
        self._errand.finished.connect(self._errand.deleteLater)
        self._errand.start()

    def _told(self, answer: object) -> None:
        self._errand = None
        form = self._files
        if form is None or not isValid(form) or form.isHidden():
            return
        form.ready()
        match answer:
            case Asks(questions=questions):
                self._ask(QuestionsForm(questions, self._host))
            case Faults(sentences=sentences):
                form.refuse("\n".join(sentences))
            case Found():
                self._show(answer)
            case _:
                form.refuse(FAILED)

    def _ask(self, form: QuestionsForm) -> None:
        form.name_leaving(self.tr("Back"))
        form.offered.connect(lambda answers: self._answered(form, answers))
        self._forms.lay(form)

    def _answered(self, form: QuestionsForm, answers: Mapping[str, tuple[str, ...]]) -> None:
        form.leave()
        if self._asked is not None:
            self._read(replace(self._asked, answers={**self._asked.answers, **answers}))

    def _show(self, found: Found) -> None:
        if self._asked is None:
            return
        form = ResultForm(found, self._work.station.floor().kind_called(self._asked.kind), self._host)
        form.name_leaving(self.tr("Back"))
        form.offered.connect(self._accept)
        self._forms.lay(form)

    def _accept(self, found: Found) -> None:
        pooled, asked = found.pooled, self._asked
        if pooled is None or asked is None:
            return
        kind = self._work.station.floor().kind_called(asked.kind)
        form = LeadDialog(
            f"Accept for {kind.title}: {_pair(pooled.safe_time_constant, pooled.safe_dead_time)}",
            self._host,
            lines=_about(kind, found, pooled),
            act="Accept them",
            reason="How was it measured? It stands in the record",
            people=self._forms.people(),
        )
        form.name_leaving(self.tr("Back"))
        form.offered.connect(lambda word: self._accepted(asked.kind, found, pooled, word))
        self._forms.lay(form)

    def _accepted(self, kind: str, found: Found, pooled: "Pooled", word: LeadWord) -> None:
        figures = Figures(kind, pooled.safe_time_constant, pooled.safe_dead_time, found.digests, word.reason)
        station, proof = self._work.station, Proof(word.badge, word.pin)
        self._forms.tell(lambda: self._work.told(lead_acts.accept_figures(station, figures, proof)))


def _pair(time_constant: timedelta, dead_time: timedelta) -> str:
    return f"time constant {span(time_constant)}, dead time {span(dead_time)}"


def _now(floor: Floor, name: str) -> str:
    kind = floor.kind_called(name)
    return f"{_pair(kind.time_constant, kind.dead_time)}, {_known(kind)}"


def _known(kind: Kind) -> str:
    return "estimate" if kind.estimate else "measured"


def _about(kind: Kind, found: Found, pooled: "Pooled") -> tuple[str, ...]:
    return (
        f"It has {_pair(kind.time_constant, kind.dead_time)} now ({_known(kind)}).",
        f"From {pooled.runs} runs in {len(found.digests)} files; the record keeps a digest of each.",
        "They count from the next take-out on. The supplier's minimum stays the least there is.",
    )
