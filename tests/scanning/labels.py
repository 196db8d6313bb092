"""Random labels of an invented site, and what becomes of each under every garble."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from datetime import timedelta
from random import Random

from station.bootstrap import DEMO_KEYS
from station.care.scans import ContainerScan, Scan, SeenLabel, UnreadScan
from station.care.words import Limit
from station.labels.containercode import container_id, pack_container
from station.labels.timecode import EPOCH, GOVERNING, TimeLabel, pack
from station.scanning.heard import HeardScan, candidates
from station.services.reading import Reader

from .garbling import Garble

MINUTE = timedelta(minutes=1)


def random_label(random: Random) -> TimeLabel:
    """Any label a station could print."""
    thaw_start = EPOCH + random.randrange(1, 1 << 24) * MINUTE
    return TimeLabel(
        station=random.randint(1, 255),
        counter=random.randrange(1, 1 << 20),
        print_number=random.randint(1, 63),
        thaw_start=thaw_start,
        earliest_use=thaw_start + random.randrange(1 << 12) * MINUTE,
        discard_by=thaw_start + random.randrange(1 << 19) * MINUTE,
        open_life=timedelta(hours=random.randint(1, 255)),
        paste_number=random.randrange(1 << 10),
        governing=random.choice(GOVERNING),
        leaded=random.random() < 0.3,
        key_id=DEMO_KEYS.current,
    )


def time_scan(label: TimeLabel) -> tuple[str, Scan]:
    """The text of a time label, and the scan it must be read as."""
    seen = SeenLabel(
        label.print_number,
        label.thaw_start,
        label.earliest_use,
        label.discard_by,
        label.open_life,
        label.paste_number,
        label.leaded,
        used_paste=label.governing is Limit.USED_PASTE,
    )
    return pack(label, DEMO_KEYS), ContainerScan(container_id(label.station, label.counter), seen)


def labels(seed: int, count: int) -> Iterator[tuple[str, Scan]]:
    """Texts of time labels and, every fourth, of identity labels, each with the scan it must be read as."""
    random = Random(seed)
    for number in range(count):
        label = random_label(random)
        if number % 4:
            yield time_scan(label)
        else:
            text = pack_container(label.station, label.counter, DEMO_KEYS)
            yield text, ContainerScan(container_id(label.station, label.counter))


def became(
    reader: Reader,
    texts: Iterable[tuple[str, Scan]],
    garbles: Iterable[Garble],
    places: Callable[[str], str | None] = lambda _: None,
) -> Counter[str]:
    """How many garbled texts were read as "themselves", were "refused", or became "another"; `places` as heard."""
    ways = tuple(garbles)
    found: Counter[str] = Counter()
    for text, meant in texts:
        for garble in ways:
            scan = reader.read(candidates(HeardScan(garble.of(text), places(text))))
            found["itself" if scan == meant else "refused" if isinstance(scan, UnreadScan) else "another"] += 1
    return found
