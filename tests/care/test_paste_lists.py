"""The pastes of a product or of one order: who decides them, what stops at the line, and files against the desk."""

from dataclasses import replace

import pytest

from station.care import facts as f
from station.care.paste_lists import ListTold, list_faults, set_list
from station.care.scans import WorkOrderScan
from station.care.spec_drafts import SpecificationRefused
from station.care.specification import Product
from station.care.words import Card, Word
from station.services.memory import MemoryJournal
from station.services.outcome import Refusal
from station.services.site import Site
from station.services.specifications import set_paste_list
from tests.care.bench import LEAD, Bench, site_f, site_t, with_room_paste, with_rules
from tests.care.engineering import listed
from tests.care.fleet import Fleet
from tests.care.leading import ENGINEER_PROOF, PROOF


def with_list(site: Site, *pastes: str, product: str = "CTRL", title: str = "Controller board") -> Site:
    """The site with other pastes for a product in its file."""
    products = {**site.plant.products, product: Product(product, title, pastes)}
    return replace(site, plant=replace(site.plant, products=products))


def wide() -> Site:
    """Plant F, whose CTRL may be built with two lead-free pastes."""
    return with_list(site_f(), "SN-4", "SN-6")


def pastes(bench: Bench, product: str = "CTRL") -> tuple[str, ...]:
    found = bench.floor.plant.products.get(product)
    return found.pastes if found is not None else ()


def restarted(bench: Bench, site: Site) -> str:
    """The station starts with other settings; what it says of them."""
    bench.site = site
    bench.clock.restart()
    bench.station = bench._made()
    return bench.station.start("again").trouble


# ---------------------------------------------------------------------- at the line


def test_a_position_is_set_up_with_the_list_and_never_with_what_is_in_the_hand() -> None:
    bench = Bench(wide())
    listed(bench, "SN-6")
    assert "with SN-6." in bench.order("WO10000", "CTRL", "LINE1").why
    jar = bench.ready()
    assert bench.scan(jar, "LINE1").code == "wrong-paste"
    bench.restart()
    assert bench.scan(jar, "LINE1").code == "wrong-paste"


def test_a_paste_taken_off_the_list_is_stopped_where_a_position_was_set_up_with_it() -> None:
    bench = Bench(with_list(with_room_paste(site_t()), "SN-4", "BI-9"))
    bench.on_line("LINE2")
    bench.order("WO10000", "CTRL", "LINE1")
    jar = bench.on_line()
    outcome = listed(bench, "BI-9")
    assert outcome.verdict is not None
    assert outcome.verdict.todo.count("not approved any more") == 1
    assert "SN-4 bead is not approved any more" in outcome.verdict.todo
    verdict = bench.later(1).scan(jar, "LINE1")
    assert (verdict.word, verdict.code, verdict.headline) == (Word.STOP, "wrong-paste", "SN-4 IS OFF THE LIST")
    assert "not approved for WO10000 (CTRL) any more" in verdict.why
    carried = bench.tag_card("1", Card.CARRY_OVER, "LINE1")
    assert (carried.word, carried.headline) == (Word.STOP, "SN-4 IS OFF THE LIST")


def test_a_paste_put_on_the_list_waits_for_the_work_order_to_be_scanned_again() -> None:
    bench = Bench(with_list(site_f(), "SN-6"))
    bench.order("WO10000", "CTRL", "LINE1")
    jar = bench.ready()
    outcome = listed(bench, "SN-6", "SN-4")
    assert outcome.verdict is not None
    assert outcome.verdict.todo == "Scan work orders again where a paste was added."
    assert bench.scan(jar, "LINE1").code == "wrong-paste"
    bench.later(1).order("WO10000", "CTRL", "LINE1")
    assert bench.later(1).scan(jar, "LINE1").code == "opening-check"


def test_an_order_has_a_list_of_its_own_until_it_is_taken_back() -> None:
    bench = Bench(wide())
    outcome = listed(bench, "SN-6", order="WO10000")
    assert outcome.verdict is not None
    assert outcome.verdict.why == "Order WO10000 of CTRL is built with SN-6."
    assert "with SN-6." in bench.order("WO10000", "CTRL", "LINE1").why
    assert "with SN-4 or SN-6." in bench.order("WO10001", "CTRL", "LINE1").why
    back = listed(bench, order="WO10000")
    assert back.verdict is not None
    assert back.verdict.why == "Order WO10000 of CTRL has no list of its own any more."
    assert "with SN-4 or SN-6." in bench.order("WO10000", "CTRL", "LINE1").why


