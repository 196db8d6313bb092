"""Every code a site prints is long enough to be told from typing, and comes through the keyboard whole."""

import pytest

from station.bootstrap import code_list
from tests.scanning.typist import ENTER, keys, run, scans, timed
from tests.ui.plants import mid_shift

CODES = [text for _, entries in code_list(mid_shift().station) for _, text, _ in entries]


@pytest.mark.parametrize("text", CODES)
def test_it_is_heard_as_one_scan(text: str) -> None:
    assert scans(run(timed([*keys(text), ENTER]))) == [text]
