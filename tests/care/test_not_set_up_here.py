"""Paste and kinds that this station's settings do not have (any more): every list and every scan has an answer."""

from dataclasses import replace
from datetime import timedelta

import pytest

from station.care import facts as f
from station.care.choice import take_next
from station.care.closing_list import closing_list
from station.care.day_list import DayKind, day_list
from station.care.filled import packed
from station.care.stock import stock
from station.care.versions import differing
from station.care.words import Card, HoldReason, Stage, Word
from station.services.site import Site
from station.ui.present.rows import container_row
from tests.care.bench import EXPIRES, Bench, site_t
from tests.care.test_paste_lists import restarted

HOUR = timedelta(hours=1)


def stranger(bench: Bench, name: str, *, out: bool, paste: str = "XX-1", kind: str = "JAR-9") -> str:
    """A jar of another station, in this refrigerator or out of it."""
    now = bench.clock.wall
    end = now + 100 * HOUR
    bench.tell(f.Received(name, paste, kind, "L", EXPIRES, end, now, 8, "measured", False, now + 4 * HOUR))
    bench.tell(f.PutAway(name, "FRIDGE", "A1", False))
    if out:
        bench.tell(
            f.TakenOut(
                container=name,
                store="FRIDGE",
                thaw_from=now,
                thaw_to=now,
                earliest_use=now + HOUR,
                room_end=now + 9 * HOUR,
                supplier_minimum=HOUR,
                warm_up=HOUR,
                dew_wait=HOUR,
                room_c=22,
                humidity=45,
                cold_c=2,
                specification=f"{paste} version 1",
                zone="Europe/Berlin",
            )
        )
    return name


@pytest.mark.parametrize(("paste", "kind"), [("XX-1", "JAR-9"), ("XX-1", "JAR-500"), ("SN-4", "JAR-9")])
def test_a_jar_only_another_station_can_judge_stands_in_the_lists_and_crashes_none(paste: str, kind: str) -> None:
    bench = Bench()
    lies, warm = (stranger(bench, f"K9-00{n}", out=n == 2, paste=paste, kind=kind) for n in (1, 2))
    bench.tell(f.Held(warm, HoldReason.EVALUATION, "recall"))
    found = closing_list(bench.later(61).floor, bench.clock.wall + 12 * HOUR)
    assert [one.subject for one in found.containers] == [warm]
    assert DayKind.HOLD in [row.kind for row in day_list(bench.floor)]
    assert sum(row.count for row in stock(bench.floor).rows) == 2
    assert bench.floor.stage(bench.container(lies)) is Stage.COLD
    assert differing(bench.floor) == ()
    assert lies not in [one.id for one in take_next(bench.floor, "FRIDGE", 9)]
    assert packed(bench.floor, bench.container(lies)) in ("JAR-9", "jar 500 g")
    assert container_row(bench.floor, bench.container(warm)).row.title == "K9 002"
    for place in ("FRIDGE", "LINE1", "DESK"):
        assert bench.scan(warm, place).code == "by-label-paste"
    assert bench.later(12 * 60).restart().alarms() != []


def without(site: Site, *gone: str) -> Site:
    """The site after somebody took pastes out of its files."""
    pastes = {name: paste for name, paste in site.plant.pastes.items() if name not in gone}
    products = {name: one for name, one in site.plant.products.items() if not set(gone) & set(one.pastes)}
    return replace(
        site,
        plant=replace(site.plant, pastes=pastes, products=products),
        specifications=tuple(entry for entry in site.specifications if entry.paste not in gone),
    )


def test_a_bead_of_a_paste_taken_out_of_the_files_has_to_come_off_and_be_cleaned_away() -> None:
    bench = Bench(site_t())
    bench.order("WO10000", "CTRL", "LINE1")
    old = bench.on_line()
    other = bench.ready("PB-1")
    restarted(bench, without(site_t(), "SN-4"))
    assert bench.scan(old, "LINE1").code == "by-label-paste"
    assert bench.scan(other, "LINE1").headline == "PB-1 ON AN SN-4 JOB"
    bench.order("WO77777", "POWER", "LINE1")
    said = bench.scan(other, "LINE1")
    assert (said.word, said.headline) == (Word.STOP, "PB-1 ON AN SN-4 BEAD")
    bench.tag_card("1", Card.REMOVE, "LINE1")
    soiled = bench.later(1).scan(other, "LINE1")
    assert (soiled.code, "SN-4 (not set up here)" in soiled.why) == ("needs-cleaning", True)
    assert day_list(bench.floor) is not None