def test_an_order_listed_for_one_product_is_not_set_up_as_one_of_another() -> None:
    bench = Bench(with_list(wide(), "SN-4", product="SENS"))
    listed(bench, "SN-6", order="WO10000")
    verdict = bench.order("WO10000", "SENS", "LINE1")
    assert (verdict.word, verdict.headline) == (Word.STOP, "ORDER OF ANOTHER PRODUCT")
    assert "with SN-4." in bench.order("WO10001", "SENS", "LINE1").why


def test_a_product_without_a_paste_is_not_set_up_and_what_was_is_stopped() -> None:
    bench = Bench(wide())
    bench.order("WO10000", "CTRL", "LINE1")
    jar = bench.ready()
    listed(bench)
    assert bench.order("WO10001", "CTRL", "LINE1").headline == "PRODUCT NOT KNOWN"
    assert bench.scan(jar, "LINE1").headline == "SN-4 IS OFF THE LIST"
    listed(bench, "SN-4")
    assert bench.later(1).scan(jar, "LINE1").code == "opening-check"


def test_a_product_only_the_desk_knows_is_set_up_like_any_other() -> None:
    bench = Bench(wide())
    set_paste_list(bench.station, ListTold("NEW", ("SN-6",), "A new board"), ENGINEER_PROOF)
    assert "(A new board) with SN-6." in bench.order("WO10000", "NEW", "LINE1").why


@pytest.mark.parametrize("changed", [(), ("PB-1",)])
def test_the_list_of_an_order_does_not_outlive_the_list_of_its_product_or_its_metal(changed: tuple[str, ...]) -> None:
    bench = Bench(with_list(site_t(), "SN-4"))
    jar = bench.ready()
    listed(bench, "SN-4", order="WO10000")
    bench.order("WO10000", "CTRL", "LINE1")
    listed(bench, *changed)
    assert bench.later(1).scan(jar, "LINE1").headline == "SN-4 IS OFF THE LIST"
    assert bench.order("WO10000", "CTRL", "LINE1").headline == "PRODUCT NOT KNOWN"
    back = listed(bench, order="WO10000")
    assert back.verdict is not None
    assert back.verdict.why == "Order WO10000 of CTRL has no list of its own any more."


def test_a_metal_changed_apart_from_the_list_of_an_order_leaves_that_order_nothing() -> None:
    fleet = Fleet(site=with_list(site_t(), "SN-4"))
    listed(fleet["A"], "PB-1")
    listed(fleet["B"], "SN-4", order="WO10000")
    fleet.meet("A", "B")
    for bench in fleet.later(1).stations.values():
        assert bench.order("WO10000", "CTRL", "LINE1").headline == "PRODUCT NOT KNOWN"
        assert "with PB-1." in bench.order("WO10001", "CTRL", "LINE1").why


def test_an_order_of_a_product_this_station_does_not_know_is_not_set_up_by_the_list_of_another_station() -> None:
    fleet = Fleet(site=wide())
    bare = replace(site_f(), plant=replace(site_f().plant, products={}))
    fleet.stations["B"] = Bench(replace(bare, station=8), journal=MemoryJournal(2))
    listed(fleet["A"], "SN-6", order="WO10000")
    fleet["A"].order("WO10000", "CTRL", "LINE1")
    fleet.meet("A", "B")
    other = fleet.later(1)["B"]
    assert other.floor.job_pastes(other.position("1")) == ("SN-6",)
    assert other.order("WO10000", "CTRL", "LINE1").headline == "PRODUCT NOT KNOWN"


