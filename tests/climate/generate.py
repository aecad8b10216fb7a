"""Writes odd files as loggers write them, and what pandas makes of them: half-hour means, what was
doubled, contradicted, silent or stuck, and each day's heat counted half minute by half minute. Also
the index of NRC 1971, and heat loads and hot spells by the calendar of pandas.
Run by hand from this folder; the output is committed, and no test run needs Python.

    pip install -r requirements.txt && python3 generate.py
"""

import json
import math
import pathlib
import platform
import random
from importlib.metadata import version

import numpy
import pandas

HERE = pathlib.Path(__file__).parent
FILES = HERE / "files"
SEED = 20260701
HOT_THI, HOT_CELSIUS, HOT_HOURS = 75, 27, 6
REACH, BY_HAND, WARM = 90, 4, range(720, 1081)
chance = random.Random(SEED)


def air(minute, middle=25.0, swing=6.0):
    """A day's wave, warmest at three in the afternoon, with a little noise."""
    return middle + swing * math.cos((minute - 900) / 1440 * 2 * math.pi) + chance.uniform(-0.4, 0.4)


def damp(celsius):
    return max(20.0, min(99.0, 62 - 2.1 * (celsius - 25) + chance.uniform(-2, 2)))


def wave(start, periods, step, middle=25.0, swing=6.0, tz=None):
    """Stamps with °C and %, to tenths."""
    stamps = pandas.date_range(start, periods=periods, freq=f"{step}min", tz=tz)
    celsius = [round(air(t.hour * 60 + t.minute, middle, swing), 1) for t in stamps]
    return stamps, celsius, [round(damp(c), 1) for c in celsius]


def save(name, lines, encoding="utf-8", end="\n"):
    (FILES / name).write_bytes((end.join(lines) + end).encode(encoding))


def frame(instants, celsius, humidity, room="Room 1"):
    """Readings as a table: UTC instants, °C, %, room. Sequences or single values."""
    index = pandas.DatetimeIndex(instants).tz_convert("UTC")
    columns = {"room": room, "c": celsius, "h": humidity}
    made = pandas.DataFrame(columns, index=range(len(index)))
    made["t"] = index
    return made


# The files: each is written, and read back by pandas with what a person would have to tell it.


def titled():
    """Every ten minutes, under a title; the heading bears the offset. One value stands beyond what is taken."""
    name = "titled.csv"
    stamps, celsius, humidity = wave("2026-07-01 00:00", 3 * 144, 10, middle=24.5)
    celsius[200] = 85.0
    lines = ['"Plot Title: barn, north side"', '"#","Date Time, GMT+02:00","Temp, °C (S/N: 1)","RH, % (S/N: 1)"']
    lines += [f'{n},{t:%m/%d/%y %I:%M:%S %p},{c:.1f},{h:.1f}' for n, (t, c, h) in enumerate(zip(stamps, celsius, humidity), 1)]
    save(name, lines)
    read = pandas.read_csv(FILES / name, skiprows=1)
    when = pandas.to_datetime(read.iloc[:, 1], format="%m/%d/%y %I:%M:%S %p").dt.tz_localize("+02:00")
    table = frame(when, read.iloc[:, 2].to_numpy(), read.iloc[:, 3].to_numpy())
    bad = table.c > 60
    return name, "Europe/Madrid", {"order": "month_first"}, table[~bad], {"refused": int(bad.sum())}


def spanish():
    """Windows-1252, semicolons, decimal commas, date and time apart, empty cells."""
    name = "spanish.csv"
    stamps, celsius, humidity = wave("2026-08-02 07:15", 190, 15, middle=26)
    comma = lambda x: f"{x:.1f}".replace(".", ",")
    lines = ["Sala de verracos nº 2", "", "Fecha;Hora;Temperatura (ºC);Humedad relativa (%)"]
    for n, (t, c, h) in enumerate(zip(stamps, celsius, humidity)):
        c, h = ("" if n % 17 == 3 else comma(c)), ("" if n % 11 == 5 else comma(h))
        lines.append(f"{t:%d/%m/%Y};{t:%H:%M};{c};{h}")
    save(name, lines, "cp1252", "\r\n")
    read = pandas.read_csv(FILES / name, sep=";", decimal=",", encoding="cp1252", skiprows=2)
    when = pandas.to_datetime(read.Fecha + " " + read.Hora, format="%d/%m/%Y %H:%M").dt.tz_localize("Europe/Madrid")
    table = frame(when, read.iloc[:, 2].to_numpy(), read.iloc[:, 3].to_numpy(), "Sala 2")
    blank = table.c.isna()
    choices = {"order": "day_first", "room": "Sala 2"}
    return name, "Europe/Madrid", choices, table[~blank], {"without_temperature": int(blank.sum())}


