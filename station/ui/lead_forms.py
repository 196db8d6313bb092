"""What a shift lead or a process engineer says at the desk besides alarms: which form opens, and what comes of it."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Protocol

from PySide6.QtWidgets import QWidget

from station.care import lots
from station.care.correction import Correction
from station.care.floor import Floor
from station.care.fold_lot import lot_name, spoken_lot
from station.care.late import Late
from station.care.lots import OnBoards
from station.care.saying import opening, spot
from station.care.state import Container
from station.care.versions import differing
from station.services import lead_acts
from station.services.attaching import Enclosed
from station.services.outcome import Outcome
from station.services.station import Proof
from station.ui import wording
from station.ui.chosen_files import enclosed
from station.ui.desk_work import DeskWork
from station.ui.dialogs.correct_dialog import CorrectDialog, CorrectWord, RecordedReceipt
from station.ui.dialogs.late_dialog import LateDialog, LateWord
from station.ui.dialogs.lot_dialogs import HoldLotDialog, HoldLotWord, LotShown, ReleaseLotDialog, ReleaseLotWord
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.readings import day_in_words
from station.ui.dialogs.recertify_dialog import Colleague, RecertifyDialog, RecertifyWord
from station.ui.dialogs.sheet import MoreDialog, ReadDialog
from station.ui.dialogs.take_back_dialog import TakeBackDialog, TakeBackWord
from station.ui.dialogs.version_dialog import VersionDialog, VersionWord
from station.ui.forms import Forms
from station.ui.present.desk_groups import GROUP, group_named
from station.ui.present.lead_offers import (
    acts_to_take_back,
    held_lots,
    lead_offers,
    lot_holds,
    lot_of,
    receipt_of,
    version_choices,
)
from station.ui.view_models import ActionModel

MOST_NAMED = 6
MOST_LISTED = 40
LOOK_AGAIN = "Are paste and lot right?"
Opener = Callable[[str], PaperDialog | None]


class LeadForms:
    """Makes the forms; `openers` says which act each belongs to."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms) -> None:
        """No form is open."""
        self._host, self._work, self._forms = host, work, forms
        self.openers: dict[str, Opener] = {
            "more": self._more,
            GROUP: self._group,
            "late": self._late,
            "correct": self._correct,
            "take-back": self._take_back,
            "version": self._version,
            "hold-lot": self._hold_lot,
            "release-lot": self._release_lot,
            "recertify": self._recertify,
            "reach": self._reach,
        }

    # ------------------------------------------------------------------ further acts

    def _more(self, name: str) -> PaperDialog:
        floor = self._work.station.floor()
        container = floor.container(name)
        title = f"Of {container.spoken} and its lot" if container is not None else "Shift lead and process engineer"
        dialog = MoreDialog(title, lead_offers(floor, container), self._host, lines=_before_a_scan(floor, container))
        dialog.offered.connect(lambda act: self._go_to(dialog, act))
        return dialog

    def _group(self, name: str) -> PaperDialog:
        group = group_named(name)
        dialog = MoreDialog(group.caption, group.entries, self._host)
        dialog.offered.connect(lambda act: self._go_to(dialog, act))
        return dialog

    def _go_to(self, dialog: PaperDialog, act: str) -> None:
        dialog.leave()
        kind, _, rest = act.partition(":")
        self._forms.open(kind, rest)

    # ------------------------------------------------------------------ of a container

    def _late(self, name: str) -> PaperDialog | None:
        floor = self._work.station.floor()
        container = floor.container(name)
        if container is None:
            return None
        title = f"{container.spoken} was taken out earlier"
        lines = (_since_when(floor, container), "It warms from the later time, every life runs from the earlier one.")
        dialog = LateDialog(title, floor.now, floor.zone, self._host, lines=lines, people=self._forms.people())
        dialog.offered.connect(lambda word: self._told_late(name, word))
        return dialog

    def _told_late(self, name: str, word: LateWord) -> None:
        told = Late(name, word.earliest, word.latest, word.reason)
        self._do(lambda: lead_acts.take_out_late(self._work.station, told, _proof(word)))

    def _correct(self, name: str) -> PaperDialog | None:
        floor = self._work.station.floor()
        container = floor.container(name)
        receipt = receipt_of(floor, container) if container is not None else None
        if container is None or receipt is None:
            return None
        celsius = container.temperature_c
        recorded = RecordedReceipt(
            title=f"Receipt of {container.spoken} {container.paste}",
            lot=container.lot,
            expires=container.expires,
            arrived_at=container.arrived_at,
            temperature=f"recorded as {receipt.temperature_answer}" if celsius is None else f"{celsius:g} °C",
            celsius=celsius,
        )
        dialog = CorrectDialog(recorded, floor.zone, self._host, people=self._forms.people())
        dialog.offered.connect(lambda word: self._corrected(name, word))
        return dialog

    def _corrected(self, name: str, word: CorrectWord) -> None:
        told = Correction(
            container=name,
            reason=word.reason,
            lot=word.lot,
            expires=word.expires,
            arrived_at=word.arrived_at,
            temperature_c=word.temperature_c,
        )
        self._do(lambda: lead_acts.correct_receipt(self._work.station, told, _proof(word)))

    def _take_back(self, name: str) -> PaperDialog | None:
        floor = self._work.station.floor()
        acts = acts_to_take_back(floor, floor.container(name))
        if not acts:
            return None
        dialog = TakeBackDialog(acts, self._host, people=self._forms.people())
        dialog.offered.connect(self._taken_back)
        return dialog

    def _taken_back(self, word: TakeBackWord) -> None:
        kind, _, name = word.act.partition(":")
        self._do(lambda: lead_acts.take_back(self._work.station, (kind, name), word.reason, _proof(word)))

    def _version(self, name: str) -> PaperDialog | None:
        floor = self._work.station.floor()
        container = floor.container(name)
        choices = version_choices(floor, container) if container is not None else ()
        if container is None or not choices:
            return None
        title = f"Which version of {container.paste} holds for {container.spoken}?"
        lines = ("The tighter times hold until a shift lead says otherwise.",)
        dialog = VersionDialog(title, choices, self._host, lines=lines, people=self._forms.people())
        dialog.offered.connect(lambda word: self._version_chosen(name, word))
        return dialog

    def _version_chosen(self, name: str, word: VersionWord) -> None:
        station = self._work.station
        self._do(lambda: lead_acts.choose_version(station, name, word.version, word.reason, _proof(word)))

    # ------------------------------------------------------------------ of a lot

    def _hold_lot(self, name: str) -> PaperDialog:
        dialog = HoldLotDialog(self._lot_shown(name), self._host, people=self._forms.people())
        dialog.offered.connect(self._lot_held)
        return dialog

    def _lot_held(self, word: HoldLotWord) -> None:
        station = self._work.station
        if self._do(lambda: lead_acts.hold_lot(station, word.paste, word.lot, word.reason, _proof(word), _files(word))):
            self._forms.open("reach", f"={lot_name(word.paste, word.lot)}")

    def _release_lot(self, name: str) -> PaperDialog | None:
        floor = self._work.station.floor()
        holds = lot_holds(floor, floor.container(name))
        if not holds:
            return None
        dialog = ReleaseLotDialog(holds, self._host, people=self._forms.people())
        dialog.offered.connect(self._lot_released)
        return dialog

    def _lot_released(self, word: ReleaseLotWord) -> None:
        lot, _, hold = word.hold.rpartition("#")
        station = self._work.station
        self._do(
            lambda: lead_acts.release_lot(station, lot, hold, word.reason, _proof(word), word.document, _files(word))
        )

    def _recertify(self, name: str) -> PaperDialog:
        people = {
            found.id: Colleague(found.name, frozenset(found.roles))
            for found in self._work.station.ledger.people.values()
            if not found.left
        }
        shown = replace(self._lot_shown(name), reach=self._expiry_now)
        dialog = RecertifyDialog(shown, self._host, people=people)
        dialog.offered.connect(self._recertified)
        return dialog

    def _recertified(self, word: RecertifyWord) -> None:
        both = (Proof(word.lead.badge, word.lead.pin), Proof(word.engineer.badge, word.engineer.pin))
        station = self._work.station
        self._do(
            lambda: lead_acts.recertify_lot(
                station, word.paste, word.lot, word.expires, word.document, both, _files(word)
            )
        )

    def _reach(self, name: str) -> PaperDialog | None:
        """What a lot reached: by `=lot`, by the container scanned, or of every lot on hold."""
        floor = self._work.station.floor()
        held = (name.removeprefix("="),) if name.startswith("=") else held_lots(floor, floor.container(name))
        if not held:
            return None
        spoken = ", ".join(spoken_lot(lot) for lot in held[:2])
        title = f"On hold: {spoken}{' and more' if len(held) > 2 else ''}"
        doors = {place.id: place.title for place in self._work.station.site.places if not place.positions}
        return ReadDialog(title, _reach_parts(floor, held, doors), self._host)

    def _lot_shown(self, name: str) -> LotShown:
        floor = self._work.station.floor()
        container = floor.container(name)
        pastes = tuple(ActionModel(paste, paste) for paste in floor.plant.pastes)

        def reach(paste: str, lot: str) -> str:
            found = lots.reach(self._work.station.floor(), lot_name(paste, lot))
            known = found.containers or found.on_boards
            return lots.reach_sentence(found) if known else f"No {paste} of this lot is on record here. {LOOK_AGAIN}"

        if container is None:
            return LotShown(pastes, reach)
        return LotShown(pastes, reach, container.paste, lot_of(floor, container))

    def _expiry_now(self, paste: str, lot: str) -> str:
        """What a new expiry of a lot reaches, and what stands now; it is no reason to stop anything."""
        floor = self._work.station.floor()
        alive = [found for found in lots.reach(floor, lot_name(paste, lot)).containers if found.ended is None]
        ends = sorted({found.shelf_end.astimezone(floor.zone).date() for found in alive if found.shelf_end})
        if not alive:
            return f"No {paste} of this lot is on record here. {LOOK_AGAIN}"
        many = "1 container" if len(alive) == 1 else f"{len(alive)} containers"
        return f"{many} of it here, which may be used until {' or '.join(map(day_in_words, ends))} now."

    # ------------------------------------------------------------------ inside

    def _do(self, act: Callable[[], Outcome]) -> bool:
        """Do an act and show its answer; a refusal is said in the form."""
        return self._forms.tell(lambda: self._work.told(act()))


