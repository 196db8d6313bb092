"""Label templates in millimetres from the top left corner, and what is wrong with one.

A template is data: the built-in ones and those of a site's settings have the same shape. Sizes of letters are the
height of a capital, which is what decides whether a person can read it.
"""

import difflib
from collections.abc import Mapping
from dataclasses import MISSING, Field, dataclass, field, fields
from string import Formatter
from typing import Any, TypeAlias

from station.labels.content import FIELD_NAMES
from station.labels.language import ENGLISH, LANGUAGES, phrase


@dataclass(frozen=True, slots=True)
class TextItem:
    """One line of text: fixed words and `{fields}` of the content. Not drawn where no field in it has text.

    `y_mm` is the top of the capitals, `cap_mm` their height. Text wider than `width_mm` is set smaller, down to
    `least_mm`; where even that is too wide, `instead` stands there, and without one the template does not pass.
    """

    text: str
    x_mm: float
    y_mm: float
    width_mm: float
    cap_mm: float
    least_mm: float = 0.0
    face: str = field(default="regular", metadata={"one_of": ("regular", "bold", "mono")})
    align: str = field(default="left", metadata={"one_of": ("left", "centre", "right")})
    inverted: bool = False
    instead: str = ""
    when: str = ""
    unless: str = ""

    @property
    def smallest_mm(self) -> float:
        """The smallest height of a capital this line may be set in."""
        return min(self.least_mm or self.cap_mm, self.cap_mm)

    @property
    def field_names(self) -> tuple[str, ...]:
        """The content fields in `text`, in order."""
        return tuple(name for _, name, _, _ in Formatter().parse(self.text) if name is not None)

    def filled(self, values: Mapping[str, str], language: str = ENGLISH) -> str:
        """The line in a language with its fields filled in; empty where it has fields and none of them has text."""
        names = self.field_names
        if names and not any(values[name] for name in names):
            return ""
        return phrase(self.text, language).format_map(values)


@dataclass(frozen=True, slots=True)
class CodeItem:
    """The square space for the QR code with its quiet zone. The symbol is centred in it at whole dots."""

    x_mm: float
    y_mm: float
    side_mm: float


@dataclass(frozen=True, slots=True)
class BoxItem:
    """A rectangle: an outline `line_mm` thick, or filled where `line_mm` is 0 (a rule is a thin filled one)."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    line_mm: float = 0.0
    when: str = ""
    unless: str = ""


@dataclass(frozen=True, slots=True)
class ArrowItem:
    """A filled triangle that points to the lower edge."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    when: str = ""
    unless: str = ""


LEAST_MM, MOST_MM = 0.1, 200.0
SIZES = frozenset({"cap_mm", "width_mm", "height_mm", "side_mm"})
Item: TypeAlias = TextItem | CodeItem | BoxItem | ArrowItem
ITEM_KINDS: dict[str, type[Item]] = {"text": TextItem, "code": CodeItem, "box": BoxItem, "arrow": ArrowItem}


def is_drawn(item: Item, values: Mapping[str, str]) -> bool:
    """Whether an item stands on a label of these `values`: the field `when` has text, the field `unless` has none."""
    if isinstance(item, CodeItem):
        return True
    return (not item.when or bool(values[item.when])) and not (item.unless and values[item.unless])


@dataclass(frozen=True, slots=True)
class Template:
    """One label: its size and what stands on it, in reading order. Exactly one item is the code."""

    name: str
    width_mm: float
    height_mm: float
    items: tuple[Item, ...]
    language: str = ENGLISH

    @property
    def code(self) -> CodeItem:
        """Where the QR code stands."""
        return next(item for item in self.items if isinstance(item, CodeItem))


class TemplateFaults(Exception):
    """Everything that is wrong with a template: `faults` are sentences that name the item and the key."""

    def __init__(self, name: str, faults: tuple[str, ...]) -> None:
        super().__init__(f"Label template {name!r}: " + " ".join(faults))
        self.name = name
        self.faults = faults


