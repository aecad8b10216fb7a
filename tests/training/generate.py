"""Cases for the states of training, answered by an independent calendar.

The answers are found day by day from the words below, with Python's own calendar and time zone
database; no formula of the program is used.

    python3 generate.py > cases.jsonl

Words (farm defaults; what is in print: Stewart & Lovercamp 2017; the rest common practice, no source):
  - who left is gone; who is off for a cull is stopped; off for isolation is isolated; else off;
  - a success is a session with score 5, unless a collection that gave semen stands on its day, or
    such a collection; collections less than an hour apart are one;
  - after the first success of a boar who came untried the days of repetition are planned: so many
    days running, or the next day and then, a week after it, four times weekly; to the last of them
    he is repeating;
  - after that a session below 5 since the last success, or three attempts at a collection without a
    mount, make it retraining; with no second success he is settling; else he is in regular use;
  - before a success, a session or such an attempt makes him in training, from the first on; else he
    is too young below `young_days`; else visits acclimatise him; else nobody knows his history or
    his age; else he is to be acclimatised;
  - sessions less than an hour apart are one, with the higher score;
  - what lies on a day after today is not counted;
  - a reason is asked while he is too young or of unknown age, never succeeded and gave none.
May he be collected: rest as in ../rest/generate.py; a planned day is free; a success on a day to
come makes a yes unknown; between two planned days he rests till the next, if the last that was
due was kept or made up for.
"""

import json
import platform
import random
import sys
from datetime import date, datetime, timedelta
from pathlib import Path
import zoneinfo

sys.path.insert(0, str(Path(__file__).parent.parent / "rest"))
from generate import ZONES, changes, day_of, local, start_ms  # noqa: E402

HOUR = 3_600_000
DAY = timedelta(days=1)

STANDARD = {
    "rest_days": 3,
    "in_seven_days": 2,
    "young_days": 240,
    "repetition_days": 3,
    "rhythm": "days_running",
}


def planned(first, standard):
    """The days of repetition, walked day by day."""
    days = []
    if standard["rhythm"] == "days_running":
        day = first
        for _ in range(standard["repetition_days"]):
            day += DAY
            days.append(day)
        return days
    day = first + DAY
    days.append(day)
    for _ in range(4):
        for _ in range(7):
            day += DAY
        days.append(day)
    return days


