"""Scans as no scanner should make them, thrown at a whole station: what is read must be what was printed.

Shared by the tests, which throw 20,000, and the benchmark run, which throws a million. Every seed gives the same
scans every time.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from station.bootstrap import DEMO_KEYS
from station.care import facts as f
from station.care.facts import Fact
from station.care.scans import MakersLabelScan, Scan, UnreadScan, WorkOrderScan
from station.labels.containercode import container_numbers, pack_container
from station.scanning.heard import HeardScan, candidates
from station.services.memory import MemoryJournal
from station.services.ports import Draft
from tests.care.bench import Bench

from .garbling import GARBLES
from .labels import random_label, time_scan

AWKWARD: tuple[str, ...] = (
    *"0OIl1QZYAWM -_/:;+*$%!?&\"'()[]{}<>|~^`´#@,.=\\",
    *"\x00\x04\x1b\x1c\x1d\x1e\x1f\t\n\r\x7f\x85\xa0",
    *"äßẞÉÑıİſµ\u0301\u200b\u202e\u2028\ufeff\ud800漢Ｖ１٣²½😀",
)
PREFIXES = ("]Q1", "]C1", "]d2\x1d", "]Q3", "\x1d", "]]", "]Q", " ", "+Q1")
ACTED_ON = 0.05  # of the scans that are read; days of right scans are tested with the rules
ENDS = ("\r", "\n", "\r\n", " ", "\t", "\x1d", "\x04")


class QuickJournal(MemoryJournal):
    """A journal in memory that numbers by its length: thousands of scans on one station."""

    def append(self, drafts: Sequence[Draft]) -> tuple[Fact, ...]:
        """Store all drafts."""
        start = len(self._facts)
        placed = tuple(
            Fact(self.number, place, place, draft.at, draft.station, draft.who, draft.segment, draft.body)
            for place, draft in enumerate(drafts, start=start + 1)
        )
        self._facts.extend(placed)
        return placed

    @property
    def count(self) -> int:
        """Facts so far."""
        return len(self._facts)

    def since(self, count: int) -> list[Fact]:
        """The facts after the first `count`."""
        return self._facts[count:]


@dataclass(frozen=True)
class Thrown:
    """One fuzzed scan, and the texts it was made from."""

    heard: HeardScan
    made_from: tuple[str, ...]


class Thrower:
    """Makes fuzzed scans from the texts a site has printed."""

    def __init__(self, random: Random, printed: Sequence[str]) -> None:
        """The same random numbers and texts give the same scans."""
        self.random, self.printed = random, printed

    def throw(self) -> Thrown:
        """The next scan: one or two printed texts, damaged up to three times."""
        random = self.random
        first = random.choice(self.printed)
        sources = [first]
        text = first
        for _ in range(random.randrange(4)):
            damage = random.choice((self.garble, self.edit, self.edit, self.cut, self.wrap, self.junk))
            text = damage(text)
        if random.random() < 0.05:
            sources.append(random.choice(self.printed))
            text += sources[-1]
        return Thrown(HeardScan(text, self.places(text, first, sources)), tuple(sources))

    def places(self, text: str, first: str, sources: list[str]) -> str | None:
        """What the key places say: mostly nothing, else the truth, the same as the text, or something else."""
        chance = self.random.random()
        if chance < 0.6:
            return None
        if chance < 0.75:
            return first
        if chance < 0.9:
            return text
        sources.append(self.random.choice(self.printed))
        return self.edit(sources[-1])

    def garble(self, text: str) -> str:
        """A wrong keyboard."""
        return self.random.choice(GARBLES).of(text)

    def edit(self, text: str) -> str:
        """A character dropped, changed, added, doubled, or two swapped."""
        if not text:
            return self.random.choice(AWKWARD)
        at = self.random.randrange(len(text))
        head, here, tail = text[:at], text[at], text[at + 1 :]
        other: str = self.random.choice((*AWKWARD, *"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"))
        damaged: tuple[str, ...] = (
            head + tail,
            head + other + tail,
            head + other + here + tail,
            head + here + here + tail,
            head + tail[:1] + here + tail[1:],
        )
        return self.random.choice(damaged)

    def cut(self, text: str) -> str:
        """The head, the tail or the middle of it."""
        first, last = sorted(self.random.choices(range(len(text) + 1), k=2))
        return self.random.choice((text[:last], text[first:], text[first:last]))

    def wrap(self, text: str) -> str:
        """What scanners put around a code."""
        return self.random.choice(("", *PREFIXES)) + text + self.random.choice(("", *ENDS))

    def junk(self, text: str) -> str:
        """Something else altogether, now and then very long."""
        count = 3000 if self.random.random() < 0.01 else self.random.randrange(60)
        return "".join(self.random.choices(AWKWARD, k=count)) + (text if self.random.random() < 0.1 else "")


class Target:
    """A station with a few containers about, and the texts printed for it."""

    def __init__(self, seed: int) -> None:
        """A station just started; containers in every state a scan may find."""
        self.random = Random(seed)
        self.journal = QuickJournal()
        self.bench = Bench(journal=self.journal)
        self.names = [self.bench.receive(), self.bench.cold(), self.bench.ready()]
        self.reader = self.bench.station.reader
        self.meanings = self._meanings()
        self.thrower = Thrower(self.random, tuple(self.meanings))
        self.places = [place.id for place in self.bench.site.places]

    def _meanings(self) -> dict[str, Scan]:
        """Every text the site printed and what it says; also labels and a work order of containers unknown here."""
        texts = [*self.reader.known.meaning, "WO8851-CTRL"]
        texts += [pack_container(*container_numbers(name), DEMO_KEYS) for name in self.names]
        meanings = {text: self.reader.read([text]) for text in texts}
        meanings |= dict(time_scan(random_label(self.random)) for _ in range(4))
        return meanings

    def throw(self, count: int) -> Counter[str]:
        """Throw so many scans; how many were read as what was printed, were refused, or went wrong."""
        return Counter(self._thrown() for _ in range(count))

    def _thrown(self) -> str:
        thrown = self.thrower.throw()
        texts = candidates(thrown.heard, whole=True)  # as the window asks
        scan = self.reader.read(texts)
        if not isinstance(scan, UnreadScan) and not self._was_printed(scan, thrown, texts):
            return f"{thrown} read as {scan}"
        begins_nothing = isinstance(scan, UnreadScan | MakersLabelScan)
        if not begins_nothing and self.random.random() > ACTED_ON:
            return "read"
        before = self.journal.count
        outcome = self.bench.station.scanned(scan, self.random.choice(self.places))
        assert outcome.verdict is not None
        if not begins_nothing:
            return "read"
        written = self.journal.since(before)
        refusals = [fact for fact in written if isinstance(fact.body, f.ScanRefused)]
        if isinstance(scan, MakersLabelScan) and not written:
            return "read"
        return "refused" if len(written) == len(refusals) == 1 else f"facts for a refused scan: {written}"

    def _was_printed(self, scan: Scan, thrown: Thrown, texts: tuple[str, ...]) -> bool:
        """Whether the scan says what one of its sources said; what nobody signed says what its letters say.

        A work order is read by its pattern, a maker's label by the identifier that the scanner put in front.
        """
        if isinstance(scan, MakersLabelScan):
            return any(scan.label.text.upper() in text.upper() for text in texts)
        if isinstance(scan, WorkOrderScan):
            return any(text.strip().upper().endswith(f"{scan.order}-{scan.product}") for text in texts)
        return any(scan == self.meanings[text] for text in thrown.made_from)
