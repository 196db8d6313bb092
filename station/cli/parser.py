"""The command line's words. Standard library only: the door to the window must open fast."""

from argparse import ArgumentParser, RawDescriptionHelpFormatter
from collections.abc import Callable
from pathlib import Path

from station.cli.folders import default_data, demo_settings

EXIT_CODES = """exit codes:
  0  the answer is yes, or it is done
  1  the answer is no: a fault was found, an expectation was missed
  2  it cannot be done as told; standard error says why and how to mend it"""


def build_parser() -> ArgumentParser:
    """The parser of every command; `module` names the module that carries it out."""
    parser = ArgumentParser(
        prog="station",
        description="Thawmark: keeps solder paste fit for use, from the fridge door to the stencil printer.",
        epilog=EXIT_CODES,
        formatter_class=RawDescriptionHelpFormatter,
    )
    commands = parser.add_subparsers(metavar="COMMAND", required=True)

    def command(name: str, module: str, what: str) -> ArgumentParser:
        found = commands.add_parser(
            name, help=what, description=what, epilog=EXIT_CODES, formatter_class=RawDescriptionHelpFormatter
        )
        found.set_defaults(module=f"station.cli.{module}", config=None)
        return found

    _demo(command("demo", "demo", "the demo plant in mid-shift, or its whole day as files"))
    run = command("run", "work", "open the station's window")
    _config(run, required=True)
    _data(run)
    run.add_argument("--verbose", action="store_true", help="say on standard error what is scanned and answered")
    doctor = command("doctor", "doctor", "check everything the station needs on this PC")
    _config(doctor, required=False)
    _data(doctor)
    check = command("check-config", "check_config", "check a settings folder: every fault at once")
    check.add_argument("config", type=Path, metavar="DIR", help="the folder with site.toml")
    _rehearse(command("rehearse", "rehearse", "play a script on a station with a settable clock"))
    _times(command("times", "times", "earliest use and discard-by for a take-out"))
    _read(command("read", "read", "say what the text of a code means"))
    _read_image(command("read-image", "read_image", "say what the codes on a photo mean"))
    _sheet(command("sheet", "sheet", "cards, badges and tags to print and cut out; or down-station sheets"))
    answers = command("answers", "answers", "what every scan is answered, in every state at every place")
    answers.add_argument("file", type=Path, nargs="?", metavar="FILE", help="write it there as Markdown; else print it")
    _import_stock(command("import-stock", "import_stock", "take in stock that was there before the station"))
    _import_readings(command("import-readings", "import_readings", "take in what a store's logger measured"))
    _verify(command("verify", "verify", "check the record: hash chain, sums, kept files"))
    backup = command("backup", "backup", "copy journal, key and kept files, and check the copy")
    backup.add_argument("file", type=Path, metavar="FILE", help="the copy, best on another disk")
    _data(backup)
    restore = command("restore", "restore", "put a backup into an empty data folder")
    restore.add_argument("file", type=Path, metavar="BACKUP", help="what backup wrote, its key beside it")
    _data(restore)
    _report(command("report", "report", "a report out of the record, as CSV and PDF"))
    digest = command("digest", "digest", "where the journals stood at the end of a day, to print or mail")
    _config(digest, required=True)
    _data(digest)
    digest.add_argument("--day", metavar="DATE", help="a plant day, such as 2027-03-31 (by default today)")
    _export(command("export", "export_record", "the record for auditors, to be checked without this program"))
    _specs(command("specs", "specs_export", "specifications: what is in force as a file, and drafts from one"))
    _warmup(command("warmup", "warmup_estimate", "how paste warms: figures for kinds.toml"))
    return parser


def _config(parser: ArgumentParser, *, required: bool) -> None:
    parser.add_argument("--config", type=Path, metavar="DIR", required=required, help="the folder with site.toml")


def _data(parser: ArgumentParser) -> None:
    parser.add_argument(
        "--data",
        type=Path,
        metavar="DIR",
        default=default_data(),
        help="the folder with journal and key (by default %(default)s)",
    )


def _by(parser: ArgumentParser, what: str) -> None:
    parser.add_argument("--by", metavar="BADGE", help=f"{what}; it stands in the record")


