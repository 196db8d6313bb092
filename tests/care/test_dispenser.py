"""The dispenser: a cartridge or syringe is mounted by its scan, feeds until it is taken off, and keeps its clocks."""

import pytest

from station.care import facts as f
from station.care.alarms import Clearing, ClearingRefused, boards_between, dispositions, open_alarms, sounding
from station.care.choice import better_take_out
from station.care.correction import take_back
from station.care.words import Boards, Card, Disposition, Ending, HoldReason, Limit
from tests.care.bench import LEAD, LEAD_PIN, Bench, berlin
from tests.care.places import site_d
from tests.care.test_folds import picture, replayed


def cartridge(bench: Bench, place: str = "DOTS", paste: str = "SN-4", kind: str = "CART-600") -> str:
    """One that is mounted and in use."""
    name = bench.ready(paste, kind)
    assert bench.scan(name, place).code == "opening-check"
    assert bench.card(Card.LOOKS_GOOD, place).word == "USE"
    return name


def mounted(bench: Bench, position: str = "D1") -> str | None:
    found = bench.position(position).mounted
    return found.container if found is not None else None


def bodies(bench: Bench, name: str) -> list[type]:
    return [type(fact.body) for fact in bench.station.ledger.history("container", name)]


def test_a_ready_cartridge_is_looked_at_and_then_mounted_by_its_scan() -> None:
    bench = Bench(site_d())
    name = bench.ready(kind="CART-600")
    assert bench.scan(name, "DOTS").todo.startswith("Does it flow evenly")
    assert mounted(bench) is None
    verdict = bench.card(Card.LOOKS_GOOD, "DOTS")
    assert (verdict.word, verdict.headline) == ("USE", "DISCARD BY Mon 9 Nov 15:11")
    assert verdict.why == "K7 001 is right for D1. It counts as mounted from now."
    assert verdict.note == "24 h left in it (open life)."
    assert (mounted(bench), bench.position("D1").bead) == (name, None)


def test_scanned_again_it_is_only_seen() -> None:
    bench = Bench(site_d())
    name = cartridge(bench)
    verdict = bench.later(30).scan(name, "DOTS")
    assert (verdict.word, verdict.why) == ("USE", "K7 001 is right for D1. It has been mounted since 15:11.")
    assert verdict.todo == "Go on dispensing."
    assert bodies(bench, name).count(f.Mounted) == 1
    assert bodies(bench, name)[-1] is f.Sighted


def test_a_nervous_trigger_says_use_again_and_records_nothing() -> None:
    bench = Bench(site_d())
    name = cartridge(bench)
    bench.later(1).scan(name, "DOTS")
    told = len(bodies(bench, name))
    assert bench.scan(name, "DOTS").word == "USE"
    assert len(bodies(bench, name)) == told


def test_a_jar_does_not_go_into_a_dispenser() -> None:
    bench = Bench(site_d())
    verdict = bench.scan(bench.ready(), "DOTS")
    assert (verdict.word, verdict.code, verdict.headline) == (
        "STOP",
        "not-for-dispenser",
        "ONLY CARTRIDGES AND SYRINGES",
    )
    assert bench.later(60).scan(bench.ready(kind="SYR-35"), "DOTS").code == "opening-check"


def test_the_last_minutes_are_said_first() -> None:
    bench = Bench(site_d())
    name = cartridge(bench)
    assert bench.later(24 * 60 - 29).scan(name, "DOTS").headline == "ONLY 29 min LEFT"


def test_one_that_is_mounted_comes_off_before_the_next() -> None:
    bench = Bench(site_d())
    one = cartridge(bench)
    other = bench.ready(kind="SYR-35")
    verdict = bench.scan(other, "DOTS")
    assert (verdict.word, verdict.headline) == ("STOP", "TAKE OFF K7 001 FIRST")
    assert verdict.instead == one
    off = bench.card(Card.DISMOUNT, "DOTS")
    assert (off.word, off.headline) == ("DONE", "K7 001 OFF")
    assert off.todo == "Cap its tip and stand it tip down. Clean before another paste goes on."
    assert mounted(bench) is None
    bench.later(1).scan(other, "DOTS")
    assert bench.card(Card.LOOKS_GOOD, "DOTS").word == "USE"
    assert mounted(bench) == other
    bench.later(1).tag("D1", "DOTS")
    assert bench.card(Card.DISMOUNT, "DOTS").todo.startswith("Cap its tip. ")


