"""Two acts on a whole store at the shift desk: all of it moves to another one, or counts as taken out since a time."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from station.care.floor import Floor
from station.care.specification import Store
from station.care.stores import Fit, WholeStore, inside, moving_plan
from station.care.words import Storage
from station.services import stock
from station.services.outcome import Outcome
from station.services.station import Proof
from station.ui.desk_work import DeskWork
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.sheet import ReadDialog
from station.ui.dialogs.store_dialog import StoreActShown, StoreDialog, StoreWord
from station.ui.forms import Forms
from station.ui.view_models import ActionModel

MOST_NAMED = 8
NOTHING_IN = ("Nothing is recorded in any store that this could be said of.",)


class StoreForms:
    """Makes the two forms; `openers` says which act each belongs to."""

    def __init__(self, host: QWidget, work: DeskWork, forms: Forms) -> None:
        """No form is open."""
        self._host, self._work, self._forms = host, work, forms
        self.openers: dict[str, Callable[[str], PaperDialog | None]] = {
            "move-store": lambda _rest: self._move(),
            "store-out": lambda _rest: self._out(),
        }

    def _move(self) -> PaperDialog:
        floor = self._work.station.floor()
        stores = filled_stores(floor)
        shown = StoreActShown(
            title="All of a store moves to another",
            act="It was moved",
            since="Out of the cold since",
            stores=tuple(offer(floor, store) for store in stores),
            targets={store.id: targets(floor, store) for store in stores},
            preview=lambda store, to: move_preview(floor, store, to),
        )
        return self._form(shown, floor, stock.move_store)

    def _out(self) -> PaperDialog:
        floor = self._work.station.floor()
        stores = (store for store in filled_stores(floor) if store.storage is not Storage.ROOM)
        shown = StoreActShown(
            title="All of a store is out of the cold",
            act="It is out",
            since="Out since, at the earliest",
            stores=tuple(offer(floor, store) for store in stores),
            targets={},
            preview=lambda store, _to: out_preview(floor, store),
        )
        return self._form(shown, floor, stock.store_out_since)

    def _form(self, shown: StoreActShown, floor: Floor, act: Callable[..., Outcome]) -> PaperDialog:
        if not shown.stores:
            return ReadDialog(shown.title, (("Why not", NOTHING_IN),), self._host)
        dialog = StoreDialog(shown, floor.now, floor.zone, self._host, people=self._forms.people())
        dialog.offered.connect(lambda word: self._told(act, word))
        return dialog

    def _told(self, act: Callable[..., Outcome], word: StoreWord) -> None:
        told = WholeStore(word.store, word.since, word.reason, word.to)
        proof = Proof(word.badge, word.pin)
        self._forms.tell(lambda: self._work.told(act(self._work.station, told, proof)))


def filled_stores(floor: Floor) -> tuple[Store, ...]:
    """The stores with something in them."""
    filled = {one.store for one in floor.alive()}
    return tuple(store for store in floor.plant.stores.values() if store.id in filled)


def offer(floor: Floor, store: Store) -> ActionModel:
    """A store to choose, with how much is in it."""
    return ActionModel(store.id, store.title, f"{len(inside(floor, store.id))} in it")


def targets(floor: Floor, store: Store) -> tuple[ActionModel, ...]:
    """The other stores of its kind."""
    others = (other for other in floor.plant.stores.values() if other.id != store.id)
    return tuple(offer(floor, other) for other in others if other.storage is store.storage)


def move_preview(floor: Floor, store: str, to: str) -> tuple[str, ...]:
    """Which bin each container would go to, bin by bin, and by name what has no bin there."""
    plan = moving_plan(floor, store, to)
    title = floor.plant.stores[to].title
    bins: dict[str, list[Fit]] = {}
    for fit in plan:
        bins.setdefault(fit.bin.id if fit.bin is not None else "", []).append(fit)
    homeless = bins.pop("", [])
    refused = (f"NO FREE BIN in {title} for {_named(homeless)}. Make room there first.",) if homeless else ()
    return (*refused, *(f"Bin {name}: {_named(fits)}" for name, fits in bins.items()))


def out_preview(floor: Floor, store: str) -> tuple[str, ...]:
    """What would count as out, by name."""
    found = [Fit(one, None) for one in inside(floor, store)]
    return (f"A label prints for each of {len(found)}: {_named(found)}.",)


def _named(fits: list[Fit]) -> str:
    more = f" and {len(fits) - MOST_NAMED} more" if len(fits) > MOST_NAMED else ""
    return f"{', '.join(fit.container.spoken for fit in fits[:MOST_NAMED])}{more}"
