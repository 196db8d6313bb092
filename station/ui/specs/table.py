"""The one table of a specification's figures: name, unit, range and explanation, and how each is written and read.

Forms, messages and previews are made from it. The keys are those of pastes.toml, and so is the writing: durations with
their units ("1 h 30 min"). A figure whose unit never changes (degrees, percent, months, counts) may be typed alone.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import timedelta
from enum import StrEnum
from typing import Any

from station.care.specification import Specification
from station.care.words import Storage
from station.settings import fields
from station.settings.fields import Field
from station.settings.paste_file import LONGEST_CONDITIONING, LONGEST_OPEN_LIFE
from station.settings.quantities import Unfit

MINUTE, HOUR, DAY, NOTHING = timedelta(minutes=1), timedelta(hours=1), timedelta(days=1), timedelta(0)
NOT_ALLOWED, AS_LABELLED, YES, NO = "not allowed", "as labelled", "yes", "no"
PER_KIND = "conditioning."
"""What the key of a kind's conditioning time begins with, as in `conditioning.JAR-500`."""

MINUS = "\N{MINUS SIGN}"
OUTSIDE = "it is outside"
COLD = frozenset({Storage.COLD, Storage.FROZEN})
EVERY = frozenset(Storage)
_BARE = re.compile(r"-?[0-9]{1,6}(?:\.[0-9]{1,4})?")
_COMMA = re.compile(r"(?<=[0-9]),(?=[0-9])")


