"""Holds our holidays against the package `holidays`, and counted days against `dateutil`."""

import datetime
import sys

import holidays
from dateutil.relativedelta import relativedelta
from dateutil.rrule import DAILY, FR, MO, SA, TH, TU, WE, rrule

US = holidays.US(years=range(2021, 2101))
WORKING = (MO, TU, WE, TH, FR)


def nth(start, amount, weekdays):
    """The nth of these weekdays after a day on which no holiday is kept. None is kept on a Saturday: the package names
    both the Saturday and the Friday before, on which it is kept."""
    for day in rrule(DAILY, dtstart=start + datetime.timedelta(days=1), byweekday=weekdays):
        if day.weekday() == 5 or day.date() not in US:
            amount -= 1
            if amount == 0:
                return day.date()


def expected(unit, amount, start):
    match unit:
        case "business":
            return nth(start, amount, WORKING)
        case "sundays":
            return nth(start, amount, (*WORKING, SA))
        case "months" | "years" | "days":
            return start + relativedelta(**{unit: amount})


def main():
    ours, counted = set(), 0
    for line in open(sys.argv[1], encoding="utf-8"):
        unit, *rest = line.split()
        if unit == "holiday":
            ours.add(datetime.date.fromisoformat(rest[0]))
            continue
        amount, start, last = int(rest[0]), *map(datetime.date.fromisoformat, rest[1:])
        if expected(unit, amount, start) != last:
            sys.exit(f"{amount} {unit} from {start}: {last}, not {expected(unit, amount, start)}")
        counted += 1
    theirs = {day for day in US if day.weekday() < 5 and 2022 <= day.year <= 2099}
    if ours != theirs:
        sys.exit(f"holidays that differ: {sorted(ours ^ theirs)}")
    print(f"{len(ours)} holidays as in holidays {holidays.__version__}, {counted} counted days as by dateutil")


main()
