"""A paste and its specification written as pastes.toml has them, so that the reader gives back the very same."""

import json
from collections.abc import Iterable, Iterator, Mapping
from datetime import timedelta

from station.care.moments import NOTHING
from station.care.specification import FigureSource, Paste, Product, Specification
from station.care.words import Storage
from station.settings.quantities import written

Keys = dict[str, object]
_LATER = ("specification", "conditioning", "sources")
_TWO_DAYS, _DAY = timedelta(days=2), timedelta(days=1)


def paste_table(paste: Paste, limits: Specification) -> Keys:
    """One `[[paste]]` with its `specification`, as a table of plain values."""
    return {
        "id": paste.id,
        "number": paste.number,
        "title": paste.title,
        "part_number": paste.part_number,
        "alloy": paste.alloy.value,
        "flux_class": paste.flux_class,
        "powder_type": paste.powder_type,
        "storage": paste.storage.value,
        **_where_said(paste),
        "bought_in": [entry.kind for entry in limits.conditioning],
        "specification": _specification(paste.storage, limits),
    }


def _where_said(paste: Paste) -> Keys:
    """What a site need not say of a paste, only where it does."""
    months = paste.least_shelf_months
    told: Keys = {
        "incoming_test": paste.incoming_test,
        "least_shelf_at_receipt": None if months is None else f"{months} months",
        "minimum_stock": paste.minimum_stock,
        "price_per_kg": paste.price_per_kg,
        "maker_codes": [{"code": entry.code, "kind": entry.kind} for entry in paste.maker_codes],
    }
    return {key: value for key, value in told.items() if value}


def _specification(storage: Storage, limits: Specification) -> Keys:
    approval = {"data_sheet": limits.data_sheet, "page": limits.page, "approved_by": limits.approved_by}
    return {
        "version": limits.version,
        **{key: value for key, value in approval.items() if value},
        **(_cold(storage, limits) if storage is not Storage.ROOM else {}),
        "arrival_warn_above": _celsius(limits.arrival_warn_above_c),
        "arrival_hold_above": _celsius(limits.arrival_hold_above_c),
        "arrival_hold_below": _celsius(limits.arrival_hold_below_c),
        "shelf_life": "as labelled" if limits.shelf_months is None else f"{limits.shelf_months} months",
        "floor": _celsius(limits.floor_c),
        "open_life": duration_text(limits.open_life),
        "stencil_life": duration_text(limits.stencil_life),
        "pause_knead": duration_text(limits.pause_knead),
        "pause_replace": duration_text(limits.pause_replace),
        "open_extension": duration_text(limits.open_extension),
        "stencil_time_counts_as_open": limits.stencil_time_counts_as_open,
        "printing_room_from": _celsius(limits.printing_room_c.low),
        "printing_room_to": _celsius(limits.printing_room_c.high),
        "printing_humidity_from": _percent(limits.printing_humidity.low),
        "printing_humidity_to": _percent(limits.printing_humidity.high),
        "mixings": limits.mixings,
        "decanted_life": _allowed(limits.decanted_life),
        "used_paste_life": _allowed(limits.used_paste_life),
        "enclosed_life": _allowed(limits.enclosed_life),
        **_inner(storage, limits),
    }


def _cold(storage: Storage, limits: Specification) -> Keys:
    """The limits of paste that is kept cold or frozen."""
    told: Keys = {
        "to_cold": duration_text(limits.to_cold),
        "room_life": duration_text(limits.room_life),
        "room_extension": duration_text(limits.room_extension),
        "cold_cycles": limits.cold_cycles,
    }
    if limits.return_within is not None:
        told["return_within"] = duration_text(limits.return_within)
    if storage is Storage.FROZEN:
        told["thaw_at_least"] = duration_text(limits.thaw.at_least if limits.thaw is not None else NOTHING)
        told["thaw_at_most"] = duration_text(limits.thaw.at_most if limits.thaw is not None else NOTHING)
    return told


def _inner(storage: Storage, limits: Specification) -> Keys:
    told: Keys = {}
    if storage is not Storage.ROOM:
        told["conditioning"] = {entry.kind: duration_text(entry.minimum) for entry in limits.conditioning}
    if limits.sources:
        told["sources"] = {source.key: _source(source) for source in limits.sources}
    return told


def _source(source: FigureSource) -> Keys:
    told = {"data_sheet": source.data_sheet, "page": source.page, "note": source.note}
    return {key: value for key, value in told.items() if value}


def duration_text(span: timedelta) -> str:
    """A length of time as a data sheet says it and the reader reads it: `7 d`, but `24 h`."""
    if not span:
        return "0 h"
    if span < _TWO_DAYS and span >= _DAY:
        hours, rest = divmod(span, timedelta(hours=1))
        return f"{hours} h" if not rest else f"{hours} h {written(rest)}"
    return written(span)


def _celsius(figure: float) -> str:
    return f"{figure:.10g} C"


def _percent(figure: float) -> str:
    return f"{figure:.10g} %"


def _allowed(span: timedelta | None) -> str:
    return "not allowed" if span is None else duration_text(span)


def product_table(product: Product) -> Keys:
    """One `[[product]]` of products.toml."""
    return {"id": product.id, "title": product.title, "pastes": list(product.pastes)}


def toml_text(tables: Iterable[Mapping[str, object]], of: str = "paste") -> str:
    """Tables of `paste_table`, or of `product_table` where they are `of` "product", as the text of a file."""
    return "\n".join("\n".join((*_lines(table, of), "")) for table in tables)


def _lines(table: Mapping[str, object], of: str) -> Iterator[str]:
    yield f"[[{of}]]"
    yield from _pairs(table)
    yield from _tables(of, table)


def _tables(header: str, table: Mapping[str, object]) -> Iterator[str]:
    for key in _LATER:
        inner = table.get(key)
        if isinstance(inner, Mapping):
            yield ""
            yield f"[{header}.{key}]"
            yield from _pairs(inner)
            yield from _tables(f"{header}.{key}", inner)


def _pairs(table: Mapping[str, object]) -> Iterator[str]:
    for key, value in table.items():
        if key not in _LATER:
            yield f"{_key(key)} = {_value(value)}"


def _key(key: str) -> str:
    return key if key.replace("_", "").replace("-", "").isalnum() and key.isascii() else _value(key)


def _value(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{_key(key)} = {_value(inner)}" for key, inner in value.items()) + " }"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(_value, value)) + "]"
    return str(value) if isinstance(value, int) else json.dumps(value, ensure_ascii=False)
