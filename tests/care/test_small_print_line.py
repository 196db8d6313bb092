"""Small print of answers at a line, a dispenser or a desk: each says all of its parts and what it is about."""

from datetime import timedelta

import pytest

from station.care import facts as f
from station.care.late import Late
from station.care.scans import CardScan, ContainerScan, SeenLabel, TagScan, WorkOrderScan
from station.care.specification import ByLabel
from station.care.words import Card
from station.services import lead_acts
from station.services.outcome import Outcome
from tests.care.bench import EXPIRES, Bench, berlin, site_t, with_limits, with_room_paste, with_rules
from tests.care.leading import PROOF
from tests.care.places import site_d
from tests.care.test_by_label import JAR, label
from tests.care.test_dispenser import cartridge
from tests.care.test_other_clocks import apart
from tests.care.told import FIRST, SECOND, Answer, Answering, Told, told_by, unsaid

HOUR = timedelta(hours=1)
CHECK = (Card.LOOKS_GOOD, Card.LOOKS_BAD)


def at_line(bench: Bench, name: str, place: str = "LINE1", seen: SeenLabel | None = None) -> Outcome:
    return bench.outcome(ContainerScan(name, seen), place)


def card(bench: Bench, said: Card, position: str = "1", place: str = "LINE1") -> Outcome:
    """A tag, then a card."""
    bench.tag(position, place)
    return bench.outcome(CardScan(said), place)


def running(minutes: float = 1) -> Bench:
    """A line with a bead on it."""
    bench = Bench()
    bench.on_line()
    return bench.later(minutes)


def paused(minutes: float) -> Bench:
    bench = running()
    card(bench, Card.PAUSE)
    return bench.later(minutes)


def by_label(seen: SeenLabel, policy: ByLabel = ByLabel.ALLOW) -> Outcome:
    bench = Bench(with_rules(site_t(), by_label=policy)).at("2026-11-10T09:30")
    return at_line(bench, JAR, seen=seen)


def in_an_unfit_room() -> Outcome:
    bench = Bench()
    jar = bench.cold()
    bench.station.read_room(18.5, 40, None)
    late = Late(jar, bench.clock.wall, bench.clock.wall, "card on bin A1")
    lead_acts.take_out_late(bench.station, late, PROOF)
    return at_line(bench, jar)


def from_nobody_knows_what() -> Outcome:
    bench = Bench()
    bench.tell(f.Decanted("K9-050", (FIRST,), "SN-4", "JAR-500", "101", bench.clock.wall + 8 * HOUR))
    return at_line(bench, "K9-050")


def not_shelved() -> Outcome:
    bench = Bench(with_room_paste(site_t()))
    return at_line(bench, bench.receive("BI-9"))


def not_taken_out() -> Outcome:
    bench = Bench()
    return at_line(bench, bench.cold())


def draft() -> Outcome:
    bench = Bench(with_limits(site_t(), "SN-4", approved_by=None))
    return at_line(bench, bench.receive())


def clocks_disagree() -> Outcome:
    fleet, here, _, jar = apart(30)
    fleet.later(240)
    return at_line(here, jar)


def a_label_too_new() -> Outcome:
    bench = Bench()
    return at_line(bench, bench.ready(), seen=label(print_number=9))


def one_check_after_the_other() -> Outcome:
    bench = Bench()
    first, second = bench.ready(), bench.ready()
    at_line(bench, first)
    return at_line(bench.later(1), second)


def the_opening_check() -> Outcome:
    bench = Bench()
    return at_line(bench, bench.ready())


def would_end_sooner() -> Outcome:
    bench = Bench(start="2026-11-08T14:00")  # the bead ends 01:11, the shelf life of the other jar at 23:59
    bench.on_line()
    short = bench.ready(expires=EXPIRES.replace(year=2026, month=11, day=8))
    bench.scan(short, "LINE2")
    bench.card(Card.LOOKS_GOOD, "LINE2")
    return at_line(bench.later(1), short)


def bead_over() -> Outcome:
    bench = running(8 * 60 + 1)
    return at_line(bench, FIRST)


def not_in_a_head() -> Outcome:
    bench = Bench(site_d())
    return at_line(bench, bench.ready("PB-1"), "HEAD")


def no_bead_in_a_dispenser() -> Outcome:
    return card(Bench(site_d()), Card.REMOVE, "D1", "DOTS")


def nothing_in_a_dispenser() -> Outcome:
    return card(Bench(site_d()), Card.DISMOUNT, "D1", "DOTS")


