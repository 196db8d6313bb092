"""Whatever is scanned wherever, in any state, gets an answer, and USE only what nothing speaks against.

Random days on plant D, with dispensers, an enclosed head, mixing, decanting and used paste. What may be used is
checked against a plain account of stencil time that knows no folds: no minute on a stencil is ever won back.
"""

from dataclasses import replace
from datetime import datetime, timedelta
from random import Random

import pytest

from station.care import facts as f
from station.care.reasons import against
from station.care.scans import BinScan, CardScan, ContainerScan, Scan, StoreScan, TagScan, WorkOrderScan
from station.care.specification import Bin
from station.care.verdict import Verdict
from station.care.words import Card, Holder, HoldReason, Limit, Place, Word
from station.services.site import PlaceSetting, Site
from tests.care.bench import Bench
from tests.care.places import site_d
from tests.care.test_folds import picture, replayed

POSITIONS = {"1": "LINE1", "H1": "HEAD", "D1": "DOTS", "D2A": "PAIR", "D2B": "PAIR"}
PLACES = ("LINE1", "HEAD", "DOTS", "PAIR", "BENCH", "DESK", "FRIDGE", "SECOND")
LENGTHS = (0.01, 0.1, 1, 1, 5, 11, 29, 61, 61, 181, 300, 481)
AT_A_TAG = (
    (Card.REMOVE, Card.KEEP_USED),
    (Card.REMOVE, Card.KEEP_USED, Card.CLEANED),
    (Card.REMOVE, Card.UNDO),
    (Card.DISMOUNT, Card.CLEANED),
    (Card.PAUSE, Card.RESUME),
    (Card.NEW_BEAD, Card.KEEP_USED),
    (Card.CLEANED,),
)
HOUR = timedelta(hours=1)
LIVES = {Holder.STENCIL: 8 * HOUR, Holder.HEAD: 6 * HOUR}


def with_second_store(site: Site) -> Site:
    """Another refrigerator of the same bins under other names, and one more."""
    first = site.plant.stores["FRIDGE"]
    bins = (
        *(Bin(f"S{bin_.id}", bin_.capacity, bin_.leaded, bin_.hold) for bin_ in first.bins),
        Bin("SA2", 2, leaded=False, hold=False),
    )
    stores = {**site.plant.stores, "SECOND": replace(first, id="SECOND", title="Second refrigerator", bins=bins)}
    place = PlaceSetting("SECOND", Place.FRIDGE, "Second refrigerator", "SECOND", ())
    return replace(site, plant=replace(site.plant, stores=stores), places=(*site.places, place))


