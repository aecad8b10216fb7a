"""Cases for the rest rule, answered by an independent calendar.

The answers are found day by day from the words of the rule, with Python's own calendar and time
zone database; no formula of the program is used.

    python3 generate.py > cases.jsonl

Rule, in words (farm defaults; Knox et al. 2008 for the rest, common practice without source for
the rest of it):
  - who left the farm is gone; who is off collection is off, the longest time off deciding;
  - too young before `young_days` of age;
  - after giving semen or serving he rests `rest_days` farm days;
  - in any seven days at most `in_seven_days`, natural services counted;
  - from the day after a first success on, `repetition_days` days are exempt, and what was given on
    the first day and those days does not count among the seven;
  - what is not known is unknown: his history for seven days after he was entered, unless somebody
    said; his age, if he never worked; and anything, if an entry bears a day in the future;
  - collections less than an hour apart are one, written down twice; the page points out those of
    the last 14 days.
"""

import json
import platform
import random
import zoneinfo
from datetime import date, datetime, timedelta, timezone

ZONES = [
    "Europe/Madrid",
    "America/New_York",
    "Australia/Lord_Howe",
    "Asia/Kathmandu",
    "Africa/Cairo",
    "America/Havana",
]
UTC = timezone.utc


def day_of(ms, zone):
    return datetime.fromtimestamp(ms / 1000, UTC).astimezone(zone).date()


def start_ms(day, zone):
    """The first instant that falls on a day, found hour by hour and then minute by minute."""
    guess = int(datetime(day.year, day.month, day.day, tzinfo=UTC).timestamp() * 1000) - 16 * 3600000
    while day_of(guess, zone) < day:
        guess += 3600000
    guess -= 3600000
    while day_of(guess, zone) < day:
        guess += 60000
    return guess


def answer(case):
    zone = zoneinfo.ZoneInfo(case["zone"])
    standard = case["standard"]
    today = day_of(case["now_ms"], zone)
    given, doubles = [], 0
    if case["before"].startswith("2"):
        given.append(start_ms(date.fromisoformat(case["before"]), zone))
    given += [e["at_ms"] for e in case["events"] if e["what"] in ("collected", "nothing_kept")]
    once = []
    for at in sorted(given):
        if once and at - once[-1] < 3600000:
            doubles += (today - day_of(at, zone)).days <= 14
        else:
            once.append(at)
    spent = sorted(once + [e["at_ms"] for e in case["events"] if e["what"] == "service"])
    days = [day_of(at, zone) for at in spent]
    past, future = [d for d in days if d <= today], [d for d in days if d > today]
    first = past[0] if past and case["before"] == "none_yet" and standard["repetition_days"] > 0 else None
    exempt = set()
    if first is not None:
        exempt = {first + timedelta(days=n) for n in range(standard["repetition_days"] + 1)}
    repeating = first is not None and today in exempt and today != first
    found = decide(case, zone, today, past, exempt, repeating)
    if found == ["yes"] and future:
        found = ["unknown", "clock"]
    idle = None
    if past and (today - past[-1]).days > standard["idle_check_days"]:
        idle = [(today - past[-1]).days, (today - past[-1]).days > standard["idle_clean_out_days"]]
    return {
        "answer": found,
        "idle": idle,
        "spent_on": sorted({d.isoformat() for d in past}),
        "doubles": doubles,
        "repeating": repeating,
    }


def decide(case, zone, today, past, exempt, repeating):
    standard, events = case["standard"], case["events"]
    if any(e["what"] == "gone" for e in events):
        return ["gone"]
    back = max((e["at_ms"] for e in events if e["what"] == "on"), default=None)
    offs = [e for e in events if e["what"] == "off" and (back is None or e["at_ms"] > back)]
    offs = [e["until"] for e in offs if e["until"] is None or date.fromisoformat(e["until"]) >= today]
    if None in offs:
        return ["off", None]
    if offs:
        return ["off", max(offs)]
    if case["born"]:
        grown = date.fromisoformat(case["born"]) + timedelta(days=standard["young_days"])
        if today < grown:
            return ["too_young", grown.isoformat()]
    if past and not repeating:
        day = today
        while (day - past[-1]).days < standard["rest_days"]:
            day += timedelta(days=1)
        if day > today:
            return ["rests", day.isoformat()]
        counted = [d for d in past if d not in exempt]
        limit = max(standard["in_seven_days"], 1)
        while sum(1 for d in counted if 0 <= (day - d).days < 7) >= limit:
            day += timedelta(days=1)
        if day > today:
            return ["third_in_seven", day.isoformat()]
    if case["before"] == "unknown" and (today - day_of(case["entered_ms"], zone)).days < 7:
        return ["unknown", "history"]
    if not case["born"] and not past:
        return ["unknown", "age"]
    return ["yes"]


