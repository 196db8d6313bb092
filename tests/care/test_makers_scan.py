"""A maker's label scanned: what it says at the fridge door and the desk, and where it is no use."""

from dataclasses import replace
from datetime import date

import pytest

from station.care import facts as f
from station.care.makers_label import Carrier, Extra, MakersLabel, Question
from station.care.makers_scan import named_by, received_before, said_by
from station.care.scans import MakersLabelScan
from station.care.specification import MakerCode
from tests.care.bench import Bench
from tests.care.told import kept

LABEL = MakersLabel(Carrier.GS1, "0109501101530003", lot="L42A", expires=date(2027, 4, 30), net_mass_g=500.0)


@pytest.mark.parametrize("place", ["FRIDGE", "DESK"])
def test_where_deliveries_are_received_it_is_said_and_nothing_recorded(place: str) -> None:
    outcome = Bench().outcome(MakersLabelScan(LABEL), place)
    assert outcome.verdict is not None
    assert (outcome.verdict.word, outcome.verdict.code) == ("DONE", "makers-label")
    assert outcome.verdict.why == "It says: lot L42A, expires 2027-04-30, net mass 500 g."
    assert outcome.facts == ()


def test_at_a_printer_it_is_refused_and_the_refusal_kept() -> None:
    outcome = Bench().outcome(MakersLabelScan(LABEL), "LINE1")
    assert outcome.verdict is not None
    assert (outcome.verdict.word, outcome.verdict.code) == ("STOP", "makers-label-here")
    assert "station's own label" in outcome.verdict.todo
    assert [fact.body.NAME for fact in outcome.facts] == ["scan-refused"]


def test_what_is_open_and_what_is_not_known_is_named() -> None:
    """BR-73."""
    label = replace(
        LABEL, lot="", questions=(Question("lot", "Which?", ("A", "B")),), unknown=("38X7",), items=(("gtin", "1"),)
    )
    verdict = Bench().answer(MakersLabelScan(label), "FRIDGE")
    assert "To be asked: lot." in verdict.note
    assert "38X7" in verdict.note
    assert "choose the paste yourself" in verdict.note


def test_what_it_says_besides_is_kept_with_the_receipt_in_the_words_that_were_shown() -> None:
    """BR-73."""
    label = replace(LABEL, extras=(Extra("422", "country of origin", "276"),), unknown=("38X7",))
    assert label.besides == ("country of origin 276", "38X7")
    bench = Bench()
    bench.receive(maker_said=label.besides)
    (received,) = kept(bench, f.Received)
    assert received.maker_said == ("country of origin 276", "38X7")


def test_a_label_with_nothing_certain_says_so() -> None:
    assert said_by(MakersLabel(Carrier.PLAIN, "?")) == "It says nothing that is certain."


def test_a_serial_number_received_before_is_said() -> None:
    bench = Bench()
    container = bench.container(bench.receive(maker_serial="S9"))
    floor = bench.station.floor()
    verdict = bench.answer(MakersLabelScan(replace(LABEL, lot="", serial="S9")), "FRIDGE")
    assert f"received before, as {container.spoken}" in verdict.note
    assert received_before(floor, replace(LABEL, lot="another", serial="S9")) == ""
    assert received_before(floor, LABEL) == ""


def test_the_numbers_of_a_label_name_paste_and_kind() -> None:
    plant = Bench().station.site.plant
    name, paste = next(iter(plant.pastes.items()))
    known = replace(plant, pastes={**plant.pastes, name: replace(paste, maker_codes=(MakerCode("M-1", "jar500"),))})
    label = replace(LABEL, items=(("gtin", "09501101530003"), ("maker's part", "M-1"), ("customer's part", "M-1")))
    assert named_by(known, label) == ((name, "jar500"),)
    assert named_by(plant, LABEL) == ()