def test_empty_after_that_stop_ends_the_one_on_the_dispenser_not_the_fresh_one() -> None:
    bench = Bench(site_d())
    one = cartridge(bench)
    other = bench.ready(kind="CART-600")
    bench.scan(other, "DOTS")
    assert bench.card(Card.EMPTY, "DOTS").why == "K7 001 is used up and off D1."
    assert bench.container(one).ended is Ending.USED_UP
    assert bench.container(other).ended is None
    assert mounted(bench) is None


def test_an_empty_that_was_a_slip_puts_it_back() -> None:
    bench = Bench(site_d())
    name = cartridge(bench)
    bench.later(1).scan(name, "DOTS")
    bench.card(Card.EMPTY, "DOTS")
    assert bench.card(Card.UNDO, "DOTS").code == "undone"
    assert mounted(bench) == name


def test_a_mount_is_taken_back_by_a_shift_lead_only() -> None:
    bench = Bench(site_d())
    name = cartridge(bench)
    bench.tag("D1", "DOTS")
    assert bench.card(Card.UNDO, "DOTS").code == "nothing-to-undo"
    (undone,) = bench.tell(take_back(bench.floor, "position", "D1", "wrong dispenser", LEAD))
    assert isinstance(undone.body, f.Undone)
    assert mounted(bench) is None
    assert bench.container(name).open_end is not None


def test_discarding_what_was_mounted_only_to_name_it_takes_the_mount_back() -> None:
    bench = Bench(site_d())
    name = cartridge(bench)
    bench.tag_card("D1", Card.DISMOUNT, "DOTS")
    bench.tag_card("D1", Card.CLEANED, "DOTS")
    bench.later(1).scan(name, "DOTS")
    bench.card(Card.DISCARD, "DOTS")
    assert (mounted(bench), bench.position("D1").soiled_by) == (None, None)


def test_dismounting_is_told_by_the_container_too_wherever_it_is_scanned() -> None:
    bench = Bench(site_d())
    name = cartridge(bench)
    bench.scan(name, "DESK")
    assert bench.card(Card.DISMOUNT, "DESK").code == "dismounted"
    bench.later(1).scan(name, "DESK")
    verdict = bench.card(Card.DISMOUNT, "DESK")
    assert (verdict.word, verdict.why) == ("STOP", "K7 001 is mounted nowhere.")
    bench.tag("D1", "DOTS")
    assert bench.card(Card.DISMOUNT, "DOTS").why == "Nothing is recorded as mounted on D1."


def test_a_dismount_told_of_an_earlier_mount_does_not_take_off_this_one() -> None:
    bench = Bench(site_d())
    name = cartridge(bench)
    bench.tell(f.Dismounted(name, "D1", "some earlier mount"))
    assert mounted(bench) == name


def test_two_stations_that_mounted_two_at_one_place_the_later_is_there() -> None:
    bench = Bench(site_d())
    one = cartridge(bench)
    other = bench.ready(kind="CART-600")
    bench.tell(f.Mounted(other, "D1", "SN-4", None))
    assert mounted(bench) == other
    assert [gone.mount.container for gone in bench.position("D1").taken_off] == [one]


def test_what_is_mounted_here_is_used_nowhere_else() -> None:
    bench = Bench(site_d())
    name = cartridge(bench)
    for place, position in (("LINE1", "1"), ("PAIR", "D2A")):
        bench.later(1).tag(position, place)
        verdict = bench.scan(name, place)
        assert (verdict.word, verdict.code, verdict.headline) == ("STOP", "mounted-elsewhere", "MOUNTED ON D1")
    bench.tag_card("D1", Card.DISMOUNT, "DOTS")
    bench.later(1)
    assert bench.scan(name, "LINE1").word == "USE"


def test_a_twin_dispenser_asks_which_side() -> None:
    bench = Bench(site_d())
    name = bench.ready(kind="CART-600")
    verdict = bench.scan(name, "PAIR")
    assert verdict.why == "This dispenser has more than one position: D2A or D2B."
    assert bench.tag("D2B", "PAIR").code == "opening-check"
    bench.card(Card.LOOKS_GOOD, "PAIR")
    assert mounted(bench, "D2B") == name
    assert bench.later(1).scan(name, "PAIR").word == "USE"


