#!/usr/bin/env python3
"""Writes the files of this folder with programs that are none of ours: openpyxl, LibreOffice, xlwt, odfpy and the
e-mail package of Python. Run from anywhere: `python3 make.py`. What the lists say is written by hand here, and what must
be read of them by hand in ../it/kinds.rs.

Made with openpyxl 3.1, LibreOffice 7/24/25 (headless), xlwt 1.3, Python 3.11 or later.
"""
import shutil, subprocess, sys, tempfile
from email.message import EmailMessage
from pathlib import Path

import openpyxl, xlwt
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.comments import Comment
from openpyxl.styles import Font

HERE = Path(__file__).resolve().parent
STRUCK = Font(strike=True)


def workbook(path):
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Load 1"
    sheet["A1"] = "Packing list, school garden"
    sheet.merge_cells("A1:E1")
    for column, text in zip("ABDE", ["Order:", "40117", "Size:", "24 x 48 ft"]):
        sheet[f"{column}2"] = text
    for row, cells in enumerate([
        ["Code", "Description", "Length", "Qty", "Unit"],
        ["Frame"],
        ["T-1", "Ground post, 1-5/8\" x 14 ga", "5 ft", 26, "ea"],
        ["T-2", "Ridge tube & clamp <galv.>", "10' 6-1/2\"", 15, "ea"],
        ["T-3", "Door hinge", None, 4, "ea"],
        ["T-4", "Purlin", "10 ft", 30, "ea"],
        ["T-5", None, None, 12, "ea"],
        ["T-6", "Lock channel", "8 ft", 20, "stk"],
        [None, None, "10 ft", 10, "stk"],
        ["T-7", "Brace", "6 ft", 8, "ea"],
    ], start=3):
        for column, value in enumerate(cells, start=1):
            sheet.cell(row, column).value = value
    for column in range(1, 6):
        sheet.cell(7, column).font = STRUCK
    sheet.cell(12, 3).font = STRUCK
    sheet.row_dimensions[8].hidden = True
    sheet["B9"] = CellRichText(TextBlock(InlineFont(strike=True), "Tee connector "), TextBlock(InlineFont(), "Cross connector"))
    sheet.merge_cells("A10:A11")
    sheet.merge_cells("B10:B11")
    sheet["D5"].comment = Comment("counted twice", "Noor")
    # Shown as 12, is 12.5: what is meant must be asked.
    sheet["D12"] = 8.5
    sheet["D12"].number_format = "0"
    other = book.create_sheet("Old")
    other.append(["Code", "Description", "Qty"])
    other.append(["T-9", "Ridge clamp", 3])
    other.sheet_state = "hidden"
    book.save(path)


def old_workbook(path):
    """With xlwt: struck rows, texts beyond the first record of shared texts, a formula, a cell in the far corner."""
    book = xlwt.Workbook()
    sheet = book.add_sheet("Load 2")
    struck = xlwt.easyxf("font: struck_out on")
    day = xlwt.easyxf(num_format_str="YYYY-MM-DD")
    sheet.write(0, 0, "Date:")
    sheet.write(0, 1, 46113, day)
    for column, text in enumerate(["Qty", "Description", "Remarks"]):
        sheet.write(1, column, text)
    for n in range(300):
        look = struck if n == 7 else xlwt.Style.default_style
        sheet.write(2 + n, 0, n + 1, look)
        sheet.write(2 + n, 1, f"Ground post {n + 1}, \u00e9t\u00e9 \u65e5 " + "long " * 10, look)
        sheet.write(2 + n, 2, 0.5 if n == 3 else "bundle", look)
    sheet.write(302, 0, xlwt.Formula("20+4"))
    sheet.write(302, 1, "Ridge tube")
    sheet.write(65535, 255, "far")
    book.save(str(path))