STANDARD = {
    "rest_days": 3,
    "in_seven_days": 2,
    "idle_check_days": 7,
    "idle_clean_out_days": 14,
    "young_days": 240,
    "repetition_days": 3,
}


def local(zone, text):
    """Milliseconds of a wall time; of a time that comes twice, the first."""
    return int(datetime.fromisoformat(text).replace(tzinfo=zoneinfo.ZoneInfo(zone)).timestamp() * 1000)


def case(name, now, events, zone="Europe/Madrid", born="2024-05-01", before="none_yet", entered="2025-01-07T08:00", **standard):
    read = []
    for what, at, *until in events:
        event = {"what": what, "at_ms": local(zone, at)}
        if what == "off":
            event["until"] = until[0] if until else None
        read.append(event)
    return {
        "name": name,
        "zone": zone,
        "now_ms": local(zone, now),
        "born": born,
        "before": before,
        "entered_ms": local(zone, entered),
        "standard": STANDARD | standard,
        "events": read,
    }


# The days of practice are long over in these.
LEARNT = [("collected", f"2025-11-{d:02}T07:00") for d in (3, 4, 5, 6)]


def told():
    yield case("never worked", "2026-03-10T09:00", [])
    yield case("rests on the third day", "2026-03-12T23:59", LEARNT + [("collected", "2026-03-10T00:05")])
    yield case("may on the day after the rest", "2026-03-13T00:00", LEARNT + [("collected", "2026-03-10T23:55")])
    yield case("no mount spends nothing", "2026-03-11T07:00", LEARNT + [("no_mount", "2026-03-10T07:00")])
    yield case("nothing kept spends", "2026-03-11T07:00", LEARNT + [("nothing_kept", "2026-03-10T07:00")])
    two = [("collected", "2026-03-09T07:00"), ("collected", "2026-03-12T07:00")]
    yield case("third in seven", "2026-03-15T07:00", LEARNT + two)
    yield case("the first has left the seven", "2026-03-16T07:00", LEARNT + two)
    served = [("collected", "2026-03-09T07:00"), ("service", "2026-03-12T15:00")]
    yield case("a natural service counts among the seven", "2026-03-15T07:00", LEARNT + served)
    yield case("a natural service asks for rest", "2026-03-14T07:00", LEARNT + served)
    learning = [("no_mount", "2026-03-06T07:00"), ("collected", "2026-03-09T07:00")]
    for n in range(5):
        yield case(f"{n} days after a first success", f"2026-03-{9 + n:02}T09:00", learning)
    practised = learning + [("collected", f"2026-03-{d}T07:00") for d in (10, 11, 12)]
    for d in range(13, 18):
        yield case(f"practised, on the {d}th", f"2026-03-{d}T09:00", practised)
    yield case("practice does not count among the seven", "2026-03-19T09:00", practised + [("collected", "2026-03-16T07:00")])
    yield case("no days of repetition here", "2026-03-10T09:00", learning, repetition_days=0)
    yield case("unknown history", "2026-03-10T09:00", [], before="unknown", entered="2026-03-04T22:00")
    yield case("history known after a week", "2026-03-11T00:00", [], before="unknown", entered="2026-03-04T22:00")
    yield case("unknown history, but rests", "2026-03-10T09:00", [("collected", "2026-03-09T07:00")], before="unknown", entered="2026-03-08T22:00")
    yield case("somebody said when", "2026-03-10T09:00", [], before="2026-03-08", entered="2026-03-09T22:00")
    yield case("age unknown", "2026-03-10T09:00", [], born=None)
    yield case("age unknown, but he worked", "2026-03-20T09:00", LEARNT, born=None)
    yield case("too young by a day", "2026-03-10T09:00", [], born="2025-07-14")
    yield case("old enough today", "2026-03-11T09:00", [], born="2025-07-14")
    for n in (7, 8, 14, 15):
        yield case(f"idle {n} days", f"2026-03-{10 + n}T09:00", LEARNT + [("collected", "2026-03-10T07:00")])
    twice = [("collected", "2026-03-10T07:00"), ("collected", "2026-03-10T07:59")]
    yield case("written down twice", "2026-03-16T07:00", LEARNT + [("collected", "2026-03-10T07:00")] + twice[1:])
    yield case("an hour apart is two", "2026-03-14T07:00", LEARNT + [twice[0], ("collected", "2026-03-10T08:00")])
    yield case("off without end", "2026-03-10T09:00", LEARNT + [("off", "2026-03-01T09:00")])
    offs = [("off", "2026-03-01T09:00", "2026-03-10"), ("off", "2026-03-02T09:00", "2026-03-07")]
    yield case("off, last day", "2026-03-10T23:59", LEARNT + offs)
    yield case("off, over", "2026-03-11T00:00", LEARNT + offs)
    yield case("put back", "2026-03-05T09:00", LEARNT + offs + [("on", "2026-03-04T09:00")])
    yield case("put back, then off again", "2026-03-06T09:00", LEARNT + offs[:1] + [("on", "2026-03-04T09:00"), ("off", "2026-03-05T09:00", "2026-03-20")])
    yield case("gone", "2026-03-10T09:00", LEARNT + [("gone", "2026-03-09T09:00")])
    yield case("a day in the future", "2026-03-20T09:00", LEARNT + [("collected", "2026-03-21T09:00")])
    for d in range(28, 32):
        yield case(f"clocks go forward, {d} March", f"2026-03-{d}T23:30", LEARNT + [("collected", "2026-03-28T23:50")])
    for d in range(24, 29):
        yield case(f"clocks go back, {d} October", f"2026-10-{d}T23:45", LEARNT + [("collected", "2026-10-24T23:30")])
    yield case("the hour that comes twice is not a double day", "2026-10-28T00:00", LEARNT + [("collected", "2026-10-25T02:30")])
    for zone, now in (("Africa/Cairo", "2026-04-27T00:30"), ("America/Havana", "2026-03-11T00:10")):
        begun = now[:8] + f"{int(now[8:10]) - 3:02}T01:10"
        yield case(f"midnight is skipped in {zone}", now, LEARNT + [("collected", begun)], zone=zone)


