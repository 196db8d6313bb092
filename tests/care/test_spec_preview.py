"""What a version would do before it is approved: the same ends that its approval then sets, and nothing else.

Worked by hand on plant T (limits common practice, no source), as in the tests of versions.
"""

from dataclasses import fields, replace
from datetime import timedelta
from random import Random
from typing import Any

from station.care import facts as f
from station.care.limits import running_limits
from station.care.reasons import against
from station.care.spec_preview import EARLIEST_USE, THAWED_AT_LEAST, PreviewRow, preview
from station.care.specification import Band, Conditioning, FigureSource, Thaw
from station.care.specification_change import Change, changes, figures, same_figures, stricter
from station.care.versions import tightened
from station.care.words import Card, Limit
from station.services import specifications as acts
from tests.care.bench import Bench, berlin, site_f, site_t
from tests.care.engineering import SHEET, approved, content, drafted
from tests.care.leading import ENGINEER_PROOF
from tests.care.places import site_d

HOUR, DAY = timedelta(hours=1), timedelta(days=1)


def rows(bench: Bench, of: str = "SN-4", **figures: Any) -> tuple[PreviewRow, ...]:
    return preview(bench.floor, content(bench, of, **figures))


def told(row: PreviewRow) -> tuple[str, str]:
    return row.spoken, row.what


# ---------------------------------------------------------------------- preview


def test_each_end_that_would_move_is_told_from_when_to_when_and_what_is_over_comes_first() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.at("2026-11-08T20:00")
    name = bench.container(jar).spoken
    stencil, open_life, room = rows(bench, room_life=5 * DAY, open_life=20 * HOUR, stencil_life=4 * HOUR)
    assert (told(stencil), stencil.before, stencil.after, stencil.over) == (
        ("Line 1", "bead"),
        berlin("2026-11-08T23:11"),
        berlin("2026-11-08T19:11"),
        True,
    )
    assert (told(open_life), open_life.before, open_life.after, open_life.over) == (
        (name, "open life"),
        berlin("2026-11-09T15:11"),
        berlin("2026-11-09T11:11"),
        False,
    )
    assert (told(room), room.after) == ((name, "room life"), berlin("2026-11-13T12:11"))
    assert (stencil.subject, room.subject) == (("position", "1"), ("container", jar))


def test_a_preview_writes_nothing_and_the_approval_does_what_it_said() -> None:
    bench = Bench()
    jar = bench.on_line()
    before, facts = bench.container(jar), len(list(bench.journal.facts()))
    shown = {told(row): row.after for row in rows(bench, room_life=5 * DAY, stencil_life=6 * HOUR)}
    assert (bench.container(jar), len(list(bench.journal.facts()))) == (before, facts)
    approved(bench, room_life=5 * DAY, stencil_life=6 * HOUR)
    assert shown[bench.container(jar).spoken, "room life"] == bench.container(jar).room_end
    bead = bench.position("1").bead
    assert bead is not None
    assert shown["Line 1", "bead"] == bead.stencil_end
    assert rows(bench, room_life=5 * DAY, stencil_life=6 * HOUR) == ()


def test_later_readiness_and_a_shorter_way_to_the_cold_are_told_too() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(11).scan(jar, "FRIDGE")
    dock = bench.receive()
    (to_cold,) = rows(bench, to_cold=2 * HOUR)
    assert told(to_cold) == (bench.container(dock).spoken, Limit.TO_COLD.value)
    (ready,) = rows(bench, conditioning=(Conditioning("JAR-500", 4 * HOUR),))
    assert (ready.what, ready.after, ready.over) == (EARLIEST_USE, berlin("2026-11-08T16:11"), False)


def test_a_thaw_window_is_told_at_both_ends() -> None:
    bench = Bench(site_f())
    jar = bench.receive("FZ-7", temperature_c=-18)
    bench.scan(jar, "FREEZER")
    bench.later(11).scan(jar, "FREEZER")
    begun = bench.clock.wall
    found = {row.what: row.after for row in rows(bench, "FZ-7", thaw=Thaw(14 * HOUR, 40 * HOUR))}
    assert found == {THAWED_AT_LEAST: begun + 14 * HOUR, Limit.THAW.value: begun + 40 * HOUR}


def test_decanted_paste_is_told_by_its_source_s_limits() -> None:
    bench = Bench(site_d())
    jar = bench.ready()
    bench.scan(jar, "BENCH")
    small = bench.card(Card.DECANT, "BENCH").container
    assert small is not None
    names = {row.subject[1] for row in rows(bench, open_life=20 * HOUR)}
    assert names == {jar, small}


