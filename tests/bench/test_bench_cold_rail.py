"""The rail over time out of the cold at length: many more random walks beside plain books."""

import pytest
from hypothesis import settings

from tests.care.test_cold_rail import ColdRail

pytestmark = pytest.mark.timeout(3600)


class LongColdRail(ColdRail):
    """The same acts and the same books."""


TestLongColdRail = LongColdRail.TestCase
TestLongColdRail.settings = settings(parent=ColdRail.TestCase.settings, max_examples=500, stateful_step_count=40)
