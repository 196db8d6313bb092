"""What each place shows: fridge door, printer, dispenser, preparation bench and shift desk."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from station.care import alarms
from station.care.choice import take_next
from station.care.floor import Floor
from station.care.limits import until_away
from station.care.move_away import has_others
from station.care.saying import spot
from station.care.state import Container
from station.care.thaw import is_thawing
from station.care.used_paste import kept_from
from station.care.verdict import Verdict
from station.care.words import Card, Holder, Place, Priority, Stage, Word
from station.services.sessions import Session
from station.services.site import PlaceSetting
from station.ui import wording
from station.ui.present.alarm_cards import alarm_cards
from station.ui.present.counts import BOTTOM, count_model, door_offers
from station.ui.present.rows import Due, bead_row, container_row
from station.ui.present.store_reading import store_model
from station.ui.present.verdicts import question_model, verdict_model
from station.ui.view_models import (
    ActionModel,
    BannerModel,
    BoardModel,
    BoardRow,
    CurveModel,
    HealthMark,
    JustScannedRow,
    Scope,
    ScreenModel,
    StripModel,
    TakeNextRow,
    Tone,
    TopBarModel,
)

MOST_ROWS = 40
AT_LINE = (Place.PRINTER, Place.DISPENSER)


@dataclass(frozen=True, slots=True)
class Extras:
    """What the window knows and the plant does not: health, sound, folded STOPs, a banner of its own."""

    verdict: Verdict | None = None
    strips: tuple[StripModel, ...] = ()
    health: tuple[HealthMark, ...] = ()
    sound_ok: bool = True
    banner: BannerModel | None = None
    alarm_turn: int = 0
    curve: CurveModel | None = None


def screen_model(floor: Floor, place: PlaceSetting, session: Session, extras: Extras) -> ScreenModel:
    """The whole screen of a place at this moment."""
    verdict = extras.verdict
    question = question_model(floor, verdict) if verdict is not None else None
    shown = verdict_model(floor, verdict) if verdict is not None and question is None else None
    count = count_model(floor, place, verdict)
    desk = place.kind is Place.DESK
    found = alarm_cards(floor, verdict.container if verdict is not None else None) if desk else ()
    turn = extras.alarm_turn % len(found) if found else 0
    cards = (*found[turn:], *found[:turn])
    return ScreenModel(
        place=place.kind,
        top=_top(floor, place, session, extras),
        board=_board(floor, place),
        verdict=shown,
        question=question,
        strips=extras.strips,
        banner=extras.banner or clock_banner(floor),
        just_scanned=_just_scanned(floor, session) if place.kind in AT_LINE else (),
        actions=(*_offered(floor, place, session, verdict), *(NEXT_ALARM if len(cards) > 1 else ())),
        take_next=_take_next(floor, place),
        store=store_model(floor, place, extras.curve),
        alarm_cards=cards,
        summary=_summary(floor) if desk else (),
        empty_hint=_hint(floor, place) if shown is None and question is None and not cards else "",
        bottom=BOTTOM if count is not None else _bottom(place),
        count=count,
    )


def _top(floor: Floor, place: PlaceSetting, session: Session, extras: Extras) -> TopBarModel:
    counts = dict.fromkeys(Priority, 0)
    unseen = False
    for alarm, situation in alarms.open_alarms(floor):
        counts[situation.priority] += 1
        unseen = unseen or alarms.sounding(floor, alarm)
    person = floor.ledger.people.get(session.context.person or "")
    demo = "DEMO  " if floor.rules.demo else ""
    return TopBarModel(
        place=f"{demo}{place.kind.value.upper()}  {place.title}",
        person=person.name if person is not None else "",
        alarms_high=counts[Priority.HIGH],
        alarms_medium=counts[Priority.MEDIUM],
        alarms_low=counts[Priority.LOW],
        scope=Scope.PLANT,
        clock_text=wording.wall_clock(floor.now, floor.zone),
        zone=wording.zone_name(floor.now, floor.zone),
        sound_ok=extras.sound_ok,
        health=extras.health,
        unacknowledged=unseen,
    )


def clock_banner(floor: Floor) -> BannerModel | None:
    """The clock is in doubt: said until a shift lead confirms the time."""
    clock = floor.ledger.clock
    if clock.trusted_until is None:
        return None
    minutes = clock.stepped_by.total_seconds() / 60
    way = "forward" if minutes >= 0 else "back"
    return BannerModel(
        f"The clock of this PC was moved {abs(minutes):.0f} min {way}. Nothing newly becomes ready.",
        "Shift lead: check the time, then confirm it at the shift desk.",
        Tone.PAST,
    )


def _board(floor: Floor, place: PlaceSetting) -> BoardModel:
    ordered = sorted(_dues(floor, place), key=_at_desk if place.kind is Place.DESK else _at_place)
    shown: tuple[BoardRow, ...] = tuple(due.row for due in ordered[:MOST_ROWS])
    return BoardModel(floor.now, shown, more=max(0, len(ordered) - MOST_ROWS))


def _at_desk(due: Due) -> tuple[int, datetime, bool, str]:
    """The worst first: what is left out for want of room is never worse than what is shown."""
    priority = due.row.priority
    red = alarms.ORDER[priority] if priority is not None else len(alarms.ORDER)
    rank = red if due.row.tone is Tone.PAST else len(alarms.ORDER) + 1
    return rank, due.at, not due.row.tall, due.row.title


def _at_place(due: Due) -> tuple[bool, int, datetime, bool, str]:
    """The beads of the place itself before all containers, whatever stands with these."""
    return not due.row.tall, *_at_desk(due)


def _dues(floor: Floor, place: PlaceSetting) -> list[Due]:
    if place.kind is Place.FRIDGE:
        stages = (Stage.CONDITIONING, Stage.READY)
        return _rows(
            floor, (one for one in floor.alive() if _under_way(one) or (_is_out(one) and floor.stage(one) in stages))
        )
    if place.kind in AT_LINE:
        there = [name for name in (_mounted(floor, position) for position in place.positions) if name is not None]
        others = (found for found in _for_printer(floor, place) if found not in there)
        return [*_beads(floor, place.positions), *_rows(floor, (*there, *others))]
    shown = (found for found in floor.alive() if _under_way(found) or _is_out(found))
    return [*_beads(floor, tuple(floor.plant.positions)), *_rows(floor, shown)]


def _under_way(container: Container) -> bool:
    """Whether it has yet to come to its store: delivered and not put away, thawing, or between two stores."""
    return is_thawing(container) or bool(until_away(container))


def _thawing(floor: Floor) -> Iterable[Container]:
    """What thaws, and what is on its way between two stores."""
    return (found for found in floor.alive() if is_thawing(found) or found.on_its_way)


def _mounted(floor: Floor, position: str) -> Container | None:
    mounted = floor.position(position).mounted
    return floor.container(mounted.container) if mounted is not None else None


def _out(floor: Floor) -> Iterable[Container]:
    """Everything out of cold storage and not ended."""
    return (found for found in floor.alive() if _is_out(found))


def _is_out(container: Container) -> bool:
    return container.has_been_out or container.opened_at is not None


def _rows(floor: Floor, containers: Iterable[Container]) -> list[Due]:
    return [container_row(floor, container) for container in containers]


def _beads(floor: Floor, positions: tuple[str, ...]) -> list[Due]:
    return [bead_row(floor, place, bead) for place, bead in floor.beads() if place.id in positions]


def _for_printer(floor: Floor, place: PlaceSetting) -> Iterable[Container]:
    """What may come to this printer: its job's pastes (all, where no job is set), and what was last seen here."""
    pastes = {paste for name in place.positions for paste in floor.position(name).pastes}
    here = (place.id, *place.positions)
    return (found for found in _out(floor) if not pastes or found.paste in pastes or found.last_seen_where in here)


