"""Reads the PDFs of `saltern sheets` and of the samples with programs of others, and measures what is on the paper.

pdfplumber (pdfminer) for text with place, size and colour; poppler's pdftoppm and zbar's zbarimg for the codes, as a camera would read them.
Fails on the first thing that is not so; says at the end how much was looked at.
"""

import pathlib
import re
import subprocess
import sys
import tempfile

import pdfplumber

out = pathlib.Path(sys.argv[1])
POINT = 25.4 / 72
CARD = [(148, 210), (139.7, 215.9)]
PAPER = CARD + [(w, h) for a, b in [(210, 297), (215.9, 279.4), (297, 420), (279.4, 431.8)] for w, h in [(a, b), (b, a)]]
LABEL = (75, 50)
BLACK_OR_WHITE = [None, 0, 1, (0,), (1,), (0, 0, 0), (1, 1, 1)]
looked = {}


def count(what, n=1):
    looked[what] = looked.get(what, 0) + n


def require(truth, *said):
    if not truth:
        raise SystemExit("independent readers: " + " ".join(str(s) for s in said))


def close(a, b):
    return all(abs(x - y) < 0.2 for x, y in zip(a, b))


def squeezed(text):
    return re.sub(r"\s+", "", text)


def look_at(path):
    """Size, edge, colour and least size of letters on every page; the text of each."""
    texts = []
    with pdfplumber.open(path) as pdf:
        require(pdf.metadata.get("CreationDate", "").startswith("D:20270201120000"), path.name, "is dated", pdf.metadata)
        for number, page in enumerate(pdf.pages, 1):
            where = f"{path.name} page {number}"
            size = (page.width * POINT, page.height * POINT)
            label = close(size, LABEL)
            require(label or any(close(size, p) for p in PAPER), where, "is", size)
            edge = (2.5 if label else 9.5) / POINT
            things = page.chars + page.lines + page.rects + page.curves
            # The marks to cut at reach into the edge of a sheet of labels on purpose, and print nothing that has to be read.
            cut = "tub-label" in path.name or "labels" in path.name or path.stem.endswith(("-all", "samples-iso"))
            for thing in page.chars if cut else things:
                inside = (
                    thing["x0"] >= edge
                    and thing["x1"] <= float(page.width) - edge
                    and thing["top"] >= edge - 6
                    and thing["bottom"] <= float(page.height) - edge + 6
                )
                require(inside, where, "outside its edge:", {k: thing.get(k) for k in ["text", "x0", "x1", "top", "bottom"]})
            for thing in things:
                require(0 <= thing["x0"] and thing["x1"] <= float(page.width) and 0 <= thing["top"] and thing["bottom"] <= float(page.height), where, "outside the paper", thing)
                for colour in [thing.get("non_stroking_color"), thing.get("stroking_color")]:
                    require(colour in BLACK_OR_WHITE, where, "is printed in", colour)
            if any(close(size, c) for c in CARD):
                small = [c for c in page.chars if c["size"] < 10.99 and c["text"].strip()]
                require(not small, where, "has letters of", small and (small[0]["size"], small[0]["text"]), "points on a card")
                count("cards")
            text = page.extract_text() or ""
            texts.append((label, text, page.chars))
            count("pages")
            count("letters", len(page.chars))
    return texts


def pages_counted(path, texts):
    """`page x of y` on each page, in order, for each paper of the file; a sheet of labels has none."""
    expected = None
    for label, text, _ in texts:
        found = re.findall(r"page (\d+) (?:of|sur) (\d+)", text)
        if not found:
            require(label or "label" in path.name or path.stem.endswith(("-all", "samples-iso")), path.name, "a page without its number")
            continue
        page, pages = map(int, found[-1])
        if expected is None:
            require(page == 1, path.name, "begins with page", page)
        else:
            require(page == expected, path.name, "page", page, "where", expected, "was expected")
        expected = page + 1 if page < pages else None
        count("pages counted")
    require(expected is None, path.name, "ends before its last page")