def fahrenheit():
    """Tabulators, °F, every five minutes, stamps in UTC, a farm far from it, UTF-16."""
    name = "fahrenheit.csv"
    stamps, celsius, humidity = wave("2026-07-10 03:00", 2 * 288, 5, middle=27, tz="UTC")
    lines = ["timestamp\ttemperature_f\thumidity"]
    lines += [f"{t:%Y-%m-%dT%H:%M:%SZ}\t{c * 1.8 + 32:.2f}\t{h}" for t, c, h in zip(stamps, celsius, humidity)]
    save(name, ["\ufeff" + lines[0]] + lines[1:], "utf-16-le", "\r\n")
    read = pandas.read_csv(FILES / name, sep="\t", encoding="utf-16")
    table = frame(pandas.to_datetime(read.timestamp, utc=True), (read.temperature_f.to_numpy() - 32) * 5 / 9, read.humidity.to_numpy())
    return name, "America/Chicago", {}, table, {}


def put_back():
    """Newest first, over the day whose clock is put back; local stamps without an offset."""
    name = "put-back.csv"
    stamps, celsius, humidity = wave("2026-10-24 06:00", 4 * 60, 15, middle=17, tz="Europe/Madrid")
    lines = ["Time,Temp C,RH"]
    lines += [f"{t:%Y-%m-%d %H:%M},{c},{h}" for t, c, h in reversed(list(zip(stamps, celsius, humidity)))]
    save(name, lines)
    read = pandas.read_csv(FILES / name).iloc[::-1]
    when = pandas.to_datetime(read.Time).dt.tz_localize("Europe/Madrid", ambiguous="infer")
    return name, "Europe/Madrid", {}, frame(when, read["Temp C"].to_numpy(), read.RH.to_numpy()), {"repeated": [4, 4]}


def winter_time():
    """A logger whose clock nobody puts forward, over the day on which the farm's is."""
    name = "winter-time.csv"
    stamps, celsius, _ = wave("2026-03-28 12:00", 2 * 48, 30, middle=14)
    save(name, ["Fecha y hora|T °C"] + [f"{t:%Y-%m-%d %H:%M:%S}|{c}" for t, c in zip(stamps, celsius)])
    read = pandas.read_csv(FILES / name, sep="|")
    when = pandas.to_datetime(read["Fecha y hora"]).dt.tz_localize("+01:00")
    return name, "Europe/Madrid", {"clock": {"offset": 60}}, frame(when, read["T °C"].to_numpy(), float("nan")), {}


def rooms():
    """Two rooms in one file, rows in no order, some twice, some contradicted, some hours silent."""
    name = "rooms.csv"
    rows = []
    for room, middle in (("North", 26.5), ("South", 22.0)):
        stamps, celsius, humidity = wave("2026-07-20 00:00", 4 * 48, 30, middle=middle, swing=5)
        rows += [[t, room, c, h] for t, c, h in zip(stamps, celsius, humidity)]
    silent = lambda t, room: room == "North" and (t.day == 21 and 11 <= t.hour < 18 or t.day == 22 and 1 <= t.hour < 9)
    rows = [r for r in rows if not silent(r[0], r[1])]
    chance.shuffle(rows)
    rows += [list(r) for r in chance.sample(rows, 9)]
    rows += [[r[0], r[1], round(r[2] + 1.5, 1), r[3]] for r in chance.sample(rows[:300], 5)]
    save(name, ["Room,Date,Time,Air temperature (°C),Relative humidity (%)"] + [f"{room},{t:%Y-%m-%d},{t:%H:%M},{c},{h}" for t, room, c, h in rows])
    read = pandas.read_csv(FILES / name)
    when = pandas.to_datetime(read.Date + " " + read.Time).dt.tz_localize("Europe/Madrid")
    table = frame(when, read.iloc[:, 3].to_numpy(), read.iloc[:, 4].to_numpy(), read.Room.to_numpy())
    return name, "Europe/Madrid", {"room": None}, table, {}


