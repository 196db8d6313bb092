"""What the lists of the desk say: which version holds and by whom, what waits, and which metal a list has."""

from dataclasses import replace
from datetime import timedelta

from station.care.spec_drafts import DraftTold
from station.services.specifications import write_drafts
from station.ui.specs.list_form import Row
from station.ui.specs.listing import MAY_WRITE, TWICE, list_rows, may_write, specification_rows, titled
from station.ui.specs.shown import preview_shown, specification_shown
from tests.care.bench import Bench, site_t, with_rules
from tests.care.engineering import SHEET, approved, drafted, listed, new_paste
from tests.care.fleet import Fleet
from tests.care.leading import ENGINEER_PROOF


def row_of(rows: tuple[Row, ...], begins: str) -> Row:
    return next(row for row in rows if row.what.startswith(begins))


def new_draft(bench: Bench) -> None:
    """An engineer writes a paste that plant T does not have."""
    limits = replace(bench.limits("SN-4"), paste="SN-9", **SHEET)  # type: ignore[arg-type]
    write_drafts(bench.station, [DraftTold(limits, new_paste())], ENGINEER_PROOF)


def test_what_the_settings_say_is_told_so() -> None:
    told = row_of(specification_rows(Bench().floor), "SN-4").details
    assert "from the settings" in told[1]
    assert "LEAD-FREE" in told[0]


def test_a_title_that_begins_with_the_short_name_says_it_once() -> None:
    paste = Bench().plant.pastes["SN-4"]
    assert titled(replace(paste, title="SN-4 low temperature")) == "SN-4 low temperature"
    assert titled(replace(paste, title="low temperature")) == "SN-4: low temperature"


def test_a_version_approved_at_the_desk_names_the_engineer_and_the_sheet() -> None:
    bench = Bench()
    approved(bench, open_life=timedelta(hours=20))
    told = row_of(specification_rows(bench.floor), "SN-4").details[1]
    assert "approved by Alex Linden (P30)" in told
    assert "edition 8, page 5" in told


def test_a_draft_stands_below_what_is_in_force_and_comes_first() -> None:
    bench = Bench()
    drafted(bench, "PB-1", open_life=timedelta(hours=20))
    rows = specification_rows(bench.floor)
    assert rows[0].what.startswith("PB-1")
    assert rows[0].details[-1].startswith("Draft of version")


def test_a_paste_that_only_a_draft_names_may_not_be_used_yet() -> None:
    bench = Bench()
    new_draft(bench)
    row = specification_rows(bench.floor)[0]
    assert row.what.startswith("SN-9")
    assert "not to be used yet" in row.details[-1]
    draft = bench.station.ledger.rulebook.drafts[0]
    shown = specification_shown(bench.floor, new_paste(), draft)
    assert shown is not None
    assert "No version is in force" in " ".join(shown.head)
    assert [act.label for act in shown.acts] == ["See the draft"]
    figures = preview_shown(bench.floor, draft, new_paste()).figures
    assert {row[3] for row in figures} == {"new"}


def test_one_version_approved_apart_with_two_contents_is_told() -> None:
    fleet = Fleet()
    one = fleet["A"]
    approved(one, open_life=timedelta(hours=20))
    approved(fleet["B"], open_life=timedelta(hours=18))
    assert TWICE not in row_of(specification_rows(one.floor), "SN-4").details[1]
    fleet.later(1).meet("A", "B")
    assert TWICE in row_of(specification_rows(one.floor), "SN-4").details[1]


def test_a_limit_that_is_withdrawn_is_told_as_tighter() -> None:
    bench = Bench()
    approved(bench, decanted_life=timedelta(hours=8))
    draft = drafted(bench, decanted_life=None)
    (changed,) = preview_shown(bench.floor, draft, bench.floor.plant.pastes["SN-4"]).figures
    assert changed == ("Decanted life", "8 h", "not allowed", "tighter: holds at once")


def test_a_list_says_its_metal_aloud_and_who_approved_it() -> None:
    bench = Bench()
    listed(bench, "SN-4", order="WO8836")
    rows = list_rows(bench.floor)
    assert row_of(rows, "POWER").details == ("PB-1: LEADED (Pb)", "From the settings.")
    own = row_of(rows, "CTRL, work order WO8836 only")
    assert "Approved by Alex Linden (P30)" in own.details[1]


def test_two_persons_are_told_where_the_site_wants_them() -> None:
    assert may_write(Bench().floor) == MAY_WRITE
    assert "another process engineer" in may_write(Bench(with_rules(site_t(), two_person=True)).floor)
