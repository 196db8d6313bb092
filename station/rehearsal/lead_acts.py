"""Decisions of leads and engineers as a script tells them: a JSON object with what the act needs, badge and PIN."""

from collections.abc import Callable, Mapping
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from station.care import facts as f
from station.care.cold_readings_back import TakeBack
from station.care.cold_readings_rules import Mistake
from station.care.correction import Correction
from station.care.fold_lot import lot_name
from station.care.late import Late
from station.care.stores import WholeStore
from station.services import lead_acts
from station.services.cold_readings import give_minutes_back, see_excursions, take_back_readings
from station.services.outcome import Outcome
from station.services.station import Proof, Station
from station.services.stock import move_store, store_out_since

Told = Mapping[str, object]
LeadAct = Callable[[Station, Told, Proof], Outcome]


def _text(told: Told, key: str) -> str:
    return str(told.get(key, ""))


def _day(told: Told, key: str) -> date | None:
    return date.fromisoformat(str(told[key])) if key in told else None


def _instant(told: Told, key: str, zone: ZoneInfo) -> datetime | None:
    if key not in told:
        return None
    moment = datetime.fromisoformat(str(told[key]))
    return (moment if moment.tzinfo else moment.replace(tzinfo=zone)).astimezone(UTC)


def _hold_lot(station: Station, told: Told, proof: Proof) -> Outcome:
    return lead_acts.hold_lot(station, _text(told, "paste"), _text(told, "lot"), _text(told, "note"), proof)


def _release_lot(station: Station, told: Told, proof: Proof) -> Outcome:
    lot_id = lot_name(_text(told, "paste"), _text(told, "lot"))
    known = station.ledger.lots.get(lot_id)
    hold = known.holds[0].key if known is not None and known.holds else ""
    return lead_acts.release_lot(station, lot_id, hold, _text(told, "note"), proof, _text(told, "document"))


def _recertify_lot(station: Station, told: Told, proof: Proof) -> Outcome:
    expires = date.fromisoformat(_text(told, "expires"))
    second = Proof(_text(told, "second_badge"), _text(told, "second_pin"))
    document = _text(told, "document")
    return lead_acts.recertify_lot(
        station, _text(told, "paste"), _text(told, "lot"), expires, document, (proof, second)
    )


def _take_out_late(station: Station, told: Told, proof: Proof) -> Outcome:
    zone = station.site.zone
    earliest, latest = _instant(told, "earliest", zone), _instant(told, "latest", zone)
    if earliest is None or latest is None:
        raise ValueError('"take_out_late" needs "earliest" and "latest"')
    late = Late(_text(told, "container"), earliest, latest, _text(told, "reason"))
    return lead_acts.take_out_late(station, late, proof)


def _of_store(act: Callable[[Station, WholeStore, Proof], Outcome]) -> LeadAct:
    def done(station: Station, told: Told, proof: Proof) -> Outcome:
        since = _instant(told, "since", station.site.zone)
        if since is None:
            raise ValueError('what is said of a whole store needs "since"')
        return act(station, WholeStore(_text(told, "store"), since, _text(told, "reason"), _text(told, "to")), proof)

    return done


def _correct(station: Station, told: Told, proof: Proof) -> Outcome:
    temperature = told.get("temperature")
    correction = Correction(
        container=_text(told, "container"),
        reason=_text(told, "reason"),
        paste=_text(told, "paste") or None,
        kind=_text(told, "kind") or None,
        lot=_text(told, "lot") if "lot" in told else None,
        expires=_day(told, "expires"),
        arrived_at=_instant(told, "arrived", station.site.zone),
        temperature_c=float(str(temperature)) if temperature is not None else None,
    )
    return lead_acts.correct_receipt(station, correction, proof)


def _take_back(station: Station, told: Told, proof: Proof) -> Outcome:
    kind = "container" if "container" in told else "position"
    return lead_acts.take_back(station, (kind, _text(told, kind)), _text(told, "reason"), proof)


def _choose_version(station: Station, told: Told, proof: Proof) -> Outcome:
    version = int(_text(told, "version"))
    return lead_acts.choose_version(station, _text(told, "container"), version, _text(told, "reason"), proof)


def _readings_back(station: Station, told: Told, proof: Proof) -> Outcome:
    """The newest file of that name."""
    store, name = _text(told, "store"), _text(told, "file")
    files = station.ledger.cold.files(store)
    keys = [fact.key for fact in files if isinstance(fact.body, f.ReadingsImported) and fact.body.file == name]
    mistake = Mistake(_text(told, "mistake"))
    return take_back_readings(station, TakeBack(store, keys[-1] if keys else "", mistake, _text(told, "reason")), proof)


def _excursions_seen(station: Station, told: Told, proof: Proof) -> Outcome:
    store = _text(told, "store")
    return see_excursions(station, store, station.ledger.cold.unseen(store), _text(told, "note"), proof)


def _minutes_back(station: Station, told: Told, proof: Proof) -> Outcome:
    return give_minutes_back(station, _text(told, "container"), _text(told, "reason"), proof)


LEAD_ACTS: dict[str, LeadAct] = {
    "readings_back": _readings_back,
    "excursions_seen": _excursions_seen,
    "minutes_back": _minutes_back,
    "hold_lot": _hold_lot,
    "release_lot": _release_lot,
    "recertify_lot": _recertify_lot,
    "take_out_late": _take_out_late,
    "move_store": _of_store(move_store),
    "store_out": _of_store(store_out_since),
    "correct": _correct,
    "take_back": _take_back,
    "choose_version": _choose_version,
}
