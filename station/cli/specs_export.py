"""`station specs export FILE`: the specifications in force as pastes.toml, settings and desk together."""

from argparse import Namespace
from pathlib import Path

from station.care.floor import Floor
from station.cli.of_record import floor_of_record
from station.cli.saying import YES, say
from station.services.outcome import Refusal
from station.services.site import Site
from station.settings.load import load
from station.settings.specification_text import write_products, write_specifications


def run(told: Namespace) -> int:
    """Write the file; a station may be at work on the journal meanwhile, and a file that is there stays as it is."""
    site = load(told.config)
    floor = floor_of_record(site, told.data)
    unknown = [paste for paste in told.paste if paste not in floor.plant.pastes]
    if unknown:
        known = ", ".join(floor.plant.pastes)
        raise Refusal("no-paste", f"There is no paste {unknown[0]} here. Name one of {known}.")
    if told.products:
        if told.paste:
            raise Refusal("products-of-paste", "The lists of products are written whole. Leave out --paste.")
        return _products(told.file, floor, site)
    pastes = tuple(dict.fromkeys(told.paste)) or tuple(floor.plant.pastes)
    _write(told.file, write_specifications(floor, pastes, site.name, site.station))
    for paste in pastes:
        say(f"  {floor.specification(paste)}, {_approved(floor, paste)}")
    say(f"written: {told.file}. As pastes.toml of the settings it changes nothing that is in force.")
    return YES


def _products(file: Path, floor: Floor, site: Site) -> int:
    _write(file, write_products(floor, site.name, site.station))
    for product in floor.plant.products.values():
        say(f"  {product.id}: {', '.join(product.pastes)}")
    say(f"written: {file}. As products.toml of the settings it changes nothing that is in force.")
    return YES


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
