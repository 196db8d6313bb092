"""The reader's questions as choices to touch. Each is asked once for all the files, and what it offers can be taken."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from station.readings.layout import Unit
from station.readings.questions import Declared, LayoutUnclear, Option, Question
from station.readings.recognise import DELIMITERS
from station.readings.runs_in_files import ZERO, File
from station.ui.view_models import ActionModel
from station.ui.warm_up.asked import ROOM, Asking, RunsAsked

SIGNS = {name: sign for sign, name in DELIMITERS.items()}
NAMES = {"semicolon": "Semicolon ;", "tab": "Tab", "comma": "Comma ,", "bar": "Bar |"}
DECIMALS = (ActionModel(".", "Point", "5.2"), ActionModel(",", "Comma", "5,2"))
UNITS = (ActionModel("C", "°C"), ActionModel("F", "°F"))
FORMS = {"DD": "the day first", "MM": "the month first", "YY": "the year first", "el": "counted from the start"}
WRITTEN = {
    Option.ZONE: "or another, such as Europe/Berlin or UTC+01:00",
    Option.TIME_FORMAT: "or written, such as DD.MM.YYYY hh:mm:ss",
    Option.TIME_COLUMN: "or its number from 1",
    Option.SENSOR: "or its number from 1",
}
COLUMNS = (Option.TIME_COLUMN, Option.SENSOR)


def declared(asked: RunsAsked) -> Declared:
    """What was answered so far, as the reader takes it. Times from an unnamed start are no matter here."""
    found = answered(asked.answers)
    room = next(iter(asked.answers.get(ROOM, ())), None)
    sensors = tuple(dict.fromkeys((*found.sensors, room))) if found.sensors and room else found.sensors
    return replace(found, sensors=sensors, start=ZERO)


def answered(answers: Mapping[str, tuple[str, ...]]) -> Declared:
    """The answers to the reader's questions, as the reader takes them."""
    told = {name: values[0] for name, values in answers.items() if values}
    return Declared(
        delimiter=SIGNS.get(told.get(Option.DELIMITER, "")),
        decimal=told.get(Option.DECIMAL),
        time_columns=answers.get(Option.TIME_COLUMN, ()),
        time_format=told.get(Option.TIME_FORMAT),
        unit=Unit(told[Option.UNIT]) if Option.UNIT in told else None,
        zone=told.get(Option.ZONE),
        sensors=answers.get(Option.SENSOR, ()),
        humidity=told.get(Option.HUMIDITY),
    )


def asking(unclear: Sequence[LayoutUnclear], zone: str) -> tuple[Asking, ...]:
    """Every question of these files once, with the choices there are; `zone` is the plant's."""
    found: dict[Option, Asking] = {}
    for file in unclear:
        for question in file.questions:
            found.setdefault(question.option, _asking(file, question, zone))
    return tuple(found.values())


def hopeless(unclear: LayoutUnclear) -> tuple[str, ...]:
    """What can't be declared, only mended in the file itself."""
    return tuple(f"{unclear.file}: {asked.what}. {asked.mend}." for asked in unclear.questions if asked.mend)


def _asking(file: LayoutUnclear, question: Question, zone: str) -> Asking:
    option = question.option
    return Asking(
        id=option.value,
        what=f"{file.file}: {question.what}.",
        choices=_choices(question, file.columns, zone),
        written=WRITTEN.get(option, ""),
        several=option in COLUMNS,
    )


def _choices(question: Question, columns: Sequence[str], zone: str) -> tuple[ActionModel, ...]:
    match question.option:
        case Option.DELIMITER:
            return tuple(ActionModel(name, NAMES[name]) for name in question.choices)
        case Option.DECIMAL:
            return DECIMALS
        case Option.UNIT:
            return UNITS
        case Option.ZONE:
            return zones(zone)
        case Option.HUMIDITY:
            return tuple(ActionModel(name, name) for name in question.choices)
        case Option.TIME_FORMAT:
            forms = (choice.strip('"') for choice in question.choices)
            return tuple(ActionModel(form, form, FORMS.get(form[:2], "")) for form in forms)
        case _:
            return tuple(ActionModel(name, name if not name.isdigit() else f"Column {name}") for name in columns)


def zones(zone: str) -> tuple[ActionModel, ...]:
    """What a logger's clock may show, where the plant's is `zone`."""
    return (
        ActionModel(zone, zone, "as the clocks here go"),
        ActionModel(f"{zone} standard", "Winter time", "all year, no summer time"),
        ActionModel("UTC", "UTC"),
    )


def which_room(files: Iterable[File]) -> Asking | None:
    """Which sensor measured the room, of those that are in every file; None where they have none in common."""
    sensors = [file.series.sensors for file in files]
    common = [name for name in sensors[0] if all(name in others for others in sensors)]
    if not common:
        return None
    return Asking(
        ROOM, "Which sensor measured the room beside the container?", tuple(ActionModel(n, n) for n in common)
    )
