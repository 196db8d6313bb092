"""Tags of bins and stores: after a container at its door one corrects its bin, at the desk it shows what lies there."""

from dataclasses import replace

import pytest

from station.care import facts as f
from station.care.scans import BinScan, StoreScan
from station.care.specification import Bin
from station.care.verdict import Verdict
from station.care.words import Card
from station.services.site import Site
from tests.care.bench import Bench
from tests.care.test_stores import two_stores
from tests.care.told import kept


def site() -> Site:
    """Two refrigerators; the first has a second lead-free bin for one container."""
    made = two_stores()
    fridge = made.plant.stores["FRIDGE"]
    wider = replace(fridge, bins=(*fridge.bins, Bin("A2", 1, leaded=False, hold=False)))
    return replace(made, plant=replace(made.plant, stores={**made.plant.stores, "FRIDGE": wider}))


def tag(bench: Bench, name: str, place: str = "FRIDGE") -> Verdict:
    return bench.answer(BinScan(name), place)


def test_after_a_put_away_the_tag_says_which_bin_it_really_went_into() -> None:
    bench = Bench(site())
    jar = bench.cold()
    before = bench.container(jar)
    said = tag(bench, "A2")
    assert (said.word, said.code, said.headline) == ("DONE", "bin-changed", "BIN A2")
    after = bench.container(jar)
    assert (after.bin, after.store) == ("A2", "FRIDGE")
    assert replace(after, bin=before.bin, last_seen_at=before.last_seen_at) == before
    assert kept(bench, f.BinChanged) == [f.BinChanged(jar, "FRIDGE", "A2", "A1")]
    assert tag(bench, "A2").code == "bin-same"
    assert len(kept(bench, f.BinChanged)) == 1


def test_the_put_away_may_still_be_taken_back_after_its_bin_was_corrected() -> None:
    bench = Bench(site())
    jar = bench.cold()
    tag(bench, "A2")
    assert bench.card(Card.UNDO, "FRIDGE").code == "undone"
    assert (bench.container(jar).store, bench.container(jar).bin) == (None, None)


def test_after_moved_here_the_tag_corrects_the_bin_too() -> None:
    bench = Bench(site())
    bench.scan(bench.receive(), "SECOND")
    jar = bench.receive()
    bench.scan(jar, "SECOND")
    bench.later(60).scan(jar, "FRIDGE")
    bench.card(Card.MOVED_HERE, "FRIDGE")
    assert tag(bench, "A2").code == "bin-changed"


@pytest.mark.parametrize(
    ("told", "bin_", "why"),
    [
        ({}, "B1", "is for leaded (Pb) paste, and K7 001 is SN-4"),
        ({"paste": "PB-1"}, "A1", "is for lead-free paste, and K7 001 is PB-1"),
        ({}, "H1", "is for what is on hold"),
        ({"leaking": True}, "A1", "is no hold bin"),
        ({}, "C1", "belongs to Second refrigerator"),
    ],
)
def test_a_bin_it_must_not_lie_in_is_refused_with_the_reason(told: dict[str, object], bin_: str, why: str) -> None:
    bench = Bench(site())
    jar = bench.cold(**told)  # type: ignore[arg-type]
    before = bench.container(jar).bin
    said = tag(bench, bin_)
    assert (said.word, said.code) == ("STOP", "bin-refused")
    assert why in said.why
    assert f"bin {before}" in said.todo
    assert bench.container(jar).bin == before


def test_a_full_bin_is_refused() -> None:
    bench = Bench(site())
    bench.cold()
    tag(bench, "A2")
    bench.cold()
    assert tag(bench, "A2").why == "Bin A2 is full: it takes 1."


@pytest.mark.parametrize("place", ["FRIDGE", "LINE1", "SECOND"])
def test_alone_or_too_late_or_elsewhere_a_tag_only_explains_itself(place: str) -> None:
    bench = Bench(site())
    jar = bench.cold()
    bench.later(1)
    said = tag(bench, "A2", place)
    assert (said.word, said.code) == ("WAIT", "tag-alone")
    assert bench.answer(StoreScan("FRIDGE"), place).code == "tag-alone"
    assert bench.container(jar).bin == "A1"


def test_a_tag_after_a_container_that_lies_in_no_store_explains_itself() -> None:
    bench = Bench(site())
    bench.scan(bench.receive(), "DESK")
    assert tag(bench, "A2").code == "tag-alone"


def test_at_the_desk_tags_show_what_lies_there() -> None:
    bench = Bench(site())
    for _ in range(9):
        bench.cold()
    bench.cold("PB-1")
    lies = tag(bench, "A1", "DESK")
    assert (lies.code, lies.headline) == ("contents", "9 IN BIN A1")
    assert lies.why.endswith("K7 008 and 1 more.")
    assert bench.answer(StoreScan("FRIDGE"), "DESK").headline == "10 IN REFRIGERATOR"
    assert bench.answer(StoreScan("SECOND"), "DESK").why == "Nothing is recorded in Second refrigerator."


def test_tags_of_no_store_here_are_said_to_be_unknown() -> None:
    bench = Bench(site())
    assert tag(bench, "X9").code == "tag-unknown"
    assert bench.answer(StoreScan("X"), "FRIDGE").code == "tag-unknown"


def test_a_correction_of_another_store_than_it_lies_in_changes_nothing() -> None:
    """Two stations told of it in another order than it happened."""
    bench = Bench(site())
    jar = bench.cold()
    bench.tell(f.BinChanged(jar, "SECOND", "C1", "C2"))
    assert bench.container(jar).bin == "A1"
