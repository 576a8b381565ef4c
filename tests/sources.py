"""What the books say, page by page, restated: a citation elsewhere must name a book and page that stand here.

Each line was read in the book's full text, or, where it says so, in an excerpt of it.
"""

from __future__ import annotations

import re

BOOKS = {
    "Vaughn": "S. J. Vaughn, Printing and Bookbinding for Schools, 1912",
    "MacKellar": "T. MacKellar, The American Printer, 1893",
    "Savage": "W. Savage, A Dictionary of the Art of Printing, 1841, by its entries, in excerpts",
    "Stewart": "A. A. Stewart, Typesetting, 1919",
}

CLAIMS: dict[tuple[str, str], str] = {
    ("Vaughn", "31"): "furniture solid on one side and one end, quoins on the others; lengths by 5 to 10 ems",
    ("Vaughn", "32"): "two families of quoins; the last notch endangers chase and quoin",
    (
        "Vaughn",
        "33",
    ): "pieces a little longer than the side, so placed that they can't bind; pressure squarely on the type",
    (
        "MacKellar",
        "148",
    ): "one piece rather than two; feet before sides; one light planing; the same furniture put back",
    ("MacKellar", "231"): "who pays for what drops: binding furniture is the locker-up's",
    ("Savage", "Binding"): "a piece longer than the page, or doubling over another, keeps the quoins from wedging it",
    ("Stewart", "31"): "never two pieces where one will do, said of spaces",
}


def cited(source: str) -> list[tuple[str, str]]:
    """Return the books and pages, or entries, that a source names, a run of pages as each of them."""
    found = []
    for book, pages, entry in re.findall(r"(\w+),? (?:pp?\. ([\d–]+)|“(\w+)”)", source):
        if entry:
            found.append((book, entry))
            continue
        first, _, last = pages.partition("–")
        found += [(book, str(page)) for page in range(int(first), int(last or first) + 1)]
    return found