def _just_scanned(floor: Floor, session: Session) -> tuple[JustScannedRow, ...]:
    return tuple(
        JustScannedRow(
            wording.clock_of_day(seen.at, floor.zone), seen.text, seen.short, Word(seen.word), by_label=seen.by_label
        )
        for seen in session.recent
    )


def _take_next(floor: Floor, place: PlaceSetting) -> tuple[TakeNextRow, ...]:
    if place.kind is not Place.FRIDGE or place.store is None:
        return ()
    return tuple(
        TakeNextRow(
            what=f"{found.paste} {floor.kind(found).title}",
            location=f"bin {found.bin}",
            container=found.spoken,
            note=f"expires {_date(floor, found.shelf_end)}" if found.shelf_end else "",
        )
        for found in take_next(floor, place.store, 4)
    )


def _date(floor: Floor, instant: datetime) -> str:
    local = instant.astimezone(floor.zone)
    return f"{local.day} {wording.ENGLISH.months[local.month - 1]} {local.year}"


POSITION_CARDS = (
    ActionModel("card:REMOVE", "Remove bead"),
    ActionModel("card:CARRY-OVER", "Carry over"),
    ActionModel("card:CLEANED", "Cleaned"),
    ActionModel("card:PAUSE", "Pause"),
)
KEEP_USED = ActionModel("card:KEEP-USED", "Keep used", "in a jar of its own")
DISPENSER_CARDS = (ActionModel("card:DISMOUNT", "Dismount"), ActionModel("card:CLEANED", "Cleaned"))
BENCH_CARDS = (ActionModel("card:MIXED", "Mixed"), ActionModel("card:DECANT", "Decant", "its label prints"))
RECEIVE = ActionModel("receive", "Receive", "new from the dock")
NEXT_ALARM = (ActionModel("next-alarm", "Next alarm"),)
PLACES = ActionModel("places", "Other place")
CONTAINER_CARDS = (ActionModel("card:EMPTY", "Empty"), ActionModel("card:DISCARD", "Discard"))


