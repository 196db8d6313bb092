"""What a note or a photo may be kept with, by kind, and how each is called on a screen."""

from collections.abc import Iterator

from station.care import alarms
from station.care.floor import Floor
from station.care.fold_lot import spoken_lot
from station.care.saying import opening, spot
from station.services.attachments import is_known, lots_known
from station.ui.present.alarm_cards import title_of
from station.ui.view_models import ActionModel

MOST = 14
CHOOSE = "note-of"
NOTE = "note"
KINDS = (
    ActionModel(f"{CHOOSE}:position", "A line or position", "printer, dispenser"),
    ActionModel(f"{CHOOSE}:store", "A store", "refrigerator, freezer, shelf"),
    ActionModel(f"{CHOOSE}:lot", "A lot", "the newest ones"),
    ActionModel(f"{CHOOSE}:alarm", "An open alarm", "what is past its time"),
    ActionModel(f"{CHOOSE}:person", "Somebody", "such as a proof of training"),
)


def title_of_subject(floor: Floor, about: str) -> str | None:
    """How `kind:name` is called; None for what is not on record here."""
    kind, _, name = about.partition(":")
    if not is_known(floor, about):
        return None
    match kind:
        case "container":
            return floor.ledger.containers[name].spoken
        case "position":
            return opening(spot(name))
        case "lot":
            return f"lot {spoken_lot(name)}"
        case "alarm":
            return title_of(floor, floor.ledger.alarms[name])
        case "store":
            return floor.plant.stores[name].title
        case _:
            return floor.ledger.people[name].name


def offers(floor: Floor, kind: str) -> tuple[ActionModel, ...]:
    """The things of one kind, as buttons that open the form of a note."""
    abouts = [f"{kind}:{name}" for name in _names(floor, kind)][:MOST]
    titles = ((about, title_of_subject(floor, about) or "") for about in abouts)
    return tuple(ActionModel(f"{NOTE}:{about}", opening(title), _hint(about)) for about, title in titles)


def _names(floor: Floor, kind: str) -> Iterator[str]:
    match kind:
        case "position":
            yield from floor.plant.positions
        case "store":
            yield from floor.plant.stores
        case "lot":
            yield from lots_known(floor.ledger)
        case "alarm":
            yield from (alarm.id for alarm, _ in alarms.open_alarms(floor))
        case _:
            yield from sorted(found.id for found in floor.ledger.people.values() if not found.left)


def _hint(about: str) -> str:
    kind, _, name = about.partition(":")
    return f"badge {name}" if kind == "person" else ""
