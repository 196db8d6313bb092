"""Versions approved at the desk against files, restarts, other stations and the order in which facts are heard."""

from dataclasses import replace
from datetime import timedelta
from itertools import permutations

from station.care import facts as f
from station.care.ledger import Ledger
from station.care.reasons import against
from station.care.spec_drafts import DraftTold
from station.care.specification import Near
from station.care.specification_change import same_figures
from station.care.words import Alloy, Word
from station.services import specifications as acts
from station.services.site import Site
from tests.care.bench import Bench, berlin, site_t, with_limits, with_rules
from tests.care.engineering import approved, content, drafted, new_paste
from tests.care.fleet import Fleet
from tests.care.leading import ENGINEER, ENGINEER_PROOF, newer
from tests.care.test_folds import picture, replayed
from tests.care.test_paste_lists import restarted
from tests.care.test_versions import chosen

HOUR, DAY = timedelta(hours=1), timedelta(days=1)


def shipped(bench: Bench) -> Site:
    """The site whose file says what is in force, as an export gives it."""
    limits = tuple(bench.limits(entry.paste) for entry in bench.site.specifications)
    return replace(bench.site, specifications=limits)


# ---------------------------------------------------------------------- files against the desk


def test_a_version_of_the_desk_stands_at_every_start_and_nothing_is_said() -> None:
    bench = Bench()
    approved(bench, open_life=20 * HOUR)
    facts = len(list(bench.journal.facts()))
    assert restarted(bench, bench.site) == ""
    assert restarted(bench, bench.site) == ""
    assert (bench.limits().version, bench.limits().open_life) == (2, 20 * HOUR)
    assert {fact.body.NAME for fact in list(bench.journal.facts())[facts:]} == {"station-started"}


def test_an_older_version_that_nobody_knows_is_told_and_not_taken_over() -> None:
    bench = Bench()
    approved(bench, open_life=20 * HOUR)
    said = restarted(bench, with_limits(site_t(), "SN-4", open_life=48 * HOUR))
    assert "SN-4 version 1 (in force is version 2)" in said
    assert bench.limits().open_life == 20 * HOUR


def test_a_version_of_the_same_number_with_other_figures_is_told_and_not_taken_over() -> None:
    bench = Bench()
    approved(bench, open_life=20 * HOUR)
    for site in (site_t(), with_limits(site_t(), "SN-4", version=2, open_life=48 * HOUR)):
        said = restarted(bench, site)
        assert bench.limits().open_life == 20 * HOUR
    assert "pastes.toml has other figures for SN-4 version 2 than the record" in said
    assert "Raise the version in the file, or write a draft at the desk." in said


def test_a_newer_version_of_the_file_that_loosens_nothing_takes_its_place_and_is_approved_by_the_file() -> None:
    bench = Bench()
    approved(bench, open_life=20 * HOUR)
    assert restarted(bench, with_limits(site_t(), "SN-4", version=3, open_life=19 * HOUR)) == ""
    assert (bench.limits().version, bench.limits().open_life) == (3, 19 * HOUR)
    approval = bench.station.ledger.rulebook.approval("SN-4")
    assert approval is not None
    assert (approval.version, approval.by, approval.explanation) == (3, None, "")


def test_a_looser_file_does_not_loosen_what_the_desk_approved_until_it_is_approved_there() -> None:
    bench = Bench()
    jar = bench.on_line()
    approved(bench, open_life=20 * HOUR)
    site = with_limits(site_t(), "SN-4", version=3, open_life=40 * HOUR, stencil_life=6 * HOUR)
    for _ in range(2):
        said = restarted(bench, site)
        assert said == (
            "SN-4 version 3 does not take the place of version 2: the stricter of each figure holds. "
            "The process engineer approves a version 4."
        )
        assert (bench.limits().version, bench.limits().open_life, bench.limits().stencil_life) == (
            3,
            20 * HOUR,
            6 * HOUR,
        )
        assert bench.container(jar).open_end == berlin("2026-11-09T11:11")
    approved(bench, open_life=40 * HOUR)
    assert (bench.limits().version, bench.limits().open_life) == (4, 40 * HOUR)
    assert not bench.station.ledger.rulebook.disputed("SN-4")


def test_a_looser_file_takes_the_place_of_an_older_file() -> None:
    bench = Bench()
    assert restarted(bench, with_limits(site_t(), "SN-4", version=2, open_life=40 * HOUR)) == ""
    assert (bench.limits().version, bench.limits().open_life) == (2, 40 * HOUR)