ASKED = (
    ActionModel("card:SAME-BEAD", "Same bead"),
    ActionModel("card:NEW-BEAD", "New bead"),
)
ASKED_AT_DOOR = (
    ActionModel("card:MOVED-HERE", "Moved here", "it stays in this store"),
    ActionModel("card:TAKEN-OUT", "Taken out", "to use it"),
)
UNDO = ActionModel("card:UNDO", "Undo")
MOVE = ActionModel("card:MOVE", "Move", "to another store")
EMPTY = CONTAINER_CARDS[0]


def _offered(floor: Floor, place: PlaceSetting, session: Session, verdict: Verdict | None) -> tuple[ActionModel, ...]:
    """What may be touched: first what the verdict asks, then what the place always has, each once.

    What comes and goes unasked, Silence and Undo, stands last, so that no other button moves from under a finger.
    """
    always = _actions(floor, place, verdict)
    if verdict is not None and place.kind is Place.FRIDGE and session.context.armed_at(floor.now) is not None:
        return (*(card for card in ASKED_AT_DOOR if card.id.partition(":")[2] in verdict.asks), *always)
    if verdict is None or place.kind not in AT_LINE:
        return always
    if Card.UNDO in verdict.asks and session.context.armed_at(floor.now) is not None:
        always = (*always, UNDO)
    asked = [card for card in ASKED if card.id.partition(":")[2] in verdict.asks]
    last = session.context.armed.last if session.context.armed is not None else None
    if Card.EMPTY not in verdict.asks or last is None:
        return (*asked, *always)
    named = ActionModel(f"empty:{last}", f"{last.replace('-', ' ')} is empty")
    return (named, *asked, *(card for card in always if card is not EMPTY))


def _actions(floor: Floor, place: PlaceSetting, verdict: Verdict | None) -> tuple[ActionModel, ...]:
    match place.kind:
        case Place.PRINTER:
            return (*CONTAINER_CARDS, *_position_cards(floor, place), _look(), PLACES, *_silence(floor))
        case Place.DISPENSER:
            return (*CONTAINER_CARDS, *DISPENSER_CARDS, _look(), PLACES, *_silence(floor))
        case Place.BENCH:
            return (*BENCH_CARDS, _look(), PLACES, *_silence(floor))
        case Place.FRIDGE:
            moves = (MOVE,) if has_others(floor, place.store) else ()
            return (RECEIVE, UNDO, *moves, _look(), *door_offers(floor, place), PLACES, *_silence(floor))
        case _:
            return _desk_actions(floor, verdict)


def _position_cards(floor: Floor, place: PlaceSetting) -> tuple[ActionModel, ...]:
    paused = any(bead.paused_at is not None for position, bead in floor.beads() if position.id in place.positions)
    instead = {
        **({"card:PAUSE": ActionModel("card:RESUME", "Resume")} if paused else {}),
        **({"card:REMOVE": KEEP_USED} if any(_keepable(floor, name) for name in place.positions) else {}),
    }
    return tuple(instead.get(card.id, card) for card in POSITION_CARDS)


def _keepable(floor: Floor, name: str) -> bool:
    """Whether a bead just came off here that may be kept; REMOVE has nothing to say meanwhile."""
    position = floor.position(name)
    if position.bead is not None or not position.gone:
        return False
    last = position.gone[-1]
    life = floor.specification(last.bead.paste).used_paste_life
    recent = floor.recently(last.removed_at, floor.rules.right_action)
    return life is not None and recent and kept_from(floor, last.bead.key) is None


def _look() -> ActionModel:
    return ActionModel(f"card:{Card.LOOK.value}", "Look only")


