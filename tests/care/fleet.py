"""Several stations of one plant, each with a PC, a clock and a journal of its own, that meet now and then."""

from dataclasses import replace
from random import Random

from station.care.scans import SeenLabel
from station.care.verdict import Verdict
from station.services.memory import MemoryJournal
from station.services.site import Site
from tests.care.bench import Bench, site_t


class Fleet:
    """Stations by name. Time passes for all of them together; what they know they know apart until they meet."""

    def __init__(
        self, names: tuple[str, ...] = ("A", "B"), site: Site | None = None, start: str = "2026-11-08T12:00"
    ) -> None:
        """Stations that were just started."""
        plant = site or site_t()
        self.stations = {
            name: Bench(replace(plant, station=7 + place), start, MemoryJournal(place + 1))
            for place, name in enumerate(names)
        }

    def __getitem__(self, name: str) -> Bench:
        """One station."""
        return self.stations[name]

    def at(self, text: str) -> "Fleet":
        """Let time pass until the clocks show this plant time."""
        for bench in self.stations.values():
            bench.at(text)
        return self

    def later(self, minutes: float) -> "Fleet":
        """Let some minutes pass for everybody."""
        for bench in self.stations.values():
            bench.later(minutes)
        return self

    def meet(self, one: str, other: str, seed: int = 0) -> None:
        """Two stations tell each other everything, in whatever order of delivery."""
        first, second = self[one], self[other]
        told = {name: list(bench.journal.facts()) for name, bench in ((one, first), (other, second))}
        for bench, facts in ((first, told[other]), (second, told[one])):
            new = list(bench.journal.take(facts))
            Random(seed).shuffle(new)
            bench.station.learn(new)

    def label_of(self, name: str, station: str) -> SeenLabel:
        """The newest time label of a container, as its own station printed it."""
        container = self[station].container(name)
        assert container.out_from is not None
        assert container.earliest_use is not None
        discard_by = self[station].floor.standing(container).discard_by
        assert discard_by is not None
        paste = self[station].plant.pastes[container.paste]
        limits = self[station].limits(container.paste)
        return SeenLabel(
            container.print_number,
            container.out_from,
            container.earliest_use,
            discard_by,
            limits.open_life,
            paste.number,
            paste.alloy.leaded,
        )


def by_label(bench: Bench, name: str, place: str, label: SeenLabel) -> Verdict:
    """A container's time label is scanned at a station."""
    return bench.scan(name, place, label)
