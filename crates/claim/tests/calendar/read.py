"""Reads the calendar of `examples/calendar.rs` with two parsers, and holds it against what was worked out by hand."""

import datetime
import sys

import icalendar
import vobject

DAY = datetime.date
SHIPMENT = "2; bows, rails\\ends and Bögen – 弓"
# Delivered Wed 2026-11-25 15:00 in New York, the claim received on 2026-12-01. The fifth business day stands in the
# check table of the facts sheet; months, years and days were counted by hand.
EXPECTED = {
    "us-motor.note-on-receipt.0": DAY(2026, 11, 25),
    "us-motor.hidden-harm-48-hours.0": datetime.datetime(2026, 11, 27, 20, 0, tzinfo=datetime.timezone.utc),
    "us-motor.hidden-harm.0": DAY(2026, 12, 3),
    "us-motor.claim.0": DAY(2027, 8, 25),
    "us-motor.claim-6-months.0": DAY(2027, 5, 25),
    "us-motor.acknowledgement.0": DAY(2026, 12, 31),
    "us-motor.decision.0": DAY(2027, 3, 31),
    "us-motor.status.0": DAY(2027, 3, 31),
    "ucc.tell-seller.0.own": DAY(2026, 11, 30),
}


def nine(days):
    """Nine in the morning, so many days from midnight of the last day."""
    return datetime.timedelta(days=days, hours=9)


SOON = [nine(-7), nine(-1)]
ALARMS = {
    "us-motor.note-on-receipt.0": [],  # done
    "us-motor.hidden-harm-48-hours.0": [datetime.timedelta(days=-1), datetime.timedelta(hours=-4)],
    "us-motor.hidden-harm.0": SOON,
    "us-motor.claim.0": [nine(-30), *SOON],
    "us-motor.claim-6-months.0": [nine(-30), *SOON],
    "us-motor.acknowledgement.0": [nine(1)],
    "us-motor.decision.0": [nine(1)],
    "us-motor.status.0": [nine(1)],
    "ucc.tell-seller.0.own": SOON,
}


def same(what, got, expected):
    if got != expected:
        sys.exit(f"{what}: {got!r}, not {expected!r}")


def key(uid):
    """Job and shipment go before the rule, the domain after it."""
    return uid.split(".", 2)[2].removesuffix("@tallyard.invalid")


def by_icalendar(raw):
    calendar = icalendar.Calendar.from_ical(raw)
    same("faults", calendar.errors, [])
    same("version", str(calendar["VERSION"]), "2.0")
    found = {}
    for event in calendar.walk("VEVENT"):
        same("faults", event.errors, [])
        uid = str(event["UID"])
        found[key(uid)] = event["DTSTART"].dt
        same("sequence", int(event["SEQUENCE"]), 42)
        same("stamp", event["DTSTAMP"].dt, datetime.datetime(2026, 11, 25, 20, 0, tzinfo=datetime.timezone.utc))
        summary = str(event["SUMMARY"])
        same(f"shipment in {summary}", summary.endswith(f"(shipment {SHIPMENT})"), True)
        same("advice", "This is not legal advice." in str(event["DESCRIPTION"]), True)
        alarms = event.walk("VALARM")
        triggers = sorted(alarm["TRIGGER"].dt for alarm in alarms)
        same(f"alarms of {uid}", triggers, sorted(ALARMS[key(uid)]))
        for alarm in alarms:
            same("action", str(alarm["ACTION"]), "DISPLAY")
            same("shipment in the alarm", SHIPMENT in str(alarm["DESCRIPTION"]), True)
    return found


def by_vobject(text):
    calendar = vobject.readOne(text)
    calendar.validate(raiseException=True)
    for event in calendar.vevent_list:
        same("shipment", event.summary.value.endswith(f"(shipment {SHIPMENT})"), True)
    return {key(event.uid.value): event.dtstart.value for event in calendar.vevent_list}


def main():
    with open(sys.argv[1], "rb") as file:
        raw = file.read()
    for line in raw.split(b"\r\n"):
        same("octets of a line", len(line) <= 75 and b"\n" not in line, True)
        line.decode("utf-8")  # never folded inside a character
    same("days by icalendar", by_icalendar(raw), EXPECTED)
    vobject_days = by_vobject(raw.decode("utf-8"))
    same("days by vobject", {k: utc(v) for k, v in vobject_days.items()}, EXPECTED)
    print(f"{len(EXPECTED)} entries read alike by icalendar {icalendar.__version__} and vobject {vobject.VERSION}")


def utc(value):
    return value.astimezone(datetime.timezone.utc) if isinstance(value, datetime.datetime) else value


main()
