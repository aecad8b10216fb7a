"""Cases for regular days, times off and the watch after a fever, answered by an independent calendar.

The answers are found day by day from the words below, with Python's own calendar and time zone
database; no formula of the program is used.

    python3 regular.py > regular.jsonl

Words (farm defaults; rest 3-7 d: Knox et al. 2008; a sperm takes 34-40 days to grow and 10-13 to pass
the epididymis; the rest common practice, no source):
  - from one collection or natural service to the next go `regular_days`, or `regular_days_young` if he
    was under a year old at the first; or his own, which only lengthen those of a young boar; never
    fewer than `rest_days`, nor than one;
  - a day of repetition after a first success takes their place: the last one that was missed, until he
    works, or the next one;
  - he is due on the first day from then on, and from the day on which he was put back on, on which he
    may be collected (../training/generate.py); if that is today or past and he may not today, on the
    first day from today on;
  - who was never used is due today; who may not be told, or learns, is due on no day;
  - due, he is idle, and then to be cleaned out, after so many days without use; else he is due today,
    or late;
  - the plan of the coming days has him work on the day he is due, today if that is past, and go on from
    there; if he is off, from the day after it if the calendar ends all of it;
  - off for treatment, or for blood or pus, ends by the veterinarian's word, the rest on its day or when
    he is put back; what ends before it began is none;
  - after a fever he is watched for six weeks from its last day, which is the day he was put back if that
    came first; from its first while no day is known.
"""

import json
import platform
import random
import sys
from datetime import date, datetime, timedelta
from pathlib import Path
import importlib.util

HERE = Path(__file__).parent