class Life:
    def __init__(self, case):
        self.case, self.standard = case, case["standard"]
        self.zone = zoneinfo.ZoneInfo(case["zone"])
        self.today = day_of(case["now_ms"], self.zone)
        self.events = [dict(e, n=n) for n, e in enumerate(case["events"])]
        voided = {e["of"] for e in self.events if e["what"] == "void"}
        self.events = [e for e in self.events if e["n"] not in voided]
        births = [e["born"] for e in self.events if e["what"] == "born"]
        born = births[-1] if births else case["born"]
        self.born = date.fromisoformat(born) if born else None
        self.sessions, self.doubles = self.find_sessions()
        self.successes = self.find_successes()

    def at(self, *kinds):
        found = [e for e in self.events if e["what"] in kinds]
        return sorted(found, key=lambda e: e["at_ms"])

    def day(self, event):
        return day_of(event["at_ms"], self.zone)

    def find_sessions(self):
        list_, doubles = [], 0
        for e in self.at("session"):
            if self.day(e) > self.today:
                continue
            if list_ and e["at_ms"] - list_[-1]["at_ms"] < HOUR:
                doubles += 1
                scores = [s for s in (list_[-1]["score"], e["score"]) if s is not None]
                list_[-1]["score"] = max(scores) if scores else None
            else:
                list_.append(dict(e))
        return list_, doubles

    def find_successes(self):
        given = []
        if self.case["before"].startswith("2"):
            day = date.fromisoformat(self.case["before"])
            given.append((start_ms(day, self.zone), "boar"))
        given += [(e["at_ms"], e["n"]) for e in self.at("collected")]
        once = []
        for at, n in sorted(given, key=lambda g: g[0]):
            if not once or at - once[-1][0] >= HOUR:
                once.append((at, n))
        for e in self.at("session"):
            if e["score"] == 5 and all(day_of(at, self.zone) != self.day(e) for at, _ in once):
                once.append((e["at_ms"], e["n"]))
        once = sorted((at, day_of(at, self.zone), n) for at, n in once)
        self.future = [s for s in once if s[1] > self.today]
        return [s for s in once if s[1] <= self.today]

    def off(self):
        back = max((e["at_ms"] for e in self.at("on")), default=None)
        offs = [e for e in self.at("off") if back is None or e["at_ms"] > back]
        offs = [e for e in offs if e["until"] is None or date.fromisoformat(e["until"]) >= self.today]
        # Of two that end on the same day the later decides.
        return max(offs, key=lambda e: (e["until"] is None, e["until"] or "", e["at_ms"]), default=None)

    def first(self):
        return self.successes[0] if self.successes and self.case["before"] == "none_yet" else None

    def grown(self):
        return self.born + timedelta(days=self.standard["young_days"]) if self.born else None

    def failed(self, after):
        below = [(e["at_ms"], e["n"], e["score"], True) for e in self.sessions if e["score"] != 5]
        refused = [(e["at_ms"], e["n"], None, False) for e in self.at("no_mount") if self.day(e) <= self.today]
        return sorted(f for f in below + refused if f[0] > after)

    def state(self):
        gone = self.at("gone")
        if gone:
            return ["gone"], gone[-1]["n"]
        off = self.off()
        if off:
            name = {"cull": "stopped", "isolation": "isolated"}.get(off["reason"], "off")
            return [name] if name == "stopped" else [name, off["until"]], off["n"]
        if self.successes:
            return self.after_success()
        failed = self.failed(-(10**15))
        if failed:
            scores = [f[2] for f in failed if f[2] is not None]
            last = self.sessions[-1]["score"] if self.sessions else None
            since = day_of(failed[0][0], self.zone).isoformat()
            return ["in_training", since, max(scores, default=None), last], failed[0][1]
        if self.grown() and self.today < self.grown():
            return ["too_young", self.grown().isoformat()], "boar"
        visits = [e for e in self.at("visit") if self.day(e) <= self.today]
        if visits:
            return ["acclimatising", len({self.day(e) for e in visits})], visits[0]["n"]
        if self.case["before"] == "unknown":
            return ["unknown", "history"], "boar"
        if not self.born:
            return ["unknown", "age"], "boar"
        return ["acclimatising", 0], "boar"

    def after_success(self):
        first, last = self.first(), self.successes[-1]
        if first:
            plan = planned(first[1], self.standard)
            if plan and self.today <= plan[-1]:
                kept = [[d.isoformat(), self.kept(plan, n)] for n, d in enumerate(plan)]
                return ["repeating", first[1].isoformat(), kept], first[2]
        failed = self.failed(last[0])
        if any(f[3] for f in failed) or len(failed) >= 3:
            scores = [f[2] for f in failed if f[2] is not None]
            return ["retraining", day_of(failed[0][0], self.zone).isoformat(), max(scores, default=None)], failed[0][1]
        if first and len(self.successes) == 1:
            return ["settling", first[1].isoformat()], first[2]
        return ["regular"], last[2]

    def kept(self, plan, n):
        worked = {d for _, d, _ in self.successes}
        day = plan[n]
        while day <= self.today and (n + 1 == len(plan) or day < plan[n + 1]):
            if day in worked:
                return True
            day += DAY
        return False

    def asks_reason(self):
        young = self.grown() is None or self.today < self.grown()
        past = [e for e in self.at("session", "visit") if self.day(e) <= self.today]
        return young and not self.successes and not any(e.get("early") for e in past)

    def may(self):
        """May he be collected today?"""
        if self.at("gone"):
            return ["gone"]
        off = self.off()
        if off:
            return ["off", off["until"]]
        if self.grown() and self.today < self.grown():
            return ["too_young", self.grown().isoformat()]
        days, first = [d for _, d, _ in self.successes], self.first()
        plan = planned(first[1], self.standard) if first else []
        if days and self.today not in plan:
            free = self.rests(days, first, plan)
            if free > self.today:
                return ["rests", free.isoformat()]
            exempt = set(plan) | {first[1]} if plan else set()
            counted = [d for d in days if d not in exempt]
            day = self.today
            while sum(1 for d in counted if 0 <= (day - d).days < 7) >= max(self.standard["in_seven_days"], 1):
                day += DAY
            if day > self.today:
                return ["third_in_seven", day.isoformat()]
        entered = day_of(self.case["entered_ms"], self.zone)
        if self.case["before"] == "unknown" and (self.today - entered).days < 7:
            return ["unknown", "history"]
        if not self.born and not days:
            return ["unknown", "age"]
        return ["unknown", "clock"] if self.future else ["yes"]

    def rests(self, days, first, plan):
        due = [n for n, d in enumerate(plan) if d < self.today]
        ahead = [d for d in plan if d > self.today]
        if due and ahead and self.kept(plan, due[-1]):
            return ahead[0]
        day = self.today
        while (day - days[-1]).days < self.standard["rest_days"]:
            day += DAY
        return day

    def answer(self):
        state, by = self.state()
        begun = self.born and self.sessions
        ahead = [e for e in self.at("session", "visit") if self.day(e) > self.today]
        visits = {self.day(e) for e in self.at("visit") if self.day(e) <= self.today}
        return {
            "state": state,
            "by": by,
            "sessions": [[self.day(e).isoformat(), e["score"]] for e in self.sessions],
            "visits": len(visits),
            "doubles": self.doubles,
            "began_at_days": (self.day(self.sessions[0]) - self.born).days if begun else None,
            "asks_reason": self.asks_reason(),
            "ahead": bool(ahead),
            "may": self.may(),
        }


