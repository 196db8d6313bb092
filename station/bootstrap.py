"""Builds the program from its parts, in this order: settings, keys, journal, clock, target, station.

Settings come first because nothing may start half set up; the journal comes before the clock is asked because a
second copy of the program must be refused before it touches anything. Parts are passed by argument, so tests and
rehearsals put in their own.
"""

import secrets
from datetime import datetime
from importlib import metadata
from pathlib import Path

from station.labels.builtin import site_template
from station.labels.content import LabelContent
from station.labels.faults import LabelFault
from station.labels.keys import KeyRing
from station.labels.layout import Template
from station.labels.target import PrintTarget
from station.rehearsal.clock import SetClock
from station.rehearsal.player import Player
from station.services.memory import MemoryJournal
from station.services.ports import Clock, JournalPort
from station.services.site import Site
from station.services.station import Station

JOURNAL_NAME = "journal.sqlite"
KEY_NAME = "labels.key"
# A rehearsal and a demo must give the same labels every time, so their key is no secret and signs nothing else.
DEMO_KEYS = KeyRing({7: b"thawmark demo key, signs no real label"}, current=7)


def version() -> str:
    """The version of the installed program; a plain clone that was never installed says so."""
    try:
        return metadata.version("thawmark")
    except metadata.PackageNotFoundError:
        return "not installed"


class NoPrinter:
    """A target for rehearsals: labels are made up and counted, nothing is drawn."""

    name = "rehearsal"

    def __init__(self) -> None:
        """Nothing sent yet."""
        self.sent: list[LabelContent] = []

    def send(self, content: LabelContent) -> str:
        """Keep the label."""
        self.sent.append(content)
        return f"rehearsal label {len(self.sent)}"


def template_for(site: Site) -> Template:
    """The label template the site prints. LabelFault where it is not to be found."""
    return site_template(site.label.template, site.templates[site.label.template])


def keys_in(folder: Path, *, create: bool) -> KeyRing:
    """The site's signing keys, kept beside the journal and readable by the owner only.

    LabelFault "key" where there is no key file and none may be made.
    """
    path = folder / KEY_NAME
    if path.exists():
        return KeyRing({0: bytes.fromhex(path.read_text(encoding="ascii").strip())}, current=0)
    if not create:
        raise LabelFault(
            "key", f"There is no key file in {folder}. Start the station there once, or import its key."
        )
    folder.mkdir(parents=True, exist_ok=True)
    path.touch(mode=0o600)
    key = secrets.token_bytes(32)
    path.write_text(key.hex(), encoding="ascii")
    return KeyRing({0: key}, current=0)


def build_station(site: Site, journal: JournalPort, clock: Clock, keys: KeyRing, target: PrintTarget) -> Station:
    """A station over these parts, with the journal added up and nothing written yet."""
    return Station(site, journal, clock, keys, target)


def build_player(site: Site, start: datetime) -> Player:
    """A player for rehearsals: a journal in memory, a clock that is set, the demo key, no printer."""
    journal, target = MemoryJournal(), NoPrinter()

    def make(clock: SetClock) -> Station:
        return build_station(site, journal, clock, DEMO_KEYS, target)

    return Player(make, start)
