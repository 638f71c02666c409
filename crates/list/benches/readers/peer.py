"""Reads the same files with general-purpose libraries. Prints name, seconds of a processor (the median of
several) and rows of each.

peer.py FOLDER
"""

import statistics
import sys
import time
from pathlib import Path

import pandas
import pdfplumber


def tables(path):
    with pdfplumber.open(path) as pdf:
        return sum(len(table) for page in pdf.pages for table in page.extract_tables())


def words(path):
    with pdfplumber.open(path) as pdf:
        return sum(len(page.extract_words()) for page in pdf.pages)


READERS = {
    "list.csv": (5, lambda path: len(pandas.read_csv(path))),
    "long.csv": (3, lambda path: len(pandas.read_csv(path))),
    "list.xlsx": (5, lambda path: len(pandas.read_excel(path))),
    "list.ods": (3, lambda path: len(pandas.read_excel(path, engine="odf"))),
    "list.xls": (5, lambda path: len(pandas.read_excel(path))),
    "list.html": (5, lambda path: len(pandas.read_html(path, flavor="lxml")[0])),
    "ubl.xml": (5, lambda path: len(pandas.read_xml(path, xpath="//*[local-name()='DespatchLine']"))),
    "ruled.pdf": (1, tables),
    "plain.pdf": (1, words),
}

folder = Path(sys.argv[1])
for name, (times, read) in READERS.items():
    if not (folder / name).exists():
        continue
    took = []
    for _ in range(times):
        start = time.process_time()
        count = read(str(folder / name))
        took.append(time.process_time() - start)
    print(name, statistics.median(took), count, flush=True)
