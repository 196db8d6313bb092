"""What an engineer has typed of a specification so far: nothing is lost by a wrong field, and no widget is needed."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from station.care.specification import FigureSource, Specification
from station.care.words import Storage
from station.ui.specs.table import PER_KIND, Figure, Page, figures_of

DATA_SHEET, PAGE, BOUGHT_IN = "data_sheet", "page", "bought_in"
Checking = Callable[[tuple[str, ...], Mapping[str, object]], Mapping[str, str]]


@dataclass(frozen=True, slots=True)
class Texts:
    """A specification as texts: the kinds it is bought in, figures by key, data sheet, figures' own sources."""

    kinds: tuple[str, ...] = ()
    figures: Mapping[str, str] = field(default_factory=dict)
    data_sheet: str = ""
    page: str = ""
    sources: Mapping[str, FigureSource] = field(default_factory=dict)


def texts_of(figures: tuple[Figure, ...], found: Specification) -> Texts:
    """A specification as it is typed."""
    kinds = tuple(entry.kind for entry in found.conditioning)
    told = {figure.key: figure.told(found) for figure in figures}
    return Texts(kinds, told, found.data_sheet, found.page, {source.key: source for source in found.sources})


class Typed:
    """The texts of every field, as they began and as they stand. Keys are those of pastes.toml.

    `checking` takes the kinds and what stands under `[paste.specification]`, and says what is wrong by key.
    """

    def __init__(self, storage: Storage, titles: Mapping[str, str], begun: Texts, checking: Checking) -> None:
        """Nothing is typed yet; a figure without a text begins empty. `titles` are those of all kinds, by id."""
        self._storage, self._titles, self._begun, self._checking = storage, titles, begun, checking
        self.kinds = begun.kinds
        self._texts = dict(begun.figures)
        self._sheet = {DATA_SHEET: begun.data_sheet, PAGE: begun.page}
        self._sources = dict(begun.sources)
        self._found: Mapping[str, str] | None = None

    @property
    def figures(self) -> tuple[Figure, ...]:
        """The figures that have a meaning beside the others: time before a return only where there may be one."""
        returns = self.text("cold_cycles").strip() not in ("", "0", "1")
        every = figures_of(self._storage, {kind: self._titles.get(kind, kind) for kind in self.kinds})
        return tuple(figure for figure in every if figure.key != "return_within" or returns)

    @property
    def changed(self) -> bool:
        """Whether leaving would lose anything."""
        begun, sheet = self._begun, {DATA_SHEET: self._begun.data_sheet, PAGE: self._begun.page}
        texts = {key: text for key, text in self._texts.items() if text != begun.figures.get(key, "")}
        return bool(texts) or self._sheet != sheet or self._sources != begun.sources or self.kinds != begun.kinds

    def choose_kinds(self, kinds: tuple[str, ...]) -> None:
        """It is bought in these; what was typed of another one is kept in case it comes back."""
        self.kinds, self._found = kinds, None

    def text(self, key: str) -> str:
        """What stands in the field of a figure, of DATA_SHEET or PAGE."""
        return self._sheet[key] if key in self._sheet else self._texts.get(key, "")

    def write(self, key: str, text: str) -> None:
        """Somebody typed into a field."""
        (self._sheet if key in self._sheet else self._texts)[key] = text
        self._found = None

    def source(self, key: str) -> FigureSource:
        """Where a figure comes from: its own source, else that of all the others."""
        return self._sources.get(key, self._of_all(key))

    @property
    def own_sources(self) -> frozenset[str]:
        """The figures that come from elsewhere than the others."""
        return frozenset(self._sources)

    def put_source(self, source: FigureSource) -> None:
        """A figure comes from elsewhere than the others; one that says the same as they do has none of its own."""
        self._sources.pop(source.key, None)
        if source != self._of_all(source.key):
            self._sources[source.key] = source
        self._found = None

    def complaint(self, key: str) -> str:
        """What is wrong with a field and how to mend it; empty where nothing is."""
        return self.complaints().get(key, "")

    def complaints(self) -> Mapping[str, str]:
        """Every field with its sentence, in the order of the form: what can't be read, then what does not fit together.

        A key that is no field here is something wrong with the whole.
        """
        if self._found is None:
            told = {figure.key: figure.complaint(self.text(figure.key)) for figure in self.figures}
            unread = {key: sentence for key, sentence in told.items() if sentence}
            together = {**self._checking(self.kinds, self.written()), **unread}
            keys = (*self._sheet, *(figure.key for figure in self.figures))
            place = {key: number for number, key in enumerate(keys)}
            self._found = dict(sorted(together.items(), key=lambda one: place.get(one[0], -1)))
        return self._found

    def faulty(self, page: Page) -> int:
        """How many fields of a page are to be mended."""
        keys = {figure.key for figure in self.figures if figure.page is page}
        return sum(key in keys for key in self.complaints())

    def written(self) -> dict[str, object]:
        """Everything as it stands in a file under `[paste.specification]`."""
        plain = {figure.key: self._as_written(figure) for figure in self.figures if not _of_a_kind(figure)}
        kinds = {figure.key[len(PER_KIND) :]: self._as_written(figure) for figure in self.figures if _of_a_kind(figure)}
        sheet = {key: text.strip() for key, text in self._sheet.items() if text.strip()}
        sources = {key: source_written(source) for key, source in self._sources.items()}
        tables = {"conditioning": kinds, "sources": sources}
        return {**sheet, **plain, **{key: table for key, table in tables.items() if table}}

    def _as_written(self, figure: Figure) -> object:
        return figure.as_written(self.text(figure.key))

    def _of_all(self, key: str) -> FigureSource:
        return FigureSource(key, self._sheet[DATA_SHEET].strip(), self._sheet[PAGE].strip())


def source_written(source: FigureSource) -> dict[str, object]:
    """A figure's own source as it stands in a file."""
    told = {DATA_SHEET: source.data_sheet, PAGE: source.page, "note": source.note}
    return {key: text for key, text in told.items() if text}


def _of_a_kind(figure: Figure) -> bool:
    return figure.key.startswith(PER_KIND)
