"""Several answers out of a list, each touched on and off; and how high an answer of two lines is."""

from station.ui.dialogs.choices import ChoiceButton, ChoiceGroup
from station.ui.theme import Scale


def two_lines(scale: Scale) -> int:
    """Height in pixels of an answer with a second line."""
    return round(max(scale.touch * 1.15, scale.of(84)))


class SeveralGroup(ChoiceGroup):
    """Answers in a grid, any number of them chosen; `chosen_changed` names the one that was touched."""

    @property
    def all_chosen(self) -> tuple[str, ...]:
        """The ids of the chosen answers, in the order they are offered in."""
        return tuple(button.action_model.id for button in self.buttons if button.isChecked())

    def choose_all(self, ids: tuple[str, ...]) -> None:
        """Exactly these are chosen; nobody is told."""
        for button in self.buttons:
            button.setChecked(button.action_model.id in ids)

    def choose(self, id_: str) -> None:
        """Touch one answer."""
        for button in self.buttons:
            if button.action_model.id == id_ and button.isEnabled():
                button.setChecked(not button.isChecked())
                self._only(button)

    def _only(self, chosen: ChoiceButton) -> None:
        """The touch itself has turned it on or off; the others stay as they are."""
        self.calm()
        self.chosen_changed.emit(chosen.action_model.id)