def _json(parser: ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="answer as JSON, one object a line")


def _demo(demo: ArgumentParser) -> None:
    demo.set_defaults(config=demo_settings())
    demo.add_argument("--tour", type=Path, metavar="OUT", help="play the whole demo day into this folder instead")


def _rehearse(rehearse: ArgumentParser) -> None:
    rehearse.add_argument("script", type=Path, metavar="SCRIPT.jsonl", help="one JSON object a line")
    _config(rehearse, required=True)
    _json(rehearse)


def _times(times: ArgumentParser) -> None:
    _config(times, required=True)
    times.add_argument("--paste", required=True, metavar="ID", help="a paste of pastes.toml")
    times.add_argument("--kind", required=True, metavar="ID", help="a container kind of kinds.toml")
    times.add_argument("--out-at", required=True, metavar="ISO8601", help="when it leaves the cold; plant time")
    times.add_argument("--opened-at", metavar="ISO8601", help="when it is opened")
    times.add_argument("--room", type=float, metavar="C", help="room temperature in degrees Celsius")
    times.add_argument("--rh", type=float, metavar="PERCENT", help="relative humidity of the room")
    times.add_argument("--expires", metavar="DATE", help="the maker's expiry date, for the shelf life")
    of_record = "a station's data folder: go by what is in force on record, the shift desk's approvals included"
    times.add_argument("--data", type=Path, metavar="DIR", help=of_record)
    _json(times)


def _read(read: ArgumentParser) -> None:
    read.add_argument("text", metavar="TEXT", help="what the scanner read")
    _lists_and_key(read)


def _read_image(read: ArgumentParser) -> None:
    read.add_argument("file", type=Path, metavar="FILE", help="a photo with QR or Data Matrix codes on it")
    _lists_and_key(read)


def _lists_and_key(read: ArgumentParser) -> None:
    _config(read, required=False)
    read.add_argument("--data", type=Path, metavar="DIR", help="the folder with the site's key")
    _json(read)


def _sheet(sheet: ArgumentParser) -> None:
    sheet.add_argument("file", type=Path, nargs="?", metavar="FILE", help="the PDF to write; of --one the PNG")
    _config(sheet, required=True)
    _data(sheet)
    sheet.add_argument("--paper", metavar="NAME", default="A4", help="A4 or Letter (by default %(default)s)")
    sorts = "card, badge, position, bin, store, place or set-up; may be given several times"
    sheet.add_argument("--only", metavar="SORT", action="append", default=[], help=sorts)
    one = sheet.add_argument_group("a single code", "on a label of the size that its place has")
    one.add_argument("--one", metavar="WHAT", help="the card, badge or tag of this name or id, alone")
    one.add_argument("--on", metavar="PLACE", help="print it on this place's label printer, where no FILE is named")
    down = sheet.add_argument_group("down-station sheets", "figures and reserved numbers to write on, a page a paste")
    down.add_argument("--down", action="store_true", help="make these instead of cards")
    down.add_argument("--paste", metavar="ID", action="append", default=[], help="only of this paste")
    _by(sheet, "who has badges or down-station sheets printed; for badges the PIN is asked")


def _import_stock(stock: ArgumentParser) -> None:
    columns = "header: paste, kind, lot, store, bin, arrived, and expires or made; perhaps out minutes, grams"
    stock.add_argument("file", type=Path, metavar="FILE.csv", help=columns)
    _config(stock, required=True)
    _data(stock)
    stock.add_argument("--dates", choices=("day-first", "month-first"), help="how dates are written (else: 2027-03-31)")
    labels = stock.add_mutually_exclusive_group()
    labels.add_argument("--labels", type=Path, metavar="FOLDER", help="write an identity label of each as PNG in there")
    labels.add_argument("--print", metavar="PLACE", dest="print_at", help="or print them, where its labels come out")
    _by(stock, "who takes it in")
    stock.add_argument("--dry-run", action="store_true", help="list every fault, and what would be taken in; no more")


