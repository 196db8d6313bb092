"""`station specs export FILE`: the specifications in force as pastes.toml, settings and desk together."""

from argparse import Namespace
from pathlib import Path

from station.bootstrap import JOURNAL_NAME
from station.care.floor import Floor
from station.care.ledger import Ledger
from station.cli.saying import YES, say
from station.clock import SystemClock
from station.journal.snapshot import snapshot
from station.services.outcome import Refusal
from station.services.site import Site
from station.settings.load import load
from station.settings.specification_text import write_specifications


def run(told: Namespace) -> int:
    """Write the file; a station may be at work on the journal meanwhile, and a file that is there stays as it is."""
    site = load(told.config)
    floor = floor_of_record(site, told.data)
    unknown = [paste for paste in told.paste if paste not in floor.plant.pastes]
    if unknown:
        known = ", ".join(floor.plant.pastes)
        raise Refusal("no-paste", f"There is no paste {unknown[0]} here. Name one of {known}.")
    pastes = tuple(dict.fromkeys(told.paste)) or tuple(floor.plant.pastes)
    _write(told.file, write_specifications(floor, pastes, site.name, site.station))
    for paste in pastes:
        say(f"  {floor.specification(paste)}, {_approved(floor, paste)}")
    say(f"written: {told.file}. As pastes.toml of the settings it changes nothing that is in force.")
    return YES


def floor_of_record(site: Site, data: Path) -> Floor:
    """The floor as the journal of a data folder has it now; Refusal where there is none."""
    path = data / JOURNAL_NAME
    if not path.exists():
        raise Refusal("no-journal", f"There is no journal in {data}. Name the folder of a station that has run.")
    found = snapshot(path)
    ledger = Ledger(found.own)
    for fact in found.facts:
        ledger.apply(fact)
    missing = [paste for paste in site.plant.pastes if paste not in ledger.specifications]
    if missing:
        reason = f"The record has no specification of {missing[0]} yet. Start the station once with these settings."
        raise Refusal("settings-newer", reason)
    return Floor(site.plant, ledger, SystemClock().read().wall, site.zone)


def _approved(floor: Floor, paste: str) -> str:
    approval = floor.ledger.rulebook.approval(paste)
    by = approval.by if approval is not None else None
    if by is not None:
        return f"approved at the desk by {by}"
    return "of the settings" if floor.specification(paste).approved_by else "a draft of the settings"


def _write(file: Path, text: str) -> None:
    try:
        with file.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
    except FileExistsError as fault:
        raise Refusal("file-there", f"{file} is there already. Name another file, or take it away.") from fault
    except OSError as fault:
        raise Refusal("file-unwritten", f"{file} can't be written ({fault.strerror}). Choose another.") from fault
