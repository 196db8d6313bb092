"""A clock that stands still until it is told: it can go on, jump, sleep and start again."""

from datetime import datetime, timedelta

from station.services.ports import ClockReading


class SetClock:
    """Wall, monotonic and boot clocks of an imagined PC."""

    def __init__(self, wall: datetime) -> None:
        """Start at an aware UTC instant."""
        self.wall = wall
        self._awake = timedelta(0)
        self._asleep = timedelta(0)
        self._boot = 1

    def read(self) -> ClockReading:
        """All clocks as they stand."""
        return ClockReading(
            wall=self.wall,
            monotonic=self._awake.total_seconds(),
            boot=f"boot-{self._boot}",
            since_boot=(self._awake + self._asleep).total_seconds(),
        )

    def go_on(self, length: timedelta) -> None:
        """Time passes with the PC awake."""
        self.wall += length
        self._awake += length

    def step(self, by: timedelta) -> None:
        """Somebody moves the wall clock; no time passes."""
        self.wall += by

    def sleep(self, length: timedelta) -> None:
        """The PC is suspended for a while."""
        self.wall += length
        self._asleep += length

    def restart(self) -> None:
        """The PC is started anew."""
        self._boot += 1
        self._awake = self._asleep = timedelta(0)