def case(name, now, events, zone="Europe/Madrid", born="2025-05-01", before="none_yet", entered="2025-12-01T08:00", **standard):
    read = []
    for what, at, *more in events:
        event = {"what": what, "at_ms": local(zone, at)}
        if what == "off":
            event |= {"reason": more[0], "until": more[1] if len(more) > 1 else None}
        if what == "session":
            event |= {"score": more[0], "early": len(more) > 1}
        if what == "born":
            event["born"] = more[0]
        if what == "void":
            event["of"] = more[0]
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


def session(day, score, time="07:00"):
    return ("session", f"{day}T{time}", score)


def told():
    apart = [("off", "2025-12-01T08:10", "isolation", "2025-12-31")]
    for now in ("2025-12-01T09:00", "2025-12-31T23:59", "2026-01-01T00:00"):
        yield case("isolated thirty days", now, apart, born="2025-05-06")
    for d in (30, 31):
        yield case("age of 240 days", f"2025-12-{d}T09:00", [], born="2025-05-05")
    yield case("29 February counts", "2024-03-01T09:00", [], born="2023-07-05", entered="2024-01-01T08:00")
    yield case("29 February counts, the day before", "2024-02-29T09:00", [], born="2023-07-05", entered="2024-01-01T08:00")
    visits = [("visit", "2026-01-02T07:00"), ("visit", "2026-01-02T16:00"), ("visit", "2026-01-03T07:00")]
    yield case("visits", "2026-01-03T09:00", visits)
    rising = visits + [session(f"2026-01-{5 + n:02}", s) for n, s in enumerate([0, 1, 1, 3])]
    yield case("in training", "2026-01-09T09:00", rising)
    yield case("falling", "2026-01-12T09:00", rising + [session("2026-01-09", 2), session("2026-01-10", 1)])
    young = [("session", "2025-12-02T07:00", 1, "keen")]
    yield case("begun early, with a reason", "2025-12-03T09:00", young)
    yield case("begun early, without", "2025-12-03T09:00", [session("2025-12-02", 1)])
    wrong = young + [("born", "2025-12-04T12:00", "2025-03-01")]
    yield case("the birth was corrected afterwards: old enough", "2025-12-05T09:00", wrong)
    later = [session("2026-01-05", 2), ("born", "2026-01-06T12:00", "2025-09-01")]
    yield case("the birth was corrected afterwards: too young", "2026-01-07T09:00", later)
    yield case("the birth was corrected, and no session yet", "2026-01-07T09:00", later[1:])
    learnt = rising + [session("2026-01-09", 5)]
    for rhythm in ("days_running", "next_day_then_weekly"):
        kept = {"days_running": (10, 11, 12), "next_day_then_weekly": (10, 17, 24, 31)}[rhythm]
        for n in range(36):
            day = date(2026, 1, 9) + n * DAY
            done = [session(f"2026-01-{d:02}", 5) for d in kept if date(2026, 1, d) <= day]
            yield case(f"{rhythm}, kept, day {n}", f"{day}T12:00", learnt + done, rhythm=rhythm)
            yield case(f"{rhythm}, not kept, day {n}", f"{day}T12:00", learnt, rhythm=rhythm)
    made_up = learnt + [("collected", "2026-01-10T08:00"), ("collected", "2026-01-18T08:00")]
    for d in range(17, 26):
        past = [e for e in made_up if e[1] < f"2026-01-{d}T12:00"]
        yield case(f"a weekly day made up for, on the {d}th", f"2026-01-{d}T12:00", past, rhythm="next_day_then_weekly")
    both = learnt + [("collected", "2026-01-09T07:20")]
    yield case("the session stands as a collection too", "2026-01-10T09:00", both)
    yield case("and is not counted twice", "2026-01-16T09:00", both + [("collected", "2026-01-13T07:00")], repetition_days=0)
    yield case("a collection before training ended", "2026-01-10T09:00", rising + [("collected", "2026-01-09T07:00")])
    yield case("an attempt at a collection is one", "2026-01-10T09:00", [("no_mount", "2026-01-09T07:00")])
    used = learnt + [session("2026-01-10", 5), ("collected", "2026-01-14T07:00"), ("collected", "2026-01-20T07:00")]
    yield case("regular", "2026-01-26T09:00", used)
    refused = [("no_mount", f"2026-01-{d}T07:00") for d in (24, 25, 26)]
    for n in (1, 2, 3):
        yield case(f"{n} attempts without a mount", "2026-01-26T09:00", used + refused[:n])
    yield case("a session again", "2026-01-26T09:00", used + [session("2026-01-25", 2)])
    yield case("and he found it again", "2026-01-29T09:00", used + [session("2026-01-25", 2), session("2026-01-28", 5)])
    yield case("a session in the days of repetition that failed", "2026-01-11T09:00", learnt + [session("2026-01-10", 2)])
    yield case("and after them", "2026-01-14T09:00", learnt + [session("2026-01-13", 2)])
    yield case("an old boar who came as one", "2026-01-05T09:00", [], born="2023-01-05", before="2025-11-20")
    yield case("nobody said what he did", "2026-01-05T09:00", [], born="2023-01-05", before="unknown")
    yield case("nobody said, but he was collected", "2026-01-05T09:00", [("collected", "2026-01-02T07:00")], born="2023-01-05", before="unknown")
    yield case("nobody knows his age", "2026-01-05T09:00", [], born=None)
    two = [session("2026-01-05", 2), session("2026-01-05", 3, "07:20")]
    yield case("two phones, one session, two scores", "2026-01-05T09:00", two)
    yield case("two phones, one success", "2026-01-06T09:00", [session("2026-01-05", 3), session("2026-01-05", 5, "07:20")])
    yield case("two sessions in one day", "2026-01-05T18:00", [two[0], session("2026-01-05", 3, "16:00")])
    yield case("no score", "2026-01-05T09:00", [session("2026-01-05", None)])
    yield case("taken back", "2026-01-06T09:00", [session("2026-01-05", 5), ("void", "2026-01-05T08:00", 0)])
    yield case("he died yesterday", "2026-01-11T09:00", learnt + [("gone", "2026-01-10T16:00")])
    yield case("to be culled", "2026-01-11T09:00", rising + [("off", "2026-01-10T16:00", "cull")])
    yield case("lame", "2026-01-11T09:00", rising + [("off", "2026-01-10T16:00", "lame", "2026-01-20")])
    yield case("put back", "2026-01-12T09:00", rising + [("off", "2026-01-10T16:00", "lame", "2026-01-20"), ("on", "2026-01-11T16:00")])
    yield case("a session of tomorrow", "2026-01-11T09:00", rising + [session("2026-01-12", 5)])
    for d in (28, 29, 30):
        yield case(f"clocks go forward, {d} March", f"2026-03-{d}T23:30", [session("2026-03-28", 5, "23:50")])