def _import_readings(readings: ArgumentParser) -> None:
    readings.add_argument("file", type=Path, metavar="FILE", help="the logger's file: time and temperature as CSV")
    readings.add_argument("--store", required=True, metavar="ID", help="the store of stores.toml that it measured")
    readings.add_argument("--instrument", metavar="ID", help="the logger, where stores.toml has several for the store")
    readings.add_argument("--sensor", metavar="NAME", help="by its heading or its column from 1")
    readings.add_argument("--start", metavar="ISO8601", help="the instant of zero, where times are elapsed")
    _by(readings, "who takes them in")
    _config(readings, required=True)
    _data(readings)
    _layout(readings)


def _layout(parser: ArgumentParser) -> None:
    layout = parser.add_argument_group("layout of the file", "asked for where the file itself leaves a doubt")
    layout.add_argument("--delimiter", metavar="SIGN", help="semicolon, comma, tab, bar, or the sign itself")
    layout.add_argument("--decimal", metavar="SIGN", help="point or comma")
    layout.add_argument("--header-rows", type=int, metavar="N", help="lines before the first reading")
    column = "by heading or number; date, then time"
    layout.add_argument("--time-column", metavar="NAME", action="append", default=[], help=column)
    layout.add_argument("--time-format", metavar="FORM", help='such as "DD.MM.YYYY hh:mm:ss", ISO, "elapsed s"')
    layout.add_argument("--unit", metavar="UNIT", help="C or F")
    layout.add_argument("--zone", metavar="ZONE", help='such as Europe/Berlin, "Europe/Berlin standard", UTC+01:00')
    layout.add_argument("--encoding", metavar="NAME", help="character set, such as utf-8 or cp1252")


def _verify(verify: ArgumentParser) -> None:
    _data(verify)
    verify.add_argument(
        "--digest",
        action="append",
        default=[],
        metavar="FILE_OR_HEX",
        help="a digest noted earlier, or a file of them, that must still be in the journal; may be given several times",
    )


def _report(report: ArgumentParser) -> None:
    names = ("trace", "boards", "waste", "response", "use", "stock", "story")
    report.add_argument("name", choices=names, metavar="NAME", help=", ".join(names))
    _config(report, required=True)
    _data(report)
    report.add_argument("--out", type=Path, metavar="FOLDER", required=True, help="where the files are written")
    report.add_argument(
        "--of", default="", metavar="WHAT", help="a lot, work order, container, position, person or day"
    )
    report.add_argument("--from", dest="since", metavar="ISO8601", help="plant time (else: since the record began)")
    report.add_argument("--to", dest="until", metavar="ISO8601", help="up to, not at, this instant (else: until now)")
    report.add_argument("--by", default="", metavar="BADGE", help="who has it made; it stands on the report")
    signs = {"separator": ("semicolon", "comma", "tab"), "decimal": ("point", "comma")}
    for name, choices in signs.items():
        report.add_argument(
            f"--{name}", choices=choices, default=choices[0], help=f"{name} in the CSV (by default %(default)s)"
        )


def _export(export: ArgumentParser) -> None:
    export.add_argument("folder", type=Path, metavar="FOLDER", help="a folder that is not there yet")
    _data(export)
    export.add_argument("--from", dest="begin", metavar="ISO8601", help="facts from then on; without an offset in UTC")
    export.add_argument("--to", dest="end", metavar="ISO8601", help="facts before then; without an offset in UTC")


def _tasks(group: ArgumentParser) -> Callable[[str, str, str], ArgumentParser]:
    """Makes the commands of a group, each with its own module."""
    tasks = group.add_subparsers(metavar="TASK", required=True)

    def task(name: str, module: str, what: str) -> ArgumentParser:
        found = tasks.add_parser(
            name, help=what, description=what, epilog=EXIT_CODES, formatter_class=RawDescriptionHelpFormatter
        )
        found.set_defaults(module=f"station.cli.{module}")
        return found

    return task


def _specs(specs: ArgumentParser) -> None:
    task = _tasks(specs)
    out = task("export", "specs_export", "write what is in force, settings and desk together, as pastes.toml")
    out.add_argument("file", type=Path, metavar="FILE.toml", help="a file that is not there yet")
    out.add_argument("--paste", metavar="ID", action="append", default=[], help="only of this paste")
    out.add_argument("--products", action="store_true", help="write the products with their pastes, as products.toml")
    into = task("import", "specs_import", "check a pastes.toml, and write what it changes as drafts")
    into.add_argument("file", type=Path, metavar="FILE.toml", help="written like pastes.toml")
    into.add_argument("--dry-run", action="store_true", help="list every fault, and what would change; no more")
    into.add_argument("--by", metavar="BADGE", help="the process engineer who writes them; the PIN is asked")
    for parser in (out, into):
        _config(parser, required=True)
        _data(parser)


