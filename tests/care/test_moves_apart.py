"""A jar carried to and fro between two doors whose stations seldom meet: no minute out of the cold is forgotten."""

from datetime import datetime, timedelta
from random import Random

import pytest

from station.care.words import Card
from tests.care.fleet import Fleet
from tests.care.test_folds import picture
from tests.care.test_stores import two_stores

DOORS = {"FRIDGE": "A", "SECOND": "B"}
NOTHING = timedelta(0)


class Carried:
    """The jar in truth: where it lies, since when it is out, and how long it was out before."""

    def __init__(self, seed: int) -> None:
        """It lies in the first refrigerator, and both stations know it."""
        self.random = Random(seed)
        self.fleet = Fleet(site=two_stores())
        self.jar = self.fleet["A"].cold()
        self.fleet.at("2026-11-10T09:00")
        self.fleet.meet("A", "B")
        self.lies: str | None = "FRIDGE"
        self.out_since: datetime | None = None
        self.out = NOTHING

    @property
    def now(self) -> datetime:
        """Both clocks are right."""
        return self.fleet["A"].clock.wall

    def leave(self) -> None:
        """By MOVE and its label, or taken out first and MOVE said after it."""
        if self.lies is None:
            return
        door, bench = self.lies, self.fleet[DOORS[self.lies]]
        if self.random.random() < 0.5:
            bench.card(Card.MOVE, door)
            said = bench.scan(self.jar, door)
        else:
            bench.scan(self.jar, door)
            said = bench.card(Card.MOVE, door)
        if said.code == "move-begun":
            self.lies, self.out_since = None, self.now

    def arrive(self) -> None:
        """At either door; one that has not heard of the way asks, and is told MOVED HERE."""
        if self.out_since is None:
            return
        door = self.random.choice(tuple(DOORS))
        bench = self.fleet[DOORS[door]]
        code = bench.scan(self.jar, door).code
        if code == "other-store":
            code = bench.card(Card.MOVED_HERE, door).code
        if code in ("put-away", "moved-here"):
            self.out += self.now - self.out_since
            self.lies, self.out_since = door, None

    def pass_time(self) -> None:
        """Often over the ten minutes in which a door says that it is away already, seldom over the limit."""
        self.fleet.later(self.random.choice((1, 4, 11, 17, 45, 75)))

    def meet(self) -> None:
        """They tell each other everything, in any order of delivery."""
        self.fleet.meet("A", "B", self.random.randrange(999))


@pytest.mark.parametrize("seed", range(25))
def test_whatever_the_order_no_way_is_forgotten_and_both_doors_agree(seed: int) -> None:
    truth = Carried(seed)
    acts = (truth.leave, truth.arrive, truth.pass_time, truth.pass_time, truth.meet)
    for _ in range(40):
        truth.random.choice(acts)()
    truth.meet()
    truth.meet()
    one, other = (truth.fleet[name].station.ledger for name in ("A", "B"))
    assert picture(one)[0] == picture(other)[0]
    found = one.containers[truth.jar]
    going_on = truth.now - found.move_from if found.move_from is not None else NOTHING
    really = truth.out + (truth.now - truth.out_since if truth.out_since is not None else NOTHING)
    assert found.warm_spent + going_on >= really
    assert found.on_its_way or found.store is not None
