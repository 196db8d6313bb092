"""Decanting: a labelled container of its own, in which every clock and hold of its source goes on."""

from datetime import date, timedelta
from random import Random

import pytest

from station.care import facts as f
from station.care.alarms import open_alarms
from station.care.extension import Extending, ExtensionRefused
from station.care.fold_lot import lot_name
from station.care.reasons import against
from station.care.scans import CardScan
from station.care.words import Card, HoldReason, Limit, Stage
from station.labels.timecode import unpack
from station.services.label_job import label_job
from tests.care.bench import LEAD, LEAD_PIN, Bench, berlin, with_limits, with_room_paste
from tests.care.places import site_d
from tests.care.test_folds import picture, replayed
from tests.care.test_other_clocks import apart

HOUR = timedelta(hours=1)


def decant(bench: Bench, name: str, place: str = "BENCH") -> str:
    """Decant out of a container; the number of the new one."""
    bench.later(1).scan(name, place)
    verdict = bench.card(Card.DECANT, place)
    assert verdict.code == "decanted", verdict
    return verdict.container or ""


def refused(bench: Bench, name: str, place: str = "BENCH") -> tuple[str, str]:
    bench.later(1).scan(name, place)
    verdict = bench.card(Card.DECANT, place)
    return verdict.word, verdict.code


def limits(bench: Bench, name: str) -> dict[Limit, object]:
    return dict(bench.floor.standing(bench.container(name)).limits)


def test_a_new_container_with_a_number_and_a_label_of_its_own() -> None:
    bench = Bench(site_d())
    jar = bench.on_line()
    bench.later(60).scan(jar, "BENCH")
    outcome = bench.outcome(CardScan(Card.DECANT), "BENCH")
    assert outcome.verdict is not None
    assert (outcome.verdict.word, outcome.verdict.headline) == ("DONE", "K7 002")
    assert outcome.verdict.why == (
        "It is filled from K7 001, whose clocks go on in it. Discard it by Mon 9 Nov 00:11 (decanted life)."
    )
    assert [fact.body.NAME for fact in outcome.facts] == ["decanted", "label-asked", "label-sent"]
    found = bench.container("K7-002")
    assert (found.sources, found.lot, found.kind, found.print_sent) == ((jar,), "101", "JAR-500", 1)
    assert bench.floor.stage(found) is Stage.OPEN
    assert found.last_seen_where == "BENCH"


def test_the_next_number_is_never_given_twice() -> None:
    bench = Bench(site_d())
    jar = bench.on_line()
    assert decant(bench, jar) == "K7-002"
    assert bench.receive() == "K7-003"
    assert decant(bench, jar) == "K7-004"
    bench.restart()
    assert bench.receive() == "K7-005"


def test_what_another_station_filled_takes_none_of_our_numbers() -> None:
    bench = Bench(site_d())
    jar = bench.on_line()
    bench.tell(f.Decanted("K9-050", (jar,), "SN-4", "JAR-500", "101", bench.clock.wall + HOUR))
    assert decant(bench, jar) == "K7-002"


def test_a_closed_jar_that_is_ready_is_opened_by_it() -> None:
    bench = Bench(site_d())
    jar = bench.ready()
    bench.later(1).scan(jar, "BENCH")
    outcome = bench.outcome(CardScan(Card.DECANT), "BENCH")
    assert [fact.body.NAME for fact in outcome.facts][:2] == ["opened", "decanted"]
    assert outcome.verdict is not None
    assert "K7 001 counts as open from now." in outcome.verdict.why
    assert bench.container(jar).open_end == berlin("2026-11-09T15:12")


def test_it_gets_an_opening_check_of_its_own_and_then_is_used() -> None:
    bench = Bench(site_d())
    filled = decant(bench, bench.on_line("HEAD"))
    verdict = bench.later(1).scan(filled, "LINE1")
    assert (verdict.code, verdict.why) == ("opening-check", "K7 002 has been open since 15:12. Its clocks go on.")
    assert bench.card(Card.LOOKS_GOOD, "LINE1").headline == "BEAD ENDS 23:12"


def test_its_own_life_and_every_life_of_its_source_run_in_it() -> None:
    bench = Bench(site_d())
    jar = bench.on_line()
    filled = decant(bench, jar)
    source = limits(bench, jar)
    assert limits(bench, filled) == {**source, Limit.DECANTED: berlin("2026-11-08T23:12")}
    bench.later(8 * 60 + 1)
    assert bench.scan(filled, "DESK").headline == "DECANTED LIFE IS OVER"