def template_from_mapping(mapping: Mapping[str, object], name: str = "") -> Template:
    """A template from settings: `width_mm`, `height_mm`, `items` (tables with a `kind`), `name` and `language`.

    TemplateFaults lists every fault at once, with the nearest valid word where one was misspelt.
    """
    faults: list[str] = []
    allowed = ("name", "width_mm", "height_mm", "items", "language")
    faults += [_unknown("The template", key, allowed) for key in mapping if key not in allowed]
    title = str(mapping.get("name", "")) or name
    width_mm, height_mm = (_side(mapping, key, faults) for key in ("width_mm", "height_mm"))
    items = tuple(item for item in _items(mapping.get("items"), faults) if item is not None)
    language = str(mapping.get("language", ENGLISH))
    if language not in LANGUAGES:
        faults.append(f"language must be one of {', '.join(LANGUAGES)}, not {language!r}.")
    if not faults and sum(isinstance(item, CodeItem) for item in items) != 1:
        faults.append("The template needs exactly one item of kind code.")
    if faults:
        raise TemplateFaults(title, tuple(faults))
    return Template(title, width_mm, height_mm, items, language)


def _side(mapping: Mapping[str, object], key: str, faults: list[str]) -> float:
    value = mapping.get(key)
    if _is_number(value) and 10 <= float(value) <= MOST_MM:  # type: ignore[arg-type]  # _is_number has looked
        return float(value)  # type: ignore[arg-type]
    faults.append(f"{key} must be a number of millimetres from 10 to 200, not {value!r}.")
    return 0.0


def _items(tables: object, faults: list[str]) -> list[Item | None]:
    if not isinstance(tables, list | tuple) or not tables:
        faults.append("items must be a list with at least one table.")
        return []
    return [_item(f"Item {number}", table, faults) for number, table in enumerate(tables, start=1)]


def _item(place: str, table: object, faults: list[str]) -> Item | None:
    if not isinstance(table, Mapping):
        faults.append(f"{place} must be a table, not {table!r}.")
        return None
    kind = table.get("kind")
    if kind not in ITEM_KINDS:
        faults.append(f"{place} has kind {kind!r}; it must be one of {', '.join(ITEM_KINDS)}.")
        return None
    shape = ITEM_KINDS[kind]
    place = f"{place} ({kind})"
    known = {entry.name: entry for entry in fields(shape)}
    here = [_unknown(place, key, tuple(known)) for key in table if key not in known and key != "kind"]
    here += [fault for entry in known.values() for fault in _value_faults(place, entry, table)]
    faults += here
    return None if here else shape(**{key: table[key] for key in table if key != "kind"})


def _value_faults(place: str, entry: "Field[Any]", table: Mapping[str, object]) -> list[str]:
    if entry.name not in table:
        return [f"{place} lacks {entry.name}."] if entry.default is MISSING else []
    value = table[entry.name]
    if entry.type is float:
        least = LEAST_MM if entry.name in SIZES else 0
        good = _is_number(value) and least <= float(value) <= MOST_MM  # type: ignore[arg-type]  # _is_number has looked
        return [] if good else [f"{place}: {entry.name} must be millimetres, {least:g} to {MOST_MM:g}, not {value!r}."]
    if not isinstance(value, entry.type):  # type: ignore[arg-type]  # plain classes only, see the items above
        return [f"{place}: {entry.name} cannot be {value!r}."]
    return _word_faults(place, entry, value)


def _word_faults(place: str, entry: "Field[Any]", value: object) -> list[str]:
    choices = entry.metadata.get("one_of")
    if choices and value not in choices:
        return [f"{place}: {entry.name} must be one of {', '.join(choices)}, not {value!r}."]
    if entry.name in {"when", "unless"} and value and value not in FIELD_NAMES:
        return [_unknown(place, str(value), FIELD_NAMES)]
    return _text_faults(place, str(value)) if entry.name in {"text", "instead"} else []


def _text_faults(place: str, text: str) -> list[str]:
    try:
        names = [name for _, name, _, _ in Formatter().parse(text) if name is not None]
    except ValueError:
        return [f"{place}: the braces in {text!r} do not match."]
    return [_unknown(place, name, FIELD_NAMES) for name in names if name not in FIELD_NAMES]


def _unknown(place: str, word: str, words: tuple[str, ...]) -> str:
    near = difflib.get_close_matches(word, words, n=1)
    hint = f"did you mean {near[0]}?" if near else f"known are {', '.join(words)}."
    return f"{place} knows no {word!r}; {hint}"


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)
