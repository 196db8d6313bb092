"""What is stored of a fact, and that it comes back as it was."""

import dataclasses
import json
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any, ClassVar
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.care.facts import (
    SCHEMA,
    Cleaned,
    ClockStepped,
    Ended,
    Fact,
    LabelSent,
    Loaded,
    Removed,
    RoomRead,
    Segment,
    SpecificationSet,
)
from station.care.words import Ending, Limit
from station.journal.codec import Codec, Unreadable
from station.services.ports import JournalRefusal
from tests.care.bench import site_t
from tests.journal.material import BODIES, SEGMENT, T0, arrival, bodies, placed

CODEC = Codec()


def in_utc(value: Any) -> Any:
    """The value with every instant named in UTC: two names of an instant in a doubled hour do not compare."""
    if isinstance(value, datetime):
        return value.astimezone(UTC)
    if isinstance(value, tuple):
        return tuple(in_utc(part) for part in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        parts = {field.name: in_utc(getattr(value, field.name)) for field in dataclasses.fields(value)}
        return type(value)(**parts)
    return value


def stored_fields(fact: Fact) -> dict[str, Any]:
    fields: dict[str, Any] = json.loads(CODEC.write(fact)[0])
    return fields


@pytest.mark.parametrize("kind", BODIES, ids=lambda kind: kind.NAME)
@settings(max_examples=30)
@given(data=st.data())
def test_every_kind_of_fact_comes_back_as_it_was(kind: type, data: st.DataObject) -> None:
    fact = placed(data.draw(bodies(kind)))
    text, settled = CODEC.write(fact)
    assert CODEC.read(text) == settled == in_utc(fact)


def test_every_kind_of_fact_has_its_own_short_name() -> None:
    assert len({kind.NAME for kind in BODIES}) == len(BODIES)  # type: ignore[attr-defined]


def test_the_text_is_canonical() -> None:
    fact = Fact(
        journal=0x2A,
        seq=7,
        tick=9,
        at=datetime(2027, 7, 1, 8, 0, 0, 250, tzinfo=ZoneInfo("Europe/Berlin")),
        station=3,
        who=None,
        segment=Segment("boot-a", 2),
        body=Removed(position="P1", bead='Kühlraum "ë" 최', replaced_earlier=False),
    )
    assert CODEC.write(fact)[0] == (
        '{"at":"2027-07-01T06:00:00.000250Z","body":{"bead":"Kühlraum \\"ë\\" 최","position":"P1",'
        '"replaced_earlier":false},"journal":"000000000000002a","name":"removed","schema":2,"segment":["boot-a",2],"seq":7,"station":3,'
        '"tick":9,"who":null}'
    )


def test_durations_are_whole_microseconds_and_words_their_values() -> None:
    stepped = stored_fields(placed(ClockStepped(timedelta(hours=-2, microseconds=1), T0, suspended=False)))
    ended = stored_fields(placed(Ended("C-1", Ending.USED_UP, "", "bench", 12.5)))
    assert stepped["body"]["by"] == -7_199_999_999
    assert ended["body"]["ending"] == "used up"
    assert "NAME" not in ended["body"]


def test_br_56_an_instant_given_in_a_zone_is_stored_as_that_instant() -> None:
    berlin = datetime(2027, 7, 1, 8, 0, tzinfo=ZoneInfo("Europe/Berlin"))
    _, settled = CODEC.write(placed(Cleaned("P1"), at=berlin))
    assert settled.at.isoformat() == "2027-07-01T06:00:00+00:00"


@pytest.mark.parametrize(("fold", "utc_hour"), [(0, 0), (1, 1)])
def test_br_32_both_half_past_two_of_the_doubled_hour_keep_apart(fold: int, utc_hour: int) -> None:
    at = datetime(2027, 10, 31, 2, 30, tzinfo=ZoneInfo("Europe/Berlin"), fold=fold)
    _, settled = CODEC.write(placed(Cleaned("P1"), at=at))
    assert settled.at == datetime(2027, 10, 31, utc_hour, 30, tzinfo=UTC)


def test_br_41_a_time_without_zone_never_gets_into_a_fact() -> None:
    naive = datetime(2027, 7, 1, 8, 0)  # noqa: DTZ001  (that is the point)
    with pytest.raises(ValueError, match="names no zone"):
        CODEC.write(placed(Cleaned("P1"), at=naive))
    with pytest.raises(ValueError, match="names no zone"):
        CODEC.write(placed(ClockStepped(timedelta(0), naive, suspended=False)))


@pytest.mark.parametrize("lot", ["00123", "1E5", "15E2621", "+5", "", " 7 ", "NaN", "\x00\x1d", "\ud83d"])
def test_br_55_lot_codes_stay_the_text_they_are(lot: str) -> None:
    text, settled = CODEC.write(placed(arrival(lot).body))
    assert settled.body == arrival(lot).body
    assert text.encode("utf-8")


def test_a_whole_number_where_a_decimal_belongs_is_taken_as_one() -> None:
    text, settled = CODEC.write(placed(RoomRead(temperature_c=23, humidity=45)))
    assert '"humidity":45.0,"repeated":false,"source":"","temperature_c":23.0' in text
    assert settled.body == RoomRead(23.0, 45.0)


def wrongly_typed(**fields: Any) -> Any:
    return dataclasses.replace(arrival("1").body, **fields)


@pytest.mark.parametrize(
    "body",
    [
        wrongly_typed(lot=123),
        wrongly_typed(leaking=1),
        wrongly_typed(expires=T0),
        wrongly_typed(temperature_c="7"),
        wrongly_typed(temperature_c=float("nan")),
        wrongly_typed(temperature_c=True),
        wrongly_typed(arrived_at=date(2027, 7, 1)),
        Ended("C-1", "eaten", "", "bench", None),  # type: ignore[arg-type]
        Loaded("C", "P", "s", "l", None, True, T0, (("OPEN", T0),), False),  # type: ignore[arg-type]
    ],
)
def test_a_fact_that_could_not_be_read_again_is_not_written(body: Any) -> None:
    with pytest.raises(ValueError, match=r"wrong type|Out of range float"):
        CODEC.write(placed(body))


@dataclasses.dataclass
class Growing:
    """A body that is not the same when built again."""

    NAME: ClassVar[str] = "growing"
    count: int

    def __post_init__(self) -> None:
        self.count += 1


def test_a_fact_that_would_come_back_different_is_not_written() -> None:
    with pytest.raises(ValueError, match="would not come back as it is"):
        Codec(bodies=[Growing]).write(placed(Growing(1)))  # type: ignore[arg-type]


def test_limits_keep_their_words_and_order() -> None:
    limits = ((Limit.OPEN, T0), (Limit.ROOM, T0 + timedelta(hours=1)))
    body = Loaded("C-1", "P1", "sac-a", "17", None, True, T0, limits, False)
    _, settled = CODEC.write(placed(body))
    assert settled.body == body


def changed(**fields: Any) -> str:
    return json.dumps(stored_fields(placed(Cleaned("P1"))) | fields)


def test_a_newer_schema_is_refused_with_what_to_do() -> None:
    with pytest.raises(JournalRefusal, match=r"schema 3.*up to 2. Install the newer version") as caught:
        CODEC.read(changed(schema=3))
    assert caught.value.code == "journal-newer-fact"


def test_an_unknown_fact_is_refused_by_name() -> None:
    with pytest.raises(JournalRefusal, match="'teleported', which this program does not know") as caught:
        CODEC.read(changed(name="teleported"))
    assert caught.value.code == "journal-unknown-fact"


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        "{}",
        changed(body={}),
        changed(body={"position": "P1", "colour": "red"}),
        changed(body={"position": 1}),
        changed(body=None),
        changed(at="2027-07-01T06:00:00"),
        changed(at="yesterday"),
        changed(segment=["boot-a"]),
        changed(seq="1"),
        changed(seq=True),
        changed(who=5),
        changed(journal="xyz"),
    ],
)
def test_text_that_is_no_fact_is_said_to_be_unreadable(text: str) -> None:
    with pytest.raises(Unreadable):
        CODEC.read(text)


