"""A label printer that answers later, when a test says so."""

from station.labels.content import LabelContent
from station.labels.sheet_codes import SheetCode
from station.labels.target import Fate, PrintNews


class SlowPrinter:
    """Takes labels, and has the news a test gives it."""

    name = "printer labels"

    def __init__(self) -> None:
        """Nothing asked for."""
        self.tickets: list[str] = []
        self.untold: list[PrintNews] = []
        self.against = ""
        self.at_the_end: tuple[PrintNews, ...] = ()
        self.cards: list[str] = []
        self.looked_for: list[tuple[str, int, str]] = []

    def send(self, content: LabelContent) -> str:
        """Put it in line."""
        self.tickets.append(f"ticket {len(self.tickets) + 1} {content.container}")
        return self.tickets[-1]

    def look_for(self, container: str, number: int, job: str) -> str:
        """Remember what was asked about."""
        self.looked_for.append((container, number, job))
        return self.earlier()

    def earlier(self) -> str:
        """The ticket of the label of an earlier run that was asked about last."""
        return f"earlier ticket {len(self.looked_for)}"

    def send_card(self, code: SheetCode) -> str:
        """Put a card in line."""
        self.cards.append(code.name)
        return f"card {code.name}"

    def answers(self, fate: Fate, sentence: str, place: int = -1) -> None:
        """What became of a label, by default of the last."""
        self.untold.append(PrintNews(self.tickets[place], fate, sentence))

    def news(self) -> tuple[PrintNews, ...]:
        """Tell each piece once."""
        told, self.untold = tuple(self.untold), []
        return told

    def last_news(self, within_s: float) -> tuple[PrintNews, ...]:
        """What comes while the program ends."""
        assert within_s < 10
        return (*self.news(), *self.at_the_end)

    def trouble(self) -> str:
        """What stands against printing."""
        return self.against

    def close(self) -> None:
        """Nothing to let go of."""
