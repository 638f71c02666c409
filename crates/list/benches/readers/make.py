"""Makes the files that Rust has no writer at hand for, from the list in the CSV file: an old workbook and a PDF of 40 pages.

make.py FOLDER, which holds list.csv.
"""

import csv
import sys
from pathlib import Path

import xlwt
from reportlab.lib import colors
from reportlab.lib.pagesizes import letter
from reportlab.platypus import SimpleDocTemplate, Table, TableStyle

folder = Path(sys.argv[1])
with open(folder / "list.csv", newline="", encoding="utf-8") as file:
    rows = list(csv.reader(file))

book = xlwt.Workbook()
sheet = book.add_sheet("Packing list")
for at, row in enumerate(rows):
    for column, text in enumerate(row):
        sheet.write(at, column, int(text) if text.isdigit() else text)
book.save(str(folder / "list.xls"))

# 40 pages of 30 rows each, headed anew on every page; a ruled table and one without a line.
heading, body = rows[0], rows[1:]
long = [[text[:60] for text in body[n % len(body)]] for n in range(40 * 30)]
for name, style in [
    ("ruled", [("GRID", (0, 0), (-1, -1), 0.5, colors.black)]),
    ("plain", []),
]:
    table = Table([heading] + long, repeatRows=1, rowHeights=22, colWidths=[40, 40, 330, 80])
    table.setStyle(TableStyle(style + [("FONTSIZE", (0, 0), (-1, -1), 8)]))
    SimpleDocTemplate(str(folder / f"{name}.pdf"), pagesize=letter, topMargin=40, bottomMargin=50).build([table])