class _Proved(Protocol):
    @property
    def badge(self) -> str: ...

    @property
    def pin(self) -> str: ...


def _proof(word: _Proved) -> Proof:
    return Proof(word.badge, word.pin)


def _since_when(floor: Floor, container: Container) -> str:
    """What bounds the take-out: it lay in the cold from here on, and was out by there."""
    cold_until = container.last_cold_at or container.arrived_at
    how = "Counted in its store" if cold_until == container.counted_at else "Put away"
    said = f"{how} {wording.moment(cold_until, floor.now, floor.zone)}."
    if container.sighted_warm_at is None:
        return said
    return f"{said} Seen outside {wording.moment(container.sighted_warm_at, floor.now, floor.zone)}."


def _before_a_scan(floor: Floor, container: Container | None) -> tuple[str, ...]:
    """With no container scanned: what a scan would open, and which ones wait for a word on their version."""
    if container is not None:
        return ()
    first = "Scan a container first to say something of it alone, such as a wrong receipt or a missed take-out."
    waiting = [found.spoken for found, _ in differing(floor)]
    if not waiting:
        return (first,)
    named = ", ".join(waiting[:MOST_NAMED])
    more = f" and {len(waiting) - MOST_NAMED} more" if len(waiting) > MOST_NAMED else ""
    told = f"Another version of the specification would change the times of {named}{more}. Scan one to decide."
    return (first, told)