def codes(path, least):
    """Every code, rendered at 400 dots an inch, is read by zbar, and its short code stands on the same page in letters.

    At 300 dots, where a module is about seven pixels, zbar passes over one or two of ten codes on a whole sheet, other ones at 250 and 360;
    at 400 and 600 it reads all. A phone looks at one code at a time.
    """
    with tempfile.TemporaryDirectory() as place:
        subprocess.run(["pdftoppm", "-r", "400", "-gray", "-png", str(path), f"{place}/p"], check=True)
        images = sorted(pathlib.Path(place).glob("*.png"))
        with pdfplumber.open(path) as pdf:
            require(len(images) == len(pdf.pages), path.name, "rendered", len(images))
            read = 0
            for image, page in zip(images, pdf.pages):
                ran = subprocess.run(["zbarimg", "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", str(image)], capture_output=True, text=True)
                held = ran.stdout.split("\n")[:-1]
                text = squeezed(page.extract_text() or "")
                for value in held:
                    short = value.split(":")[-1].split("/")[-1].split("?")[0]
                    require(squeezed(short) in text, path.name, "a camera reads", value, "and no letters on the page say", short)
                read += len(held)
    require(read >= least, path.name, f"{read} codes read, at least {least} expected")
    count("codes read by a camera", read)


def big(texts, word, least):
    """Some run of letters of at least this size says the word."""
    large = "".join(c["text"] for _, _, chars in texts for c in chars if c["size"] >= least - 0.01)
    require(squeezed(word) in squeezed(large), word, "is nowhere in letters of", least, "points")
    count("words in 24 points")


def no_heading_alone(path, texts):
    """On a page of 11-point text a heading (14 points, 12.88 where it is set closer) is not the last thing above the foot."""
    for _, _, chars in texts:
        headings = [c for c in chars if any(abs(c["size"] - s) < 0.05 for s in [14.0, 12.88])]
        below = [c for c in chars if 9.9 <= c["size"] <= 12.5]
        for heading in headings:
            require(any(c["top"] > heading["bottom"] - 6 for c in below), path.name, "a heading alone at the foot")
        count("headings with what they head", len({round(h["top"]) for h in headings}))


files = sorted(out.glob("papers/**/*.pdf"))
require(len(files) >= 30, "only", len(files), "PDFs")
# Everything is in the files with all papers; those of one kind have to have as many pages together.
seen = {}
for path in files:
    if path.stem.endswith("-all") or path.parent.name in ["samples", "single"]:
        seen[path.relative_to(out / "papers").as_posix()] = texts = look_at(path)
        pages_counted(path, texts)
        no_heading_alone(path, texts)
for event in ["duck-class", "harvest-supper"]:
    pages = 0
    for path in (out / "papers" / event).glob("*.pdf"):
        if not path.stem.endswith("-all"):
            with pdfplumber.open(path) as pdf:
                pages += len(pdf.pages)
            count("PDFs of one kind")
    require(pages == len(seen[f"{event}/{event}-all.pdf"]), event, pages, "pages singly and", len(seen[f"{event}/{event}-all.pdf"]), "together")

samples = out / "papers" / "samples"
iso = seen["samples/samples-iso.pdf"]
for word in ["299.52 g", "63 °C", "Mon 8 Feb", "08:00", "16:00"]:
    big(iso, word, 24)
whole = squeezed(" ".join(text for _, text, _ in iso))
for raw in [
    "#set page(width: 1cm) $x^2$ *bold* _it_ @ref <label> \\ `raw` // note",
    "</text><script>alert(1)</script>",
    "Donaudampfschifffahrtsgesellschaftskapitänskajütenschlüsselanhängerherstellerverzeichniseintragung",
    "à la crème brûlée, œuf, Noël, façon",
    "½ pan · 45° · 5′ · −18 °C · ≥ 3.5 % · → chill · ✓ □",
]:
    require(squeezed(raw) in whole, "not on paper as it is:", raw)
    count("awkward texts")
# 39 of the class on labels, each with its own code; the samples' twelve.
codes(out / "papers" / "duck-class" / "duck-class-tub-label.pdf", 39)
codes(samples / "samples-iso.pdf", 13)
for event in ["duck-class", "harvest-supper"]:
    board = look_at(out / "papers" / event / f"{event}-day-board.pdf")
    for _, text, chars in board:
        large = "".join(c["text"] for c in chars if c["size"] > 23.9)
        # A board begins on the first page of each paper of the file.
        require(not re.search(r"page 1 (of|sur)", text) or re.search(r"\d\d:\d\d|\d\s?h", large), event, "a day board without an hour in 24 points")
    count("day boards")
print("independent readers: " + ", ".join(f"{n} {what}" for what, n in sorted(looked.items())))