def test_other_prompts_do_not_settle_what_stands_apart() -> None:
    bench = Bench()
    approved(bench, open_life=20 * HOUR)
    site = with_limits(site_t(), "SN-4", version=3)
    restarted(bench, site)
    near = tuple((limit, Near(0.5, timedelta(minutes=1), DAY)) for limit, _ in bench.limits().near)
    said = restarted(bench, with_limits(site, "SN-4", near=near, page="9"))
    assert "does not take the place of version 2" in said
    assert bench.limits().open_life == 20 * HOUR


def test_where_two_people_approve_a_file_alone_changes_nothing_that_was_approved() -> None:
    bench = Bench(with_rules(site_t(), two_person=True))
    said = restarted(bench, with_limits(bench.site, "SN-4", version=2, open_life=48 * HOUR))
    assert (bench.limits().version, bench.limits().open_life) == (1, 24 * HOUR)
    assert "SN-4 version 2 of pastes.toml is not in force: here a second engineer approves a new version." in said


def test_where_two_people_approve_a_file_alone_approves_nothing_that_was_a_draft() -> None:
    bench = Bench(with_limits(with_rules(site_t(), two_person=True), "SN-4", approved_by=None))
    for version in (1, 2):
        said = restarted(bench, with_limits(bench.site, "SN-4", version=version, approved_by=ENGINEER))
        assert f"SN-4 version {version} of pastes.toml is not in force: here a second engineer approves" in said
        assert (bench.limits().version, bench.limits().approved_by) == (1, None)


def test_what_was_exported_and_is_read_again_is_no_change() -> None:
    bench = Bench()
    approved(bench, open_life=20 * HOUR)
    facts = len(list(bench.journal.facts()))
    assert restarted(bench, shipped(bench)) == ""
    assert {fact.body.NAME for fact in list(bench.journal.facts())[facts:]} == {"station-started"}


def test_the_file_may_say_where_its_own_figures_stand_but_not_those_of_the_desk() -> None:
    bench = Bench()
    assert restarted(bench, with_limits(site_t(), "SN-4", page="6")) == ""
    assert bench.limits().page == "6"
    approved(bench, open_life=20 * HOUR)
    other = replace(shipped(bench).specifications[0], page="99", approved_by="P20")
    restarted(bench, replace(bench.site, specifications=(other, *bench.site.specifications[1:])))
    assert (bench.limits().page, bench.limits().approved_by) == ("5", ENGINEER)


def test_a_draft_of_the_file_does_not_take_an_approval_away() -> None:
    bench = Bench()
    restarted(bench, with_limits(site_t(), "SN-4", approved_by=None, page=""))
    assert bench.limits().approved_by == site_t().specifications[0].approved_by


def test_other_prompts_of_the_site_reach_versions_and_pastes_of_the_desk() -> None:
    bench = Bench()
    approved(bench, open_life=20 * HOUR)
    draft = DraftTold(content(bench, paste="SN-9"), new_paste())
    acts.write_drafts(bench.station, [draft], ENGINEER_PROOF)
    acts.approve_draft(bench.station, bench.station.ledger.rulebook.drafts[-1].key, ENGINEER_PROOF)
    near = tuple((limit, Near(0.5, timedelta(minutes=1), DAY)) for limit, _ in bench.limits().near)
    limits = tuple(replace(entry, near=near) for entry in site_t().specifications)
    assert restarted(bench, replace(site_t(), specifications=limits)) == ""
    assert (bench.limits().near, bench.limits("SN-9").near) == (near, near)
    assert (bench.limits().version, bench.limits().approved_by) == (2, ENGINEER)
    approval = bench.station.ledger.rulebook.approval("SN-4")
    assert approval is not None
    assert approval.by == ENGINEER


def test_a_lead_s_word_for_one_jar_outlasts_new_prompts() -> None:
    bench = Bench()
    jar = bench.ready()
    approved(bench, room_life=5 * DAY)
    chosen(bench, jar, 1)
    near = tuple((limit, Near(0.5, timedelta(minutes=1), DAY)) for limit, _ in bench.limits().near)
    limits = tuple(replace(entry, near=near) for entry in site_t().specifications)
    restarted(bench, replace(site_t(), specifications=limits))
    assert bench.container(jar).room_end == berlin("2026-11-15T12:11")


def test_two_pastes_of_one_number_are_told_and_a_label_names_neither() -> None:
    bench = Bench()
    acts.write_drafts(bench.station, [DraftTold(content(bench, paste="SN-9"), new_paste(77))], ENGINEER_PROOF)
    acts.approve_draft(bench.station, bench.station.ledger.rulebook.drafts[-1].key, ENGINEER_PROOF)
    site = site_t()
    pastes = {**site.plant.pastes, "SN-4": replace(site.plant.pastes["SN-4"], number=77)}
    said = restarted(bench, replace(site, plant=replace(site.plant, pastes=pastes)))
    assert "SN-4 and SN-9 have the number 77. Use neither by its label." in said
    assert bench.floor.plant.paste_numbered(77) is None