def test_the_tag_says_what_is_mounted() -> None:
    bench = Bench(site_d())
    assert bench.tag("D1", "DOTS").why == "Nothing is mounted, no work order."
    cartridge(bench)
    assert bench.later(1).tag("D1", "DOTS").why == "K7 001 (SN-4) is mounted, no work order."
    bench.scan("K7-001", "DESK")
    assert "It feeds D1." in bench.later(1).scan("K7-001", "DESK").why


def test_container_is_what_is_there_is_job() -> None:
    bench = Bench(site_d())
    bench.order("WO1", "CTRL", "DOTS")
    assert bench.scan(bench.ready("PB-1", "CART-600"), "DOTS").headline == "Sn-Pb ON AN Sn-Ag-Cu JOB"
    assert bench.scan(bench.ready(kind="CART-600"), "DOTS").code == "opening-check"


def test_a_new_job_says_whether_what_is_mounted_fits_and_is_traced_to_it() -> None:
    bench = Bench(site_d())
    bench.order("WO1", "CTRL", "DOTS")
    name = cartridge(bench)
    assert bench.later(1).order("WO2", "CTRL", "DOTS").todo == "K7 001 on it fits: go on, or scan another."
    assert bench.later(1).order("WO2", "CTRL", "DOTS").code == "set-up"
    verdict = bench.later(1).order("WO3", "POWER", "DOTS")
    assert verdict.asks == (Card.DISMOUNT,)
    assert verdict.todo.startswith("K7 001 (SN-4) on it does not fit")
    assert bench.position("D1").mounted.work_orders == ("WO1", "WO2", "WO3")  # type: ignore[union-attr]
    assert bench.scan(name, "DOTS").code == "wrong-alloy"


def test_another_paste_needs_a_clean_dispenser() -> None:
    bench = Bench(site_d())
    cartridge(bench)
    bench.tag("D1", "DOTS")
    verdict = bench.card(Card.CLEANED, "DOTS")
    assert (verdict.word, verdict.why) == ("STOP", "K7 001 is still on D1.")
    bench.tag_card("D1", Card.DISMOUNT, "DOTS")
    leaded = bench.ready("PB-1", "CART-600")
    verdict = bench.scan(leaded, "DOTS")
    assert verdict.code == "needs-cleaning"
    assert verdict.todo.startswith("Clean needle, fittings and tools")
    bench.later(1)
    assert bench.tag_card("D1", Card.CLEANED, "DOTS").why == "Needle, fittings and tools of D1 are recorded as clean."
    assert bench.later(1).scan(leaded, "DOTS").code == "opening-check"


def test_cleaning_told_while_something_is_mounted_cleans_nothing() -> None:
    bench = Bench(site_d())
    cartridge(bench)
    bench.tell(f.Cleaned("D1"))
    assert bench.position("D1").soiled_by == "SN-4"


def test_cards_about_a_bead_find_none_in_a_dispenser() -> None:
    bench = Bench(site_d())
    cartridge(bench)
    assert bench.tag_card("D1", Card.REMOVE, "DOTS").code == "no-bead"


# ---------------------------------------------------------------------- past a limit, on hold


def test_past_its_open_life_it_is_in_use_and_alarms_high() -> None:
    bench = Bench(site_d())
    name = cartridge(bench)
    bench.later(24 * 60 + 1)
    ((alarm, seen),) = open_alarms(bench.floor)
    assert (alarm.subject, alarm.limit, seen.priority, alarm.in_use) == (name, Limit.OPEN, "high", True)
    assert boards_between(bench.floor, alarm) == (berlin("2026-11-09T15:11"), None)
    verdict = bench.scan(name, "DOTS")
    assert (verdict.word, verdict.headline) == ("STOP", "OPEN LIFE IS OVER")


def test_taken_off_in_time_it_is_quiet_and_later_it_is_not() -> None:
    for late, sounds in ((14, False), (16, True)):
        bench = Bench(site_d())
        cartridge(bench)
        bench.later(24 * 60 + late)
        bench.tag_card("D1", Card.DISMOUNT, "DOTS")
        ((alarm, seen),) = open_alarms(bench.floor)
        assert (sounding(bench.floor, alarm), seen.priority) == (sounds, "medium")


def past(bench: Bench) -> str:
    cartridge(bench)
    bench.later(24 * 60 + 1)
    return bench.alarms()[0]