def test_an_extension_at_the_source_reaches_it_and_its_end_may_pass_anew() -> None:
    bench = Bench(with_limits(site_d(), "SN-4", decanted_life=100 * HOUR))
    filled = decant(bench, bench.on_line())
    bench.later(24 * 60 + 1)
    first = {alarm.id for alarm, _ in open_alarms(bench.floor) if alarm.subject == filled}
    assert len(first) == 1
    with pytest.raises(ExtensionRefused, match="The clocks of K7 002 are those of K7 001"):
        bench.station.extend(Extending(filled, Limit.OPEN, 6 * HOUR, "C-1"), LEAD, LEAD_PIN)
    bench.station.extend(Extending("K7-001", Limit.OPEN, 6 * HOUR, "C-1"), LEAD, LEAD_PIN)
    assert limits(bench, filled)[Limit.OPEN] == berlin("2026-11-09T21:11")
    assert not against(bench.floor, bench.container(filled), None)
    bench.later(6 * 60 + 1)
    assert len({alarm.id for alarm, _ in open_alarms(bench.floor) if alarm.subject == filled} - first) == 1


def test_a_bead_of_it_may_end_anew_after_an_extension_at_the_source() -> None:
    bench = Bench(with_limits(site_d(), "SN-4", decanted_life=100 * HOUR, stencil_life=60 * HOUR, near=()))
    jar = bench.on_line("HEAD")
    filled = decant(bench, jar)
    bench.later(1).scan(filled, "LINE1")
    bench.card(Card.LOOKS_GOOD, "LINE1")
    bench.later(24 * 60)
    before = {alarm.id for alarm, _ in open_alarms(bench.floor) if alarm.subject == "1"}
    bench.station.extend(Extending(jar, Limit.OPEN, 6 * HOUR, "C-1"), LEAD, LEAD_PIN)
    bench.later(6 * 60 + 1)
    after = {alarm.id for alarm, _ in open_alarms(bench.floor) if alarm.subject == "1"}
    assert len(before) == 1
    assert len(after) == 2


def test_a_hold_of_its_source_or_lot_reaches_it_and_goes_with_its_release() -> None:
    bench = Bench(site_d())
    jar = bench.on_line()
    filled = decant(bench, jar)
    bench.tell(f.Held(jar, HoldReason.PERSON, ""))
    assert bench.later(1).scan(filled, "LINE1").code == "held"
    bench.release_all(jar)
    assert bench.later(1).scan(filled, "LINE1").code == "opening-check"
    bench.tell(f.LotHeld(lot_name("SN-4", "101"), "recall"))
    assert bench.later(1).scan(filled, "LINE1").code == "held"
    assert len(bench.container(filled).all_holds) == 1


def test_a_re_certified_lot_moves_its_shelf_life_too() -> None:
    bench = Bench(site_d())
    filled = decant(bench, bench.on_line(expires=date(2026, 11, 8)))
    assert limits(bench, filled)[Limit.SHELF] == berlin("2026-11-08T23:59")
    until = berlin("2026-12-31T23:59")
    bench.tell(f.LotRecertified(lot_name("SN-4", "101"), date(2026, 12, 31), until, "letter 7", "P30"))
    assert limits(bench, filled)[Limit.SHELF] == until
    assert bench.container(filled).moved_outside == ((Limit.SHELF, "K7-001=2026-12-31"),)


def test_a_source_that_was_not_ready_after_all_takes_it_out_of_use() -> None:
    bench = Bench(site_d())
    jar = bench.on_line()
    filled = decant(bench, jar)
    later = bench.clock.wall + HOUR
    told = bench.container(jar)
    assert told.out_from is not None
    assert told.room_end is not None
    bench.tell(
        f.TakenOut(jar, "FRIDGE", later, later, later + HOUR, told.room_end, HOUR, None, None, 23, 40, 5, "v", "UTC")
    )
    verdict = bench.later(1).scan(filled, "LINE1")
    assert (verdict.word, verdict.code) == ("WAIT", "conditioning")
    assert verdict.why.startswith("K7 001 is still warming.")