def stuck():
    """Seconds since 1970; the thermometer stands still for 30 hours."""
    name = "stuck.csv"
    stamps, celsius, humidity = wave("2026-06-01 00:00", 72, 60, middle=20, tz="UTC")
    celsius[20:51] = [22.2] * 31
    save(name, ["Epoch,Temp,Hum"] + [f"{t.timestamp():.0f},{c},{h}%" for t, c, h in zip(stamps, celsius, humidity)])
    read = pandas.read_csv(FILES / name)
    table = frame(pandas.to_datetime(read.Epoch, unit="s", utc=True), read.Temp.to_numpy(), read.Hum.str.rstrip("%").astype(float).to_numpy())
    return name, "America/Argentina/Buenos_Aires", {"mapping": {"0": "stamp", "1": "temperature", "2": "humidity"}}, table, {"stuck": 1}


def by_hand():
    """A thermometer read once to three times a day, some days only in the morning."""
    name = "by-hand.csv"
    rows = []
    for day in pandas.date_range("2026-07-01", periods=24):
        hours = chance.choice([[7], [15], [7, 14], [8, 13, 19], [16]])
        rows += [(day + pandas.Timedelta(hours=h), round(air(h * 60, chance.choice([20, 24, 27])), 1)) for h in hours]
    save(name, ["día;hora;temperatura"] + [f"{t.day}-{['jul', 'ago'][t.month - 7]}-{t.year};{t:%H:%M};{c} °C" for t, c in rows], "cp1252", "\r\n")
    read = pandas.read_csv(FILES / name, sep=";", encoding="cp1252")
    day = read.iloc[:, 0].str.replace("jul", "07").str.replace("ago", "08")
    when = pandas.to_datetime(day + " " + read.hora, format="%d-%m-%Y %H:%M").dt.tz_localize("Europe/Madrid")
    table = frame(when, read.temperatura.str.replace(" °C", "").astype(float).to_numpy(), float("nan"))
    return name, "Europe/Madrid", {}, table, {}


def length(day, zone):
    start = pandas.Timestamp(day).tz_localize(zone)
    end = (pandas.Timestamp(day) + pandas.Timedelta(days=1)).tz_localize(zone)
    return start, int((end - start).total_seconds()) // 60