def test_clearing_asks_for_the_boards_and_for_taking_it_off() -> None:
    bench = Bench(site_d())
    alarm = past(bench)

    def told(disposition: Disposition, boards: Boards | None = None) -> Clearing:
        return Clearing(alarm, disposition, "seen to", boards=boards)

    def say(clearing: Clearing) -> None:
        bench.station.clear(clearing, LEAD, LEAD_PIN)

    with pytest.raises(ClearingRefused, match="still mounted on D1"):
        say(told(Disposition.EVALUATION, Boards.NONE))
    with pytest.raises(ClearingRefused, match="what became of the boards"):
        say(told(Disposition.DISCARDED))
    say(told(Disposition.DISCARDED, Boards.QUARANTINED))
    assert (mounted(bench), bench.alarms()) == (None, [])


def test_extended_it_stays_where_it_is() -> None:
    bench = Bench(site_d())
    alarm = past(bench)
    clearing = Clearing(alarm, Disposition.EXTENDED, "judged good", boards=Boards.NONE, document="C-7")
    bench.station.clear(clearing, LEAD, LEAD_PIN)
    assert bench.scan("K7-001", "DOTS").word == "USE"
    bench.later(12 * 60)
    assert len(bench.alarms()) == 1


def test_a_limit_that_passed_on_the_shelf_asks_for_no_boards() -> None:
    bench = Bench(site_d())
    cartridge(bench)
    bench.tag_card("D1", Card.DISMOUNT, "DOTS")
    bench.later(24 * 60 + 1)
    ((alarm, seen),) = open_alarms(bench.floor)
    assert (boards_between(bench.floor, alarm), seen.priority) == (None, "medium")


def test_put_on_hold_while_mounted_it_alarms_high_until_it_is_off() -> None:
    bench = Bench(site_d())
    name = cartridge(bench)
    bench.later(60)
    bench.tell(held(name))
    bench.station.tick()
    ((alarm, seen),) = open_alarms(bench.floor)
    assert (alarm.subject, alarm.limit, seen.priority) == (name, Limit.HOLD, "high")
    assert bench.scan(name, "DOTS").code == "held"
    with pytest.raises(ClearingRefused, match="still mounted"):
        bench.station.clear(Clearing(alarm.id, Disposition.CHECKED, "x", boards=Boards.NONE), LEAD, LEAD_PIN)
    bench.later(5).tag_card("D1", Card.DISMOUNT, "DOTS")
    seen = dict(open_alarms(bench.floor))[alarm]
    assert (seen.active, seen.priority, seen.quiet) == (False, "medium", True)
    assert Disposition.CHECKED in dispositions(bench.floor, alarm)


def held(name: str) -> f.Held:
    return f.Held(name, HoldReason.PERSON, "")


def test_released_while_mounted_it_may_be_cleared_where_it_is() -> None:
    bench = Bench(site_d())
    name = cartridge(bench)
    bench.tell(held(name))
    bench.station.tick()
    (alarm,) = bench.alarms()
    bench.release_all(name)
    bench.station.clear(Clearing(alarm, Disposition.CHECKED, "good", boards=Boards.NONE), LEAD, LEAD_PIN)
    assert (bench.alarms(), mounted(bench)) == ([], name)


def test_a_mount_of_something_nobody_received_here_alarms_nobody() -> None:
    bench = Bench(site_d())
    bench.tell(f.Mounted("K9-001", "D1", "SN-4", None))
    bench.station.tick()
    assert bench.alarms() == []


# ---------------------------------------------------------------------- what else knows of it


def test_nobody_is_kept_from_a_fresh_one_by_one_that_is_at_work() -> None:
    bench = Bench(site_d())
    name = cartridge(bench)
    cold = bench.cold(kind="CART-600")
    assert better_take_out(bench.floor, bench.container(cold)) is None
    bench.tag_card("D1", Card.DISMOUNT, "DOTS")
    better = better_take_out(bench.floor, bench.container(cold))
    assert better is not None
    assert better.id == name


def test_mounts_add_up_to_the_same_in_any_order() -> None:
    bench = Bench(site_d())
    name = cartridge(bench)
    bench.later(1).scan(name, "DOTS")
    bench.card(Card.EMPTY, "DOTS")
    bench.card(Card.UNDO, "DOTS")
    bench.tag_card("D1", Card.DISMOUNT, "DOTS")
    facts = list(bench.journal.facts())
    assert picture(replayed(facts[::-1])) == picture(replayed(facts))
