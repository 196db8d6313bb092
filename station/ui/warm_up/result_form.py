"""What came of the runs: each accepted or refused with its sentence, its picture, and what they give together."""

from PySide6.QtCore import QRectF, QSize
from PySide6.QtWidgets import QVBoxLayout, QWidget

from station.care.specification import Kind
from station.care.warmup.first_order import FirstOrder
from station.ui.dialogs.choices import ChoiceButton, ChoiceGroup
from station.ui.dialogs.fields import label
from station.ui.dialogs.look import COMPLAINT, NOTE
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.theme import LIGHT, Pair, Theme
from station.ui.view_models import ActionModel
from station.ui.warm_up.asked import Found, RunFound
from station.ui.warm_up.figures_table import FiguresTable, figure_rows, safe_kind, with_interval
from station.ui.warm_up.plot import RunPicture, WarmingPlot
from station.ui.widgets.lettering import Lettering, Style

TOO_FEW = "One run does not show how much containers differ; figures to accept need at least two that count."
SAFE = "The safe pair is behind every run on its way. The supplier's minimum stays the least there is."
LETTERS_PER_LINE = 46
PLOT_HEIGHT = 440.0


class RunButton(ChoiceButton):
    """A run; as high as the sentence needs that says why it does not count."""

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Room for the sentence below the name."""
        lines = 1 + -(-len(self.action_model.hint) // LETTERS_PER_LINE)
        return QSize(super().sizeHint().width(), round(max(self.scale.touch, self._line() * lines + self.scale.of(24))))

    def _line(self) -> float:
        return max(17.0, self.scale.of(31))

    def _words(self, lettering: Lettering, area: QRectF, pair: Pair) -> None:
        cut = self._line()
        name = area.adjusted(0, self.scale.of(4), 0, cut - area.height())
        lettering.line(self.action_model.label, name, Style(max(13.0, self.scale.of(26)), pair, bold=True))
        hint = Style(max(12.0, self.scale.of(22)), pair)
        lettering.block(self.action_model.hint, area.adjusted(0, cut, 0, 0), hint, middle=True)


class RunGroup(ChoiceGroup):
    """The runs, of which one is drawn."""

    def make(self, action: ActionModel) -> ChoiceButton:
        """A button with room for a sentence."""
        return RunButton(action)


class ResultForm(PaperDialog):
    """Shows what came of the runs; `offered` hands over the `Found` whose safe pair is to be accepted."""

    def __init__(self, found: Found, kind: Kind, host: QWidget, theme: Theme = LIGHT) -> None:
        """`kind` with its present figures."""
        super().__init__(f"Warm-up of {kind.title}", "Accept the safe pair", host, theme)
        self._found, self._kind = found, kind
        self._build_runs(self.add_column(2))
        self._build_picture(self.add_column(3))
        self.hand_in.setEnabled(found.pooled is not None)
        if found.runs:
            self.runs.choose("0")

    def widest(self) -> float:
        """As wide as the screen allows."""
        return 1900.0

    def restyle(self) -> None:
        """The painted parts take the form's colours and sizes."""
        for part in (self.plot, self.table):
            part.set_look(self.theme, self.scale)
        self.plot.setMinimumHeight(round(self.scale.of(PLOT_HEIGHT)))
        self.table.setFixedHeight(round(self.table.preferred_height(0)))

    def collect(self) -> Found | None:
        """What was found, once there is something to accept."""
        return self._found if self._found.pooled is not None else None

    def _build_runs(self, column: QVBoxLayout) -> None:
        counting = sum(1 for run in self._found.runs if run.used)
        self.runs = RunGroup(self.tr("{} of {} runs count").format(counting, len(self._found.runs)), 1)
        actions = (ActionModel(str(number), run.name, _said(run)) for number, run in enumerate(self._found.runs))
        self.runs.offer(tuple(actions), self.theme, self.scale)
        self.runs.chosen_changed.connect(self._chosen)
        column.addWidget(self.runs)
        for note in self._found.notes:
            column.addWidget(label(NOTE, note))
        column.addStretch(1)

    def _build_picture(self, column: QVBoxLayout) -> None:
        self.plot, self.table = WarmingPlot(), FiguresTable()
        self.table.show_rows(figure_rows(self._kind, self._found.pooled))
        told = label(NOTE, SAFE) if self._found.pooled is not None else label(COMPLAINT, TOO_FEW)
        column.addWidget(self.plot, 1)
        column.addWidget(self.table)
        column.addWidget(told)

    def _chosen(self, number: str) -> None:
        self.plot.show_picture(self._picture(self._found.runs[int(number)]))

    def _picture(self, run: RunFound) -> RunPicture:
        fitted = run.fitted
        return RunPicture(
            points=run.points,
            room_c=run.room_c,
            curve=fitted.temperature_c if fitted is not None else None,
            floor=self._floor(run),
            residuals=fitted.residuals if fitted is not None else (),
            curve_name=self.tr("its curve"),
            floor_name=self.tr("safe pair") if self._found.pooled else self.tr("figures now"),
        )

    def _floor(self, run: RunFound) -> "_FloorCurve | None":
        """What the floor reckons with in this room: the safe pair, or the present figures where there is none."""
        start = run.fitted.start_c if run.fitted is not None else run.cold_c
        if run.room_c is None or start is None:
            return None
        kind = safe_kind(self._kind, self._found.pooled) if self._found.pooled is not None else self._kind
        model = FirstOrder(kind.time_constant.total_seconds(), kind.dead_time.total_seconds())
        return _FloorCurve(model, start, run.room_c)


class _FloorCurve:
    """A container's temperature as the floor takes it to be."""

    def __init__(self, model: FirstOrder, start_c: float, room_c: float) -> None:
        self._model, self._start_c, self._room_c = model, start_c, room_c

    def __call__(self, seconds: float) -> float:
        return self._room_c - (self._room_c - self._start_c) * self._model.left(seconds)


def _said(run: RunFound) -> str:
    if run.reasons:
        return f"Refused. {' '.join(run.reasons)}"
    if run.fitted is None:
        return ""
    fitted = run.fitted
    return f"Counts: {with_interval(fitted.time_constant, fitted.time_constant_interval)}"
