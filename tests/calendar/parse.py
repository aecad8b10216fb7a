"""What other programs read in our feed: two parsers of iCalendar (RFC 5545), and its lines by their
octets.

    pip install -r requirements.txt && python3 parse.py > parsed.json

The feed is written by `cargo run -p pentally-tests --example calendar_feed`. Run by hand from this
folder; the output is committed, and no test run needs Python.
"""

import hashlib
import json
import platform
from datetime import date
from importlib.metadata import version
from pathlib import Path

import icalendar
import vobject

FEED = Path(__file__).parent / "feed.ics"


def plain(value):
    assert type(value) is date, value
    return value.isoformat()


def by_icalendar(text):
    feed = icalendar.Calendar.from_ical(text)
    assert not feed.errors, feed.errors
    events = []
    for event in feed.walk("VEVENT"):
        assert not event.errors, event.errors
        events.append({
            "uid": str(event["UID"]),
            "from": plain(event["DTSTART"].dt),
            "end": plain(event["DTEND"].dt),
            "stamp": event["DTSTAMP"].dt.isoformat(),
            "summary": str(event["SUMMARY"]),
            "transparent": str(event["TRANSP"]) == "TRANSPARENT",
        })
    head = {name: str(feed[name]) for name in ("VERSION", "PRODID", "CALSCALE", "NAME", "X-WR-CALNAME")}
    head["REFRESH-INTERVAL"] = feed["REFRESH-INTERVAL"].dt.total_seconds()
    return {"head": head, "events": events}


def by_vobject(text):
    feed = vobject.readOne(text)
    feed.validate()
    events = []
    for event in feed.vevent_list:
        events.append({
            "uid": event.uid.value,
            "from": plain(event.dtstart.value),
            "end": plain(event.dtend.value),
            "stamp": event.dtstamp.value.isoformat(),
            "summary": event.summary.value,
            "transparent": event.transp.value == "TRANSPARENT",
        })
    names = {name: feed.contents[name][0].value for name in ("name", "x-wr-calname")}
    return {"head": names, "events": events}


def main():
    data = FEED.read_bytes()
    text = data.decode("utf-8")
    lines = data.split(b"\r\n")
    assert lines.pop() == b"" and not any(b"\n" in line or b"\r" in line for line in lines)
    for line in lines:
        line.decode("utf-8")
    print(json.dumps({
        "python": platform.python_version(),
        "icalendar": version("icalendar"),
        "vobject": version("vobject"),
        "sha256": hashlib.sha256(data).hexdigest(),
        "longest_line": max(map(len, lines)),
        "folded_lines": sum(line.startswith(b" ") for line in lines),
        "by_icalendar": by_icalendar(text),
        "by_vobject": by_vobject(text),
    }, ensure_ascii=False, indent=1))


if __name__ == "__main__":
    main()