def _warmup(warmup: ArgumentParser) -> None:
    task = _tasks(warmup)
    _warmup_estimate(task("estimate", "warmup_estimate", "reckon a container kind's figures from its mass and size"))
    _warmup_fit(task("fit", "warmup_fit", "a container kind's figures from thermocouple runs"))


def _warmup_estimate(estimate: ArgumentParser) -> None:
    def figure(name: str, unit: str, what: str, usual: float | None = None, *, required: bool = False) -> None:
        usually = "" if usual is None else f" (by default {usual:g})"
        estimate.add_argument(name, type=float, metavar=unit, default=usual, required=required, help=f"{what}{usually}")

    figure("--mass", "G", "net mass of the paste", required=True)
    figure("--diameter", "MM", "inner diameter", required=True)
    figure("--fill", "MM", "how high the paste stands; else reckoned from mass and density")
    estimate.add_argument("--alloy", metavar="NAME", default="Sn-Ag-Cu", help="alloy family (by default %(default)s)")
    figure("--metal", "PERCENT", "metal by weight", 88.5)
    figure("--conductivity", "W/MK", "of the paste; it matters little", 1.0)
    figure("--wall", "MM", "thickness of the container's wall", 2.0)
    figure("--wall-mass", "G", "of the empty container with its lid; else reckoned from its size")
    figure("--coefficient", "W/M2K", "from room to wall; else still air, falling as the container warms")
    figure("--start", "C", "temperature out of the cold", 5.0)
    figure("--room", "C", "temperature of the coolest room it is for", 23.0)
    water = "temperature of the water, at most that of the room; only where the specification allows a bath"
    figure("--bath", "C", water)
    estimate.add_argument("--no-bench", action="store_true", help="air on all sides; else it stands on a bench")
    _json(estimate)


def _warmup_fit(fit: ArgumentParser) -> None:
    fit.add_argument("files", type=Path, nargs="+", metavar="FILE", help="a run as CSV: time, paste, perhaps room")
    fit.add_argument("--kind", required=True, metavar="ID", help="a container kind of kinds.toml")
    _config(fit, required=True)

    def said(name: str, shown: str, what: str) -> None:
        fit.add_argument(name, metavar=shown, help=what)

    def several(name: str, shown: str, what: str) -> None:
        fit.add_argument(name, metavar=shown, action="append", default=[], help=f"{what}; may be given several times")

    room = "room temperature in degrees Celsius; or name --room-sensor"
    fit.add_argument("--room", type=float, metavar="C", help=room)
    said("--room-sensor", "NAME", "the sensor that measured the room, by its heading or its column from 1")
    several("--sensor", "NAME", "a sensor in a container (by default every one but the room's)")
    several("--taken-out", "ISO8601", "when a container left the cold, or start: with its file (else: when first cold)")
    layout = fit.add_argument_group("layout of the files", "asked for where the file itself leaves a doubt")
    layout.add_argument("--delimiter", metavar="SIGN", help="semicolon, comma, tab, bar, or the sign itself")
    layout.add_argument("--decimal", metavar="SIGN", help="point or comma")
    layout.add_argument("--header-rows", type=int, metavar="N", help="lines before the first reading")
    layout.add_argument(
        "--time-column", metavar="NAME", action="append", default=[], help="by heading or number; date, then time"
    )
    layout.add_argument("--time-format", metavar="FORM", help='such as "DD.MM.YYYY hh:mm:ss", ISO, "elapsed s"')
    layout.add_argument(
        "--unit", metavar="UNIT", action="append", default=[], help="C or F for all, NAME=F for one sensor"
    )
    layout.add_argument("--zone", metavar="ZONE", help='such as Europe/Berlin, "Europe/Berlin standard", UTC+01:00')
    layout.add_argument("--encoding", metavar="NAME", help="character set, such as utf-8 or cp1252")
    _json(fit)
