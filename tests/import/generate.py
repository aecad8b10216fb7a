"""Writes the sample files of the import tests and what Python's own csv, codecs and datetime
read in them. Run by hand from this folder; the output is committed, and no test run needs Python.

    python3 generate.py
"""

import csv
import datetime
import io
import json
import pathlib
import platform
import random

HERE = pathlib.Path(__file__).parent
FILES = HERE / "files"
SEED = 20261125

SPANISH = [
    ["Número", "Nombre", "Fecha de nacimiento", "Raza", "Corral", "Arete", "Última extracción", "Observaciones"],
    ["V-01", "Peñón", "2024-02-29", "Línea materna", "Corral 3", "A 101", "2026-11-20", "Muerde; ojo a la izquierda"],
    ["V-02", "Ñandú", "2025-01-15", "Línea paterna", "Corral 4", "A 102", "nunca", "Cojeó en otoño, ya está bien"],
    ["V-03", "Güero", "2023-12-01", "Línea paterna", "Corral 4", "A 103", "", "Señalado en la oreja «izquierda»"],
]
ENGLISH = [
    ["Boar No.", "Name", "Born", "Line", "Pen", "RFID", "Arrived", "Notes"],
    ["7", "Duke", "2024-03-05", "Terminal", "12", "900000123456789", "2025-02-01", "quiet, slow to mount"],
    ["8", "Earl", "2024-04-06", "Maternal", "12", "", "", 'called "the Earl"'],
    ["9", "", "2025-05-07", "", "", "", "", ""],
]
RAW = {
    # RFC 4180: doubled quotes, delimiters and line ends inside quotes.
    "quoting.csv": 'Number,Name,Notes\r\n1,"A ""B"" C","one, two"\r\n2,"D","three\r\nfour"\r\n3,E,"""quoted"""\r\n',
    # Beyond the RFC, as Python reads it: text after a closing quote, a quote inside a bare cell.
    "quoting-loose.csv": 'Number,Name,Notes\n1,"A"b,x\n2,5" gate,y\n3, "C",z\n4,"",""\n',
    "ragged.csv": "\n\nNumber,Name,Pen\n1,A\n\n2,B,3,,\n,,\n   \n3\n4,D,5\n\n",
    "old-line-ends.csv": "Number|Name\r1|A\r\r2|B\r",
    "no-last-line-end.csv": "Number\tName\n1\tA\n2\tB",
    "titles.csv": "Boars of the farm;;\nPrinted in November;;\n\nNumber;Name;Pen\n1;A;4\n2;B;5\n",
    "one-column.csv": "Number\n11\n12\n\n13\n",
    # Commas cut these rows as evenly as semicolons; only the headings tell.
    "semicolons-even-commas.csv": "Number;Name, full\n1;A, B\n2;C, D\n",
    "semicolons-with-commas.csv": "Number;Name;Notes\n1;A, the first;x, y\n2;B, the second;z, w\n",
}


def write_csv(rows, delimiter, line_end, quoting=csv.QUOTE_MINIMAL):
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=delimiter, lineterminator=line_end, quoting=quoting).writerows(rows)
    return out.getvalue()


def read_csv(text, delimiter):
    """The rows that are not blank, each with the line on which it begins."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    rows, line = [], 1
    for row in reader:
        if any(cell.strip() for cell in row):
            rows.append([line, row])
        line = reader.line_num + 1
    return rows


def files():
    made = {
        "spanish-utf8.csv": (SPANISH, ",", "\n", "utf-8"),
        "spanish-utf8-mark.csv": (SPANISH, ";", "\r\n", "utf-8-sig"),
        "spanish-windows-1252.csv": (SPANISH, ";", "\r\n", "cp1252"),
        "spanish-latin-1.csv": (SPANISH, ",", "\n", "latin-1"),
        "spanish-utf16-little.csv": (SPANISH, "\t", "\r\n", "utf-16-le"),
        "spanish-utf16-big.csv": (SPANISH, "\t", "\r\n", "utf-16-be"),
        "spanish-one-accent.csv": ([["Numero", "Nombre"], ["1", "Peñon"], ["2", "Duque"]], ";", "\r\n", "cp1252"),
        # Statistics alone take this one for an encoding of Eastern Europe.
        "spanish-few-accents.csv": ([["Numero", "Notas"], ["1", "¿cojo?"], ["2", "tranquilo"]], ";", "\r\n", "cp1252"),
        "english-comma.csv": (ENGLISH, ",", "\n", "utf-8"),
        "english-pipe.csv": (ENGLISH, "|", "\r\n", "utf-8"),
        "english-tab.csv": (ENGLISH, "\t", "\n", "utf-8"),
    }
    names = {"utf-8": "UTF-8", "utf-8-sig": "UTF-8", "cp1252": "windows-1252", "latin-1": "windows-1252",
             "utf-16-le": "UTF-16LE", "utf-16-be": "UTF-16BE"}
    marks = {"utf-16-le": b"\xff\xfe", "utf-16-be": b"\xfe\xff"}
    for name, (rows, delimiter, line_end, encoding) in made.items():
        text = write_csv(rows, delimiter, line_end)
        data = marks.get(encoding, b"") + text.encode(encoding)
        yield name, data, names[encoding], delimiter, data.removeprefix(marks.get(encoding, b"")).decode(encoding)
    delimiters = {"old-line-ends.csv": "|", "no-last-line-end.csv": "\t", "titles.csv": ";",
                  "semicolons-with-commas.csv": ";", "semicolons-even-commas.csv": ";"}
    for name, text in RAW.items():
        yield name, text.encode("utf-8"), "UTF-8", delimiters.get(name, ","), text


def random_tables(chance):
    """Tables of nasty cells, written by Python's writer and read by its reader."""
    bits = ["a", "Ñ", " ", '"', '""', ",", ";", "\t", "|", "\n", "\r\n", "=", "0", "7", "é", "'", "."]
    cases = []
    for _ in range(60):
        width = chance.randint(2, 6)
        head = ["Number", "Name", "Born", "Line", "Pen", "Notes"][:width]
        body = [["".join(chance.choices(bits, k=chance.randint(0, 6))) for _ in head]
                for _ in range(chance.randint(1, 8))]
        delimiter = chance.choice([",", ";", "\t", "|"])
        quoting = chance.choice([csv.QUOTE_MINIMAL, csv.QUOTE_ALL, csv.QUOTE_NONNUMERIC])
        text = write_csv([head, *body], delimiter, chance.choice(["\n", "\r\n"]), quoting)
        cases.append({"text": text, "delimiter": delimiter, "rows": read_csv(text, delimiter)})
    return cases


