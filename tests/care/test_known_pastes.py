"""What a paste is: its number, metal and storage, as engineers and the settings of every station say it."""

from dataclasses import replace
from typing import Any

from station.care import facts as f
from station.care.spec_drafts import DraftTold
from station.care.words import Alloy, Card, Ending, HoldReason, Word
from station.services import specifications as acts
from station.services.memory import MemoryJournal
from station.services.site import Site
from tests.care.bench import Bench, site_t, with_rules
from tests.care.engineering import content, new_paste
from tests.care.fleet import Fleet
from tests.care.leading import ENGINEER_PROOF
from tests.care.test_paste_lists import restarted


def with_paste(site: Site, name: str = "SN-4", **changed: Any) -> Site:
    """The site whose file says something else of a paste; a new one has the figures of SN-4."""
    known = site.plant.pastes.get(name, new_paste(name=name))
    plant = replace(site.plant, pastes={**site.plant.pastes, name: replace(known, **changed)})
    if name in site.plant.pastes:
        return replace(site, plant=plant)
    limits = replace(site.specifications[0], paste=name)
    return replace(site, plant=plant, specifications=(*site.specifications, limits))


def test_a_leaded_paste_of_one_station_s_file_does_not_become_lead_free_by_another_station_s_desk() -> None:
    fleet = Fleet()
    a, b = fleet["A"], fleet["B"]
    restarted(b, with_paste(b.site, "SN-9", alloy=Alloy.SN_PB, number=50))
    jar = b.ready("SN-9")
    a.at("2026-11-08T15:11")
    acts.write_drafts(a.station, [DraftTold(content(a, paste="SN-9"), new_paste())], ENGINEER_PROOF)
    acts.approve_draft(a.station, a.station.ledger.rulebook.drafts[-1].key, ENGINEER_PROOF)
    for seed in range(2):
        fleet.later(1).meet("A", "B", seed)
        for bench in (a, b):
            assert bench.limits("SN-9").approved_by is None
            verdict = bench.scan(jar, "LINE1")
            assert (verdict.word, verdict.code) == (Word.STOP, "draft")
            assert "SN-9 was told as two different pastes, and nothing of it is used" in restarted(bench, bench.site)


def test_a_file_that_says_another_metal_than_the_desk_is_told_and_nothing_of_it_is_used_until_it_is_mended() -> None:
    bench = Bench()
    acts.write_drafts(bench.station, [DraftTold(content(bench, paste="SN-9"), new_paste())], ENGINEER_PROOF)
    acts.approve_draft(bench.station, bench.station.ledger.rulebook.drafts[-1].key, ENGINEER_PROOF)
    jar = bench.ready("SN-9")
    said = restarted(bench, with_paste(site_t(), "SN-9", alloy=Alloy.SN_PB))
    assert "number 77, Sn-Ag-Cu, cold by P30 at station 7; number 77, Sn-Pb, cold by the settings of station 7" in said
    assert bench.scan(jar, "LINE1").code == "draft"
    assert "two different pastes" not in restarted(bench, with_paste(site_t(), "SN-9"))
    assert bench.later(1).scan(jar, "LINE1").code != "draft"


def test_a_file_that_changes_the_metal_of_a_paste_in_stock_is_a_fault_until_it_is_mended() -> None:
    bench = Bench()
    jar = bench.ready()
    for _ in range(2):
        assert "SN-4 was told as two different pastes" in restarted(bench, with_paste(site_t(), alloy=Alloy.SN_PB))
        assert bench.scan(jar, "LINE1").code == "draft"
    assert restarted(bench, site_t()) == ""
    assert bench.limits().approved_by == site_t().specifications[0].approved_by
    assert bench.later(1).scan(jar, "LINE1").code == "opening-check"


def test_paste_taken_in_while_the_file_was_wrong_keeps_the_doubt_when_it_is_mended() -> None:
    bench = Bench()
    bench.cold()
    restarted(bench, with_paste(site_t(), alloy=Alloy.SN_PB))
    bench.tell(f.Held(bench.cold(), HoldReason.PERSON, "of the wrong metal"))
    assert "SN-4 was told as two different pastes" in restarted(bench, site_t())


def test_a_bead_that_lies_keeps_the_doubt_when_its_jar_is_gone() -> None:
    bench = Bench()
    bench.tell(f.Ended(bench.on_line(), Ending.USED_UP, "empty", "LINE1", None))
    assert "SN-4 was told as two different pastes" in restarted(bench, with_paste(site_t(), alloy=Alloy.SN_PB))


def test_a_file_may_change_a_paste_of_which_nothing_is_left() -> None:
    bench = Bench()
    assert restarted(bench, with_paste(site_t(), alloy=Alloy.SN_BI)) == ""
    assert bench.limits().approved_by is not None
    assert bench.floor.plant.pastes["SN-4"].alloy is Alloy.SN_BI


def as_it_was_written(fact: f.Fact) -> f.Fact:
    """A fact of the settings as it was before they said what a paste is."""
    if not isinstance(fact.body, f.SpecificationSet):
        return fact
    return replace(fact, body=replace(fact.body, paste=None, replaces=None))


def test_stock_from_before_the_settings_were_on_record_is_what_they_said_first() -> None:
    bench = Bench()
    jar = bench.ready()
    facts = list(bench.journal.facts())
    bench.journal = MemoryJournal(1)
    bench.journal.take([as_it_was_written(fact) for fact in facts])
    assert restarted(bench, site_t()) == ""
    assert bench.later(1).scan(jar, "LINE1").code == "opening-check"
    assert "SN-4 was told as two different pastes" in restarted(bench, with_paste(site_t(), alloy=Alloy.SN_PB))


def test_a_demo_uses_nothing_of_a_paste_whose_metal_is_in_dispute() -> None:
    bench = Bench(with_rules(site_t(), demo=True))
    jar = bench.ready()
    restarted(bench, with_paste(bench.site, alloy=Alloy.SN_PB))
    assert bench.scan(jar, "LINE1").code == "draft"


def test_a_bead_whose_metal_is_in_dispute_does_not_go_on() -> None:
    bench = Bench()
    bench.on_line()
    bench.tag_card("1", Card.PAUSE, "LINE1")
    restarted(bench, with_paste(site_t(), alloy=Alloy.SN_PB))
    verdict = bench.later(1).tag_card("1", Card.RESUME, "LINE1")
    assert (verdict.word, verdict.code, verdict.headline) == (Word.STOP, "draft", "METAL NOT CERTAIN")
    restarted(bench, site_t())
    assert bench.later(1).tag_card("1", Card.RESUME, "LINE1").word is not Word.STOP
