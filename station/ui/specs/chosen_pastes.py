"""Pastes chosen for a product or a work order, while they are chosen."""

from collections.abc import Callable
from dataclasses import replace

from station.care.paste_lists import ListTold
from station.care.specification import Paste

NONE_FOR_ORDER = "No paste is chosen: the order goes by the list of its product then."
NONE_FOR_PRODUCT = "No paste is chosen: none may be used for it then."
Checking = Callable[[ListTold], tuple[str, ...]]


class ChosenPastes:
    """What is chosen so far. `checking` says everything that is wrong with a list."""

    def __init__(self, begun: ListTold, pastes: tuple[Paste, ...], checking: Checking) -> None:
        """`begun` is the list as it stands, `pastes` all there are to choose from."""
        self.begun, self.pastes = begun, pastes
        self.ids = begun.pastes
        self._checking = checking

    @property
    def changed(self) -> bool:
        """Whether leaving would lose anything."""
        return set(self.ids) != set(self.begun.pastes)

    def touch(self, paste: str) -> None:
        """Add a paste, or take it off."""
        without = tuple(id_ for id_ in self.ids if id_ != paste)
        self.ids = without if paste in self.ids else (*self.ids, paste)

    def matching(self, wanted: str) -> tuple[Paste, ...]:
        """The pastes whose name, numbers or metal hold every word; chosen ones first."""
        words = wanted.casefold().split()
        found = (paste for paste in self.pastes if all(word in _whole(paste) for word in words))
        return tuple(sorted(found, key=lambda paste: (paste.id not in self.begun.pastes, paste.id)))

    def told(self, order: str) -> ListTold:
        """The list as it would be handed in, for the work order that was typed, if one was."""
        return replace(self.begun, pastes=self.ids, order=self.begun.order or order.strip())

    def new(self, product: str, title: str) -> ListTold:
        """The list of a product the site does not have yet."""
        return replace(self.begun, pastes=self.ids, product=product, title=title)

    def fault(self, told: ListTold) -> str:
        """Everything that is wrong with the list, as one text; empty where nothing is."""
        return " ".join(self._checking(told))

    def sentence(self) -> str:
        """What is chosen, with its metal."""
        chosen = [paste for paste in self.pastes if paste.id in self.ids]
        if not chosen:
            return NONE_FOR_ORDER if self.begun.order else NONE_FOR_PRODUCT
        shouts = " AND ".join(sorted({paste.alloy.shout for paste in chosen}))
        return f"Chosen: {', '.join(paste.id for paste in chosen)}: {shouts}"


def _whole(paste: Paste) -> str:
    return f"{paste.id} {paste.title} {paste.part_number} {paste.alloy.value} {paste.alloy.shout}".casefold()
