"""An identity label once more by a typed number: what has lost its label can't be scanned."""

import pytest

from station.care.words import Card
from station.services.identity_again import print_identity
from station.services.outcome import Refusal
from tests.care.bench import Bench


def test_the_end_of_its_number_is_enough_and_no_clock_changes() -> None:
    bench = Bench()
    jar, _ = bench.cold(), bench.cold()
    before = bench.container(jar)
    outcome = print_identity(bench.station, " 001 ", "FRIDGE")
    assert outcome.verdict is not None
    assert (outcome.verdict.word, outcome.verdict.headline) == ("DONE", "IDENTITY LABEL")
    assert [fact.body.NAME for fact in outcome.facts] == ["label-asked", "label-sent"]
    assert bench.printer.sent[-1].container == "K7-001"
    assert "SN-4" in outcome.verdict.why
    assert f"lot {before.lot}, Refrigerator, bin A1." in outcome.verdict.why
    assert outcome.verdict.todo.startswith("Compare paste and lot with the maker's label first")
    assert bench.container(jar) == before


@pytest.mark.parametrize(
    ("number", "sentence"), [("777", "has the number 777"), ("", "has the number"), ("1", "K7 001, K7 011")]
)
def test_a_number_that_is_none_or_several_prints_nothing(number: str, sentence: str) -> None:
    bench = Bench()
    for _ in range(11):
        bench.receive()
    printed = len(bench.printer.sent)
    with pytest.raises(Refusal) as refused:
        print_identity(bench.station, number, "FRIDGE")
    assert sentence in refused.value.sentence
    assert len(bench.printer.sent) == printed


def test_an_ended_one_gets_none() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.scan(jar, "DESK")
    bench.card(Card.DISCARD, "DESK")
    with pytest.raises(Refusal, match="still in use"):
        print_identity(bench.station, jar, "DESK")
