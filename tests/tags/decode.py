"""What two independent decoders read in our tags.

    apt-get install zbar-tools
    pip install zxing-cpp==3.1.1 resvg-py==0.5.0 Pillow==13.0.0
    python tests/tags/decode.py > tests/tags/decoded.json

Each picture is drawn by resvg at several sizes, sharp, blurred (Gaussian, in modules) and under
ellipses of dirt drawn from a seed, alone and twice beside each other. zbarimg and zxing-cpp say
what they read. The tests compare it with what our code prints today, and run none of this.
"""

import csv
import hashlib
import io
import json
import random
import subprocess
import tempfile
from importlib.metadata import version
from pathlib import Path

import resvg_py
import zxingcpp
from PIL import Image, ImageDraw, ImageFilter

HERE = Path(__file__).parent
PX_A_MODULE = [2, 3, 4, 8]
BLUR_MODULES = [0.3, 0.5]
DIRT = [0.05, 0.1]
TRIALS = 40


def drawn(svg, px):
    side = int(svg.split('viewBox="0 0 ')[1].split()[0])
    png = resvg_py.svg_to_bytes(svg_string=svg, width=side * px, height=side * px, dpi=96)
    picture = Image.open(io.BytesIO(bytes(png)))
    assert picture.size == (side * px, side * px), picture.size
    return picture.convert("L")


def by_zbar(picture):
    with tempfile.NamedTemporaryFile(suffix=".png") as file:
        picture.save(file.name)
        call = ["zbarimg", "--quiet", "--raw", "--nodbus", "-Sdisable", "-Sqrcode.enable", file.name]
        found = subprocess.run(call, capture_output=True, text=True).stdout.split("\n")[:-1]
    return sorted(set(found))


def by_zxing(picture):
    return sorted({found.text for found in zxingcpp.read_barcodes(picture, zxingcpp.BarcodeFormat.QRCode)})


def read(picture):
    return {"zbar": by_zbar(picture), "zxing": by_zxing(picture)}


def dirty(picture, share, seed):
    """Ellipses until `share` of the picture is covered."""
    chance = random.Random(seed)
    picture, cover = picture.copy(), Image.new("L", picture.size)
    width, height = picture.size
    while cover.histogram()[1] < share * width * height:
        x, y = chance.uniform(0, width), chance.uniform(0, height)
        across, down = chance.uniform(0.01, 0.08) * height, chance.uniform(0.01, 0.08) * height
        box = (x - across, y - down, x + across, y + down)
        ImageDraw.Draw(picture).ellipse(box, fill=chance.randrange(20, 230))
        ImageDraw.Draw(cover).ellipse(box, fill=1)
    return picture


def twice(picture):
    both = Image.new("L", (2 * picture.width, picture.height), 255)
    both.paste(picture, (0, 0))
    both.paste(picture, (picture.width, 0))
    return both


def looks(svg):
    for px in PX_A_MODULE:
        yield {"px_a_module": px, "blur_modules": 0, **read(drawn(svg, px))}
    for blur in BLUR_MODULES:
        picture = drawn(svg, 6).filter(ImageFilter.GaussianBlur(6 * blur))
        yield {"px_a_module": 6, "blur_modules": blur, **read(picture)}


def under_dirt(svg, share):
    """How many of the trials each decoder reads, one symbol or two under as dense a dirt."""
    count = {"share": share, "trials": TRIALS}
    for name, picture in (("one", drawn(svg, 4)), ("two", twice(drawn(svg, 4)))):
        found = [read(dirty(picture, share, seed)) for seed in range(TRIALS)]
        count[name] = {tool: sum(bool(f[tool]) for f in found) for tool in ("zbar", "zxing")}
    return count


def main():
    zbar = subprocess.run(["zbarimg", "--version"], capture_output=True, text=True).stdout.strip()
    tools = {"zbarimg": zbar} | {tool: version(tool) for tool in ("zxing-cpp", "resvg_py", "pillow")}
    pictures = []
    with open(HERE / "inputs.csv") as file:
        for row in csv.DictReader(file):
            svg = (HERE / f"{row['name']}.svg").read_text()
            digest = hashlib.sha256(svg.encode()).hexdigest()
            pictures.append({"name": row["name"], "sha256": digest, "looks": list(looks(svg))})
    usual = (HERE / "usual.svg").read_text()
    dirt = [under_dirt(usual, share) for share in DIRT]
    print(json.dumps({"tools": tools, "pictures": pictures, "dirt": dirt}, indent=1))


main()