PAGE = """<html><head><title>Shop</title><style>.gone{text-decoration:line-through} .no{display:none}</style>
<script>document.write("<table><tr><td>9</td><td>evil</td></tr></table>")</script></head><body>
<div class="no">Preview text 99 posts</div>
<table width="100%"><tr><td><h1>Packing list</h1></td><td>Order: 40117</td></tr>
<tr><td colspan="2">
 <table border="1">
  <thead><tr><th>Code</th><th rowspan="1">Description</th><th>Length</th><th>Qty</th></tr></thead>
  <tr><td>T-1<td>Ground&nbsp;post<br>1-5/8&quot; &times; 14 ga<td>5 ft<td>26
  <tr><td>T-2</td><td rowspan="2">Ridge tube</td><td>10&#39; 6&frac12;&#34;</td><td>15</td></tr>
  <tr><td>T-3</td><td>8 ft</td><td>4</td></tr>
  <tr class="gone"><td>T-4</td><td>Door hinge</td><td></td><td>2</td></tr>
  <tr><td>T-5</td><td><s>Tee</s> Cross connector</td><td></td><td>12</td></tr>
  <tr style="display: none"><td>T-6</td><td>Not sold</td><td></td><td>7</td></tr>
  <tr><td>T-7</td><td>Purlin</td><td></td><td><input type="text" value="30"></td></tr>
 </table>
</td></tr><tr><td>Thank you</td></tr></table></body></html>
"""

BODY = """Hello Ines,

the list is below.

- 12 x ground post 5 ft
- 4 ridge tubes, 10 ft
- 2 x door hinge

--\x20
Tomasz
12 Harbour Road
"""


def mails():
    def mail(name, change):
        message = EmailMessage()
        message["From"] = "Tomasz of the Depot <tomasz@example.org>"
        message["To"] = "noor@example.org"
        message["Date"] = "Wed, 01 Apr 2026 09:30:00 +0000"
        message["Subject"] = "Order no. 40117, 24 x 48 gothic, load 1 of 2"
        change(message)
        (HERE / name).write_bytes(bytes(message))

    xlsx = (HERE / "list.xlsx").read_bytes()
    kind = ("application", "vnd.openxmlformats-officedocument.spreadsheetml.sheet")

    def plain(message):
        message.set_content(BODY)

    def page(message):
        message.set_content("See the page.")
        message.add_alternative(PAGE, subtype="html", cte="quoted-printable")

    def attached(message):
        message.set_content("Two clamps are to follow.\n")
        message.add_attachment(b"\x89PNG\r\n\x1a\n....", maintype="image", subtype="png", filename="logo.png")
        message.add_attachment("Qty;Description\n1;Ground post\n", subtype="csv", filename="old.csv")
        message.add_attachment(xlsx, maintype=kind[0], subtype=kind[1], filename="../../etc/load 1.xlsx")

    def latin(message):
        message.set_content("12 ground posts, \u00e9t\u00e9\n4 ridge tubes, 10' 6\u00bd\"\n", charset="iso-8859-1", cte="base64")

    def forwarded(message):
        inner = EmailMessage()
        inner["From"] = "ines@example.org"
        inner["Subject"] = "Fw"
        plain(inner)
        message.set_content("see below")
        message.add_attachment(inner)

    for name, change in [("plain", plain), ("page", page), ("attached", attached), ("latin", latin), ("forwarded", forwarded)]:
        mail(f"{name}.eml", change)
    (HERE / "page.html").write_text(PAGE)


def converted():
    """The workbook, saved again by LibreOffice."""
    office = shutil.which("soffice") or sys.exit("LibreOffice (soffice) is needed")
    with tempfile.TemporaryDirectory() as folder:
        for name, form in [("ods", "ods"), ("fods", "fods"), ("xls", "xls:MS Excel 97"), ("html", "html")]:
            subprocess.run([office, f"-env:UserInstallation=file://{folder}/profile", "--headless", "--convert-to", form, "--outdir", folder, str(HERE / "list.xlsx")], check=True, capture_output=True)
            shutil.move(f"{folder}/list.{name}", HERE / f"list.{name}")


workbook(HERE / "list.xlsx")
old_workbook(HERE / "old.xls")
mails()
converted()