def test_a_limit_that_ran_out_before_is_not_over_by_the_new_version() -> None:
    bench = Bench()
    bench.on_line()
    bench.at("2026-11-10T12:00")
    assert [row.over for row in rows(bench, open_life=20 * HOUR) if row.what == "open life"] == [False]


def test_nothing_gets_longer_or_usable_by_a_looser_version() -> None:
    bench = Bench()
    conditioning = bench.cold()
    bench.later(11).scan(conditioning, "FRIDGE")
    jar = bench.on_line()
    reasons = [against(bench.floor, bench.container(name), bench.position("1")) for name in (conditioning, jar)]
    looser: dict[str, Any] = {
        "room_life": 14 * DAY,
        "open_life": 48 * HOUR,
        "stencil_life": 12 * HOUR,
        "conditioning": (Conditioning("JAR-500", HOUR),),
    }
    assert rows(bench, **looser) == ()
    approved(bench, **looser)
    after = [against(bench.floor, bench.container(name), bench.position("1")) for name in (conditioning, jar)]
    assert after == reasons


def test_what_waits_for_a_warmer_room_goes_on_waiting_under_a_version_that_asks_for_less() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.station.read_room(18.5, 40, None)
    assert bench.scan(jar, "LINE1").code == "room-too-cold"
    approved(bench, floor_c=18.0)
    assert bench.later(1).scan(jar, "LINE1").code == "room-too-cold"
    later = bench.ready()
    assert bench.floor.least_c(bench.container(later)) == 18.0
    assert bench.floor.least_c(bench.container(bench.receive())) == 18.0


def test_an_outdated_draft_is_shown_as_it_would_be_now() -> None:
    bench = Bench()
    jar = bench.ready()
    draft = drafted(bench, room_life=4 * DAY)
    acts.approve_draft(bench.station, drafted(bench, room_life=5 * DAY).key, ENGINEER_PROOF)
    (row,) = preview(bench.floor, draft.specification)
    assert (row.before, row.after) == (berlin("2026-11-13T12:11"), berlin("2026-11-12T12:11"))
    assert bench.container(jar).room_end == row.before


# ---------------------------------------------------------------------- two contents beside each other


def test_changes_are_told_by_their_key_with_what_is_tighter() -> None:
    before = site_f().specifications[0]
    after = replace(
        before,
        open_life=20 * HOUR,
        decanted_life=None,
        floor_c=18.0,
        printing_humidity=Band(35, 65),
        conditioning=(Conditioning("JAR-500", 4 * HOUR),),
    )
    assert changes(before, after) == (
        Change("floor", 19.0, 18.0, False),
        Change("open_life", 24 * HOUR, 20 * HOUR, True),
        Change("decanted_life", 8 * HOUR, None, True),
        Change("printing_humidity_to", 60.0, 65, False),
        Change("conditioning.JAR-500", 3 * HOUR, 4 * HOUR, True),
    )


def test_what_is_new_or_gone_is_neither_tighter_nor_looser() -> None:
    before = site_f().specifications[2]
    assert before.thaw is not None
    gone = changes(before, replace(before, thaw=None, shelf_months=6))
    assert gone == (
        Change("shelf_life", None, 6, None),
        Change("thaw_at_least", before.thaw.at_least, None, None),
        Change("thaw_at_most", before.thaw.at_most, None, None),
    )
    every = changes(None, before)
    assert {change.tighter for change in every} == {None}
    assert {"to_cold", "thaw_at_least", "conditioning.JAR-500"} < {change.key for change in every}
    (fewer,) = changes(replace(before, shelf_months=9), replace(before, shelf_months=6))
    assert fewer.tighter is True


def otherwise(value: Any) -> Any:
    """A figure that allows more or less than this one."""
    match value:
        case bool():
            return not value
        case None:
            return HOUR
        case timedelta():
            return value + HOUR
        case Band():
            return Band(value.low + 1, value.high)
        case Thaw():
            return Thaw(value.at_least, value.at_most - HOUR)
        case tuple():
            return tuple(Conditioning(entry.kind, entry.minimum + HOUR) for entry in value)
    return value + 1


def test_no_figure_of_a_specification_is_forgotten_when_two_are_compared_or_joined() -> None:
    limits = replace(site_f().specifications[2], shelf_months=6)
    told = {"paste", "version", "approved_by", "data_sheet", "page", "near", "sources"}
    for name in {field.name for field in fields(limits)} - told:
        changed: dict[str, Any] = {name: otherwise(getattr(limits, name))}
        other = replace(limits, **changed)
        assert not same_figures(limits, other), name
        assert changes(limits, other), name
        joined = figures(stricter(limits, other))
        assert joined == figures(stricter(other, limits)), name
        assert joined in (figures(limits), figures(other)), name