def _silence(floor: Floor) -> tuple[ActionModel, ...]:
    ringing = any(alarms.sounding(floor, alarm) for alarm, _ in alarms.open_alarms(floor))
    return (ActionModel(f"card:{Card.SILENCE.value}", "Silence", "alarms stay open"),) if ringing else ()


def _desk_actions(floor: Floor, verdict: Verdict | None) -> tuple[ActionModel, ...]:
    clock = (
        (ActionModel("confirm-clock", "Time is right", "badge and PIN"),)
        if floor.ledger.clock.trusted_until is not None
        else ()
    )
    more = ActionModel(f"more:{_scanned(floor, verdict)}", "More", "lots, corrections")
    lying = floor.container(_scanned(floor, verdict))
    moves = (MOVE,) if lying is not None and has_others(floor, lying.store) else ()
    return (*clock, *_releases(floor, verdict), *moves, ActionModel("room", "Room air"), more, PLACES, *_silence(floor))


def _scanned(floor: Floor, verdict: Verdict | None) -> str:
    """The container that was scanned at the desk, if it is known here."""
    container = floor.container(verdict.container or "") if verdict is not None else None
    return container.id if container is not None else ""


def _releases(floor: Floor, verdict: Verdict | None) -> tuple[ActionModel, ...]:
    """One button for each hold of the container that was scanned at the desk."""
    container = floor.container(verdict.container or "") if verdict is not None else None
    if container is None or container.ended is not None:
        return ()
    return tuple(
        ActionModel(f"release:{container.id}:{hold.key}", "Release", hold.reason.value) for hold in container.holds
    )


def _summary(floor: Floor) -> tuple[tuple[str, str], ...]:
    alive = list(floor.alive())
    stages = [floor.stage(found) for found in alive]
    held = sum(1 for found in alive if found.held)
    return (
        ("in cold storage", str(stages.count(Stage.COLD))),
        *_thaws(floor),
        ("conditioning", str(stages.count(Stage.CONDITIONING))),
        ("ready, closed", str(stages.count(Stage.READY))),
        ("open", str(stages.count(Stage.OPEN))),
        ("on hold", str(held)),
        ("beads on stencils", str(sum(1 for _ in floor.beads()))),
        *_in_dispensers(floor),
    )


def _thaws(floor: Floor) -> tuple[tuple[str, str], ...]:
    count = sum(1 for _ in _thawing(floor))
    return (("of them thawing", str(count)),) if count else ()


def _in_dispensers(floor: Floor) -> tuple[tuple[str, str], ...]:
    if not any(position.holder is Holder.DISPENSER for position in floor.plant.positions.values()):
        return ()
    return (("in dispensers", str(sum(1 for name in floor.plant.positions if floor.position(name).mounted))),)


def _hint(floor: Floor, place: PlaceSetting) -> str:
    if any(floor.position(name).work_order for name in place.positions):
        return "Scan a container: the screen says USE, WAIT or STOP.\nScan EMPTY with the container when it is used up."
    return {
        Place.FRIDGE: "Scan a container to put it away.\nScan it again to take it out: its label prints.\n"
        "What has been out goes back only where its specification allows it.",
        Place.PRINTER: "Scan the work order of this line.\nScan a container: the screen says USE, WAIT or STOP.\n"
        "Scan EMPTY with the container when it is used up.",
        Place.DISPENSER: "Scan a cartridge or syringe: the screen says USE, WAIT or STOP.\n"
        "USE counts it as mounted. Scan it and DISMOUNT when you take it off, EMPTY when it is used up.",
        Place.BENCH: "Scan a container, then MIXED when it was in the mixer, lid closed.\n"
        "Leaded (Pb) paste: wipe the holder with its own wipes.\n"
        "Scan it, then DECANT, to fill paste into a container of its own: its label prints. "
        "Beside the label goes the maker's hazard information.",
        Place.DESK: "No alarm is open.\nScan any code to see what it is.",
    }.get(place.kind, "Scan a container.")


def _bottom(place: PlaceSetting) -> str:
    return {
        Place.FRIDGE: "Scan a container to put it away or take it out. Back only where its specification allows it.",
        Place.PRINTER: f"Scan a container, a card or a badge. This is {' and '.join(map(spot, place.positions))}.",
        Place.DISPENSER: f"Scan a cartridge, a card or a badge. This is {' and '.join(map(spot, place.positions))}.",
        Place.BENCH: "Mixing warms paste unevenly and saves no time to warm. Used paste is never mixed or decanted.",
        Place.DESK: "Scan anything to see what it is. Clearing an alarm needs a shift lead's badge and PIN.",
    }.get(place.kind, "Scan a container, a card or a badge.")
