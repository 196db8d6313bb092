"""A delivery as a script tells it: what the truck brought, lot by lot, and how it looked."""

from collections.abc import Mapping
from datetime import UTC, date, datetime

from station.care.delivery import Delivery
from station.care.delivery_rules import Box, Packs
from station.care.receiving import Arrival, TemperatureAnswer
from station.services.attaching import Enclosed
from station.services.delivery import receive_delivery
from station.services.outcome import Outcome
from station.services.station import Station

Told = Mapping[str, object]


def deliver(station: Station, told: Told, at: datetime, aliases: dict[str, str]) -> Outcome:
    """Receive a delivery; each lot's `as` names its container, or its containers as A1, A2 and so on."""
    temperature = told.get("temperature")
    said = told.get("arrived")
    arrived = datetime.fromisoformat(str(said)).replace(tzinfo=station.site.zone).astimezone(UTC) if said else at
    tripped = told.get("indicator") == "indicator tripped"
    measured: TemperatureAnswer = "measured" if temperature is not None else "not measured"
    about = Delivery(
        id="",
        arrived_at=arrived,
        temperature_c=float(str(temperature)) if temperature is not None else None,
        temperature_answer="indicator tripped" if tripped else measured,
        packs=Packs(str(told.get("packs", ""))),
        box=Box(str(told.get("box", ""))),
        days_under_way=int(str(told["days"])) if "days" in told else None,
    )
    lots = told.get("lots")
    arrivals = [
        arrival for lot in (lots if isinstance(lots, list) else []) for arrival in _lot(station, lot, about, aliases)
    ]
    files = [Enclosed("logger.csv", str(told["logger"]).encode())] if "logger" in told else []
    return receive_delivery(station, about, arrivals, None, files)


def _lot(station: Station, told: Told, about: Delivery, aliases: dict[str, str]) -> list[Arrival]:
    count, leaking = int(str(told.get("count", 1))), int(str(told.get("leaking", 0)))
    names = [station.new_container() for _ in range(count)]
    alias = told.get("as")
    if alias is not None:
        called = [f"{alias}{place}" for place in range(1, count + 1)] if count > 1 else [str(alias)]
        aliases.update(zip(called, names, strict=True))
    return [
        Arrival(
            container=name,
            paste=str(told.get("paste")),
            kind=str(told.get("kind")),
            lot=str(told.get("lot", "")),
            expires=_day(told.get("expires")),
            made=_day(told.get("made")),
            arrived_at=about.arrived_at,
            temperature_c=about.temperature_c,
            temperature_answer=about.temperature_answer,
            leaking=place < leaking,
        )
        for place, name in enumerate(names)
    ]


def _day(told: object) -> date | None:
    return date.fromisoformat(str(told)) if told is not None else None