def test_where_its_source_is_not_on_record_nobody_may_use_it() -> None:
    bench = Bench(site_d())
    end = bench.clock.wall + HOUR
    bench.tell(f.Decanted("K9-002", ("K9-001",), "SN-4", "JAR-500", "7", end))
    verdict = bench.scan("K9-002", "LINE1")
    assert (verdict.word, verdict.code) == ("STOP", "source-unknown")
    assert "K9 001, which is not in the record" in verdict.why
    assert "K9-001" not in bench.station.ledger.containers


@pytest.mark.parametrize(
    ("paste", "made", "place", "code"),
    [
        ("SN-4", "cold", "BENCH", "not-taken-out"),
        ("SN-4", "ready", "DESK", "decant-elsewhere"),
        ("PB-1", "ready", "BENCH", "decant-not-allowed"),
    ],
)
def test_not_out_of_everything_and_not_everywhere(paste: str, made: str, place: str, code: str) -> None:
    bench = Bench(site_d())
    jar = bench.cold(paste) if made == "cold" else bench.ready(paste)
    assert refused(bench, jar, place) == ("STOP", code)
    assert list(bench.station.ledger.containers) == [jar]
    assert bench.container(jar).opened_at is None


def test_never_out_of_what_is_held_over_or_still_warming() -> None:
    bench = Bench(site_d())
    warming = bench.cold()
    bench.later(11).scan(warming, "FRIDGE")
    assert refused(bench, warming) == ("WAIT", "conditioning")
    bench.later(180)
    bench.tell(f.Held(warming, HoldReason.PERSON, ""))
    assert refused(bench, warming) == ("STOP", "held")
    over = bench.on_line()
    bench.later(24 * 60 + 1)
    assert refused(bench, over) == ("STOP", "open-life")


def test_paste_is_decanted_once_and_never_while_it_is_mounted() -> None:
    bench = Bench(site_d())
    filled = decant(bench, bench.on_line())
    assert refused(bench, filled) == ("STOP", "decant-twice")
    cartridge = bench.ready(kind="CART-600")
    bench.scan(cartridge, "DOTS")
    bench.card(Card.LOOKS_GOOD, "DOTS")
    assert refused(bench, cartridge) == ("STOP", "mounted-elsewhere")


def test_a_trigger_that_bounces_fills_one_container() -> None:
    bench = Bench(site_d())
    jar = bench.on_line()
    decant(bench, jar)
    assert bench.card(Card.DECANT, "BENCH").note == "Just scanned: nothing was recorded twice."
    assert list(bench.station.ledger.containers) == [jar, "K7-002"]


def test_the_door_of_the_cold_never_takes_it() -> None:
    bench = Bench(site_d())
    filled = decant(bench, bench.on_line())
    verdict = bench.later(1).scan(filled, "FRIDGE")
    assert (verdict.word, verdict.code) == ("STOP", "never-back")
    assert "since 15:12" in verdict.why
    bench.tell(f.PutAway(filled, "FRIDGE", "A1", returning=False))
    assert bench.container(filled).store is None


def test_a_clock_that_was_ahead_brings_its_end_forward() -> None:
    bench = Bench(site_d())
    filled = decant(bench, bench.on_line())
    end = limits(bench, filled)[Limit.DECANTED]
    bench.step(-60)
    bench.station.confirm_clock(LEAD, LEAD_PIN)
    assert limits(bench, filled)[Limit.DECANTED] == end - HOUR  # type: ignore[operator]


@pytest.mark.parametrize("paste", ["decanted", "used"])
def test_the_clock_of_the_station_that_took_its_source_out_matters_for_it_too(paste: str) -> None:
    fleet, a, b, jar = apart(0)
    fleet.later(200)
    if paste == "decanted":
        filled = decant(a, jar, "LINE1")
    else:
        a.scan(jar, "LINE1")
        a.card(Card.LOOKS_GOOD, "LINE1")
        a.tag_card("1", Card.REMOVE, "LINE1")
        filled = a.card(Card.KEEP_USED, "LINE1").container or ""
    assert a.later(1).scan(filled, "LINE1").code == "opening-check"
    a.tell_own(f.ClockCompared(f"{b.journal.number:016x}", timedelta(minutes=7)))
    assert a.later(1).scan(filled, "LINE1").code == "clocks-disagree"


# ---------------------------------------------------------------------- its label


