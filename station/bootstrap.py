"""Builds the program from its parts, in this order: settings, keys, journal, clock, target, station.

Settings come first because nothing may start half set up; the journal comes before the clock is asked because a
second copy of the program must be refused before it touches anything. Parts are passed by argument, so tests and
rehearsals put in their own.
"""

import gc
import os
import secrets
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from importlib import metadata
from pathlib import Path
from typing import TYPE_CHECKING

from station.care.floor import Floor
from station.care.saying import spot
from station.care.state import Container
from station.care.words import Card
from station.clock import SystemClock
from station.journal.evidence import FOLDER, FolderEvidence
from station.journal.store import Journal
from station.labels.builtin import site_template
from station.labels.containercode import container_numbers, pack_container
from station.labels.content import LabelContent
from station.labels.faults import LabelFault
from station.labels.keys import KeyRing
from station.labels.layout import Template
from station.labels.plaincodes import TagKind, badge_text, card_text, tag_text
from station.labels.target import PrintTarget, SlowTarget
from station.rehearsal.clock import SetClock
from station.rehearsal.player import Player
from station.services.memory import MemoryJournal
from station.services.outcome import Refusal
from station.services.ports import Clock, Evidence, JournalPort
from station.services.scanner import ScannerSetting
from station.services.site import LabelSetting, Site
from station.services.station import Station
from station.settings import load

if TYPE_CHECKING:
    from station.printing.spooler import Spooler
    from station.ui.app import Running
    from station.ui.code_sheet import CodeSection

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


def template_for(site: Site, label: LabelSetting | None = None) -> Template:
    """The label template of one of the site's printers, by default of the usual one."""
    name = (label or site.label).template
    return site_template(name, site.templates[name])


def label_settings(site: Site) -> tuple[LabelSetting, ...]:
    """Every template and printer this station prints with, the usual one first, each once."""
    return tuple(dict.fromkeys((site.label, *(rule.label for rule in site.label_for))))


def target_for(site: Site, data: Path, *, queues: bool = True) -> PrintTarget:
    """Where this station's labels go: its printer queues, or the folder `labels` in `data` where it has none.

    A queue is spoken to from now on; `close` it at the end. Without `queues` all labels go into the folder.
    """
    return routed(site, lambda label: _target(site, label, data, queues=queues))


def target_at(site: Site, data: Path, place: str) -> PrintTarget:
    """The same for a command without a window, which prints where the labels of `place` come out. Raises Refusal."""
    if place not in [known.id for known in site.places]:
        named = ", ".join(known.id for known in site.places)
        raise Refusal("no-place", f"There is no place {place!r} in this site. Choose from {named}.")
    from station.ui.app import application  # noqa: PLC0415  labels are drawn by Qt

    application(offscreen=True)
    return target_for(site, data)


def routed(site: Site, make: Callable[[LabelSetting], PrintTarget]) -> PrintTarget:
    """One target for all labels, made for each template and printer the station has; kinds find their own."""
    from station.printing.routes import LabelRoutes  # noqa: PLC0415  Qt only where a window opens

    targets = {label: make(label) for label in label_settings(site)}
    usual = targets[site.label]
    return LabelRoutes(usual, [(rule, targets[rule.label]) for rule in site.label_for]) if site.label_for else usual


def _target(site: Site, label: LabelSetting, data: Path, *, queues: bool) -> PrintTarget:
    from station.printing.print_worker import Patience  # noqa: PLC0415
    from station.printing.queue_target import QueueTarget  # noqa: PLC0415
    from station.printing.target import FolderTarget  # noqa: PLC0415

    template = template_for(site, label)
    if not (label.queue and queues):
        return FolderTarget(data / "labels", template, label.dpi)
    patience = Patience().giving_up_after(label.taken_back_after.total_seconds())
    return QueueTarget(spooler_for(label, template), template, label.dpi, patience)


def spooler_for(label: LabelSetting, template: Template) -> "Spooler":
    """The print service's queue of a station that has one."""
    from station.printing.cups import CupsSpooler  # noqa: PLC0415
    from station.printing.media import Media  # noqa: PLC0415
    from station.printing.windows import WindowsSpooler  # noqa: PLC0415

    media = Media(template.width_mm, template.height_mm, label.dpi)
    return WindowsSpooler(label.queue, media) if os.name == "nt" else CupsSpooler(label.queue, media)


def keys_in(folder: Path, *, create: bool) -> KeyRing:
    """The site's signing keys, kept beside the journal and readable by the owner only.

    LabelFault "key" where there is no key file and none may be made, or where it can't be read as a key: a new one
    in its place would make every label in the plant unreadable.
    """
    path = folder / KEY_NAME
    if path.exists():
        return _stored_key(path)
    if not create:
        raise LabelFault("key", f"There is no key file in {folder}. Start the station there once.")
    folder.mkdir(parents=True, exist_ok=True)
    key = secrets.token_bytes(32)
    _keep_key(path, key)
    return KeyRing({0: key}, current=0)


def _stored_key(path: Path) -> KeyRing:
    try:
        return KeyRing({0: bytes.fromhex(path.read_text(encoding="ascii").strip())}, current=0)
    except (ValueError, OSError) as fault:
        raise LabelFault("key", f"The key {path} can't be read. Bring it back from the latest backup.") from fault


def _keep_key(path: Path, key: bytes) -> None:
    """On disk before the first label is signed with it; never half written under its own name."""
    part = path.with_suffix(".part")
    part.unlink(missing_ok=True)
    handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "w", encoding="ascii") as file:
        file.write(key.hex())
        file.flush()
        os.fsync(file.fileno())
    part.replace(path)