def test_where_a_figure_stands_is_no_figure() -> None:
    one = site_t().specifications[0]
    other = replace(one, version=9, sources=(FigureSource("open_life", "letter", "1"),), **SHEET)  # type: ignore[arg-type]
    assert same_figures(one, other)
    two = replace(one, conditioning=(Conditioning("A", HOUR), Conditioning("B", HOUR)))
    assert same_figures(two, replace(two, conditioning=two.conditioning[::-1]))
    assert figures(one).version == 0
    assert other.source_of("open_life").data_sheet == "letter"
    assert other.source_of("room_life") == FigureSource("room_life", SHEET["data_sheet"], SHEET["page"])


def test_the_stricter_of_two_contents_allows_no_more_than_either_whichever_comes_first() -> None:
    one = replace(
        site_f().specifications[2],
        open_life=20 * HOUR,
        return_within=None,
        shelf_months=6,
        conditioning=(Conditioning("A", HOUR), Conditioning("B", 3 * HOUR)),
        printing_room_c=Band(20, 26),
    )
    other = replace(
        one,
        open_life=30 * HOUR,
        room_life=DAY,
        return_within=2 * HOUR,
        shelf_months=None,
        stencil_time_counts_as_open=False,
        conditioning=(Conditioning("B", 2 * HOUR), Conditioning("C", HOUR)),
        printing_room_c=Band(21, 28),
        thaw=Thaw(20 * HOUR, 40 * HOUR),
    )
    joined = stricter(one, other)
    assert figures(joined) == figures(stricter(other, one))
    assert (joined.open_life, joined.room_life, joined.return_within, joined.shelf_months) == (20 * HOUR, DAY, None, 6)
    assert joined.stencil_time_counts_as_open is True
    assert joined.conditioning == (Conditioning("A", HOUR), Conditioning("B", 3 * HOUR), Conditioning("C", HOUR))
    assert joined.printing_room_c == Band(21, 26)
    assert one.thaw is not None
    assert joined.thaw == Thaw(20 * HOUR, min(one.thaw.at_most, 40 * HOUR))
    assert stricter(replace(one, thaw=None), other).thaw == other.thaw
    assert stricter(one, replace(other, thaw=None)).thaw == one.thaw
    assert stricter(one, other).sources == other.sources


def shaken(bench: Bench, seed: int) -> dict[str, Any]:
    """Some figures of SN-4, each made larger or smaller by chance."""
    chance, limits = Random(seed), bench.limits()
    lives = ("to_cold", "room_life", "open_life", "stencil_life", "pause_knead", "pause_replace")
    found: dict[str, Any] = {name: getattr(limits, name) * chance.choice((0.5, 0.8, 1, 1.5, 3)) for name in lives}
    found["floor_c"] = limits.floor_c + chance.choice((-3, 0, 2))
    found["conditioning"] = (Conditioning("JAR-500", HOUR * chance.choice((1, 3, 5))),)
    found["cold_cycles"] = chance.choice((1, 3))
    found["stencil_time_counts_as_open"] = chance.choice((True, False))
    return {name: value for name, value in found.items() if chance.random() < 0.6}


def test_whatever_is_changed_nothing_becomes_usable_and_no_end_moves_later() -> None:
    bench = Bench()
    warming, jar = bench.cold(), bench.on_line()
    bench.scan(warming, "FRIDGE")
    names = [warming, jar, bench.ready(), bench.cold(), bench.receive()]
    for at, room_c in (("2026-11-08T22:00", 22.0), ("2026-11-09T12:00", 18.0), ("2026-11-15T18:00", 22.0)):
        bench.at(at).station.read_room(room_c, 40, None)
        for seed in range(60):
            limits = replace(content(bench, **shaken(bench, seed)), version=2)
            bodies = (
                f.SpecificationSet(limits, ""),
                *tightened(bench.station.ledger, bench.plant.positions, (limits,)),
            )
            after = replace(bench.floor, ledger=bench.station.ledger.imagined(bodies, bench.clock.wall))
            for name in names:
                before, then = bench.container(name), after.container(name)
                assert then is not None
                ends = dict(running_limits(before))
                assert all(end <= ends[limit] for limit, end in running_limits(then))
                if against(bench.floor, before, bench.position("2")):
                    assert against(after, then, after.position("2")), (seed, name)
