"""Encodes and hashes entries independently of the Rust code.

Reads entries.jsonl beside this file, or in the folder it is given, and prints, for each line, the SHA-256 and the length of the
entry's bytes. The encoding is written from the postcard wire format specification, version 1
(https://postcard.jamesmunns.com/wire-format): unsigned integers above u8 are LEB128 varints,
signed ones zigzag varints, strings and byte strings a varint length and the bytes, options a byte
0 or 1, structs, tuples and arrays their fields one after the other.

    python3 outside.py > outside.txt
    python3 outside.py training > training/outside.txt
    python3 outside.py care > care/outside.txt
    python3 outside.py watch > watch/outside.txt
    python3 outside.py evaluation > evaluation/outside.txt
    python3 outside.py laboratory > laboratory/outside.txt
"""

import hashlib
import json
import platform
import sys
import uuid
from datetime import datetime, timedelta, timezone
from pathlib import Path

EPOCH = datetime(1970, 1, 1, tzinfo=timezone.utc)


def varint(n):
    out = bytearray()
    while True:
        low, n = n & 0x7F, n >> 7
        out.append(low | (0x80 if n else 0))
        if not n:
            return bytes(out)


def zigzag(n):
    return varint(2 * n if n >= 0 else -2 * n - 1)


def text(s):
    raw = s.encode("utf-8")
    return varint(len(raw)) + raw


def identity(s):
    # A UUID is a byte string of 16 bytes where the format is not for people.
    return varint(16) + uuid.UUID(s).bytes


def stamp(s):
    at = datetime.fromisoformat(s)
    ms = (at - EPOCH) // timedelta(milliseconds=1)
    return zigzag(ms) + zigzag(at.utcoffset() // timedelta(minutes=1))


def encode(e):
    return b"".join(
        [
            bytes([e["v"]]),
            identity(e["id"]),
            identity(e["farm"]),
            identity(e["barn"]),
            identity(e["device"]),
            varint(e["seq"]),
            bytes.fromhex(e["prev"]),
            b"\x00" if e["person"] is None else b"\x01" + identity(e["person"]),
            stamp(e["occurred_at"]),
            stamp(e["recorded_at"]),
            zigzag(e["clock"]["ms"]),
            varint(e["clock"]["n"]),
            varint(e["seen"]),
            text(e["kind"]),
            varint(e["version"]),
            text(e["body"]),
        ]
    )


def main():
    print(f"# Python {platform.python_version()}")
    folder = Path(__file__).parent / "".join(sys.argv[1:])
    lines = (folder / "entries.jsonl").read_text(encoding="utf-8")
    for line in lines.split("\n"):
        if line:
            raw = encode(json.loads(line))
            print(hashlib.sha256(raw).hexdigest(), len(raw))


main()