def drawn(rng, n):
    zone = rng.choice(ZONES)
    now = datetime(2026, rng.randint(1, 12), rng.randint(1, 28), rng.randint(0, 23), rng.choice([0, 5, 30, 55]))
    span = rng.choice([6, 15, 45])
    events = []
    for _ in range(rng.randint(0, 12)):
        what = rng.choices(["session", "visit", "collected", "no_mount", "off", "on", "gone", "born"], [60, 12, 12, 6, 6, 4, 1, 2])[0]
        at = now - timedelta(minutes=rng.randint(-900 if rng.random() < 0.1 else 0, 60 * 24 * span))
        event = [what, at.isoformat(timespec="minutes")]
        if what == "session":
            event.append(rng.choice([None, 0, 1, 2, 3, 4, 5, 5, 5]))
            if rng.random() < 0.3:
                event.append("keen")
        if what == "off":
            event.append(rng.choice(["isolation", "lame", "cull", "isolation"]))
            event.append((at.date() + timedelta(days=rng.randint(0, 14))).isoformat() if rng.random() < 0.8 else None)
        if what == "born":
            event.append((now.date() - timedelta(days=rng.randint(200, 280))).isoformat())
        events.append(tuple(event))
        if what == "session" and rng.random() < 0.15:
            events.append((what, (at + timedelta(minutes=rng.choice([3, 40, 61]))).isoformat(timespec="minutes"), rng.choice([1, 3, 5])))
    # One instant holds one event: which of two comes first is not for the calendar to say.
    events = list({e[1]: e for e in events}.values())
    if events and rng.random() < 0.2:
        which = rng.randrange(len(events))
        if events[which][0] in ("session", "visit", "collected", "off"):
            events.append(("void", (now + timedelta(minutes=1)).isoformat(timespec="minutes"), which))
    before = rng.choices(["none_yet", "unknown", (now.date() - timedelta(days=rng.randint(50, 60))).isoformat()], [7, 2, 1])[0]
    born = rng.choices([None, "2025-01-15", (now.date() - timedelta(days=rng.randint(225, 260))).isoformat()], [1, 4, 5])[0]
    entered = now - timedelta(days=rng.choice([2, 6, 7, 8, 60]), hours=rng.randint(0, 23))
    standard = {"rhythm": rng.choice(["days_running", "next_day_then_weekly"])}
    if rng.random() < 0.4:
        standard |= {"rest_days": rng.randint(0, 6), "in_seven_days": rng.randint(0, 3), "repetition_days": rng.randint(0, 4)}
    return case(f"drawn {n}", now.isoformat(timespec="minutes"), events, zone, born, before, entered.isoformat(timespec="minutes"), **standard)


def main():
    rng = random.Random(20260501)
    print(json.dumps({"python": platform.python_version(), "zones": {z: changes(z) for z in ZONES}}))
    for c in list(told()) + [drawn(rng, n) for n in range(500)]:
        print(json.dumps({"case": c, "is": Life(c).answer()}))


if __name__ == "__main__":
    main()