@pytest.mark.parametrize(
    ("told", "part", "such"),
    [
        (ListTold("CTRL", ("SN-6",), order="wo10000"), "wo10000 for the order", "WO3"),
        (ListTold("CTRL", ("SN-6",), order="WO 10000"), "WO 10000 for the order", "WO3"),
        (ListTold("CTRL", ("SN-6",), order="WO3-CTRL-WO3"), "WO3-CTRL-WO3 for the order", "WO3"),
        (ListTold("ctrl", ("SN-6",)), "ctrl for the product", "CTRL"),
    ],
)
def test_a_name_that_no_work_order_can_carry_is_refused(told: ListTold, part: str, such: str) -> None:
    (fault,) = list_faults(Bench(wide()).floor, told)
    assert fault == f"No work order reads {part}. Write it as it is scanned, such as {such}."


def test_a_letter_typed_as_two_characters_is_the_letter_that_is_scanned() -> None:
    """An umlaut may come as one character or as two (Unicode Standard Annex 15, forms NFC and NFD)."""
    pattern, example = "(?P<order>[A-Z\u00c4]+[0-9]+)-(?P<product>[A-Z]+)", "WO3-CTRL"
    site = replace(with_rules(wide(), order_pattern=pattern, order_example=example), work_order_pattern=pattern)
    bench = Bench(site)
    listed(bench, "SN-6", order=" A\u0308B1 ")
    for text in ("\u00c4B1-CTRL", "A\u0308B1-CTRL"):
        scan = bench.station.reader.read([text])
        assert isinstance(scan, WorkOrderScan)
        assert bench.floor.approved_pastes("CTRL", scan.order) == ("SN-6",)


def test_a_site_that_says_no_pattern_takes_any_name() -> None:
    bench = Bench(with_rules(wide(), order_pattern="", order_example=""))
    assert listed(bench, "SN-6", order="any order").verdict is not None


# ---------------------------------------------------------------------- who and what


def test_only_an_engineer_decides_a_list() -> None:
    bench = Bench(wide())
    with pytest.raises(Refusal):
        set_paste_list(bench.station, ListTold("CTRL", ("SN-6",)), PROOF)
    with pytest.raises(SpecificationRefused, match="process engineer"):
        set_list(bench.floor, ListTold("CTRL", ("SN-6",)), LEAD)
    assert pastes(bench) == ("SN-4", "SN-6")


FAULTS = (
    (ListTold("", ("SN-4",)), "The product is missing"),
    (ListTold("C" * 61, ("SN-4",)), "The product is longer than 60 characters"),
    (ListTold("CTRL", ("SN-4",), title="two\nlines"), "The title is longer than 40 characters or more than one line"),
    (ListTold("CTRL", ("SN-4",), note="n" * 301), "The note has over 300 characters"),
    (ListTold("CTRL", ("XX-1",)), "There is no paste XX-1 here. Choose among SN-4, PB-1"),
    (ListTold("CTRL", ("SN-4", "SN-4")), "The same paste stands in it twice"),
    (ListTold("CTRL", ("SN-4", "PB-1")), "It names leaded (Pb) and lead-free pastes"),
    (ListTold("NEW", ()), "Choose at least one paste"),
    (ListTold("CTRL", (), order="WO1"), "Choose at least one paste"),
    (ListTold("NEW", ("SN-4",), order="WO1"), "There is no product NEW. Give the product its pastes first"),
    (ListTold("CTRL", ("PB-1",), order="WO1"), "CTRL is built lead-free; an order of it can't be leaded (Pb)."),
    (ListTold("POWER", ("SN-4",), order="WO1"), "POWER is built leaded (Pb); an order of it can't be lead-free."),
)


@pytest.mark.parametrize(("told", "sentence"), FAULTS)
def test_a_list_that_does_not_fit_is_refused_with_what_to_mend(told: ListTold, sentence: str) -> None:
    bench = Bench()
    (fault,) = list_faults(bench.floor, told)
    assert sentence in fault
    with pytest.raises(SpecificationRefused):
        set_paste_list(bench.station, told, ENGINEER_PROOF)


# ---------------------------------------------------------------------- files against the desk