class Page(StrEnum):
    """The pages of a specification, in the order of a container's life."""

    ARRIVAL = "Arrival and shelf"
    WARMING = "Cold and warming"
    OPEN = "Open, on stencil"
    SPECIAL = "Room, special uses"


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of a specification.

    `allowed` is its range in words; `unit` is put behind a bare figure; `words` are answers that are no figure, such
    as "not allowed"; `kept` says for which ways of storage it has a meaning. `told` is its text in a specification.
    """

    key: str
    name: str
    page: Page
    allowed: str
    why: str
    field: Field[Any]
    told: Callable[[Specification], str]
    unit: str = ""
    words: tuple[str, ...] = ()
    kept: frozenset[Storage] = EVERY

    def read(self, typed: str) -> object:
        """The value of what was typed. Raises Unfit, which says why not and how to write it."""
        if not typed.strip():
            raise Unfit("it is empty", f"Write {self.allowed}")
        return self.field.parse(self.as_written(typed))

    def complaint(self, typed: str) -> str:
        """What is wrong with what was typed and how to mend it, as one text; empty where nothing is."""
        try:
            self.read(typed)
        except Unfit as unfit:
            return self._sentence(unfit)
        return ""

    def _sentence(self, unfit: Unfit) -> str:
        """The fault as a form says it: without quotes, and a range as it stands beside the field."""
        if unfit.reason.startswith(OUTSIDE):
            return f"{self.name}: it is outside {self.allowed}. Check the figure and its unit."
        meant = f' Did you mean "{unfit.nearest}"?' if unfit.nearest else ""
        remedy = f"Write {self.allowed}" if "quotes" in unfit.remedy else unfit.remedy
        return f"{self.name}: {unfit.reason}.{meant} {remedy}."

    def shown(self, text: str) -> str:
        """A text of a specification as people read it: degrees with their sign."""
        return f"{text.removesuffix(' C').replace('-', MINUS)} °C" if self.unit == "C" and text else text

    def same(self, one: str, other: str) -> bool:
        """Whether two texts mean the same figure; texts that mean none are the same only letter by letter."""
        if self.complaint(one) or self.complaint(other):
            return one.strip() == other.strip()
        return self.read(one) == self.read(other)

    def as_written(self, typed: str) -> object:
        """What was typed as a file of settings has it: a word or a figure with its unit in quotes, a bare count."""
        text = " ".join(_COMMA.sub(".", typed.replace(MINUS, "-")).split())
        low = text.lower()
        if self.words == (YES, NO):
            return {YES: True, NO: False}.get(low, text)
        if low in self.words:
            return low
        bare = _BARE.fullmatch(text) is not None
        if self.unit == "" and self._counts():
            return int(text) if bare and "." not in text else text
        return f"{text} {self.unit}" if bare and self.unit else text

    def _counts(self) -> bool:
        return isinstance(self.field.placeholder, int) and not isinstance(self.field.placeholder, bool)


# ---------------------------------------------------------------------- kinds of figure


def said(span: timedelta) -> str:
    """A length of time as a data sheet says it: `7 d`, but `24 h` and `68 h 15 min`; whole minutes."""
    if not span:
        return "0 h"
    if span >= 2 * DAY and not span % DAY:
        return f"{span // DAY} d"
    hours, minutes = divmod(span // MINUTE, 60)
    return " ".join([*([f"{hours} h"] if hours else []), *([f"{minutes} min"] if minutes else [])])


def _span(least: timedelta, most: timedelta, step: timedelta = MINUTE) -> dict[str, Any]:
    whole = ", in whole hours" if step == HOUR else ""
    return {"allowed": f"{said(least)} to {said(most)}{whole}", "field": fields.duration(least, most, step)}


def _span_or_not() -> dict[str, Any]:
    allowed = f"{said(HOUR)} to {said(LONGEST_OPEN_LIFE)}, or {NOT_ALLOWED}"
    return {"allowed": allowed, "field": fields.allowed(HOUR, LONGEST_OPEN_LIFE), "words": (NOT_ALLOWED,)}


def _celsius(least: float, most: float) -> dict[str, Any]:
    return {"allowed": f"{_signed(least)} to {_signed(most)} °C", "field": fields.celsius(least, most), "unit": "C"}


def _signed(figure: float) -> str:
    return f"{figure:g}".replace("-", MINUS)


def _percent() -> dict[str, Any]:
    return {"allowed": "0 to 100 %", "field": fields.percent(0, 100), "unit": "%"}


def _whole(least: int, most: int) -> dict[str, Any]:
    return {"allowed": f"a whole number from {least} to {most}", "field": fields.whole(least, most)}


def _told_span(name: str) -> Callable[[Specification], str]:
    return lambda found: _written_or_not(getattr(found, name))


def _written_or_not(span: timedelta | None) -> str:
    return NOT_ALLOWED if span is None else said(span)


def _told_figure(name: str, unit: str = "") -> Callable[[Specification], str]:
    return lambda found: f"{getattr(found, name):g} {unit}".strip()


def _told_end(name: str, end: str, unit: str) -> Callable[[Specification], str]:
    return lambda found: f"{getattr(getattr(found, name), end):g} {unit}"


def _told_thaw(end: str) -> Callable[[Specification], str]:
    return lambda found: said(getattr(found.thaw, end)) if found.thaw is not None else "0 h"


def _told_shelf(found: Specification) -> str:
    return AS_LABELLED if found.shelf_months is None else f"{found.shelf_months} months"


# ---------------------------------------------------------------------- the table

FIGURES: tuple[Figure, ...] = (
    Figure(
        "to_cold", "Time to cold storage", Page.ARRIVAL, **_span(timedelta(minutes=10), 7 * DAY), kept=COLD,
        why="Most time from arrival at the dock to its cold store.", told=_told_span("to_cold"),
    ),
    Figure(
        "shelf_life", "Shelf life", Page.ARRIVAL, allowed=f"1 to 60 months, or {AS_LABELLED}",
        why="Months from manufacture, unopened; as labelled where the maker prints an expiry date.",
        field=fields.shelf_months(), told=_told_shelf, unit="months", words=(AS_LABELLED,),
    ),
    Figure(
        "arrival_warn_above", "Arrives warm: warn above", Page.ARRIVAL, **_celsius(-60, 60),
        why="Above this temperature at the dock a container is warned of.",
        told=_told_figure("arrival_warn_above_c", "C"),
    ),
    Figure(
        "arrival_hold_above", "Arrives warm: hold above", Page.ARRIVAL, **_celsius(-60, 60),
        why="Above this temperature at the dock it goes on hold.", told=_told_figure("arrival_hold_above_c", "C"),
    ),
    Figure(
        "arrival_hold_below", "Arrives cold: hold below", Page.ARRIVAL, **_celsius(-90, 40),
        why="Below this temperature at the dock it goes on hold.", told=_told_figure("arrival_hold_below_c", "C"),
    ),
    Figure(
        "floor", "Lowest temperature for use", Page.WARMING, **_celsius(5, 35),
        why="Colder paste is not opened.", told=_told_figure("floor_c", "C"),
    ),
    Figure(
        "room_life", "Room life", Page.WARMING, **_span(HOUR, 364 * DAY), kept=COLD,
        why="All time out of the cold while closed, summed up.", told=_told_span("room_life"),
    ),
    Figure(
        "room_extension", "Room life, most a shift lead may add", Page.WARMING, **_span(NOTHING, 90 * DAY), kept=COLD,
        why="0 h: nothing may be added.", told=_told_span("room_extension"),
    ),
    Figure(
        "cold_cycles", "Cold cycles", Page.WARMING, **_whole(1, 9), kept=COLD,
        why="1: once in and out, never back.", told=_told_figure("cold_cycles"),
    ),
    Figure(
        "return_within", "Out of the cold before going back", Page.WARMING, **_span(MINUTE, DAY), kept=COLD,
        why="Most time out, unopened, before it goes back; only with 2 or more cold cycles.",
        told=lambda found: "" if found.return_within is None else said(found.return_within),
    ),
    Figure(
        "thaw_at_least", "Thawing in a refrigerator, at least", Page.WARMING, **_span(NOTHING, 7 * DAY),
        why="0 h for both where it goes straight to the room.", told=_told_thaw("at_least"),
        kept=frozenset({Storage.FROZEN}),
    ),
    Figure(
        "thaw_at_most", "Thawing in a refrigerator, at most", Page.WARMING, **_span(NOTHING, 30 * DAY),
        why="Longer there and it goes on hold.", told=_told_thaw("at_most"), kept=frozenset({Storage.FROZEN}),
    ),
    Figure(
        "open_life", "Open life", Page.OPEN, **_span(HOUR, LONGEST_OPEN_LIFE, HOUR),
        why="From the first opening.", told=_told_span("open_life"),
    ),
    Figure(
        "open_extension", "Open life, most a shift lead may add", Page.OPEN, **_span(NOTHING, LONGEST_OPEN_LIFE, HOUR),
        why="0 h: nothing may be added; together with open life at most 255 h.", told=_told_span("open_extension"),
    ),
    Figure(
        "stencil_life", "Stencil life", Page.OPEN, **_span(timedelta(minutes=15), 7 * DAY),
        why="From the start of a bead; topping up never starts it anew.", told=_told_span("stencil_life"),
    ),
    Figure(
        "stencil_time_counts_as_open", "Time on the stencil counts as open", Page.OPEN,
        allowed=f"{YES} or {NO}", why="No only if the data sheet says so.", field=fields.flag(), words=(YES, NO),
        told=lambda found: YES if found.stencil_time_counts_as_open else NO,
    ),
    Figure(
        "pause_knead", "Pause: wipe and knead after", Page.OPEN, **_span(MINUTE, DAY),
        why="A shorter stop needs nothing.", told=_told_span("pause_knead"),
    ),
    Figure(
        "pause_replace", "Pause: replace the bead after", Page.OPEN, **_span(MINUTE, 3 * DAY),
        why="Not less than the pause before kneading.", told=_told_span("pause_replace"),
    ),
    Figure(
        "enclosed_life", "Stencil life in an enclosed head", Page.OPEN, **_span_or_not(),
        why="In place of stencil life.", told=_told_span("enclosed_life"),
    ),
    Figure(
        "printing_room_from", "Room at the printer, from", Page.SPECIAL, **_celsius(5, 40),
        why="Outside the range the station warns.", told=_told_end("printing_room_c", "low", "C"),
    ),
    Figure(
        "printing_room_to", "Room at the printer, to", Page.SPECIAL, **_celsius(5, 40),
        why="Outside the range the station warns.", told=_told_end("printing_room_c", "high", "C"),
    ),
    Figure(
        "printing_humidity_from", "Humidity at the printer, from", Page.SPECIAL, **_percent(),
        why="Relative humidity; outside the range the station warns.",
        told=_told_end("printing_humidity", "low", "%"),
    ),
    Figure(
        "printing_humidity_to", "Humidity at the printer, to", Page.SPECIAL, **_percent(),
        why="Relative humidity; outside the range the station warns.",
        told=_told_end("printing_humidity", "high", "%"),
    ),
    Figure(
        "mixings", "Runs in a mixing machine", Page.SPECIAL, **_whole(0, 9),
        why="Of a closed container; 0 for never.", told=_told_figure("mixings"),
    ),
    Figure(
        "decanted_life", "Decanted life", Page.SPECIAL, **_span_or_not(),
        why="Filled into another container, from the filling.", told=_told_span("decanted_life"),
    ),
    Figure(
        "used_paste_life", "Used-paste life", Page.SPECIAL, **_span_or_not(),
        why="A removed bead kept in a jar of its own.", told=_told_span("used_paste_life"),
    ),
)  # fmt: skip


def conditioning_of(kind: str, title: str) -> Figure:
    """The figure of one kind of container: the supplier's shortest time from the cold to the opening."""

    def told(found: Specification) -> str:
        minimum = found.minimum_for(kind)
        return "" if minimum is None else said(minimum)

    return Figure(
        f"{PER_KIND}{kind}", f"Conditioning, {title}", Page.WARMING,
        **_span(timedelta(minutes=5), LONGEST_CONDITIONING), kept=COLD,
        why="Shortest time from the cold to opening, of this kind.", told=told,
    )  # fmt: skip


def figures_of(storage: Storage, kinds: Mapping[str, str]) -> tuple[Figure, ...]:
    """Every figure that has a meaning for a paste of this storage, with one more for each kind it is bought in.

    `kinds` are titles by id.
    """
    per_kind = tuple(conditioning_of(kind, title) for kind, title in kinds.items())
    after = next(number for number, figure in enumerate(FIGURES) if figure.key == "floor") + 1
    every = (*FIGURES[:after], *per_kind, *FIGURES[after:])
    return tuple(figure for figure in every if storage in figure.kept)


_EVERY = {figure.key: figure for figure in FIGURES}


def figure_called(key: str, kinds: Mapping[str, str]) -> Figure | None:
    """The figure of a key; `kinds` are titles by id."""
    kind = key.removeprefix(PER_KIND)
    return conditioning_of(kind, kinds.get(kind, kind)) if kind != key else _EVERY.get(key)
