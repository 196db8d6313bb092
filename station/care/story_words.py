"""What each fact says in plain words.

A sentence is in parts, joined by `|`: the first always stands, a further one only where something it names was said.
`?name ` before a part lets it stand where that is true. A fact without a sentence here is told by its stored name.
"""

from datetime import datetime, timedelta
from enum import Enum
from string import Formatter
from zoneinfo import ZoneInfo

from station.care import facts as f
from station.care.saying import opening, span

SAYS: dict[str, str] = {
    f.Received.NAME: "Received: {paste} in {kind}, lot {lot}|, arrived {arrived_at}|, {temperature_c} C|, "
    "expires {expires}|?leaking , leaking|; the maker's label also says {maker_said}",
    f.Delivered.NAME: "Delivery {delivery} taken in, arrived {arrived_at}|, {temperature_c} C",
    f.DeliveryCorrected.NAME: "Delivery {delivery} corrected|, {temperature_c} C|, box {box}|, cold packs {packs}|: "
    "{reason}",
    f.ReceiptCorrected.NAME: "Receipt corrected|: {reason}",
    f.PutAway.NAME: "Put into {store}, bin {bin}|?returning , back in the cold|, {counted} out of the cold on its way",
    f.Transferred.NAME: "Carried from {from_store} to {store}, bin {bin}; {counted} out of the cold|: {reason}",
    f.MoveBegun.NAME: "Left {store} for another store, to be put away by {by}",
    f.ThawBegun.NAME: "Thaw in {store} begun, ready between {not_before} and {not_after}",
    f.TakenOut.NAME: "Taken out of {store}|, earliest use {earliest_use}|, room life ends {room_end}|, told late: "
    "{told_late}",
    f.LabelAsked.NAME: "Label {print_number} asked for",
    f.LabelSent.NAME: "Label {print_number} sent to {target}",
    f.LabelFailed.NAME: "Label {print_number} failed|: {reason}",
    f.LabelUnknown.NAME: "Label {print_number}: nobody knows whether it came out|: {reason}",
    f.LabelConfirmed.NAME: "Label {print_number} scanned for the first time",
    f.LabelsPaired.NAME: "Both labels scanned together, label {print_number}",
    f.LabelsSwapped.NAME: "Labels swapped with {other}",
    f.Sighted.NAME: "Seen|?warm , outside cold storage",
    f.ScanRefused.NAME: "Scan refused: {code}",
    f.ReturnRefused.NAME: "Return to {store} refused",
    f.Opened.NAME: "Opened|?early , before its earliest use|, open life ends {open_end}",
    f.Inspected.NAME: "Opening check answered|?good : looks good",
    f.Mixed.NAME: "Run in the mixing machine",
    f.Decanted.NAME: "Filled from {sources}: {paste} in {kind}, use up by {decanted_end}",
    f.UsedPasteKept.NAME: "Used paste of {sources} kept, use up by {used_end}",
    f.Loaded.NAME: "{container} put on: {paste} lot {lot}|?starts , a new bead|, work order {work_order}|, "
    "stencil life ends {stencil_end}",
    f.Mounted.NAME: "{container} mounted: {paste}|, work order {work_order}",
    f.Dismounted.NAME: "{container} taken off the dispenser",
    f.PositionSetUp.NAME: "Set up for work order {work_order}, {product}, pastes {pastes}",
    f.CarriedOver.NAME: "Bead carried over|, work order {work_order}",
    f.Removed.NAME: "Bead removed|?replaced_earlier , told only later",
    f.Cleaned.NAME: "Cleaned",
    f.Paused.NAME: "Printing paused",
    f.Resumed.NAME: "Printing resumed|?knead , wipe and knead|?replace , the bead must be replaced",
    f.SameBead.NAME: "Confirmed: still the same bead",
    f.Ended.NAME: "{container} {ending}|: {reason}|, {grams} g",
    f.Held.NAME: "Put on hold: {reason}|, {note}",
    f.Released.NAME: "Hold released|: {note}",
    f.LimitExtended.NAME: "{limit} extended by {by}|, concession {concession}",
    f.AlarmRaised.NAME: "Alarm: {limit} of {subject} past since {since}",
    f.AlarmAcknowledged.NAME: "Alarm seen",
    f.AlarmShelved.NAME: "Alarm shelved until {until}|: {reason}",
    f.AlarmUnshelved.NAME: "Shelving ended before its time",
    f.AlarmCleared.NAME: "Alarm cleared: {disposition}|, boards {boards}|, {document}|: {reason}",
    f.SpecificationApplied.NAME: "Another version of the specification in force for {container}|: {reason}",
    f.BeadLifeApplied.NAME: "Another bead life in force: {life}",
    f.SpecificationSet.NAME: "In force: {specification}",
    f.SpecificationDrafted.NAME: "Draft written: {specification}|, from {source}|: {explanation}",
    f.DraftWithdrawn.NAME: "Draft {draft} withdrawn|: {reason}",
    f.PasteListSet.NAME: "Pastes of {product}|, order {order}|: {pastes}|, {note}",
    f.LotHeld.NAME: "Lot {lot} put on hold: {reason}|, {note}",
    f.LotReleased.NAME: "Hold of lot {lot} released|: {note}|, {document}",
    f.LotRecertified.NAME: "Lot {lot} re-certified until {expires} by {document}, second person {second}",
    f.RoomRead.NAME: "Room read: {temperature_c} C, {humidity} %",
    f.PersonSet.NAME: "Person {name} ({person}): {roles}|?left , left",
    f.BadgesPrinted.NAME: "Badges printed of {people}",
    f.FiguresAccepted.NAME: "Warm-up figures of {kind} accepted|: {note}",
    f.ReactionSet.NAME: "What to do at alarms of {limit}|?at_line  at a line|: {text}",
    f.NumbersReserved.NAME: "Numbers reserved on a sheet for {paste}: {numbers}",
    f.Attached.NAME: "Kept with it: {what}|, {name}|: {note}",
    f.RecordAsked.NAME: "The record asked for as {what}|, from {since}|, until {until}|, into {into}",
    f.CountBegun.NAME: "Count of {store} begun",
    f.Counted.NAME: "Counted in {store}: {finding}",
    f.CountEnded.NAME: "Count ended: {how}|, missing {missing}",
    f.DifferenceSettled.NAME: "Difference of the count settled: {how}|, {note}",
    f.ReadingsImported.NAME: "Readings of {store} taken in from {file}, {begins} to {ends}, {faults} faults, {gaps} "
    "gaps, {known} known, {conflicts} conflicts|?overdue , calibration of the logger overdue",
    f.StoreRead.NAME: "{store} read: {temperature_c} C|?overdue , calibration overdue",
    f.ExcursionFound.NAME: "{store} {side} from {start} to {end}, peak {peak_c} C, {outside} out|, mean kinetic "
    "{kinetic_c} C",
    f.ExcursionConfirmed.NAME: "{store} out of its limits: another file tells of it too",
    f.ExcursionSeen.NAME: "{store} out of its limits from {start} to {end}, peak {peak_c} C: seen|: {note}",
    f.ReadingsWithdrawn.NAME: "Readings of {store} from {file} taken back, {mistake}|: {reason}",
    f.WarmCharged.NAME: "{store} was too warm from {start} to {end}: counted as out of the cold",
    f.StockImported.NAME: "Stock taken in from {file}, {rows} rows",
    f.ClockStepped.NAME: "The clock moved; in no doubt until {trusted_until}",
    f.ClockConfirmed.NAME: "The time of the PC confirmed",
    f.ClockCompared.NAME: "Clocks compared with another station",
    f.StationStarted.NAME: "Station started, version {version}",
    f.StationStopped.NAME: "Station stopped|: {reason}",
}


def in_words(body: f.Body, zone: ZoneInfo) -> str:
    """The sentence of a fact; instants in plant time."""
    first, *further = SAYS.get(body.NAME, body.NAME.replace("-", " ")).split("|")
    parts = [first, *(_kept(body, part) for part in further)]
    said = {name: _value(getattr(body, name), zone) for part in parts for name in named(part)}
    return opening("".join(parts).format_map(said))


def named(part: str) -> tuple[str, ...]:
    """The fields a part of a sentence names."""
    return tuple(name for _, name, _, _ in Formatter().parse(part) if name)


def _kept(body: f.Body, part: str) -> str:
    """The part, or nothing where it does not stand."""
    if part.startswith("?"):
        name, _, text = part[1:].partition(" ")
        return text if getattr(body, name) else ""
    return part if all(getattr(body, name) not in (None, "", ()) for name in named(part)) else ""


def _value(value: object, zone: ZoneInfo) -> str:
    match value:
        case Enum():
            return str(value.value)
        case datetime():
            return f"{value.astimezone(zone):%Y-%m-%d %H:%M}"
        case timedelta():
            return span(value)
        case float():
            return f"{value:g}"
        case tuple():
            return ", ".join(_value(one, zone) for one in value)
        case _:
            return str(value)