class Day:
    """One random day, with the true stencil time of every bead and of what was kept of it."""

    def __init__(self, seed: int) -> None:
        self.random, self.bench = Random(seed), Bench(with_second_store(site_d()))
        for kind in ("JAR-500", "CART-600", "SYR-35"):
            self.bench.ready(kind=kind)
        self.bench.ready("PB-1", "CART-600")
        self.spent: dict[str, timedelta] = {}
        self.began: dict[str, tuple[datetime, timedelta]] = {}

    def act(self) -> None:
        self.bench.later(self.random.choice(LENGTHS))
        self.random.choice(
            (self.use, self.use, self.use, self.at_a_tag, self.at_a_tag, self.at_the_bench, self.at_a_door, self.any)
        )()
        if self.random.random() < 0.05:
            self.bench.ready(kind=self.random.choice(("JAR-500", "CART-600")))
        if self.random.random() < 0.05:
            self.bench.tell(f.Held(self.container(), HoldReason.PERSON, ""))
        if self.random.random() < 0.2:
            for name in list(self.bench.station.ledger.containers):
                self.bench.release_all(name)

    def container(self) -> str:
        """Any of them, the later ones more often."""
        names = list(self.bench.station.ledger.containers)
        return self.random.choice((*names, *names[-4:]))

    def use(self) -> None:
        """A container at a line: which side, insisting, the opening check, perhaps a card."""
        name = self.container()
        position = self.random.choice(list(POSITIONS))
        place = POSITIONS[position]
        code = self.say(ContainerScan(name), place)
        if code == "which-position":
            code = self.say(TagScan(position), place)
        if code == "would-shorten":
            self.bench.later(0.1)
            code = self.say(ContainerScan(name), place)
        if code == "opening-check":
            good = self.random.random() < 0.9
            self.say(CardScan(Card.LOOKS_GOOD if good else Card.LOOKS_BAD), place)
        if self.random.random() < 0.2:
            self.say(CardScan(self.random.choice((Card.EMPTY, Card.DISMOUNT, Card.UNDO, Card.DISCARD))), place)

    def at_a_tag(self) -> None:
        """What is done at a position."""
        position = self.random.choice(list(POSITIONS))
        place = POSITIONS[position]
        for card in self.random.choice(AT_A_TAG):
            self.say(TagScan(position), place)
            self.say(CardScan(card), place)

    def at_the_bench(self) -> None:
        self.say(ContainerScan(self.container()), "BENCH")
        self.say(CardScan(self.random.choice((Card.MIXED, Card.DECANT, Card.DECANT))), "BENCH")

    def at_a_door(self) -> None:
        """A new container is put away, lies for a while and turns up at either door; cards and tags of bins follow."""
        name = self.bench.cold() if self.random.random() < 0.5 else self.container()
        self.bench.later(self.random.choice(LENGTHS))
        door = self.random.choice(("FRIDGE", "SECOND"))
        self.say(ContainerScan(name), door)
        self.say(CardScan(self.random.choice((Card.MOVED_HERE, Card.TAKEN_OUT, Card.MOVE, Card.UNDO))), door)
        bins = [bin_.id for store in self.bench.plant.stores.values() for bin_ in store.bins]
        self.say(BinScan(self.random.choice(bins)), door)

    def any(self) -> None:
        """Anything anywhere."""
        place = self.random.choice(PLACES)
        scans = (
            ContainerScan(self.container()),
            TagScan(self.random.choice(list(POSITIONS))),
            StoreScan(self.random.choice(("FRIDGE", "SECOND", "NONE"))),
            WorkOrderScan("WO1", self.random.choice(("CTRL", "CTRL", "POWER"))),
        )
        self.say(self.random.choice(scans), place)
        for _ in range(self.random.randrange(3)):
            self.say(CardScan(self.random.choice(list(Card))), place)

    def say(self, scan: Scan, place: str) -> str:
        outcome = self.bench.outcome(scan, place)
        verdict = outcome.verdict
        assert verdict is not None
        assert verdict.todo
        if verdict.word is Word.USE:
            self.used(verdict)
        for fact in outcome.facts:
            if isinstance(fact.body, f.UsedPasteKept):
                began, before = self.began[fact.body.bead]
                self.spent[fact.body.container] = before + (self.bench.clock.wall - began)
        return verdict.code

    def used(self, verdict: Verdict) -> None:
        """Nothing speaks against what was said to be used, and its stencil time is as long as it truly is."""
        bench = self.bench
        container, position = bench.container(verdict.container or ""), bench.position(verdict.position or "")
        assert against(bench.floor, container, position) == ()
        holder = bench.floor.holder(position.id)
        if holder is Holder.DISPENSER:
            assert position.mounted is not None
            assert position.mounted.container == container.id
            return
        bead = position.bead
        assert bead is not None
        mine = self.spent.get(container.id, timedelta(0))
        self.began.setdefault(bead.key, (bench.clock.wall, mine))
        began, before = self.began[bead.key]
        if bench.clock.wall - began + before < mine:
            self.began[bead.key] = (bench.clock.wall, mine)
            began, before = bench.clock.wall, mine
        assert bead.stencil_end <= began + LIVES[holder] - before
        for limit, end in bench.floor.bead_limits(bead):
            assert bench.clock.wall <= end, limit


@pytest.mark.parametrize("seed", range(25))
def test_a_random_day_has_an_answer_to_everything(seed: int) -> None:
    day = Day(seed)
    for _ in range(60):
        day.act()
    facts = list(day.bench.journal.facts())
    shuffled = list(facts)
    Random(seed).shuffle(shuffled)
    assert picture(replayed(shuffled)) == picture(day.bench.station.ledger)
    numbers = [
        fact.body.container for fact in facts if isinstance(fact.body, f.Received | f.Decanted | f.UsedPasteKept)
    ]
    assert len(numbers) == len(set(numbers))


def test_the_random_days_get_to_everything() -> None:
    """Otherwise they would prove little."""
    told: set[str] = set()
    limits: set[Limit] = set()
    for seed in range(25):
        day = Day(seed)
        for _ in range(60):
            day.act()
        told |= {fact.body.NAME for fact in day.bench.journal.facts()}
        limits |= {alarm.limit for alarm in day.bench.station.ledger.alarms.values()}
    assert {"mounted", "dismounted", "mixed", "decanted", "used-paste-kept", "loaded", "removed", "undone"} <= told
    assert {"transferred", "bin-changed"} <= told
    assert Limit.HOLD in limits
