#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""depth --date and --year from outside: clock times against Python's reader of the time zone database, the calendar file against
an independent reader of iCalendar, sums of a year, the screen, and what is refused. Grade: library (zoneinfo, icalendar)."""
import csv
import datetime
import json
import os
import re
import subprocess
import sys
import tempfile
from zoneinfo import ZoneInfo

import icalendar

source, tool = os.environ["SOURCE_DIR"], os.environ["DRAWDOCK"]
rig = source + "/scenarios/launch-on-the-tide.yaml"
zone = ZoneInfo("Australia/Sydney")
place = "place={latitude: -33.5 deg, longitude: 151.3 deg, time zone: Australia/Sydney}"
passed = failed = 0


def check(what, good, told=""):
    global passed, failed
    passed, failed = passed + bool(good), failed + (not good)
    if not good:
        print("FAILED:", what, str(told)[:600])


def run(*arguments, environment=None, place=place):
    given = ["--with", place] if place else []
    return subprocess.run([tool, "depth", rig, "--with", "ramp.toe level=-0.6 m", *given, *arguments], capture_output=True, text=True, env={**os.environ, **(environment or {})})


def uids(folder):
    with open(os.path.join(folder, "windows.ics"), "rb") as file:
        return {str(event["UID"]) for event in icalendar.Calendar.from_ical(file.read()).walk("VEVENT")}


def rows(folder, name):
    with open(os.path.join(folder, name), encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def check_folder(folder, span):
    windows = rows(folder, "windows.csv")
    check(span + ": has windows", len(windows) >= 1, windows)
    for row in windows:
        begin, end = (datetime.datetime.fromisoformat(row[key]) for key in ("from", "to"))
        check(span + ": local time", begin.utcoffset() == begin.astimezone(zone).utcoffset() and end.utcoffset() == end.astimezone(zone).utcoffset(), row)
        hours = float(row["ends_h"]) - float(row["begins_h"])
        check(span + ": as long as by the clock, to a minute inwards", 0 <= hours - (end - begin).total_seconds() / 3600 < 2 / 60, row)
    with open(os.path.join(folder, "windows.ics"), "rb") as file:
        text = file.read()
    lines = text.split(b"\r\n")
    check(span + ": lines of the calendar", lines[-1] == b"" and all(len(line) <= 75 and b"\n" not in line for line in lines))
    calendar = icalendar.Calendar.from_ical(text)
    events = calendar.walk("VEVENT")
    check(span + ": version and maker", calendar["VERSION"] == "2.0" and "PRODID" in calendar)
    check(span + ": an event a window", len(events) == len(windows), (len(events), len(windows)))
    check(span + ": events are told apart", len({str(event["UID"]) for event in events}) == len(events))
    for event, row in zip(events, windows):
        check(span + ": the event's times", event.decoded("DTSTART") == datetime.datetime.fromisoformat(row["from"])
              and event.decoded("DTEND") == datetime.datetime.fromisoformat(row["to"]), (event["DTSTART"].dt, row))
        check(span + ": its words", re.fullmatch(r"Mangrove slab: launch \d\d:\d\d to \d\d:\d\d, Launch at half flood", str(event["SUMMARY"])) and "," in str(event["DESCRIPTION"])
              and "\\" not in str(event["DESCRIPTION"]) and "DTSTAMP" in event, event)
        check(span + ": the level's datum, and how far the water may be off", "above land datum" in str(event["DESCRIPTION"]) and "with the water 0.10 m off" in str(event["DESCRIPTION"]), event)
    return windows


def check_day(folder):
    out = run("--date", "2026-10-04", "--launch-at", "09:30", "-o", folder)
    check("a day", out.returncode in (0, 1) and not out.stderr, (out.returncode, out.stderr))
    lines = out.stdout.splitlines()
    check("one screen", len(lines) <= 23 and max(map(len, lines)) <= 79, out.stdout)
    check("the answer", "Launch at 09:30: " in " ".join(out.stdout.split()), out.stdout)
    check_folder(folder, "day")
    course = rows(folder, "course.csv")
    check("a day of 23 hours", abs(float(course[-1]["hours_h"]) - 23) < 1e-6, course[-1])
    check("levels name their datum", all(row["datum"] == "land datum" for name in ("course.csv", "waters.csv", "usable.csv") for row in rows(folder, name)))
    with open(os.path.join(folder, "day.svg"), encoding="utf-8") as file:
        check("the picture's levels too", "level (m above land datum)" in file.read())
    check("on screen", "levels above land datum" in out.stdout and "above land datum" in " ".join(out.stdout.split()), out.stdout)
    told = re.search(r"the tide of the day asked for: (-?[\d.]+) to (-?[\d.]+) m", " ".join(out.stdout.split()))
    levels = [float(row["level_m"]) for name in ("course.csv", "waters.csv") for row in rows(folder, name)]
    check("the tide of that day alone", told and abs(float(told[1]) - min(levels)) <= 0.0051 and abs(float(told[2]) - max(levels)) <= 0.0051, (told, min(levels), max(levels)))
    run("--date", "2026-10-04", "-o", folder + "-other", "--with", "title=Another boat")
    run("--date", "2026-10-04", "-o", folder + "-elsewhere", "--with", "ramp.name=Another ramp")
    files = [uids(folder + end) for end in ("", "-other", "-elsewhere")]
    check("events of other rigs and ramps are others", all(files) and len(set.union(*files)) == sum(map(len, files)), files)
    check("pictures", os.path.getsize(os.path.join(folder, "day.svg")) > 2000 and not os.path.exists(os.path.join(folder, "year.svg")))
    other = run("--date", "2026-10-04", "--launch-at", "09:30", environment={"TZ": "Asia/Tokyo"})
    plain = run("--date", "2026-10-04", "--launch-at", "09:30")
    check("the place's clock, not the machine's", other.stdout == plain.stdout)


def check_year(folder):
    out = run("--year", "2026", "-o", folder, "--json")
    check("a year", out.returncode == 0 and not out.stderr, out.stderr)
    report = json.loads(out.stdout)
    check("JSON", report["study"] == "windows")
    check("its levels name their datum", {table["datum"] for table in report["tables"] if table["key"] in ("usable", "astronomical")} == {"land datum"}, report)
    windows, days = check_folder(folder, "year"), rows(folder, "days.csv")
    check("365 days", len(days) == 365 and days[0]["date"] == "2026-01-01")
    year = 365 * 24
    inside = sum(min(year, float(row["ends_h"])) - max(0, float(row["begins_h"])) for row in windows)
    check("days add up to the windows", abs(sum(float(day["launch_h"]) for day in days) - inside) < 1e-3, inside)
    check("no more daylight than day", all(float(day["launch_by_daylight_h"]) <= min(float(day["launch_h"]), float(day["daylight_h"])) + 1e-9 for day in days))
    check("the day that the clocks change", {day["date"]: day["length_h"] for day in days}["2026-10-04"] == "23")
    months = rows(folder, "months.csv")
    check("the worst day is one by daylight", "worst_day_by_daylight_h" in months[0], months[0])
    sure = [[(datetime.datetime.fromisoformat(row[key]) - datetime.datetime(2026, 1, 1, tzinfo=zone)).total_seconds() / 3600 for key in ("from", "to")]
            for row in rows(folder, "sure.csv") if "not sure" not in row["from"]]
    hours = sum(max(0, min(year, end) - max(0, begin)) for begin, end in sure)
    check("sure hours are those of the sure windows, by day and by night", abs(sum(float(day["launch_sure_h"]) for day in days) - hours) < 2 * len(sure) / 60, hours)
    check("of them by daylight no more", all(float(day["launch_sure_by_daylight_h"]) <= min(float(day["launch_sure_h"]), float(day["launch_by_daylight_h"])) + 1e-9 for day in days))
    worst = rows(folder, "worst.csv")
    check("the worst day", float(worst[0]["launch_by_daylight_h"]) == min(float(day["launch_by_daylight_h"]) for day in days), worst[0])
    check("pictures", os.path.getsize(os.path.join(folder, "year.svg")) > 2000)


def check_refused():
    for what, words, arguments in (
            ("no such day", "there is", ["--date", "2026-02-29"]), ("no date", "2026-07-14", ["--date", "tomorrow"]), ("no year", "a year", ["--year", "26"]),
            ("no time", "08:00", ["--date", "2026-07-01", "--launch-at", "8 am"]), ("time without a day", "--date", ["--launch-at", "08:00"]),
            ("nobody retrieves", "back-at: a time to come back is asked for, and no scenario does that; add a retrieve scenario", ["--date", "2026-07-01", "--back-at", "14:00"]),
            ("put forward", "put forward", ["--date", "2026-10-04", "--launch-at", "02:30"]), ("before the tide is known", "1700", ["--year", "1650"]),
            ("above the water", "ends at", ["--date", "2026-07-01", "--with", "water.tide.mean level=-3 m"])):
        out = run(*arguments)
        check(what, out.returncode == 2 and words in out.stderr and not out.stdout, (out.returncode, out.stderr))
    out = run("--date", "2026-07-01", place="place.time zone=Australia/Sydny")
    check("no such zone", out.returncode == 2 and "place.time zone" in out.stderr, out.stderr)
    out = run("--date", "2026-07-01", place="place={latitude: 10 deg, longitude: 0 deg}")
    check("without a zone: UTC", "clock of UTC" in out.stdout and out.returncode in (0, 1), out)
    check("said beside the times", "Times are UTC: no time zone is given" in " ".join(out.stdout.split()), out.stdout)
    with_zone = run("--date", "2026-07-01")
    check("not where there is one", "Times are UTC" not in with_zone.stdout, with_zone.stdout)
    for span in (["--date", "2026-07-14"], ["--year", "2026"]):
        still = subprocess.run([tool, "depth", source + "/scenarios/launch.yaml", *span], capture_output=True, text=True)
        check("a level of one time says nothing of a day", still.returncode == 2 and "water.tide: the scenario states no tide" in still.stderr and not still.stdout, still)


with tempfile.TemporaryDirectory() as work:
    check_day(work + "/day")
    check_year(work + "/year")
    check_refused()
print(f"[  PASSED  ] {passed} test(s).")
if failed:
    print(f"[  FAILED  ] {failed} test(s).")
sys.exit(failed > 0)
