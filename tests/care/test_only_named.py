"""A scan at a printer that only names a container for the card after it puts nothing on the bead."""

import pytest

from station.care.words import Card
from tests.care.bench import LEAD, Bench
from tests.care.leading import OPERATOR
from tests.care.places import site_d


def open_beside_a_bead(bench: Bench) -> tuple[str, str]:
    """A jar that feeds line 1, and another one of the same paste that was opened for line 2."""
    feeding, other = bench.on_line("LINE1"), bench.on_line("LINE2")
    bench.tag_card("2", Card.REMOVE, "LINE2")
    bench.later(1).badge(LEAD, "LINE1")
    return feeding, other


def in_bead(bench: Bench) -> list[str]:
    bead = bench.position("1").bead
    return [portion.container for portion in bead.portions] if bead is not None else []


@pytest.mark.parametrize("card", [Card.DISCARD, Card.HOLD])
def test_what_is_held_or_discarded_at_a_printer_condemns_no_bead_it_is_not_in(card: Card) -> None:
    bench = Bench()
    feeding, other = open_beside_a_bead(bench)
    assert bench.scan(other, "LINE1").word == "USE"
    assert bench.card(card, "LINE1").word == "DONE"
    assert in_bead(bench) == [feeding]
    assert bench.alarms() == []


def test_what_was_in_the_bead_before_stays_in_it_when_it_is_held_there() -> None:
    bench = Bench()
    feeding, _ = open_beside_a_bead(bench)
    bench.scan(feeding, "LINE1")
    assert bench.card(Card.HOLD, "LINE1").code == "held-now"
    assert in_bead(bench) == [feeding]
    assert [alarm.split("/")[0] for alarm in bench.alarms()] == ["held"]


def test_a_hold_that_is_refused_takes_nothing_back() -> None:
    bench = Bench()
    feeding, other = open_beside_a_bead(bench)
    bench.badge(OPERATOR, "LINE1")
    bench.scan(other, "LINE1")
    assert bench.card(Card.HOLD, "LINE1").code == "needs-lead"
    assert in_bead(bench) == [feeding, other]


def test_what_is_emptied_at_a_printer_was_emptied_onto_its_bead() -> None:
    bench = Bench()
    feeding, other = open_beside_a_bead(bench)
    bench.scan(other, "LINE1")
    assert bench.card(Card.EMPTY, "LINE1").code == "emptied"
    assert in_bead(bench) == [feeding, other]


def test_a_cartridge_held_by_the_scan_that_mounts_it_is_not_mounted() -> None:
    bench = Bench(site_d())
    bench.badge(LEAD, "DOTS")
    name = bench.ready(kind="CART-600")
    bench.badge(LEAD, "DOTS")
    bench.scan(name, "DOTS")
    assert bench.card(Card.LOOKS_GOOD, "DOTS").word == "USE"
    assert bench.card(Card.HOLD, "DOTS").code == "held-now"
    assert bench.position("D1").mounted is None
