"""A restored journal before the station's first start on it: nobody may number containers in it yet."""

from station.journal.store import Journal
from station.services.outcome import Refusal


def refuse_unstarted(journal: Journal) -> None:
    """Raise Refusal while the journal has not said what it continues: its first fact says so, and no other."""
    if journal.continues:
        raise Refusal(
            "restored-unstarted", f"{journal.path} was restored and not used since. Start the station once first."
        )