def build_station(
    site: Site,
    journal: JournalPort,
    clock: Clock,
    keys: KeyRing,
    target: PrintTarget,
    own: frozenset[int] | None = None,
    evidence: Evidence | None = None,
) -> Station:
    """A station over these parts, with the journal added up and nothing written yet."""
    return Station(site, journal, clock, keys, target, own, evidence)


def build_player(site: Site, start: datetime) -> Player:
    """A player for rehearsals: journals in memory, clocks that are set, the demo key, no printer."""
    target = NoPrinter()

    def make(clock: SetClock, journal: MemoryJournal) -> Station:
        numbered = replace(site, station=site.station + journal.number - 1)
        return build_station(numbered, journal, clock, DEMO_KEYS, target, frozenset({journal.number}))

    return Player(make, start)


def code_sections(station: Station) -> "tuple[CodeSection, ...]":
    """A sheet of codes to scan or click: containers, cards, places, positions, work orders, badges."""
    from station.ui.code_sheet import CodeEntry, CodeSection  # noqa: PLC0415  Qt only where a window opens

    return tuple(
        CodeSection(title, tuple(CodeEntry(*entry) for entry in entries)) for title, entries in code_list(station)
    )


def code_list(station: Station) -> Iterator[tuple[str, list[tuple[str, str, str]]]]:
    """Every code of a site by section: (caption, text in the code, note)."""
    site, floor = station.site, station.floor()
    yield "Containers", [_container_code(station, floor, found) for found in floor.ledger.containers.values()]
    yield "Command cards", [(card.value.replace("-", " "), card_text(card), "") for card in Card]
    yield "Places", [_tag(place.title, TagKind.PLACE, place.id, place.kind.value) for place in site.places]
    yield "Stencil positions", [_tag(spot(name), TagKind.POSITION, name, "") for name in site.plant.positions]
    orders = enumerate(site.plant.products.values())
    yield "Work orders", [(f"WO885{number}", f"WO885{number}-{made.id}", made.title) for number, made in orders]
    here = [person for person in floor.ledger.people.values() if not person.left]
    yield "Badges", [(person.name, badge_text(person.id), ", ".join(person.roles)) for person in here]


def _container_code(station: Station, floor: Floor, found: Container) -> tuple[str, str, str]:
    held = ", on hold" if found.held else ""
    text = pack_container(*container_numbers(found.id), station.keys)
    return found.spoken, text, f"{found.paste} {floor.stage(found).value}{held}"


def _tag(title: str, kind: TagKind, name: str, note: str) -> tuple[str, str, str]:
    return title, tag_text(kind, name), note


def run_demo(config: Path) -> int:
    """The demo in mid-shift, in a window with a sheet of codes to click beside it."""
    from station.rehearsal.midshift import MidShift  # noqa: PLC0415
    from station.ui.app import Running, application  # noqa: PLC0415

    app = application()
    site = load(config)
    journal, clock = MemoryJournal(), SystemClock()
    now = clock.read().wall
    past = SetClock(now - timedelta(days=16))
    target = target_for(site, Path(tempfile.mkdtemp(prefix="thawmark-demo-")), queues=False)
    lived = build_station(site, journal, past, DEMO_KEYS, NoPrinter())
    lived.start(version())
    MidShift(lived, past, now).live()
    station = build_station(site, journal, clock, DEMO_KEYS, target)
    started = station.start(version())
    running = Running(app, station, started, code_sections(station))
    running.show()
    return running.run()


def run_tour(config: Path, out: Path) -> int:
    """One invented day with pictures, on the offscreen platform."""
    from station.ui.app import application  # noqa: PLC0415
    from station.ui.tour import Tour  # noqa: PLC0415

    application(offscreen=True)
    site = load(config)
    journal = MemoryJournal()
    clock = SetClock(datetime(2026, 11, 15, 5, tzinfo=UTC))
    target = target_for(site, out, queues=False)
    station = build_station(site, journal, clock, DEMO_KEYS, target)
    station.start(version())
    tour = Tour(station, clock, out)
    tour.play()
    tour.finish(journal)
    return 0


def listen_to_serial(running: "Running", setting: ScannerSetting) -> None:
    """Let the window hear the station's serial scanner, where it has one."""
    if setting.serial is None:
        return
    from station.scanning.serial_scanner import SerialScanner  # noqa: PLC0415  loaded only where it is used

    running.listen_to(SerialScanner(setting.serial, setting.terminator, running.window))


def run_window(config: Path, data: Path) -> int:
    """The station at work, on the journal in `data`."""
    from station.printing.trial import trial_trouble  # noqa: PLC0415
    from station.ui.app import Running, application  # noqa: PLC0415

    site = load(config)
    app = application()
    with Journal.open(data / JOURNAL_NAME) as journal:
        keys = keys_in(data, create=True)
        target = target_for(site, data)
        try:
            evidence = FolderEvidence(data / FOLDER)
            station = build_station(site, journal, SystemClock(), keys, target, journal.own, evidence)
            running = Running(app, station, station.start(version(), journal.continues))
            tried = (trial_trouble(template_for(site, label), label.dpi) for label in label_settings(site))
            running.work.label_fault = next(filter(None, tried), "")
            listen_to_serial(running, site.scanner)
            running.show()
            gc.freeze()  # a long record is never garbage: to look it all through holds the window up for seconds
            return running.run()
        finally:
            if isinstance(target, SlowTarget):
                target.close()
