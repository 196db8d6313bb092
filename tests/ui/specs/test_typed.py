"""What an engineer types: nothing is lost by a wrong field, and contradictions are said in the names of the fields."""

from dataclasses import replace
from datetime import timedelta

import pytest

from station.care.specification import FigureSource
from station.ui.specs import checked
from station.ui.specs.checked import Begun
from station.ui.specs.shown import figures_in, kind_titles
from station.ui.specs.table import Page
from station.ui.specs.typed import Texts, Typed, texts_of
from tests.care.bench import Bench, site_f
from tests.care.places import site_d


@pytest.fixture
def bench() -> Bench:
    return Bench()


def typing(bench: Bench, of: str = "SN-4", texts: Texts | None = None) -> tuple[Begun, Typed]:
    """A new version of a paste as its form begins."""
    floor = bench.floor
    paste, found = floor.plant.pastes[of], floor.specification(of)
    begun = Begun(paste, texts or texts_of(figures_in(floor, paste, found), found))

    def check(kinds: tuple[str, ...], written: object) -> dict[str, str]:
        return dict(checked.sentences(begun, kinds, written, bench.floor))  # type: ignore[arg-type]

    return begun, Typed(paste.storage, kind_titles(floor), begun.texts, check)


def test_nothing_is_changed_to_begin_with(bench: Bench) -> None:
    begun, typed = typing(bench)
    assert not typed.changed
    typed.write("open_life", "20 h")
    assert typed.changed
    typed.write("open_life", begun.texts.figures["open_life"])
    assert not typed.changed


def test_a_wrong_figure_keeps_its_text_and_the_others_theirs(bench: Bench) -> None:
    _, typed = typing(bench)
    typed.write("stencil_life", "6 h")
    typed.write("open_life", "soon")
    assert (typed.text("open_life"), typed.text("stencil_life")) == ("soon", "6 h")
    assert "Open life" in typed.complaint("open_life")
    assert typed.complaint("stencil_life") == ""
    assert typed.faulty(Page.OPEN) == 1
    typed.write("open_life", "20 h")
    assert not typed.complaints()


def test_figures_that_contradict_each_other_are_said_by_their_names(bench: Bench) -> None:
    _, typed = typing(bench)
    typed.write("pause_knead", "5 h")
    told = typed.complaint("pause_knead")
    assert "“Pause: replace the bead after”" in told
    assert "_" not in told


def test_conditioning_longer_than_room_life_is_refused_as_the_files_refuse_it(bench: Bench) -> None:
    _, typed = typing(bench)
    typed.write("room_life", "2 h")
    assert "over before the paste is ready" in typed.complaint("room_life")


def test_the_same_figures_as_in_force_are_no_version(bench: Bench) -> None:
    _, typed = typing(bench)
    assert any("in force" in told for told in typed.complaints().values())


def test_time_before_a_return_is_asked_only_where_there_may_be_one(bench: Bench) -> None:
    _, typed = typing(bench)
    assert "return_within" not in {figure.key for figure in typed.figures}
    typed.write("cold_cycles", "2")
    assert "it is empty" in typed.complaint("return_within")
    typed.write("return_within", "30 min")
    assert typed.complaint("return_within") == ""
    assert typed.written()["return_within"] == "30 min"
    typed.write("cold_cycles", "1")
    assert "return_within" not in typed.written()


def test_frozen_paste_has_its_thawing_and_room_paste_no_cold() -> None:
    bench = Bench(site_f())
    frozen = next(paste for paste in bench.floor.plant.pastes.values() if paste.storage.value == "frozen")
    _, typed = typing(bench, frozen.id)
    assert {"thaw_at_least", "thaw_at_most"} <= {figure.key for figure in typed.figures}
    _, cold = typing(Bench())
    assert "thaw_at_least" not in {figure.key for figure in cold.figures}


def test_a_kind_added_needs_its_own_conditioning_time() -> None:
    bench, other = Bench(site_d()), "CART-600"
    begun, typed = typing(bench, texts=replace(typing(bench)[0].texts, kinds=("JAR-500",)))
    typed.write(f"conditioning.{other}", "")
    typed.choose_kinds(("JAR-500", other))
    assert "it is empty" in typed.complaint(f"conditioning.{other}")
    typed.write(f"conditioning.{other}", "4 h")
    typed.write("page", "99")
    assert not typed.complaints()
    told = checked.told(begun, typed.kinds, typed.written(), bench.floor)
    assert told.specification.minimum_for(other) == timedelta(hours=4)
    assert told.specification.minimum_for("SYR-35") is None
    typed.choose_kinds(("JAR-500",))
    typed.choose_kinds(("JAR-500", other))
    assert typed.text(f"conditioning.{other}") == "4 h", "what was typed comes back with its kind"


def test_a_figure_has_a_source_of_its_own_only_where_it_says_something_else(bench: Bench) -> None:
    begun, typed = typing(bench)
    typed.write("data_sheet", "SN-4 sheet, edition 8")
    typed.write("page", "4")
    typed.put_source(FigureSource("open_life", "SN-4 sheet, edition 8", "4"))
    assert typed.own_sources == frozenset()
    typed.put_source(FigureSource("open_life", "SN-4 sheet, edition 8", "7", "as told by the maker"))
    assert (typed.source("open_life").page, typed.source("stencil_life").page) == ("7", "4")
    told = checked.told(begun, typed.kinds, typed.written(), bench.floor, "why")
    assert told.specification.source_of("open_life").note == "as told by the maker"
    assert (told.specification.page, told.explanation) == ("4", "why")


def test_a_blank_one_asks_for_every_figure(bench: Bench) -> None:
    kinds = (next(iter(bench.floor.plant.kinds)),)
    _, typed = typing(bench, texts=Texts(kinds=kinds))
    empty = [told for told in typed.complaints().values() if "it is empty" in told]
    assert len(empty) == len(typed.figures) > 20
