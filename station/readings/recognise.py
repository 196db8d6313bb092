"""Finds the layout of a file from its own text, and asks where the text leaves a doubt. Nothing is guessed.

What a person declared always counts; where it differs from a heading that is remarked on.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import tzinfo

from station.readings import headings
from station.readings.cells import looks_like_figure
from station.readings.grid import Line, separator_line, split
from station.readings.layout import Layout, SensorColumn, Unit
from station.readings.questions import Declared, LayoutUnclear, Option, Question
from station.readings.series import Noticed, Problem, ReadingsRefused
from station.readings.timeform import ELAPSED, FormUnknown, TimeForm, time_form
from station.readings.times_in_file import chosen, form_of, sort_of, time_columns, usual_width
from station.readings.zones import ZoneUnknown, zone_of

DELIMITERS = {";": "semicolon", "\t": "tab", ",": "comma", "|": "bar"}
FEWEST_ROWS = 2
HEAD = 400
"""Lines in which to look for columns; a logger does not change its mind further down, and if it did, `read` says so."""


def recognise(file: str, text: str, declared: Declared | None = None) -> Layout:
    """The layout of a file's text.

    Raises LayoutUnclear with every question that is open, ReadingsRefused where the file holds no readings.
    """
    search = _Search(file, text, declared or Declared())
    layout = search.layout()
    if layout is None:
        raise LayoutUnclear(file, search.questions, search.columns)
    return layout


@dataclass
class _Search:
    """One look at one file; questions are collected on the way."""

    file: str
    text: str
    told: Declared
    questions: list[Question] = field(default_factory=list)
    remarks: list[Problem] = field(default_factory=list)
    lines: tuple[Line, ...] = ()
    heads: tuple[str, ...] = ()

    @property
    def columns(self) -> tuple[str, ...]:
        """What each column can be called: its heading, or its place from 1 where that is missing or not its own."""
        names = [self._name(index) for index in range(len(self.heads))]
        alone = (bool(head) and names.count(names[index]) == 1 for index, head in enumerate(self.heads))
        return tuple(names[index] if own else str(index + 1) for index, own in enumerate(alone))

    def ask(self, question: Question) -> None:
        """Note what is open."""
        self.questions.append(question)

    def layout(self) -> Layout | None:
        """The layout, or None with questions noted."""
        delimiter = self._delimiter()
        if delimiter is None:
            return None
        every = split(self.file, self.text, delimiter)
        first = self._first_data(every)
        self.lines = every[first:]
        self.heads = _heads(every[:first], max(len(line.cells) for line in self.lines))
        times = self._times()
        form = self._form(times) if times else None
        zone = self._zone(form, times)
        sensors = self._sensors(times)
        damp = self._humidity((*times, *(sensor.column for sensor in sensors)))
        decimal = self._decimal(delimiter, (*(s.column for s in sensors), *(() if damp is None else (damp,))))
        if self.questions or form is None:
            return None
        return Layout(
            delimiter=delimiter,
            decimal=decimal,
            header_rows=every[first - 1].number if first else 0,
            time_columns=times,
            time_form=form,
            sensors=sensors,
            zone=zone,
            humidity_column=damp,
            start=self.told.start if form.elapsed else None,
            remarks=tuple(self.remarks),
        )

    def _delimiter(self) -> str | None:
        """The declared delimiter, or the one with which most lines are a time and figures."""
        named = self.told.delimiter or separator_line(self.text)
        if named is not None:
            return named
        scores = {delimiter: self._score(delimiter) for delimiter in DELIMITERS}
        best = max(scores.values())
        found = [delimiter for delimiter, score in scores.items() if score == best]
        if best < FEWEST_ROWS:
            raise ReadingsRefused(self.file, ["no two lines in it are a time and a temperature. Look at its layout."])
        if len(found) > 1:
            told = "Its columns could be parted by " + " or ".join(DELIMITERS[sign] for sign in found)
            self.ask(Question(Option.DELIMITER, told, tuple(DELIMITERS[sign] for sign in found)))
            return None
        return found[0]

    def _score(self, delimiter: str) -> int:
        try:
            every = split(self.file, "".join(self.text.splitlines(keepends=True)[:HEAD]), delimiter)
        except ReadingsRefused:
            return 0
        timed = sum(len(line.cells) > 1 and any(sort_of(cell) for cell in line.cells) for line in every)
        plain = sum(len(line.cells) > 1 and all(map(looks_like_figure, filter(None, line.cells))) for line in every)
        return timed or plain

    def _first_data(self, every: Sequence[Line]) -> int:
        """The index of the first line of readings: after the declared heading, else the first that is like most."""
        if not every:
            found = None
        elif self.told.header_rows is not None:
            wanted = self.told.header_rows
            found = next((index for index, line in enumerate(every) if line.number > wanted), None)
        else:
            times = time_columns(every[:HEAD])
            width = usual_width(every[:HEAD], times)
            found = next((index for index, line in enumerate(every) if _is_data(line, times, width)), None)
        if found is None:
            raise ReadingsRefused(self.file, ["there is no row of readings in it."])
        return found

    def _column(self, name: str, option: Option) -> int | None:
        """The column of a name, of its heading without unit, or of its place from 1; asks where there is none."""
        wanted = headings.repaired(name).casefold()
        found = [i for i, head in enumerate(self.heads) if wanted in (head.casefold(), self._name(i).casefold())]
        if len(found) == 1:
            return found[0]
        if not found and name.isdigit() and 1 <= int(name) <= len(self.heads):
            return int(name) - 1
        known = ", ".join(f'"{head}"' for head in self.heads if head) or f"1 to {len(self.heads)}"
        told = f'"{name}" is the name of several columns' if found else f'It has no column "{name}"; it has {known}'
        self.ask(Question(option, told))
        return None

    def _name(self, column: int) -> str:
        return headings.sensor_name(self.heads[column], column)

    def _cells(self, column: int) -> list[str]:
        return [line.cells[column] for line in self.lines if column < len(line.cells)]

    def _times(self) -> tuple[int, ...]:
        """The time columns, empty where they are open."""
        if self.told.time_columns:
            found = [self._column(name, Option.TIME_COLUMN) for name in self.told.time_columns]
            return tuple(column for column in found if column is not None) if None not in found else ()
        columns = time_columns(self.lines[:HEAD])
        if not columns:
            return self._elapsed_column()
        times = chosen(columns)
        if isinstance(times, tuple):
            return times
        if times.option is Option.TIME_FORMAT and self.told.time_format is not None:
            return (columns[0][0],)
        self.ask(times)
        return ()

    def _elapsed_column(self) -> tuple[int, ...]:
        found = [index for index, head in enumerate(self.heads) if headings.names_elapsed(head)]
        if len(found) == 1:
            return (found[0],)
        self.ask(Question(Option.TIME_COLUMN, "It does not say which column is its time"))
        return ()

    def _form(self, times: tuple[int, ...]) -> TimeForm | None:
        form = self.told.time_format or self._form_seen(times)
        if isinstance(form, Question):
            self.ask(form)
            return None
        try:
            found = time_form(form)
        except FormUnknown as unknown:
            self.ask(Question(Option.TIME_FORMAT, str(unknown).removesuffix(".")))
            return None
        if found.elapsed and self.told.start is None:
            self.ask(Question(Option.START, "Its times count from a start that it does not name"))
        return found

    def _form_seen(self, times: tuple[int, ...]) -> str | Question:
        cells = [" ".join(line.cells[i] for i in times) for line in self.lines if max(times) < len(line.cells)]
        readable = [cell for cell in cells if sort_of(cell) is not None]
        if readable:
            return form_of(readable)
        unit = headings.elapsed_unit(self.heads[times[0]])
        if unit is not None:
            return f"{ELAPSED}{unit}"
        choices = tuple(f'"{ELAPSED}{unit}"' for unit in ("s", "min", "h"))
        return Question(Option.TIME_FORMAT, "Its times are plain figures without a unit", choices)

    def _zone(self, form: TimeForm | None, times: tuple[int, ...]) -> tzinfo | None:
        """The zone declared, else the offset in the time's heading; asked for where neither is and cells have none."""
        in_heading = next((zone for i in times if (zone := headings.zone_in(self.heads[i])) is not None), None)
        if self.told.zone is not None:
            try:
                return zone_of(self.told.zone)
            except ZoneUnknown as unknown:
                self.ask(Question(Option.ZONE, str(unknown).removesuffix(".")))
                return None
        needless = form is not None and (form.elapsed or self._all_with_offset(form, times))
        if in_heading is None and not needless:
            told = "It does not say which zone its clock showed"
            self.ask(Question(Option.ZONE, told, ("Europe/Berlin", '"Europe/Berlin standard"', "UTC+01:00")))
        return in_heading

    def _all_with_offset(self, form: TimeForm, times: tuple[int, ...]) -> bool:
        cells = self._cells(times[0])
        return bool(cells) and form.text == "ISO" and all(_has_offset(cell) for cell in cells)

    def _sensors(self, times: tuple[int, ...]) -> tuple[SensorColumn, ...]:
        if self.told.sensors:
            named = [self._column(name, Option.SENSOR) for name in self.told.sensors]
            columns = list(dict.fromkeys(column for column in named if column is not None))
        else:
            columns = self._temperature_columns(times)
        units = [self._unit(column) for column in columns]
        open_ones = [self._name(column) for column, unit in zip(columns, units, strict=True) if unit is None]
        if open_ones:
            told = f"It does not say in which unit it is: {', '.join(open_ones)}"
            self.ask(Question(Option.UNIT, told, tuple(unit.value for unit in Unit)))
        names = self._names(columns)
        return tuple(
            SensorColumn(column, name, unit or Unit.CELSIUS, digital=not self.told.thermocouples)
            for column, name, unit in zip(columns, names, units, strict=True)
        )

    def _names(self, columns: Sequence[int]) -> list[str]:
        names = [self._name(column) for column in columns]
        return [
            f"{name} (column {column + 1})" if names.count(name) > 1 else name
            for column, name in zip(columns, names, strict=True)
        ]

    def _temperature_columns(self, times: tuple[int, ...]) -> list[int]:
        """The columns whose heading speaks of temperature; where none does, every other column of figures."""
        others = [index for index in range(len(self.heads)) if index not in times]
        speaking = [index for index in others if headings.names_temperature(self.heads[index])]
        figures = [
            index
            for index in others
            if not headings.names_counter(self.heads[index])
            and not headings.names_humidity(self.heads[index])
            and sum(map(looks_like_figure, self._cells(index)[:HEAD])) * 2 > len(self.lines[:HEAD])
        ]
        if not speaking and not figures:
            self.ask(Question(Option.SENSOR, "It has no column of temperatures"))
        return speaking or figures

    def _unit(self, column: int) -> Unit | None:
        """The unit declared for this sensor, else for all, else the heading's."""
        own = {headings.repaired(name).casefold(): unit for name, unit in self.told.units}
        names = (self.heads[column].casefold(), self._name(column).casefold(), str(column + 1))
        declared = next((own[name] for name in names if name in own), self.told.unit)
        seen = headings.unit_of(self.heads[column])
        if declared is not None and seen is not None and seen != declared:
            told = f"the heading {self.heads[column]!r} says {seen.value}, and {declared.value} was declared and taken"
            self.remarks.append(Problem(Noticed.DECLARED_AGAINST_HEADING, None, None, told))
        return declared or seen

    def _humidity(self, taken: tuple[int, ...]) -> int | None:
        """The column of humidity among those not taken; where it matters which, it is asked."""
        if self.told.humidity is not None:
            return self._column(self.told.humidity, Option.HUMIDITY)
        if self.told.sensors and not self.told.air:
            return None
        found = [
            index
            for index, head in enumerate(self.heads)
            if index not in taken
            and headings.names_humidity(head)
            and any(map(looks_like_figure, self._cells(index)[:HEAD]))
        ]
        if self.told.air and len(found) > 1:
            names = tuple(self.columns[index] for index in found)
            self.ask(Question(Option.HUMIDITY, "Several columns could be its humidity", names))
        return found[0] if found else None

    def _decimal(self, delimiter: str, columns: Sequence[int]) -> str:
        """The sign between whole and part in the columns read; a point where no figure has any."""
        if self.told.decimal is not None:
            return self.told.decimal
        cells = [cell for column in columns for cell in self._cells(column)]
        signs = [sign for sign in ".," if any(sign in cell and looks_like_figure(cell) for cell in cells)]
        if len(signs) == 2:
            self.ask(Question(Option.DECIMAL, "Some of its figures have a decimal point and some a comma", (".", ",")))
        elif not signs and delimiter == "," and not self._as_wide_as_heading():
            told = "Its commas may part columns or mark decimals, and the heading has not as many columns as the rows"
            self.ask(Question(Option.DECIMAL, told))
        return signs[0] if signs else "."

    def _as_wide_as_heading(self) -> bool:
        """Whether the heading vouches for the number of columns; two columns of whole numbers need no voucher."""
        widths = {len(line.cells) for line in self.lines}
        named = sum(1 for head in self.heads if head)
        return widths in ({named}, {2})


def _is_data(line: Line, times: Sequence[tuple[int, str]], width: int) -> bool:
    """Whether a line has times where most have them; in files without dates, whether it is all figures."""
    if len(line.cells) != width:
        return False
    if times:
        return all(sort_of(line.cells[index]) == sort for index, sort in times)
    return all(map(looks_like_figure, filter(None, line.cells)))


def _has_offset(cell: str) -> bool:
    tail = cell[10:]
    return tail.endswith("Z") or "+" in tail or "-" in tail


def _heads(above: Sequence[Line], width: int) -> tuple[str, ...]:
    """A heading for each column: the last line above the readings, with the one above it where it holds only units."""
    heads = [""] * width
    used = list(above[-1:])
    if len(above) > 1 and all(map(headings.bare_unit, above[-1].cells)):
        used = list(above[-2:])
    for line in used:
        for index, cell in enumerate(line.cells[:width]):
            heads[index] = f"{heads[index]} {_bracketed(cell, line is not used[0])}".strip()
    return tuple(headings.repaired(head) for head in heads)


def _bracketed(cell: str, is_unit: bool) -> str:
    return f"({cell})" if is_unit and cell else cell