def _reach_parts(
    floor: Floor, held: tuple[str, ...], doors: Mapping[str, str]
) -> tuple[tuple[str, tuple[str, ...]], ...]:
    found = [lots.reach(floor, lot) for lot in held]
    containers = [container for reach in found for container in reach.containers]
    boards = [entry for reach in found for entry in reach.on_boards]
    orders = tuple(dict.fromkeys(order for reach in found for order in reach.work_orders))
    return (
        (f"Containers ({len(containers)})", _bounded([_container_line(floor, one, doors) for one in containers])),
        ("On stencils", _bounded([_boards_line(floor, entry) for entry in boards])),
        ("Work orders built with it", _bounded(list(orders))),
    )


def _bounded(rows: list[str]) -> tuple[str, ...]:
    more = len(rows) - MOST_LISTED
    return (*rows[:MOST_LISTED], f"and {more} more") if more > 0 else tuple(rows)


def _container_line(floor: Floor, container: Container, doors: Mapping[str, str]) -> str:
    """`doors` are the titles of places without a stencil position, by id."""
    if container.ended is not None:
        return f"{container.spoken}, {container.ended.value}"
    on, seen = floor.positions_with(container.id), container.last_seen_where
    where = f"last seen at {doors.get(seen) or spot(seen)}" if seen else ""
    where = f"bin {container.bin}" if container.bin else where
    where = f"on {' and '.join(map(spot, on))}" if on else where
    return ", ".join(part for part in (container.spoken, floor.stage(container).value, where) if part)


def _boards_line(floor: Floor, entry: OnBoards) -> str:
    since = wording.moment(entry.since, floor.now, floor.zone)
    if entry.until is None:
        return f"{opening(spot(entry.position))} since {since}: STILL ON. Stop and scrape it off."
    return f"{opening(spot(entry.position))}, {since} to {wording.moment(entry.until, floor.now, floor.zone)}"


def _files(word: HoldLotWord | ReleaseLotWord | RecertifyWord) -> tuple[Enclosed, ...]:
    """The files chosen as proof, read at the last moment. Raises Refusal."""
    return tuple(enclosed(path) for path in word.files)