def half_hours(table, zone):
    """Means around the marks of each room and farm day."""
    table = table.copy()
    table["day"] = table.t.dt.tz_convert(zone).dt.date
    days = []
    for (room, day), group in table.groupby(["room", "day"]):
        start, minutes = length(day, zone)
        step = max(30, math.ceil(minutes / 48))
        last = (math.ceil(minutes / step) - 1) * step
        minute = ((group.t - start.tz_convert("UTC")).dt.total_seconds() // 60).astype(int)
        mark = ((minute + step // 2) // step * step).clip(upper=last)
        means = group.groupby(mark)[["c", "h"]].mean()
        days.append((room, day, len(group), minutes, means))
    return days


def index(celsius, humidity):
    return 0.8 * celsius + humidity / 100 * (celsius - 14.4) + 46.4


def is_hot(celsius, humidity):
    # So that rounding to hundredths decides nothing.
    limit = index(celsius, humidity) - HOT_THI if not math.isnan(humidity) else celsius - HOT_CELSIUS
    assert abs(limit) > 0.02, "another seed, please"
    return limit > 0


def summary(minutes, means):
    """Every half minute belongs to the nearest reading, if that is near enough."""
    marks = means.index.to_numpy()
    hot = numpy.array([is_hot(c, h) for c, h in means.to_numpy()])
    cells = numpy.arange(0.25, minutes, 0.5)
    away = numpy.abs(cells[:, None] - marks[None, :])
    nearest = away.argmin(axis=1)
    known = away.min(axis=1) <= REACH
    hours_known = known.sum() / 120
    hours_hot = (known & hot[nearest]).sum() / 120
    unknown = minutes / 60 - hours_known
    if hot.any() and (len(marks) <= BY_HAND or hours_hot >= HOT_HOURS):
        heat = "hot"
    elif hot.any() and hours_hot + unknown >= HOT_HOURS:
        heat = "unknown"
    else:
        heat = "not_hot" if any(m in WARM for m in marks) else "unknown"
    thi = index(means.c, means.h).max()
    return {
        "lowest": round(means.c.min(), 6),
        "highest": round(means.c.max(), 6),
        "highest_thi": None if math.isnan(thi) else round(thi, 6),
        "hours_known": hours_known,
        "hours_hot": hours_hot,
        "heat": heat,
    }


def gaps(table):
    found = []
    for room, group in table.sort_values("t").groupby("room"):
        apart = group.t.diff().dropna()
        usual = apart.sort_values().iloc[len(apart) // 2]
        for at in apart.index[apart > max(pandas.Timedelta(hours=1), 2 * usual)]:
            to = group.t[at]
            found.append([room, int((to - apart[at]).timestamp() * 1000), int(to.timestamp() * 1000)])
    return found


def expected(name, zone, choices, table, told):
    whole = len(table)
    plain = table.drop_duplicates(["room", "t", "c", "h"])
    kept = plain.drop_duplicates(["room", "t"], keep="last")
    number = lambda x: None if math.isnan(x) else round(x, 6)
    days = []
    for room, day, rows, minutes, means in half_hours(kept, zone):
        days.append({
            "room": room,
            "day": str(day),
            "rows": rows,
            "means": [[int(m), number(c), number(h)] for m, c, h in means.itertuples()],
            "summary": summary(minutes, means),
        })
    told = {"refused": 0, "without_temperature": 0, "repeated": None, "stuck": 0} | told
    told |= {"left_out": whole - len(kept), "conflicts": len(plain) - len(kept), "gaps": gaps(kept)}
    choices = {"room": "Room 1"} | choices
    return {"file": name, "zone": zone, "choices": choices, "taken": len(kept), "days": days, "told": told}


def nrc():
    """(1.8 T + 32) − (0.55 − 0.0055 RH)(1.8 T − 26), National Research Council 1971."""
    grid = [(t / 2, h) for t in range(40, 73) for h in range(40, 101, 5)]
    return [[t, h, round((1.8 * t + 32) - (0.55 - 0.0055 * h) * (1.8 * t - 26), 9)] for t, h in grid]


def loads():
    """Shares of hot rooms on 120 days, some unknown; loads of collections, and spells."""
    first = pandas.Timestamp("2026-05-20")
    days, warm = {}, False
    for n in range(120):
        warm = warm if chance.random() < 0.8 else not warm
        share = chance.choice([1.0, 1.0, 0.5, 1 / 3]) if warm else 0.0
        days[first + pandas.Timedelta(days=n)] = None if chance.random() < 0.1 else share
    series = pandas.Series(days, dtype=float)
    asked = []
    for d in pandas.date_range(first, periods=55, freq="3D"):
        window = series[d - pandas.Timedelta(days=42): d - pandas.Timedelta(days=14)]
        asked.append([str(d.date()), round(window.sum(), 9), int(window.count())])
    hot = series[series > 0]
    run = (hot.index.to_series().diff() > pandas.Timedelta(days=2)).cumsum()
    spells = []
    for _, group in hot.groupby(run):
        first_day, last_day = group.index[0], group.index[-1]
        level = "expected" if group.sum() > 7 + 1e-9 else "attention" if group.sum() >= 4 - 1e-9 else "tolerated"
        window = [first_day + pandas.Timedelta(days=14), last_day + pandas.Timedelta(days=42)]
        spells.append([*(str(d.date()) for d in (first_day, last_day, *window)), round(group.sum(), 9), level])
    return {"days": [[str(d.date()), None if math.isnan(s) else s] for d, s in series.items()], "loads": asked, "spells": spells}


def main():
    FILES.mkdir(exist_ok=True)
    programs = " ".join(f"{name} {version(name)}" for name in ("pandas", "numpy", "tzdata"))
    made = {
        "made_by": f"Python {platform.python_version()} {programs}; seed {SEED}",
        "files": [expected(*file()) for file in (titled, spanish, fahrenheit, put_back, winter_time, rooms, stuck, by_hand)],
        "nrc": nrc(),
        "load": loads(),
    }
    text = json.dumps(made, ensure_ascii=False, separators=(",", ":"))
    (HERE / "expected.json").write_text(text.replace('{"file"', '\n{"file"').replace('{"room"', '\n{"room"') + "\n")


main()
