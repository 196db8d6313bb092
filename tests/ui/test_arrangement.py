"""The parts of a screen stand side by side: none on top of another, none outside."""

import pytest

from station.ui.arrangement import Box, bands, split_height, split_side, split_width

BODY = Box(20, 100, 1000, 600)


@pytest.mark.parametrize(("banner", "strips"), [(0, 0), (50, 0), (0, 84), (50, 84)])
def test_bands_follow_one_another_to_the_foot(banner: float, strips: float) -> None:
    parts = bands(1024, 768, 60, banner, strips, 40, 16)
    assert parts.bar.bottom == parts.banner.top
    assert parts.banner.bottom <= parts.strips.top
    assert parts.strips.bottom < parts.body.top
    assert parts.body.bottom < parts.bottom.top
    assert parts.bottom.bottom == 768


def test_a_banner_and_strips_take_their_height_from_the_body() -> None:
    plain, full = bands(1024, 768, 60, 0, 0, 40, 16), bands(1024, 768, 60, 50, 84, 40, 16)
    assert plain.body.height - full.body.height == 50 + 84 + 16


@pytest.mark.parametrize("narrow", [True, False])
def test_the_verdict_stands_left_of_the_board(narrow: bool) -> None:
    left, right = split_side(BODY, 16, narrow=narrow)
    assert left.right + 16 == right.left
    assert right.right == BODY.right
    assert 0.3 < left.width / BODY.width < 0.4


def test_the_board_gives_way_to_the_least_height_of_what_is_below() -> None:
    upper, lower = split_height(BODY, 900, 300, 200, 16)
    assert lower.height == 200
    assert upper.bottom + 16 == lower.top


def test_room_left_over_goes_below_the_board() -> None:
    upper, lower = split_height(BODY, 250, 300, 200, 16)
    assert upper.height == 250
    assert lower.bottom == BODY.bottom


def test_without_anything_below_the_board_has_it_all() -> None:
    upper, lower = split_height(BODY, 250, 0, 0, 16)
    assert upper == BODY
    assert lower.height == 0


def test_two_parts_share_the_width() -> None:
    left, right = split_width(BODY, 0.6, 20)
    assert left.width == 588
    assert left.right + 20 == right.left
    assert right.right == BODY.right