def test_whoever_fills_it_is_told_to_put_the_makers_hazard_information_on_it() -> None:
    """A container filled at work says what is in it and its hazards: 29 CFR 1910.1200(f)(6)."""
    bench = Bench(with_limits(site_d(), "PB-1", decanted_life=4 * HOUR))
    told = []
    for paste in ("SN-4", "PB-1"):
        bench.scan(bench.ready(paste=paste), "BENCH")
        told.append(bench.card(Card.DECANT, "BENCH"))
    assert {verdict.todo for verdict in told} == {
        "Into a clean container, lid on. On its body: the new label, and beside it the maker's hazard information "
        "(product name, pictograms, warnings)."
    }
    assert [verdict.note for verdict in told] == ["", "LEADED (Pb): its own tools, wipes and waste."]


def test_its_label_carries_when_its_paste_thawed_and_what_it_was_filled_from() -> None:
    bench = Bench(site_d())
    jar = bench.on_line()
    filled = decant(bench, jar)
    job = label_job(bench.floor, bench.container(filled), bench.station.keys, "P12")
    label, source = unpack(job.content.code, bench.station.keys), bench.container(jar)
    assert (label.thaw_start, label.earliest_use) == (source.out_to, source.earliest_use)
    assert (label.discard_by, label.governing, label.leaded) == (berlin("2026-11-08T23:12"), Limit.DECANTED, False)
    said = job.content
    assert (said.kind, said.governing, said.open_life) == ("decanted from K7 001", "decanted", "IS OPEN")
    assert said.print_number == "2"
    assert (said.governing_full, said.part_number) == ("decanted life", bench.floor.plant.pastes["SN-4"].part_number)
    assert said.hazards == "HAZARDS: MAKER'S LABEL BESIDE THIS"
    assert label_job(bench.floor, source, bench.station.keys, "P12").content.hazards == ""
    bench.later(1).scan(filled, "DESK")
    assert bench.card(Card.REPRINT, "DESK").headline == "LABEL 2"


def test_the_label_of_leaded_paste_says_so() -> None:
    bench = Bench(with_limits(site_d(), "PB-1", decanted_life=4 * HOUR))
    filled = decant(bench, bench.on_line(paste="PB-1"))
    job = label_job(bench.floor, bench.container(filled), bench.station.keys, "P12")
    assert job.content.alloy_loud == "LEADED (Pb)"
    assert unpack(job.content.code, bench.station.keys).leaded


def test_paste_that_is_never_refrigerated_counts_from_its_filling() -> None:
    site = with_room_paste(site_d())
    bench = Bench(with_limits(site, "BI-9", decanted_life=4 * HOUR))
    name = bench.receive("BI-9", "CART-600")
    bench.scan(name, "SHELF")
    bench.later(11)
    filled = decant(bench, name)
    job = label_job(bench.floor, bench.container(filled), bench.station.keys, "P12")
    label = unpack(job.content.code, bench.station.keys)
    assert (label.thaw_start, label.earliest_use) == (bench.clock.wall, bench.clock.wall)
    assert bench.later(1).scan(filled, "LINE1").code == "opening-check"


def test_what_never_left_the_cold_has_no_time_label() -> None:
    bench = Bench(site_d())
    with pytest.raises(ValueError, match="is not out of cold storage"):
        label_job(bench.floor, bench.container(bench.cold()), bench.station.keys, "")


# ---------------------------------------------------------------------- delivered in any order


def eventful() -> Bench:
    bench = Bench(site_d())
    jar = bench.on_line()
    filled = decant(bench, jar)
    bench.later(1).scan(filled, "HEAD")
    bench.card(Card.LOOKS_GOOD, "HEAD")
    bench.tag_card("H1", Card.REMOVE, "HEAD")
    bench.card(Card.KEEP_USED, "HEAD")
    bench.tell(f.Held(jar, HoldReason.PERSON, ""), f.LotHeld(lot_name("SN-4", "101"), "recall"))
    bench.step(-30)
    bench.station.confirm_clock(LEAD, LEAD_PIN)
    bench.release_all(jar)
    bench.station.extend(Extending(jar, Limit.OPEN, 6 * HOUR, "C-1"), LEAD, LEAD_PIN)
    return bench


@pytest.mark.parametrize("seed", range(12))
def test_the_same_facts_give_the_same_containers_whatever_comes_first(seed: int) -> None:
    facts = list(eventful().journal.facts())
    shuffled = list(facts)
    Random(seed).shuffle(shuffled)
    assert picture(replayed(shuffled)) == picture(replayed(facts))