def test_what_an_engineer_decided_stands_at_every_start_until_the_file_says_something_else() -> None:
    bench = Bench(wide())
    listed(bench, "SN-6")
    assert restarted(bench, wide()) == ""
    assert pastes(bench) == ("SN-6",)
    assert "and that holds" in restarted(bench, with_list(wide(), "SN-4", "SN-6", title="Another title"))
    assert pastes(bench) == ("SN-6",)
    said = restarted(bench, with_list(wide(), "SN-4"))
    assert pastes(bench) == ("SN-4",)
    assert "now says SN-4 for CTRL, and that holds; Alex Linden (P30) had decided SN-6 at the desk" in said
    listed(bench, "SN-4", "SN-6")
    assert restarted(bench, with_list(wide(), "SN-4")) == ""
    assert pastes(bench) == ("SN-4", "SN-6")


def test_a_product_taken_out_of_the_file_is_not_set_up_any_more() -> None:
    bench = Bench(wide())
    site = site_f()
    assert restarted(bench, replace(site, plant=replace(site.plant, products={}))) == ""
    assert bench.order("WO10000", "CTRL", "LINE1").headline == "PRODUCT NOT KNOWN"
    assert restarted(bench, replace(site, plant=replace(site.plant, products={}))) == ""
    assert restarted(bench, wide()) == ""
    assert pastes(bench) == ("SN-4", "SN-6")


def test_an_unchanged_start_writes_no_list_again() -> None:
    bench = Bench(wide())
    before = len(list(bench.journal.facts()))
    bench.restart()
    added = [fact.body.NAME for fact in list(bench.journal.facts())[before:]]
    assert added == ["station-started"]


def test_every_station_goes_by_its_own_file_and_all_by_the_engineer() -> None:
    fleet = Fleet(site=wide())
    fleet["B"].site = with_list(site_f(), "SN-4")
    fleet["B"].restart()
    fleet.meet("A", "B")
    assert [pastes(bench) for bench in fleet.stations.values()] == [("SN-4", "SN-6"), ("SN-4",)]
    listed(fleet["A"], "SN-6")
    for seed in range(3):
        fleet.later(1).meet("A", "B", seed)
        assert [pastes(bench) for bench in fleet.stations.values()] == [("SN-6",), ("SN-6",)]
    fleet["B"].restart()
    assert pastes(fleet["B"]) == ("SN-6",)


def test_a_station_that_starts_for_the_first_time_does_not_undo_the_engineer() -> None:
    """A station is set up with an old file after the decision at another one."""
    fleet = Fleet(site=wide())
    listed(fleet["A"], "SN-6")
    late = Bench(replace(with_list(site_f(), "SN-4"), station=9))
    late.station.learn(late.journal.take(list(fleet["A"].journal.facts())))
    said = restarted(late, with_list(site_f(), "SN-4"))
    assert (pastes(late), said) == (("SN-6",), "")


def test_a_file_that_another_station_read_before_the_decision_undoes_nothing_when_it_is_read_late() -> None:
    fleet = Fleet(site=with_list(site_f(), "SN-6"))
    first, second = fleet["A"], fleet["B"]
    restarted(first, wide())
    listed(first, "SN-6")
    fleet.later(1).meet("A", "B")
    said = restarted(second, wide())
    assert pastes(second) == ("SN-6",)
    assert "products.toml says SN-4, SN-6 for CTRL; Alex Linden (P30) decided SN-6 at the desk, and that holds" in said
    fleet.later(1).meet("A", "B")
    first.restart()
    assert pastes(first) == ("SN-6",)


def test_a_file_that_takes_the_product_away_is_told_by_name() -> None:
    bench = Bench(wide())
    listed(bench, "SN-6")
    said = restarted(bench, replace(site_f(), plant=replace(site_f().plant, products={})))
    assert "products.toml now says no paste for CTRL" in said
    assert pastes(bench) == ()


def test_plant_t_says_its_lists_once() -> None:
    bench = Bench(site_t())
    told = [fact.body.product for fact in bench.journal.facts() if isinstance(fact.body, f.PasteListSet)]
    assert told == ["CTRL", "POWER"]


# ---------------------------------------------------------------------- decided apart


def both_say(fleet: Fleet, *expected: str, seeds: int = 3) -> None:
    """After every meeting both stations go by the same list."""
    for seed in range(seeds):
        fleet.later(1).meet("A", "B", seed)
        assert [pastes(bench) for bench in fleet.stations.values()] == [expected, expected]