def cleaned_with_a_cartridge_in_it() -> Outcome:
    bench = Bench(site_d())
    cartridge(bench)
    return card(bench.later(1), Card.CLEANED, "D1", "DOTS")


def carried_to_another_job() -> Outcome:
    bench = running()
    bench.order("WO1", "POWER", "LINE1")
    return card(bench, Card.CARRY_OVER)


def ordered(product: str = "CTRL", *, bead: bool = False) -> Outcome:
    bench = running() if bead else Bench()
    return bench.outcome(WorkOrderScan("WO1", product), "LINE1")


def never_read() -> Outcome:
    return Bench().station.scan(("Q",), "LINE1")


def card_after_a_check() -> Outcome:
    """Told to open a fresh jar, a person sees that the bead is bad and takes it off."""
    bench = running()
    bench.scan(bench.ready(), "LINE1")
    return bench.outcome(CardScan(Card.REMOVE), "LINE1")


def an_end_taken_back_at_the_line() -> Outcome:
    bench = running()
    bench.scan(FIRST, "LINE1")
    bench.card(Card.EMPTY, "LINE1")
    bench.scan(FIRST, "LINE1")
    return bench.outcome(CardScan(Card.UNDO), "LINE1")


REFUSE_LABEL = Told("by-label-refused", JAR, "1", (JAR, "1", "by-label-refused", ""))
PASTE_UNKNOWN = Told("by-label-paste", JAR, None, (JAR, "LINE1", "by-label-paste", ""))
NO_WORK = (None, "1", "wrong-paste", "")
ANSWERS: list[Answer] = [
    (lambda: by_label(label(), ByLabel.REFUSE), REFUSE_LABEL),
    (lambda: by_label(label(paste_number=99)), PASTE_UNKNOWN),
    (lambda: by_label(label()), Told("use", JAR, "1")),
    (in_an_unfit_room, Told("no-time", FIRST, "1", (FIRST, "1", "no-time", ""))),
    (from_nobody_knows_what, Told("source-unknown", "K9-050", "1", ("K9-050", "1", "source-unknown", ""))),
    (not_shelved, Told("not-taken-out", FIRST, "1", (FIRST, "1", "not-taken-out", ""))),
    (not_taken_out, Told("not-taken-out", FIRST, "1", (FIRST, "1", "not-taken-out", ""))),
    (draft, Told("draft", FIRST, "1", (FIRST, "1", "draft", ""))),
    (clocks_disagree, Told("clocks-disagree", "K8-001", "1", ("K8-001", "1", "clocks-disagree", ""))),
    (a_label_too_new, Told("label-newer", FIRST, None, (FIRST, "LINE1", "label-newer", ""))),
    (one_check_after_the_other, Told("check-first", SECOND, "1", (SECOND, "1", "check-first", FIRST))),
    (the_opening_check, Told("opening-check", FIRST, "1", asks=CHECK)),
    (would_end_sooner, Told("would-shorten", SECOND, "1", (SECOND, "1", "would-shorten", ""))),
    (bead_over, Told("bead-past", FIRST, "1", (FIRST, "1", "bead-past", ""))),
    (not_in_a_head, Told("not-in-head", FIRST, "H1", (FIRST, "H1", "not-in-head", ""))),
    (lambda: card(Bench(), Card.PAUSE), Told("no-bead", None, "1")),
    (no_bead_in_a_dispenser, Told("no-bead", None, "D1")),
    (nothing_in_a_dispenser, Told("not-mounted", None, "D1")),
    (cleaned_with_a_cartridge_in_it, Told("still-mounted", None, "D1")),
    (lambda: card(running(), Card.REMOVE), Told("removed", None, "1")),
    (lambda: card(running(), Card.NEW_BEAD), Told("replaced", None, "1")),
    (lambda: card(running(), Card.SAME_BEAD), Told("same-bead", None, "1")),
    (lambda: card(running(), Card.CLEANED), Told("bead-on", None, "1")),
    (lambda: card(Bench(), Card.CLEANED), Told("cleaned", None, "1")),
    (lambda: card(running(), Card.PAUSE), Told("paused", None, "1")),
    (lambda: card(running(), Card.RESUME), Told("not-paused", None, "1")),
    (lambda: card(paused(10), Card.RESUME), Told("resumed", None, "1")),
    (lambda: card(paused(40), Card.RESUME), Told("knead", None, "1")),
    (lambda: card(paused(70), Card.RESUME), Told("bead-replace", None, "1")),
    (carried_to_another_job, Told("wrong-paste", None, "1", NO_WORK)),
    (lambda: card(Bench(), Card.KEEP_USED), Told("nothing-to-keep", None, "1", (None, "1", "nothing-to-keep", ""))),
    (lambda: ordered("NONE"), Told("product-unknown")),
    (ordered, Told("set-up", None, "1")),
    (lambda: ordered("POWER", bead=True), Told("wrong-paste", None, "1", asks=(Card.REMOVE,))),
    (lambda: Bench().outcome(TagScan("99"), "LINE1"), Told("tag-unknown")),
    (lambda: Bench().outcome(TagScan("1"), "LINE1"), Told("position", None, "1")),
    (never_read, Told("unread", refused=(None, "LINE1", "unread", "Q"))),
    (card_after_a_check, Told("removed", None, "1")),
    (an_end_taken_back_at_the_line, Told("undone")),
]


