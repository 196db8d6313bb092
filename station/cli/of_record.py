"""What is in force on record: the settings with what was decided at the desk since."""

from dataclasses import replace
from pathlib import Path

from station.bootstrap import JOURNAL_NAME
from station.care.floor import Floor
from station.care.ledger import Ledger
from station.clock import SystemClock
from station.journal.snapshot import snapshot
from station.services.outcome import Refusal
from station.services.site import Site


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


def site_of_record(site: Site, data: Path) -> Site:
    """The site with the pastes, specifications, paste lists and warm-up figures that are in force on record."""
    floor = floor_of_record(site, data)
    kinds = {name: floor.kind_called(name) for name in floor.plant.kinds}
    limits = tuple(floor.specification(name) for name in floor.plant.pastes)
    return replace(site, plant=replace(floor.plant, kinds=kinds), specifications=limits)