def drawn(rng, n):
    zone = rng.choice(ZONES)
    now = datetime(2026, rng.randint(1, 12), rng.randint(1, 28), rng.randint(0, 23), rng.choice([0, 5, 30, 55]))
    if rng.random() < 0.4:
        # Near a change of clocks.
        now = datetime(2026, rng.choice([3, 4, 10, 11]), rng.randint(1, 28), rng.randint(0, 23), rng.choice([0, 5, 30, 55]))
    events = []
    for _ in range(rng.randint(0, 9)):
        what = rng.choices(["collected", "service", "nothing_kept", "no_mount", "off", "on", "gone"], [60, 14, 5, 8, 8, 5, 1])[0]
        at = now - timedelta(minutes=rng.randint(-900 if rng.random() < 0.1 else 0, 60 * 24 * rng.choice([4, 12, 30])))
        event = [what, at.isoformat(timespec="minutes")]
        if what == "off" and rng.random() < 0.8:
            event.append((at.date() + timedelta(days=rng.randint(0, 14))).isoformat())
        events.append(tuple(event))
        if what == "collected" and rng.random() < 0.15:
            events.append((what, (at + timedelta(minutes=rng.choice([3, 40, 61]))).isoformat(timespec="minutes")))
    before = rng.choices(["none_yet", "unknown", (now.date() - timedelta(days=rng.randint(20, 40))).isoformat()], [4, 3, 3])[0]
    born = rng.choices([None, "2024-05-01", (now.date() - timedelta(days=rng.randint(232, 248))).isoformat()], [1, 7, 2])[0]
    entered = now - timedelta(days=rng.choice([2, 6, 7, 8, 60]), hours=rng.randint(0, 23))
    standard = {}
    if rng.random() < 0.4:
        standard = {"rest_days": rng.randint(0, 6), "in_seven_days": rng.randint(0, 3), "repetition_days": rng.randint(0, 4)}
    entered = entered.isoformat(timespec="minutes")
    return case(f"drawn {n}", now.isoformat(timespec="minutes"), events, zone, born, before, entered, **standard)


def changes(name):
    """When and to what a zone's offset changes, in ms and minutes, found quarter by quarter hour."""
    zone, found = zoneinfo.ZoneInfo(name), []
    at = datetime(2024, 1, 1, tzinfo=UTC)
    while at.year < 2028:
        offset = int(at.astimezone(zone).utcoffset().total_seconds() // 60)
        if not found or found[-1][1] != offset:
            found.append([int(at.timestamp() * 1000), offset])
        at += timedelta(minutes=15)
    return found


def main():
    rng = random.Random(20260310)
    # The changes go along, because the laws behind them change from one version of the zone
    # database to the next.
    print(json.dumps({"python": platform.python_version(), "zones": {z: changes(z) for z in ZONES}}))
    for c in list(told()) + [drawn(rng, n) for n in range(600)]:
        print(json.dumps({"case": c, "is": answer(c)}))


if __name__ == "__main__":
    main()
