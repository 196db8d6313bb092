"""What was typed goes through the reader of the settings files: one check for a file and for the form."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from station.care.floor import Floor
from station.care.saying import opening
from station.care.spec_drafts import DraftTold
from station.care.specification import Paste
from station.settings.faults import SettingsFault, SettingsRefused
from station.settings.specification_text import fault_key, read_draft
from station.settings.specification_toml import paste_table
from station.ui.specs.table import FIGURES, figure_called
from station.ui.specs.typed import BOUGHT_IN, Texts

OF_THE_FORM = {
    "data_sheet": "the data sheet",
    "page": "the page",
    BOUGHT_IN: "what it is bought in",
    "conditioning": "conditioning",
}
_NAMES = {figure.key: figure.name for figure in FIGURES} | OF_THE_FORM
_KEY = re.compile(r"\b(" + "|".join(sorted((key for key in _NAMES if "_" in key), key=len, reverse=True)) + r")\b")


@dataclass(frozen=True, slots=True)
class Begun:
    """What a form begins with: a paste and its texts. `founds` where the site does not have the paste yet.

    `replaces` is the key of the open draft whose place it takes.
    """

    paste: Paste
    texts: Texts
    founds: bool = False
    replaces: str = ""


def told(
    begun: Begun, kinds: tuple[str, ...], written: Mapping[str, object], floor: Floor, explanation: str = ""
) -> DraftTold:
    """The draft that was typed. Raises SettingsRefused with every fault."""
    return read_draft(_table(begun, kinds, written, floor), floor, explanation, begun.replaces)


def sentences(begun: Begun, kinds: tuple[str, ...], written: Mapping[str, object], floor: Floor) -> Mapping[str, str]:
    """Everything that is wrong with what was typed, by the key of its field."""
    try:
        told(begun, kinds, written, floor)
    except SettingsRefused as refused:
        titles = {kind.id: kind.title for kind in floor.plant.kinds.values()}
        return {fault_key(fault): sentence(fault, titles) for fault in reversed(refused.faults)}
    return {}


def sentence(fault: SettingsFault, titles: Mapping[str, str]) -> str:
    """A fault of a file as a form says it: by the names of fields instead of keys."""
    figure = figure_called(fault_key(fault), titles)
    subject = f"{figure.name}: {fault.reason}" if figure is not None else opening(fault.reason)
    return f"{_named(subject)}. {_named(fault.remedy)}."


def _named(text: str) -> str:
    return _KEY.sub(lambda found: f"“{_NAMES[found[0]]}”", text)


def _table(begun: Begun, kinds: tuple[str, ...], written: Mapping[str, object], floor: Floor) -> dict[str, object]:
    # the limits are replaced whole; those of any paste do to have the rest of the table written
    limits = floor.ledger.specifications.get(begun.paste.id) or next(iter(floor.ledger.specifications.values()))
    return {**paste_table(begun.paste, limits), BOUGHT_IN: list(kinds), "specification": dict(written)}
