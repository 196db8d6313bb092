"""A form that does not lose what was typed: leaving it asks once, and only where something would be lost."""

from station.ui.dialogs.paper_dialog import PaperDialog

LOSE_IT = "Lose what I typed"
LOSES = f"What you typed would be lost. Touch “{LOSE_IT}” to lose it, or go on typing."


class KeepingForm(PaperDialog):
    """Base of the forms of figures and lists. `settled` is set once everything is on record."""

    settled = False
    _asked, _leaving = False, ""

    @property
    def changed(self) -> bool:
        """Whether leaving would lose anything. Each form has its own."""
        raise NotImplementedError

    def leave(self) -> None:
        """Leave; the first time one question, where something typed would be lost."""
        if self._asked or self.settled or not self.changed:
            super().leave()
            return
        self._asked, self._leaving = True, self.cancel.action_model.label
        self.name_leaving(self.tr(LOSE_IT))
        self.remark(self.tr(LOSES))

    def go_on(self) -> None:
        """Somebody types again: the question is over."""
        if self._asked:
            self._asked = False
            self.name_leaving(self._leaving)
            self.remark("")