def load(name, path):
    spec = importlib.util.spec_from_file_location(name, path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


rest = load("generate", HERE / "generate.py")
training = load("training", HERE.parent / "training" / "generate.py")
DAY = timedelta(days=1)
PLAN_DAYS = 21

STANDARD = {
    "rest_days": 3,
    "in_seven_days": 2,
    "idle_check_days": 7,
    "idle_clean_out_days": 14,
    "young_days": 240,
    "repetition_days": 3,
    "rhythm": "days_running",
    "regular_days": 5,
    "regular_days_young": 7,
}


class Life(training.Life):
    """One that may serve too, and whose times off may end before they began."""

    def find_successes(self):
        found = super().find_successes()
        served = [(e["at_ms"], self.day(e), e["n"]) for e in self.at("service")]
        self.future += [s for s in served if s[1] > self.today]
        return sorted(found + [s for s in served if s[1] <= self.today])

    def at(self, *kinds):
        wrong = lambda e: e["what"] == "off" and e["until"] and date.fromisoformat(e["until"]) < self.day(e)
        return [e for e in super().at(*kinds) if not wrong(e)]

    def may_on(self, day):
        today, future = self.today, self.future
        self.today, self.future = day, []
        found = self.may() == ["yes"]
        self.today, self.future = today, future
        return found

    def free_from(self, day):
        for _ in range(500):
            if self.may_on(day):
                return day
            day += DAY
        return None

    def regular(self, own):
        begun = self.successes[-1][1] if self.successes else self.today
        young = self.born is not None and begun < birthday(self.born)
        days, why = (self.standard["regular_days_young"], "young") if young else (self.standard["regular_days"], "standard")
        if own is not None and (not young or own > days):
            days, why = own, "his_own"
        return max(days, self.standard["rest_days"], 1), why

    def plan_day(self):
        first, last = self.first(), self.successes[-1][1]
        plan = planned(first, self.standard)
        day = self.today
        while first and day > first[1] and day not in plan:
            day -= DAY
        if day in plan and day > last:
            return day
        return min((d for d in plan if d > self.today), default=None)

    def due(self, own):
        if not self.successes:
            day, by_plan = self.today, None
        else:
            day = by_plan = self.plan_day()
            if day is None:
                day = self.successes[-1][1]
                for _ in range(self.regular(own)[0]):
                    day += DAY
        for e in self.at("on"):
            if self.day(e) <= self.today:
                day = max(day, self.day(e))
        day = self.free_from(day)
        if day and day <= self.today:
            free = self.free_from(self.today)
            day = day if free == self.today else free
        return day, by_plan is not None and by_plan == day

    def rhythm(self, own):
        if self.may()[0] not in ("yes", "rests", "third_in_seven"):
            return None
        if self.state()[0][0] in ("acclimatising", "in_training", "retraining"):
            return None
        day, by_plan = self.due(own)
        if day is None:
            return None
        idle = (self.today - self.successes[-1][1]).days if self.successes else 0
        late = (self.today - day).days
        if late < 0:
            state = ["not_due"]
        elif idle > self.standard["idle_clean_out_days"] and idle > self.standard["idle_check_days"]:
            state = ["clean_out", idle]
        elif idle > self.standard["idle_check_days"]:
            state = ["idle", idle]
        else:
            state = ["late", late] if late else ["today"]
        last = self.successes[-1][1].isoformat() if self.successes else None
        return {"day": day.isoformat(), "last": last, "regular": self.regular(own), "repeating": by_plan, "state": state}

    def offs(self):
        back = max((e["at_ms"] for e in self.at("on")), default=None)
        found = [e for e in self.at("off") if back is None or e["at_ms"] > back]
        found = [e for e in found if not e["until"] or date.fromisoformat(e["until"]) >= self.today]
        return found

    def ends(self):
        named = []
        for e in self.offs():
            if e["reason"] in ("treated", "blood_or_pus"):
                named.append([e["reason"], "veterinarian", e["until"]])
            else:
                named.append([e["reason"], "day" if e["until"] else "put_back", e["until"]])
        return sorted(named, key=json.dumps)

    def watch(self):
        holding = []
        for e in self.at("off"):
            if e["reason"] != "fever":
                continue
            began, lasts = self.day(e), []
            if e["until"]:
                lasts.append(date.fromisoformat(e["until"]))
            lasts += [max(self.day(on), began) for on in self.at("on") if on["at_ms"] > e["at_ms"]]
            counts = until = min(lasts, default=began)
            for _ in range(6 * 7):
                until += DAY
            if began <= self.today <= until:
                holding.append((until, counts))
        return [max(holding)[1].isoformat(), max(holding)[0].isoformat()] if holding else None


def planned(first, standard):
    return training.planned(first[1], standard) if first else []


def birthday(born):
    try:
        return born.replace(year=born.year + 1)
    except ValueError:
        return date(born.year + 1, 2, 28)


def week(case):
    life = Life(case)
    today, start = life.today, life.today
    if life.offs():
        if any(kind != "day" for _, kind, _ in life.ends()):
            return []
        start = max(date.fromisoformat(e["until"]) for e in life.offs()) + DAY
        life = Life(case | {"now_ms": rest.start_ms(start, life.zone)})
    if life.rhythm(case["own"]) is None:
        return []
    days, found = [], life.due(case["own"])[0]
    late = max((start - found).days, 0)
    day = max(found, start)
    while day < today + PLAN_DAYS * DAY:
        days.append([day.isoformat(), 0 if days else late, bool(days)])
        life.successes.append((0, day, "plan"))
        life.today = day
        day = life.due(case["own"])[0]
        if day is None:
            break
    return days


def answer(case):
    life = Life(case)
    return {
        "due": life.rhythm(case["own"]),
        "may": life.may(),
        "offs": life.ends(),
        "ends_before_it_began": sum(1 for e in training.Life.at(life, "off")) - len(life.at("off")),
        "watch": life.watch(),
        "plan": week(case),
    }


def case(name, now, events, own=None, **more):
    made = training.case(name, now, events, **{"born": "2024-01-01", **more})
    return made | {"own": own, "standard": STANDARD | made["standard"]}


LEARNT = [("collected", f"2025-12-{d:02}T07:00") for d in (3, 4, 5, 6)]


def told():
    used = LEARNT + [("collected", "2026-01-10T07:00")]
    for n in range(18):
        yield case(f"{n} days after", f"2026-01-{10 + n}T12:00", used)
    for n in range(9):
        yield case(f"under a year, {n} days after", f"2026-01-{10 + n}T12:00", used, born="2025-01-11")
        yield case(f"a year old that day, {n} days after", f"2026-01-{10 + n}T12:00", used, born="2025-01-10")
    for own in (2, 3, 4, 6, 9, 10):
        for n in (0, 3, 5, own, own + 1):
            yield case(f"his own {own}, {n} days after", f"2026-01-{10 + n}T12:00", used, own)
            yield case(f"his own {own}, young, {n} days after", f"2026-01-{10 + n}T12:00", used, own, born="2025-03-01")
    leap = [("collected", "2025-02-27T07:00")]
    for d, born in ((27, "2024-02-29"), (28, "2024-02-29"), (27, "2024-02-28")):
        yield case("born on 29 February", "2025-03-07T12:00", [("collected", f"2025-02-{d}T07:00")], born=born, before="2024-12-20")
    yield case("a natural service counts", "2026-01-17T12:00", used + [("service", "2026-01-14T15:00")])
    two = used + [("collected", "2026-01-13T07:00")]
    for n in range(9):
        yield case(f"a third in seven would be, {n} days after", f"2026-01-{13 + n}T12:00", two, regular_days=3)
    for days in (0, 1, 2):
        yield case(f"regular days of {days}", "2026-01-12T12:00", used, regular_days=days, rest_days=days)
    yield case("never used, told", "2026-01-12T12:00", [], before="unknown")
    yield case("never used, entered yesterday", "2026-01-12T12:00", [], before="unknown", entered="2026-01-11T08:00")
    yield case("entered yesterday and collected", "2026-01-12T12:00", [("collected", "2026-01-11T09:00")], before="unknown", entered="2026-01-11T08:00")
    yield case("came with a day", "2026-01-12T12:00", [], before="2025-12-30")
    for reason, until in (("lame", "2026-01-20"), ("lame", None), ("treated", "2026-01-20"), ("treated", None), ("blood_or_pus", None), ("cull", None), ("isolation", "2026-01-14"), ("fever", "2026-01-20")):
        for d in (12, 14, 15, 20, 21, 22, 24):
            yield case(f"off, {reason} until {until}, on the {d}th", f"2026-01-{d}T12:00", used + [("off", "2026-01-11T09:00", reason, until)])
    both = used + [("off", "2026-01-11T09:00", "lame", "2026-01-14"), ("off", "2026-01-12T09:00", "fever", "2026-01-18"), ("off", "2026-01-12T10:00", "treated", None)]
    for d in (12, 15, 19):
        yield case(f"off for several reasons, on the {d}th", f"2026-01-{d}T12:00", both)
    back = both + [("on", "2026-01-16T09:00")]
    for d in (16, 17, 19, 22):
        yield case(f"and put back, on the {d}th", f"2026-01-{d}T12:00", back)
    wrong = used + [("off", "2026-01-11T09:00", "lame", "2026-01-10")]
    yield case("ends before it began", "2026-01-11T12:00", wrong)
    ahead = used + [("off", "2026-01-20T09:00", "lame", "2026-01-18")]
    yield case("ends before it began, and is dated ahead", "2026-01-12T12:00", ahead)
    fever = used + [("off", "2026-01-12T09:00", "fever", "2026-01-15")]
    for now in ("2026-01-11", "2026-01-12", "2026-01-15", "2026-02-26", "2026-02-27"):
        yield case(f"fever to 15 January, on {now}", f"{now}T12:00", [e for e in fever if e[1] <= f"{now}T12:00"])
        yield case(f"fever without an end, on {now}", f"{now}T12:00", [e for e in used + [("off", "2026-01-12T09:00", "fever")] if e[1] <= f"{now}T12:00"])
    for now in ("2026-02-23", "2026-02-24", "2026-02-25"):
        yield case(f"fever, put back on the 13th, on {now}", f"{now}T12:00", fever + [("on", "2026-01-13T09:00")])
        yield case(f"fever without an end, put back on the 13th, on {now}", f"{now}T12:00", used + [("off", "2026-01-12T09:00", "fever"), ("on", "2026-01-13T09:00")])
    yield case("two fevers", "2026-03-20T12:00", fever + [("off", "2026-02-10T09:00", "fever", "2026-02-14")])
    yield case("fever across the change of clocks", "2026-04-12T12:00", used + [("off", "2026-02-27T23:30", "fever", "2026-03-01")])
    yield case("gone", "2026-01-12T12:00", used + [("gone", "2026-01-11T12:00")])
    yield case("a day in the future", "2026-01-20T12:00", used + [("collected", "2026-01-21T12:00")])
    yield from taught()


def taught():
    """The lives of the states of training, with their days of repetition."""
    for made in training.told():
        yield made | {"own": None, "standard": STANDARD | made["standard"]}


def drawn(rng, n):
    zone = rng.choice(rest.ZONES)
    month, day = rng.randint(1, 12), rng.randint(1, 28)
    now = datetime(2026, month, day, rng.randint(0, 23), rng.choice([0, 5, 30, 55]))
    events, at = [], now - timedelta(days=rng.randint(5, 60))
    while at < now:
        at += timedelta(minutes=rng.randint(60 * 10, 60 * 24 * rng.choice([2, 5, 9])))
        what = rng.choices(["collected", "service", "no_mount", "session", "visit", "off", "on", "gone"], [50, 9, 6, 8, 4, 13, 6, 1])[0]
        event = [what, at.isoformat(timespec="minutes")]
        if what == "session":
            event.append(rng.choice([0, 1, 2, 3, 5, 5]))
        if what == "off":
            event.append(rng.choice(["lame", "fever", "fever", "treated", "blood_or_pus", "ill", "isolation", "cull"]))
            if rng.random() < 0.8:
                event.append((at.date() + timedelta(days=rng.randint(-2, 9))).isoformat())
        if at < now or rng.random() < 0.1:
            events.append(tuple(event))
    before = rng.choices(["none_yet", "unknown", (now.date() - timedelta(days=rng.randint(61, 80))).isoformat()], [5, 3, 3])[0]
    born = (now.date() - timedelta(days=rng.choice([rng.randint(236, 300), rng.randint(350, 400), 900]))).isoformat()
    born = rng.choices([born, None], [9, 1])[0]
    entered = (now - timedelta(days=rng.choice([3, 8, 90]))).isoformat(timespec="minutes")
    standard = {"rhythm": rng.choice(["days_running", "next_day_then_weekly"])}
    if rng.random() < 0.5:
        standard |= {"rest_days": rng.randint(0, 6), "in_seven_days": rng.randint(0, 3), "repetition_days": rng.randint(0, 4)}
        standard |= {"regular_days": rng.randint(0, 9), "regular_days_young": rng.randint(2, 10), "idle_check_days": rng.randint(3, 9)}
    own = rng.choice([None, None, rng.randint(1, 10)])
    return case(f"drawn {n}", now.isoformat(timespec="minutes"), events, own, zone=zone, born=born, before=before, entered=entered, **standard)


def main():
    rng = random.Random(20261126)
    print(json.dumps({"python": platform.python_version(), "zones": {z: rest.changes(z) for z in rest.ZONES}}))
    for c in list(told()) + [drawn(rng, n) for n in range(500)]:
        print(json.dumps({"case": c, "is": answer(c)}, separators=(",", ":")))


if __name__ == "__main__":
    main()