def test_a_duration_out_of_all_bounds_is_unreadable() -> None:
    fields = stored_fields(placed(ClockStepped(timedelta(0), T0, suspended=False)))
    fields["body"]["by"] = 10**30
    with pytest.raises(Unreadable):
        CODEC.read(json.dumps(fields))


def test_old_facts_are_lifted_step_by_step_and_others_pass_unchanged() -> None:
    lifts = {
        ("cleaned", SCHEMA): lambda fields: {"place": fields["position"]},
        ("cleaned", SCHEMA + 1): lambda fields: {"position": fields["place"].upper()},
    }
    later = Codec(schema=SCHEMA + 2, lifts=lifts)
    old, _ = CODEC.write(placed(Cleaned("p1")))
    seen, _ = CODEC.write(placed(RoomRead(23.0, 45.0)))
    assert later.read(old).body == Cleaned("P1")
    assert later.read(seen).body == RoomRead(23.0, 45.0)
    assert later.read(changed(schema=SCHEMA + 2)).segment == SEGMENT


def test_a_specification_written_before_the_desk_had_drafts_has_none_and_no_sources_of_single_figures() -> None:
    fields = stored_fields(placed(SpecificationSet(site_t().specifications[0], "d")))
    for younger in ("draft", "paste", "replaces"):
        del fields["body"][younger]
    del fields["body"]["specification"]["sources"]
    read = CODEC.read(json.dumps(fields)).body
    assert read == SpecificationSet(site_t().specifications[0], "d")


def test_a_label_sent_before_its_job_was_kept_has_none() -> None:
    fields = stored_fields(placed(LabelSent("K7-311", 1, "printer labels, job labels-1", "labels-1")))
    del fields["body"]["job"]
    assert CODEC.read(json.dumps(fields)).body == LabelSent("K7-311", 1, "printer labels, job labels-1")


def test_a_specification_of_schema_1_allows_nothing_it_did_not_mention() -> None:
    whole = replace(site_t().specifications[0], mixings=1, decanted_life=timedelta(hours=8))
    fields = stored_fields(placed(SpecificationSet(whole, "d")))
    for younger in ("return_within", "thaw", "printing_room_c", "printing_humidity", "mixings", "decanted_life"):
        del fields["body"]["specification"][younger]
    for younger in ("used_paste_life", "enclosed_life"):
        del fields["body"]["specification"][younger]
    read = CODEC.read(json.dumps({**fields, "schema": 1})).body
    assert isinstance(read, SpecificationSet)
    assert read.specification.stencil_life == whole.stencil_life
    assert (read.specification.mixings, read.specification.decanted_life) == (0, None)
    assert read.specification.printing_room_c.holds(35)
