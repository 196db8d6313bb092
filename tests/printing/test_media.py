"""What a queue says of its label sizes and resolutions, beside what the template needs."""

import pytest

from station.printing.media import Media, media_of, options_for, size_mm, warnings_for

OURS = Media(60, 40, 203)


def told(sizes: str, resolutions: str = "*203dpi") -> tuple[str, ...]:
    return warnings_for("labels", OURS, media_of(f"PageSize/Media Size: {sizes}\nResolution/Resolution: {resolutions}"))


def chosen(sizes: str, resolutions: str = "*203dpi") -> list[str]:
    queue = media_of(f"PageSize/Media Size: {sizes}\nResolution/Resolution: {resolutions}")
    return list(options_for(OURS, queue))


@pytest.mark.parametrize(
    ("name", "millimetres"),
    [
        ("w170h113", (60.0, 39.9)),  # a point is 1/72 inch (PostScript)
        ("w288h432", (101.6, 152.4)),
        ("60x40mm", (60.0, 40.0)),
        ("oe_label_60x40mm", (60.0, 40.0)),  # self-describing names, PWG 5101.1
        ("A4", None),
        ("Custom.WIDTHxHEIGHT", None),
    ],
)
def test_sizes_are_read_from_names_that_tell_them(name: str, millimetres: tuple[float, float] | None) -> None:
    found = size_mm(name)
    assert (found is None) == (millimetres is None)
    if found is not None and millimetres is not None:
        assert found == pytest.approx(millimetres, abs=0.05)


@pytest.mark.parametrize(
    "sizes", ["w288h432 *w170h113", "*w288h432 w170h113", "*60x40mm", "*w288h432 Custom.WIDTHxHEIGHT"]
)
def test_a_queue_that_has_or_takes_our_size_is_right(sizes: str) -> None:
    assert told(sizes) == ()


def test_a_size_nobody_can_read_is_not_called_wrong() -> None:
    """A warning that is not true would be switched off, and the true ones with it."""
    assert told("*Roll2in w288h432") == ()


def test_a_queue_that_hands_on_what_it_gets_tells_nothing_and_is_told_nothing() -> None:
    assert warnings_for("labels", OURS, media_of("")) == ()
    assert list(options_for(OURS, media_of(""))) == []


def test_another_size_is_named_with_ours() -> None:
    """BR-24."""
    (sentence,) = told("*w288h432 w144h72")
    assert "is set to 102 x 152 mm" in sentence
    assert "our label of 60 x 40 mm" in sentence
    assert sentence.endswith("or choose another template in site.toml.")


def test_a_queue_without_a_size_set_is_warned_of_all_the_same() -> None:
    (sentence,) = told("w288h432")
    assert sentence.startswith("Printer queue labels has no size for our label")


def test_a_size_that_is_ours_turned_is_told_as_that() -> None:
    """BR-24."""
    assert told("*w113h170") == (
        "Printer queue labels has our label of 60 x 40 mm turned only. Add the size 60 x 40 mm to the queue.",
    )


@pytest.mark.parametrize(
    ("sizes", "size"), [("*w288h432 w170h113", "w170h113"), ("*w9h9 Custom.WIDTHxHEIGHT", "Custom.60x40mm")]
)
def test_our_size_is_chosen_whatever_the_default(sizes: str, size: str) -> None:
    assert chosen(sizes) == [f"PageSize={size}", "Resolution=203dpi"]


def test_a_resolution_the_queue_has_beside_its_default_is_chosen() -> None:
    """BR-23."""
    assert chosen("*w170h113", "*300x600dpi 203x203dpi") == ["PageSize=w170h113", "Resolution=203x203dpi"]
    assert told("*w170h113", "*300x600dpi 203x203dpi") == ()


@pytest.mark.parametrize("resolutions", ["*300x600dpi", "*203x406dpi", "300dpi *600dpi"])
def test_no_resolution_of_ours_is_warned_of(resolutions: str) -> None:
    """BR-23."""
    (sentence,) = told("*w170h113", resolutions)
    assert "the label is drawn at 203" in sentence
    assert sentence.endswith("Set dpi in site.toml, [label], to that of the printer.")


def test_a_resolution_without_figures_is_not_called_wrong() -> None:
    assert told("*w170h113", "*Draft Best") == ()
