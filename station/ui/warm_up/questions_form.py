"""What the files leave open, as plain choices: each question with what it offers, or a line to write it in."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from station.ui.dialogs.choices import ChoiceButton, ChoiceGroup
from station.ui.dialogs.fields import PaperField, label
from station.ui.dialogs.look import TEXT
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.theme import LIGHT, Theme
from station.ui.warm_up.asked import Asking

CAPTIONS = {
    "delimiter": "What parts the columns",
    "decimal": "Decimal sign",
    "time-column": "Time stands in (date and time may be two)",
    "time-format": "Dates and times are written",
    "unit": "Unit",
    "zone": "The logger's clock shows",
    "sensor": "Temperatures stand in",
    "humidity": "Humidity stands in",
    "room": "The room's sensor",
}


class SeveralGroup(ChoiceGroup):
    """Answers of which more than one may be chosen."""

    @property
    def all_chosen(self) -> tuple[str, ...]:
        """The ids of all chosen answers, in their order."""
        return tuple(button.action_model.id for button in self.buttons if button.isChecked())

    def _only(self, chosen: ChoiceButton) -> None:
        self.calm()
        self.chosen_changed.emit(chosen.action_model.id)


class QuestionField(QWidget):
    """One question. What is written counts before what is chosen, and takes the choice back."""

    def __init__(self, asking: Asking, form: PaperDialog) -> None:
        super().__init__()
        self.asking = asking
        caption = CAPTIONS.get(asking.id, asking.id)
        columns = 3 if all(len(choice.label) < 12 and not choice.hint for choice in asking.choices) else 1
        self.choices = (SeveralGroup if asking.several else ChoiceGroup)(caption, columns)
        self.choices.offer(asking.choices, form.theme, form.scale)
        self.choices.chosen_changed.connect(self._chosen)
        self.written = PaperField(asking.written, most=80)
        self.written.setVisible(bool(asking.written))
        self.written.edited.connect(self._wrote)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        for part in (label(TEXT, asking.what), self.choices, self.written):
            column.addWidget(part)

    def answer(self) -> tuple[str, ...]:
        """What was said, empty after the sentence that asks for it."""
        if self.written.text:
            return (self.written.text,)
        if isinstance(self.choices, SeveralGroup):
            found = self.choices.all_chosen
        else:
            found = (self.choices.chosen,) if self.choices.chosen is not None else ()
        if not found:
            self.choices.complain(self.tr("The file does not say it, so nobody may guess it."))
        return found

    def _chosen(self) -> None:
        self.written.fill("")

    def _wrote(self, text: str) -> None:
        if text:
            self.choices.clear()
            self.choices.calm()


class QuestionsForm(PaperDialog):
    """Asks what the files leave open; `offered` hands over the answers by question."""

    def __init__(self, questions: tuple[Asking, ...], host: QWidget, theme: Theme = LIGHT) -> None:
        """The same answer is taken for all the files."""
        super().__init__("The files do not say it all", "Read the files", host, theme)
        columns = [self.add_column(1) for _ in range(2 if len(questions) > 1 else 1)]
        self.fields = [QuestionField(asking, self) for asking in questions]
        for number, part in enumerate(self.fields):
            columns[number % len(columns)].addWidget(part)
        for column in columns:
            column.addStretch(1)

    def collect(self) -> dict[str, tuple[str, ...]] | None:
        """The answers, or None after each open question got its sentence."""
        answers = {field.asking.id: field.answer() for field in self.fields}
        return answers if all(answers.values()) else None
