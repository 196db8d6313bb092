"""The command line's words. Standard library only: the door to the window must open fast."""

from argparse import ArgumentParser, RawDescriptionHelpFormatter
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
    run = command("run", "work", "the station's window")
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
    _verify(command("verify", "verify", "compute the journal's hash chain again"))
    backup = command("backup", "backup", "copy journal and key, and check the copy")
    backup.add_argument("file", type=Path, metavar="FILE", help="the copy, best on another disk")
    _data(backup)
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
    _json(times)


def _read(read: ArgumentParser) -> None:
    read.add_argument("text", metavar="TEXT", help="what the scanner read")
    _config(read, required=False)
    read.add_argument("--data", type=Path, metavar="DIR", help="the folder with the site's key")
    _json(read)


def _verify(verify: ArgumentParser) -> None:
    _data(verify)
    verify.add_argument(
        "--digest",
        action="append",
        default=[],
        metavar="HEX",
        help="a digest noted earlier, that must still be in the journal; may be given several times",
    )
