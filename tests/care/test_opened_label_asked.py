"""Where a line has a label printer, LOOKS GOOD asks for a label that says OPENED; nothing else does."""

from dataclasses import replace

import pytest

from station.care.cards import card_scan
from station.care.scans import ContainerScan
from station.care.verdict import Armed, Decision, PrintLabel
from station.care.words import Card
from tests.care.bench import Bench


def after_the_check(card: Card, *, has_printer: bool) -> Decision:
    """What the rules make of a card at line 1 after a jar was told to be opened there."""
    bench = Bench()
    jar = bench.ready()
    assert bench.answer(ContainerScan(jar), "LINE1").code == "opening-check"
    context = bench.station.sessions["LINE1"].context
    here = replace(context.here, label_printer=has_printer)
    armed = Armed(at=bench.floor.now, container=jar, position="1")
    return card_scan(bench.floor, replace(context, here=here, armed=armed), card)


@pytest.mark.parametrize(
    ("card", "has_printer", "prints"),
    [(Card.LOOKS_GOOD, True, True), (Card.LOOKS_GOOD, False, False), (Card.LOOKS_BAD, True, False)],
)
def test_only_a_good_look_where_a_label_comes_out_asks_for_one(card: Card, has_printer: bool, prints: bool) -> None:
    decision = after_the_check(card, has_printer=has_printer)
    asked = [effect for effect in decision.effects if isinstance(effect, PrintLabel)]
    assert bool(asked) is prints
    assert ("Stick the OPENED label over its time label." in decision.verdict.note) is prints


def test_the_answer_is_use_with_or_without_the_label() -> None:
    with_label, without = (after_the_check(Card.LOOKS_GOOD, has_printer=has) for has in (True, False))
    assert with_label.bodies == without.bodies
    note = f"{without.verdict.note} Stick the OPENED label over its time label."
    assert with_label.verdict == replace(without.verdict, note=note)