ENGLISH_MONTHS = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
                  "November", "December"]
SPANISH_MONTHS = ["enero", "febrero", "marzo", "abril", "mayo", "junio", "julio", "agosto", "septiembre", "octubre",
                  "noviembre", "diciembre"]
EITHER = ["%Y-%m-%d", "%Y/%m/%d", "%Y.%m.%d", "%Y%m%d", "%Y-%m-%dT%H:%M:%S", "%Y-%m-%d %H:%M:%S",
          "%d %B %Y", "%B %d, %Y", "%d-%b-%y", "%d-%b-%Y", "%b. %d, %Y", "%d%b%Y"]
DAY_FIRST = ["%d/%m/%Y", "%d-%m-%Y", "%d.%m.%Y", "%d/%m/%y", "%d.%m.%y", "%d/%m/%Y %H:%M"]
MONTH_FIRST = ["%m/%d/%Y", "%m-%d-%Y", "%m/%d/%y", "%m/%d/%Y %I:%M:%S %p"]
IMPOSSIBLE = [("31/02/2024", DAY_FIRST), ("29/02/2023", DAY_FIRST), ("30.02.2024", DAY_FIRST), ("00/01/2024", DAY_FIRST),
              ("32/01/2024", DAY_FIRST), ("12/13/2024", DAY_FIRST), ("13/12/2024", MONTH_FIRST),
              ("02/30/2024", MONTH_FIRST), ("2023-02-29", EITHER), ("2024-13-01", EITHER), ("2024-00-10", EITHER),
              ("20240230", EITHER), ("31 June 2024", EITHER), ("February 30, 2024", EITHER), ("soon", EITHER),
              ("2024", EITHER), ("March 2024", EITHER), ("1/2", DAY_FIRST), ("12:30", DAY_FIRST)]


def strptime(text, forms):
    for form in forms:
        try:
            return datetime.datetime.strptime(text, form).date().isoformat()
        except ValueError:
            pass
    return None


def dates(chance):
    first, last = datetime.date(2000, 1, 1), datetime.date(2026, 11, 25)
    cases = {"either": [], "day_first": [], "month_first": [], "serial": []}
    for name, forms in (("either", EITHER), ("day_first", DAY_FIRST), ("month_first", MONTH_FIRST)):
        for form in forms:
            for _ in range(12):
                day = first + datetime.timedelta(days=chance.randint(0, (last - first).days))
                text = datetime.datetime.combine(day, datetime.time(chance.randint(0, 23), 30)).strftime(form)
                cases[name].append([text, datetime.datetime.strptime(text, form).date().isoformat()])
    for _ in range(40):
        day = first + datetime.timedelta(days=chance.randint(0, (last - first).days))
        month = SPANISH_MONTHS[day.month - 1]
        text = chance.choice([f"{day.day} de {month} de {day.year}", f"{day.day}-{month[:3]}-{day.year % 100:02}",
                              f"{day.day} {month.upper()} {day.year}", f"{month} {day.day} {day.year}"])
        cases["either"].append([text, day.isoformat()])
        english = ENGLISH_MONTHS[day.month - 1]
        ending = {1: "st", 2: "nd", 3: "rd"}.get(day.day % 10 if day.day not in (11, 12, 13) else 0, "th")
        cases["either"].append([f"{english} {day.day}{ending}, {day.year}", day.isoformat()])
        # ECMA-376 part 1, 18.17.4.1: the 1900 system, past its leap day that never was.
        cases["serial"].append([str((day - datetime.date(1899, 12, 30)).days), day.isoformat()])
    for text, forms in IMPOSSIBLE:
        name = "either" if forms is EITHER else "day_first" if forms is DAY_FIRST else "month_first"
        cases[name].append([text, strptime(text, forms)])
    return cases


def main():
    chance = random.Random(SEED)
    FILES.mkdir(exist_ok=True)
    listed = []
    for name, data, encoding, delimiter, text in files():
        (FILES / name).write_bytes(data)
        listed.append({"file": name, "encoding": encoding, "delimiter": delimiter, "rows": read_csv(text, delimiter)})
    expected = {
        "python": platform.python_version(),
        "seed": SEED,
        "files": listed,
        "random": random_tables(chance),
        "dates": dates(chance),
    }
    (HERE / "expected.json").write_text(json.dumps(expected, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")


main()
