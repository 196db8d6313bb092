"""`station specs import FILE`: a pastes.toml becomes drafts of an engineer, or every fault of it is listed."""

from argparse import Namespace

from station.bootstrap import JOURNAL_NAME, NoPrinter, build_station, keys_in
from station.care.spec_drafts import SpecificationRefused
from station.care.specification_change import changes
from station.cli.by_badge import proof_of
from station.cli.of_record import floor_of_record
from station.cli.restored import refuse_unstarted
from station.cli.saying import NO, YES, complain, say
from station.clock import SystemClock
from station.journal.store import Journal
from station.services.opening import opening_bodies
from station.services.outcome import Refusal
from station.services.site import Site
from station.services.specifications import write_drafts
from station.settings.load import load
from station.settings.source import LARGEST_BYTES
from station.settings.specification_labels import draft_label_faults
from station.settings.specification_text import ReadSpecifications, read_specifications

ACT = "A draft of a specification"
NOBODY = f"{ACT} is written by a process engineer. Add --by BADGE."


def run(told: Namespace) -> int:
    """Faults are the answer "no": no draft is written then, however few they are."""
    site, text = load(told.config), _bytes(told)
    floor = floor_of_record(site, told.data)
    read = read_specifications(text, floor, told.file.name)
    faults = read.faults or draft_label_faults(site, floor, read.drafts)
    if faults:
        complain(fault.sentence for fault in faults)
        many = "1 fault" if len(faults) == 1 else f"{len(faults)} faults"
        say(f"{many} in {told.file.name}: no draft is written.")
        return NO
    for draft in read.drafts:
        known = floor.ledger.specifications.get(draft.specification.paste)
        keys = ", ".join(change.key for change in changes(known, draft.specification))
        say(f"  {draft.specification.paste}: {'a new paste' if known is None else keys or 'its source and approval'}")
    for paste in read.unchanged:
        say(f"  {paste}: as in force, no draft")
    for note in read.notes:
        say(f"  {note}")
    if told.dry_run:
        say("dry run: nothing is recorded. Leave out --dry-run to write these drafts.")
        return YES
    return _write(told, site, read)


def _bytes(told: Namespace) -> bytes:
    try:
        with told.file.open("rb") as file:
            return bytes(file.read(LARGEST_BYTES + 1))
    except OSError as trouble:
        raise Refusal("no-file", f"{told.file} can't be read: {trouble.strerror}. Name a TOML file.") from trouble


def _write(told: Namespace, site: Site, read: ReadSpecifications) -> int:
    if not read.drafts:
        say("done: everything in it is in force already.")
        return YES
    if told.by is None:
        raise Refusal("needs-role", NOBODY)
    keys = keys_in(told.data, create=False)
    with Journal.open(told.data / JOURNAL_NAME) as journal:
        refuse_unstarted(journal)
        station = build_station(site, journal, SystemClock(), keys, NoPrinter(), journal.own)
        if any(True for _ in opening_bodies(site, station.ledger)):
            reason = "The settings are not yet what the station works by. Start it once with them, then import."
            raise Refusal("settings-newer", reason)
        try:
            write_drafts(station, read.drafts, proof_of(station, told.by, ACT), told.file.name)
        except SpecificationRefused as refused:
            raise Refusal("draft-refused", str(refused)) from refused
        station.stop("drafts were written")
    many = "1 draft" if len(read.drafts) == 1 else f"{len(read.drafts)} drafts"
    say(f"done: {many}. Nothing goes by them before an engineer approves them at the shift desk.")
    return YES