@pytest.mark.parametrize(("answer", "expected"), ANSWERS, ids=[expected.code for _, expected in ANSWERS])
def test_each_answer_says_all_its_parts_and_what_it_is_about(answer: Answering, expected: Told) -> None:
    outcome = answer()
    assert unsaid(outcome.verdict) == []
    assert told_by(outcome) == expected


def test_only_a_look_at_a_label_tells_until_when_it_may_be_used() -> None:
    bench = Bench().at("2026-11-10T09:30")
    bench.card(Card.LOOK, "LINE1")
    assert "Wed 11 Nov 09:00" in bench.scan(JAR, "LINE1", label()).why


def test_used_by_its_label_a_person_is_told_to_look_and_then_what_is_told_of_any_jar() -> None:
    plain = Bench()
    plain.on_line()
    usual = plain.later(1).scan(FIRST, "LINE1").todo
    verdict = by_label(label()).verdict
    assert verdict is not None
    assert verdict.todo.endswith(usual)
    assert verdict.todo != usual


def test_on_two_lanes_an_open_jar_is_used_where_the_tag_says() -> None:
    bench = Bench()
    jar = bench.on_line()
    assert bench.later(1).scan(jar, "DUAL").code == "which-position"
    verdict = bench.tag("2B", "DUAL")
    assert (verdict.word, verdict.position) == ("USE", "2B")


def test_a_check_asked_for_here_is_answered_here_though_it_was_seen_elsewhere_meanwhile() -> None:
    bench = Bench()
    jar = bench.ready()
    at_line(bench, jar)
    bench.tell(f.Sighted(jar, "2", warm=True))
    assert bench.card(Card.LOOKS_GOOD, "LINE1").word == "USE"


@pytest.mark.parametrize(("minutes", "over"), [(8 * 60, False), (8 * 60 + 1, True)])
def test_a_tag_says_that_its_bead_ends_and_later_that_it_ended(minutes: float, over: bool) -> None:
    bench = Bench()
    bench.on_line()
    why = bench.later(minutes).tag("1", "LINE1").why
    assert ("ended" in why) == over


def test_what_is_named_instead_is_named_with_its_place_and_the_time_left() -> None:
    bench = Bench()
    other, held = bench.ready(), bench.receive(leaking=True)
    verdict = at_line(bench, held).verdict
    assert verdict is not None
    assert verdict.instead == other
    assert "(out of Refrigerator)" in verdict.todo
    assert "6 d 21 h left" in verdict.todo
    assert "None" not in verdict.todo


def test_an_old_bead_is_asked_about_with_the_time_it_was_last_heard_of() -> None:
    bench = running(3 * 60)
    assert "15:11" in bench.scan(FIRST, "LINE1").note


def test_after_decanting_the_next_card_speaks_of_the_new_container() -> None:
    bench = Bench(site_d())
    bench.scan(bench.on_line(), "BENCH")
    bench.card(Card.DECANT, "BENCH")
    assert bench.card(Card.REPRINT, "BENCH").container == SECOND


def test_undated_paste_of_another_station_tops_up_a_bead_that_only_has_its_own_end() -> None:
    bench = Bench(with_limits(with_room_paste(site_t()), "BI-9", stencil_time_counts_as_open=False))
    now = bench.clock.wall
    for name in ("K9-001", "K9-002"):
        bench.tell(
            f.Received(name, "BI-9", "JAR-500", "101", None, None, now, None, "not measured", False, None),
            f.PutAway(name, "SHELF", "S1", returning=False),
        )
        bench.later(1).scan(name, "LINE1")
        assert bench.card(Card.LOOKS_GOOD, "LINE1").word == "USE"
    bead = bench.position("1").bead
    assert bead is not None
    assert bench.floor.bead_end(bead)[1] == berlin("2026-11-08T20:01")