def test_the_file_may_say_the_price_of_a_paste_of_the_desk_but_not_its_metal() -> None:
    bench = Bench()
    acts.write_drafts(bench.station, [DraftTold(content(bench, paste="SN-9"), new_paste())], ENGINEER_PROOF)
    acts.approve_draft(bench.station, bench.station.ledger.rulebook.drafts[-1].key, ENGINEER_PROOF)
    listed = replace(new_paste(), alloy=Alloy.SN_PB, price_per_kg=80)
    site = shipped(bench)
    plant = replace(site.plant, pastes={**site.plant.pastes, "SN-9": listed})
    restarted(bench, replace(site, plant=plant, specifications=(*site.specifications, bench.limits("SN-9"))))
    assert bench.floor.plant.pastes["SN-9"] == replace(new_paste(), price_per_kg=80)
    assert bench.limits("SN-9").approved_by is None


# ---------------------------------------------------------------------- stations


def test_a_version_approved_at_one_station_tightens_at_the_other_when_they_meet() -> None:
    fleet = Fleet()
    a, b = fleet["A"], fleet["B"]
    jar = b.ready()
    fleet["A"].at("2026-11-08T15:11")
    approved(a, room_life=5 * DAY)
    for seed in range(3):
        fleet.later(1).meet("A", "B", seed)
        assert b.container(jar).room_end == a.container(jar).room_end == berlin("2026-11-13T12:11")
    b.restart()
    assert (b.limits().version, b.container(jar).room_end) == (2, berlin("2026-11-13T12:11"))


def test_one_version_approved_apart_with_two_contents_is_the_stricter_of_both() -> None:
    fleet = Fleet()
    a, b = fleet["A"], fleet["B"]
    jar = b.ready()
    a.at("2026-11-08T15:11")
    approved(a, room_life=5 * DAY, open_life=48 * HOUR)
    fleet.later(1)
    approved(b, room_life=6 * DAY, open_life=20 * HOUR)
    for seed in range(3):
        fleet.later(1).meet("A", "B", seed)
        for bench in (a, b):
            assert (bench.limits().room_life, bench.limits().open_life) == (5 * DAY, 20 * HOUR)
            assert bench.station.ledger.rulebook.disputed("SN-4")
            assert bench.container(jar).room_end == berlin("2026-11-13T12:11")
    assert a.limits() == b.limits()
    said = restarted(a, a.site)
    assert "SN-4 version 2 was approved at two stations with different figures, " in said
    assert "approves a version 3." in said
    approved(a, room_life=7 * DAY)
    assert restarted(a, a.site) == ""
    assert (a.limits().version, a.station.ledger.rulebook.disputed("SN-4")) == (3, False)


def test_a_lead_s_word_holds_under_a_version_in_dispute() -> None:
    fleet = Fleet()
    a, b = fleet["A"], fleet["B"]
    jar = a.ready()
    b.at("2026-11-08T15:11")
    approved(a, room_life=5 * DAY)
    approved(b, room_life=6 * DAY)
    fleet.later(1).meet("A", "B")
    chosen(a, jar, 1)
    assert a.restart().container(jar).room_end == berlin("2026-11-15T12:11")


def test_a_paste_brought_in_twice_as_something_else_is_stopped_until_it_is_mended() -> None:
    fleet = Fleet()
    for name, alloy in (("A", Alloy.SN_AG_CU), ("B", Alloy.SN_PB)):
        bench = fleet[name]
        draft = DraftTold(content(bench, paste="SN-9"), new_paste(alloy=alloy))
        acts.write_drafts(bench.station, [draft], ENGINEER_PROOF)
        acts.approve_draft(bench.station, bench.station.ledger.rulebook.drafts[-1].key, ENGINEER_PROOF)
    jar = fleet["A"].ready(paste="SN-9")
    fleet["B"].at("2026-11-08T15:11")
    assert against(fleet["A"].floor, fleet["A"].container(jar), None) == ()
    fleet.later(1).meet("A", "B")
    for bench in fleet.stations.values():
        verdict = bench.scan(jar, "LINE1")
        assert (verdict.word, verdict.code) == (Word.STOP, "draft")
        assert "SN-9 was told twice, with another number, metal or way of storage each." in verdict.why


