"""What a new paste begins with: a free number, and the figures of the one it is like where it is kept alike."""

from dataclasses import replace

from station.care.floor import Floor
from station.care.specification import Paste
from station.settings.paste_file import HIGHEST_PASTE_NUMBER
from station.ui.specs.paste_form import PasteBegun, PasteWord
from station.ui.specs.shown import figures_in
from station.ui.specs.typed import Texts, texts_of


def begin_new(floor: Floor, drafted: tuple[Paste, ...], like: str) -> PasteBegun:
    """The form of a paste like another one, or like none; `drafted` are those that only drafts name so far."""
    taken = (*floor.plant.pastes.values(), *drafted)
    numbers = frozenset(paste.number for paste in taken)
    copied = floor.ledger.specifications.get(like)
    return PasteBegun(
        like=floor.plant.pastes.get(like),
        kinds=tuple(entry.kind for entry in copied.conditioning) if copied is not None else (),
        number=_free(numbers),
        taken_ids=frozenset(paste.id for paste in taken),
        taken_numbers=numbers,
    )


def _free(numbers: frozenset[int]) -> int:
    """One above all others, as a number that a paste had once must not come again; else the lowest that is free."""
    above = max(numbers, default=0) + 1
    free = (number for number in range(HIGHEST_PASTE_NUMBER + 1) if number not in numbers)
    return above if above <= HIGHEST_PASTE_NUMBER else next(free, HIGHEST_PASTE_NUMBER)


def begin_texts(floor: Floor, word: PasteWord, like: str) -> Texts:
    """Its figures: those of the other one, all but where they come from; none where that is kept otherwise."""
    other, found = floor.plant.pastes.get(like), floor.ledger.specifications.get(like)
    if other is None or found is None or other.storage is not word.paste.storage:
        return Texts(kinds=word.kinds)
    copied = texts_of(figures_in(floor, other, found), found)
    return replace(copied, kinds=word.kinds, data_sheet="", page="", sources={})