def test_two_engineers_who_decided_apart_leave_what_both_allow_until_one_decides_again() -> None:
    fleet = Fleet(site=wide())
    listed(fleet["A"], "SN-6")
    listed(fleet["B"], "SN-4", "SN-6")
    both_say(fleet, "SN-6")
    assert fleet["A"].station.ledger.rulebook.lists["CTRL", ""].disputed
    said = restarted(fleet["A"], wide())
    assert said == (
        "The pastes of CTRL were decided twice, apart: SN-6 is what both allow. "
        "The process engineer decides them again (Paste lists)."
    )
    listed(fleet["B"], "SN-4", "SN-6")
    both_say(fleet, "SN-4", "SN-6")
    assert not fleet["A"].station.ledger.rulebook.lists["CTRL", ""].disputed
    assert restarted(fleet["A"], wide()) == ""


def test_two_lists_with_nothing_in_common_leave_nothing_to_build_with() -> None:
    fleet = Fleet(site=wide())
    listed(fleet["A"], "SN-6")
    listed(fleet["B"], "SN-4")
    both_say(fleet)
    assert fleet["A"].order("WO10000", "CTRL", "LINE1").headline == "PRODUCT NOT KNOWN"


def test_two_lists_of_an_order_with_nothing_in_common_do_not_fall_back_to_the_product_s() -> None:
    fleet = Fleet(site=wide())
    listed(fleet["A"], "SN-6", order="WO1")
    listed(fleet["B"], "SN-4", order="WO1")
    both_say(fleet, "SN-4", "SN-6")
    assert "The pastes of order WO1 of CTRL were decided twice, apart: nothing is" in restarted(fleet["A"], wide())
    assert fleet["B"].order("WO1", "CTRL", "LINE1").headline == "PRODUCT NOT KNOWN"


def test_taking_back_the_list_of_an_order_apart_from_another_decision_leaves_that_one() -> None:
    fleet = Fleet(site=wide())
    listed(fleet["A"], "SN-4", "SN-6", order="WO1")
    fleet.later(1).meet("A", "B")
    listed(fleet["A"], "SN-6", order="WO1")
    listed(fleet["B"], order="WO1")
    fleet.later(1).meet("A", "B")
    for bench in fleet.stations.values():
        assert bench.floor.approved_pastes("CTRL", "WO1") == ("SN-6",)
    listed(fleet["A"], order="WO1")
    fleet.later(1).meet("A", "B")
    for bench in fleet.stations.values():
        assert bench.floor.approved_pastes("CTRL", "WO1") == ("SN-4", "SN-6")


def test_a_file_changed_where_nobody_had_heard_of_the_decision_does_not_undo_it() -> None:
    fleet = Fleet(site=with_list(site_f(), "SN-6"))
    first, second = fleet["A"], fleet["B"]
    for _ in range(20):
        first.receive()
    listed(second, "SN-6")
    restarted(first, wide())
    assert pastes(first) == ("SN-4", "SN-6")
    both_say(fleet, "SN-6")


def test_a_file_that_took_the_place_of_a_decision_counts_at_its_own_station_until_the_next_decision() -> None:
    fleet = Fleet(site=wide())
    first, second = fleet["A"], fleet["B"]
    listed(first, "SN-6")
    fleet.later(1).meet("A", "B")
    restarted(second, with_list(wide(), "SN-4"))
    restarted(second, with_list(wide(), "SN-4", title="Another title"))
    fleet.later(1).meet("A", "B")
    assert [pastes(first), pastes(second)] == [("SN-6",), ("SN-4",)]
    restarted(second, wide())
    assert pastes(second) == ("SN-4", "SN-6")
    listed(second, "SN-4")
    both_say(fleet, "SN-4")


def test_a_change_of_a_file_beside_a_decision_told_apart_leaves_what_both_allow() -> None:
    fleet = Fleet(site=wide())
    first, second = fleet["A"], fleet["B"]
    listed(first, "SN-6")
    fleet.later(1).meet("A", "B")
    restarted(second, with_list(wide(), "SN-4"))
    listed(first, "SN-4", "SN-6")
    fleet.later(1).meet("A", "B")
    assert [pastes(first), pastes(second)] == [("SN-4", "SN-6"), ("SN-4",)]
    restarted(second, with_list(wide(), "SN-6"))
    assert pastes(second) == ("SN-6",)