def test_a_paste_brought_in_at_one_station_is_used_at_another_and_after_its_restart() -> None:
    fleet = Fleet()
    a, b = fleet["A"], fleet["B"]
    acts.write_drafts(a.station, [DraftTold(content(a, paste="SN-9"), new_paste())], ENGINEER_PROOF)
    acts.approve_draft(a.station, a.station.ledger.rulebook.drafts[-1].key, ENGINEER_PROOF)
    jar = a.ready(paste="SN-9")
    b.at("2026-11-08T15:11")
    for seed in range(3):
        fleet.later(1).meet("A", "B", seed)
        b.restart()
        assert b.floor.paste(b.container(jar)) == new_paste()
    assert b.scan(jar, "LINE1").code == "opening-check"


def test_a_withdrawal_heard_after_the_approval_takes_nothing_back() -> None:
    fleet = Fleet()
    a, b = fleet["A"], fleet["B"]
    draft = drafted(a, open_life=20 * HOUR)
    fleet.meet("A", "B")
    acts.withdraw_draft(b.station, draft.key, "not needed", ENGINEER_PROOF)
    acts.approve_draft(a.station, draft.key, ENGINEER_PROOF)
    fleet.later(1).meet("A", "B")
    for bench in (a, b):
        assert (bench.limits().version, bench.station.ledger.rulebook.drafts) == (2, ())


# ---------------------------------------------------------------------- any order, and copies


def rules_of(ledger: Ledger) -> tuple[object, ...]:
    book = ledger.rulebook
    tables = (dict(book.specifications), dict(book.versions), dict(book.lists))
    return (*tables, book.drafts, book.approval("SN-4"), book.disputed("SN-4"))


def test_the_same_facts_give_the_same_rules_in_any_order() -> None:
    bench = Bench()
    first = drafted(bench, open_life=20 * HOUR)
    acts.approve_draft(bench.station, first.key, ENGINEER_PROOF)
    acts.withdraw_draft(bench.station, drafted(bench, open_life=21 * HOUR).key, "no", ENGINEER_PROOF)
    second = drafted(bench, open_life=22 * HOUR)
    newest = replace(DraftTold(content(bench, open_life=23 * HOUR)), replaces=second.key)
    acts.write_drafts(bench.station, [newest], ENGINEER_PROOF)
    facts = list(bench.journal.facts())
    told = [fact for fact in facts if "specification" in fact.body.NAME or "draft" in fact.body.NAME]
    rest = [fact for fact in facts if fact not in told]
    right = rules_of(replayed(facts))
    assert len(told) == 8
    for order in list(permutations(told[2:]))[::29]:
        assert rules_of(replayed([*rest, *order, *told[:2]])) == right
    assert picture(replayed([*rest, *reversed(told)])) == picture(replayed(facts))


def test_a_copy_of_the_ledger_hears_nothing_of_later_rules() -> None:
    bench = Bench()
    approved(bench, open_life=20 * HOUR)
    before = rules_of(bench.station.ledger)
    twin = bench.station.ledger.copied()
    assert rules_of(twin) == before
    drafted(bench, open_life=10 * HOUR)
    approved(bench, open_life=11 * HOUR)
    assert rules_of(twin) == before
    assert rules_of(bench.station.ledger) != before


def test_approval_tells_the_explanation_of_its_draft() -> None:
    bench = Bench()
    draft = DraftTold(content(bench, open_life=20 * HOUR), explanation="letter of 3 November")
    acts.write_drafts(bench.station, [draft], ENGINEER_PROOF)
    acts.approve_draft(bench.station, bench.station.ledger.rulebook.drafts[0].key, ENGINEER_PROOF)
    approval = bench.station.ledger.rulebook.approval("SN-4")
    assert approval is not None
    assert (approval.version, approval.by, approval.explanation) == (2, ENGINEER, "letter of 3 November")
    assert bench.station.ledger.rulebook.approval("XX-1") is None


def test_what_is_not_in_force_came_into_force_nowhere() -> None:
    bench = Bench()
    ledger = bench.station.ledger
    assert ledger.in_force_since(bench.limits()) is not None
    assert ledger.in_force_since(replace(bench.limits(), open_life=HOUR)) is None
    assert ledger.in_force_since(replace(bench.limits(), paste="XX-1")) is None


def test_a_file_that_says_a_higher_version_again_is_in_force_from_the_first_time() -> None:
    bench = Bench()
    newer(bench, page="6")
    told = bench.limits()
    since = bench.station.ledger.in_force_since(told)
    bench.tell(f.SpecificationSet(told, "again"))
    assert bench.station.ledger.in_force_since(told) == since
    assert same_figures(told, replace(told, data_sheet="another", page="7"))
