"""Makes the PDFs of this folder, by programs that are not ours: reportlab, LibreOffice, Chromium, qpdf.

    /tmp/venv/bin/python make.py        (pip install reportlab pillow pdfplumber; apt install libreoffice-calc chromium qpdf poppler-utils)

The lists are invented. What must be read from them stands in ../it/pdf_lists.rs, written by hand.
`*.words.tsv` is what pdfplumber finds on the same pages (page, left, top, right, bottom, word), made by this script.
"""
import html, os, subprocess, sys, tempfile
from reportlab.lib import colors
from reportlab.lib.pagesizes import A4, letter
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen import canvas
from reportlab.platypus import Paragraph, SimpleDocTemplate, Spacer, Table, TableStyle
from reportlab.rl_config import defaultPageSize  # noqa: F401
import reportlab, pdfplumber
from PIL import Image, ImageDraw, ImageFont

os.chdir(os.path.dirname(os.path.abspath(__file__)))
reportlab.rl_config.invariant = 1
DEJAVU = "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf"
pdfmetrics.registerFont(TTFont("DejaVu", DEJAVU))

ROWS = [
    ("26", "ea", "GP-60", "Ground post 1.66\" OD x 60\"", ""),
    ("26", "ea", "BW-20", "Half bow, left/right, 20' house", ""),
    ("15", "ea", "RT-126", "Ridge tube swaged 10' 6-1/2\"", "2 bundles"),
    ("30", "ea", "PT-126", "Purlin tube swaged 10' 6-1/2\"", ""),
    ("4 bdl x 10", "", "LC-8", "Lock channel 8' double", ""),
    ("320", "ft", "SW-320", "Spring wire, PVC coated", "loose"),
    ("104", "ea", "TB-312", "Tek screw 1/4-14 x 3/4\"", ""),
    ("52", "pr", "CR-166", "Cross connector 1.66 x 1.315", ""),
    ("2", "rl", "RP-50", "Roll-up rope 1/4\" x 50'", ""),
    ("1", "set", "DR-4", "Door frame kit", "2 days later"),
]
SECOND = [
    ("8", "ea", "EB-72", "End wall brace 72\"", ""),
    ("16", "ea", "TC-138", "T-clamp 1-3/8\"", ""),
    ("4", "ea", "HG-6", "Gate hinge 6\"", "black"),
    ("12", "ea", "AN-30", "Earth anchor 30\"", ""),
    ("200", "ea", "WS-1", "Neoprene washer", ""),
]
HEAD = ("Qty", "Unit", "Part no.", "Description", "Notes")

def canvas_of(name, size=letter):
    return canvas.Canvas(name, pagesize=size, pageCompression=1, invariant=1)

def head_block(c, top=740):
    c.setFont("Helvetica-Bold", 20); c.drawString(72, top, "PACKING LIST")
    c.setFont("Helvetica", 10)
    c.drawString(72, top - 24, "Order no: SG-2041"); c.drawString(360, top - 24, "Date: 2026-03-04")
    c.drawString(72, top - 38, "Ship to: Harbour School Garden"); c.drawString(360, top - 38, "Shipment 1 of 2")

def plain_table(c, rows, top, heading=True, pitch=16):
    y = top
    if heading:
        c.setFont("Helvetica-Bold", 10)
        # Headings are centred over their columns, numbers stand right, texts left.
        for text, x in zip(HEAD, (110, 152, 205, 330, 480)):
            c.drawCentredString(x, y, text)
        y -= pitch
    c.setFont("Helvetica", 10)
    for q, u, p, d, n in rows:
        c.drawRightString(132, y, q); c.drawCentredString(152, y, u)
        c.drawString(180, y, p); c.drawString(245, y, d); c.drawString(455, y, n)
        y -= pitch
    return y

def plain():
    c = canvas_of("plain.pdf")
    head_block(c)
    y = plain_table(c, ROWS, 660)
    c.setFont("Helvetica", 8); c.drawCentredString(306, 40, "Page 1 of 2"); c.showPage()
    c.setFont("Helvetica", 8); c.drawString(72, 760, "Order no: SG-2041 (continued)")
    y = plain_table(c, SECOND, 720)
    c.setFont("Helvetica-Bold", 10); c.drawRightString(132, y, "890"); c.drawString(245, y, "Total pieces")
    c.setFont("Helvetica", 8); c.drawCentredString(306, 40, "Page 2 of 2"); c.showPage(); c.save()

LONG = [
    ("26", "GP-60", "Ground post 1.66\" OD x 60\", galvanized, with driver cap. Pack upright and keep dry until used"),
    ("15", "RT-126", "Ridge tube"),
    ("38", "LC-8", "Lock channel 8' double, aluminum, drilled every 12\" for screws of the bag marked Hardware 2"),
    ("104", "TB-312", "Tek screw"),
    ("2", "RP-50", "Roll-up rope 1/4\" x 50' White nylon, one for each side wall of the house as drawn on Sheet 4"),
]

def wrapped(name, valign, grid):
    style = ParagraphStyle("d", fontName="Helvetica", fontSize=9, leading=10.5)
    data = [["Qty", "Code", "Description"]] + [[q, c, Paragraph(html.escape(d), style)] for q, c, d in LONG]
    rules = [("VALIGN", (0, 0), (-1, -1), valign), ("FONT", (0, 0), (-1, 0), "Helvetica-Bold", 9),
             ("FONT", (0, 1), (1, -1), "Helvetica", 9), ("ALIGN", (0, 0), (0, -1), "RIGHT")]
    if grid:
        rules.append(("GRID", (0, 0), (-1, -1), 0.5, colors.black))
    doc = SimpleDocTemplate(name, pagesize=A4, invariant=1)
    title = Paragraph("Packing list for order SG-2041", ParagraphStyle("t", fontName="Helvetica-Bold", fontSize=14))
    doc.build([title, Spacer(1, 18), Table(data, colWidths=[40, 60, 190], style=TableStyle(rules))])

def solid():
    """Wrapped lines as far apart as rows: only that the next word did not fit shows that they belong together."""
    c = canvas_of("solid.pdf")
    c.setFont("Helvetica-Bold", 10)
    y = 700
    for text, x in (("Qty", 72), ("Code", 110), ("Description", 170)):
        c.drawString(x, y, text)
    c.setFont("Helvetica", 10)
    from reportlab.lib.utils import simpleSplit
    for q, code, d in LONG:
        for i, part in enumerate(simpleSplit(d, "Helvetica", 10, 190)):
            y -= 12
            if i == 0:
                c.drawString(72, y, q); c.drawString(110, y, code)
            c.drawString(170, y, part)
    c.save()

def two_column():
    c = canvas_of("two_column.pdf")
    head_block(c)
    def side(x, rows):
        y = 640
        c.setFont("Helvetica-Bold", 9); c.drawString(x, y, "Qty"); c.drawString(x + 32, y, "Description")
        c.setFont("Helvetica", 9)
        for q, _, _, d, _ in rows:
            y -= 14
            c.drawRightString(x + 16, y, q.split()[0]); c.drawString(x + 32, y, d)
    side(60, ROWS[:8]); side(330, SECOND)
    c.save()

def rotated():
    """The page is upright; what is drawn on it runs upwards, sideways down, or stands on its head."""
    for name, turn in (("turned_90.pdf", 90), ("turned_180.pdf", 180), ("turned_270.pdf", 270)):
        size = letter if turn == 180 else (letter[1], letter[0])
        c = canvas_of(name, size)
        w, h = size
        if turn == 90: c.translate(w, 0)
        if turn == 180: c.translate(w, h)
        if turn == 270: c.translate(0, h)
        c.rotate(turn)
        head_block(c); plain_table(c, ROWS, 660); c.save()
    plain_one = "plain.pdf"
    subprocess.run(["qpdf", "--deterministic-id", "--rotate=+90", plain_one, "rotate_entry.pdf"], check=True)

def stamped():
    c = canvas_of("stamped.pdf")
    head_block(c); plain_table(c, ROWS, 660)
    c.saveState(); c.translate(200, 520); c.rotate(30)
    c.setFillColor(colors.red); c.setFont("Helvetica-Bold", 40); c.drawString(0, 0, "RECEIVED"); c.restoreState()
    c.saveState(); c.translate(590, 300); c.rotate(90); c.setFont("Helvetica", 7); c.drawString(0, 0, "Form 12 rev 3"); c.restoreState()
    c.textAnnotation("two bows bent, see photo", Rect=[400, 560, 560, 580], addtopage=1)
    c.save()

def forty():
    c = canvas_of("forty.pdf")
    n = 0
    for page in range(40):
        c.setFont("Helvetica", 8); c.drawString(72, 770, "Order no: SG-2041")
        rows = []
        for _ in range(12):
            n += 1
            q, u, p, d, note = ROWS[n % 10]
            rows.append((str(n), "ea", f"M-{n:04d}", d, note))
        plain_table(c, rows, 740)
        c.setFont("Helvetica", 8); c.drawCentredString(306, 40, f"Page {page + 1} of 40"); c.showPage()
    c.save()

def scans():
    image = Image.new("L", (850, 1100), 255)
    draw = ImageDraw.Draw(image); font = ImageFont.truetype(DEJAVU, 20)
    for i, (q, _, p, d, _) in enumerate(ROWS):
        for text, x in ((q, 60), (p, 220), (d, 350)):
            draw.text((x, 200 + 30 * i), text, 0, font)
    with tempfile.TemporaryDirectory() as at:
        png = os.path.join(at, "scan.png"); image.save(png)
        for name, hidden in (("scan.pdf", False), ("scan_with_words.pdf", True)):
            c = canvas_of(name); c.drawImage(png, 0, 0, 612, 792)
            if hidden:
                text = c.beginText(); text.setTextRenderMode(3); text.setFont("Helvetica", 14)
                rows = [("Qty", "", "Part no.", "Description", "")] + ROWS
                for i, (q, _, p, d, _) in enumerate(rows):
                    for word, x in ((q, 43), (p, 158), (d, 252)):
                        text.setTextOrigin(x, 792 - (194 + 30 * (i - 1)) * .72 - 12); text.textOut(word)
                c.drawText(text)
            c.showPage(); c.save()

def letters():
    c = canvas_of("ligatures.pdf"); c.setFont("DejaVu", 10)
    y = 700
    for cells in (("Qty", "Description"), ("2", "Raf\ufb01a tie, o\ufb00-white"), ("3", "Wig\u00adgle wire 6\u2032 6\u2033"), ("12", "U-bolt \u00bd\u2033 \u00d7 2")):
        c.drawString(72, y, cells[0]); c.drawString(120, y, cells[1]); y -= 16
    # Bold, faked by drawing it twice a third of a point apart.
    for shift in (0, .3):
        c.drawString(72 + shift, y, "40"); c.drawString(120 + shift, y, "Bolt with raised")
    c.setFont("DejaVu", 6); c.drawString(215, y + 3.5, "zinc"); c.save()

def no_meaning():
    """The letters of web.pdf without the table that says what they mean."""
    subprocess.run(["qpdf", "--deterministic-id", "--object-streams=disable", "web.pdf", "no_meaning.pdf"], check=True)
    data = open("no_meaning.pdf", "rb").read()
    while b"/ToUnicode" in data:
        at = data.index(b"/ToUnicode"); end = data.index(b"R", at) + 1
        data = data[:at] + b" " * (end - at) + data[end:]
    open("no_meaning.pdf", "wb").write(data)

def locked():
    for name, user in (("locked.pdf", "harbour"), ("owner_locked.pdf", "")):
        # The key is random, so these two differ each time they are made.
        subprocess.run(["qpdf", "--encrypt", user, "owner", "256", "--", "plain.pdf", name], check=True)
    subprocess.run(["qpdf", "--deterministic-id", "--object-streams=generate", "plain.pdf", "packed.pdf"], check=True)

def calc():
    from odf.opendocument import OpenDocumentSpreadsheet
    from odf.style import Style, TableCellProperties, TableColumnProperties, TextProperties
    from odf.table import Table as T, TableCell, TableColumn, TableRow
    from odf.text import P
    doc = OpenDocumentSpreadsheet()
    wrap = Style(name="w", family="table-cell"); wrap.addElement(TableCellProperties(wrapoption="wrap", border="0.5pt solid #000000", verticalalign="middle"))
    doc.automaticstyles.addElement(wrap)
    widths = []
    for i, w in enumerate(("1.5cm", "1.5cm", "2.5cm", "5cm", "3cm")):
        s = Style(name=f"c{i}", family="table-column"); s.addElement(TableColumnProperties(columnwidth=w)); doc.automaticstyles.addElement(s); widths.append(s)
    t = T(name="List")
    for s in widths: t.addElement(TableColumn(stylename=s))
    for row in [HEAD] + [r[:3] + (r[3] + ", as drawn on Sheet 4 of the plan" if i % 3 == 0 else r[3],) + r[4:] for i, r in enumerate(ROWS)]:
        tr = TableRow()
        for cell in row:
            # Numbers as numbers, so that they stand right.
            kind = dict(valuetype="float", value=cell) if cell.isdigit() else dict(valuetype="string")
            tc = TableCell(stylename=wrap, **kind); tc.addElement(P(text=cell)); tr.addElement(tc)
        t.addElement(tr)
    doc.spreadsheet.addElement(t)
    with tempfile.TemporaryDirectory() as at:
        path = os.path.join(at, "calc.ods"); doc.save(path)
        subprocess.run(["soffice", "--headless", "--convert-to", "pdf", "--outdir", ".", path], check=True, stdout=subprocess.DEVNULL)

def web():
    rows = "".join(
        f"<tr{' class=gone' if p == 'SW-320' else ''}><td class=q>{html.escape(q)}<td>{html.escape(p)}<td>{html.escape(d)}<td>{html.escape(n)}" for q, _, p, d, n in ROWS)
    page = f"""<meta charset=utf-8><style>body{{font:11px sans-serif}} td,th{{padding:3px 9px;border-bottom:1px solid #999;vertical-align:top}}
    th{{text-align:center}} .q{{text-align:right}} table{{width:300px;border-collapse:collapse}} .gone{{text-decoration:line-through}} caption{{font-size:20px}}</style>
    <h2>Packing list</h2><p>Order: SG-2041<p>Dear school garden, this is what left our yard on Tuesday. Please count it with two people and write to us within five days.
    <table><thead><tr><th>Qty<th>Part<th>Description<th>Notes</thead>{rows}</table><p>Thank you. Keep the film out of the sun."""
    with tempfile.TemporaryDirectory() as at:
        path = os.path.join(at, "list.html"); open(path, "w").write(page)
        subprocess.run(["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", "--print-to-pdf=web.pdf", path],
                       check=True, stderr=subprocess.DEVNULL)

def words():
    for name in ("plain", "wrapped_grid", "calc", "web"):
        with pdfplumber.open(name + ".pdf") as pdf, open(name + ".words.tsv", "w") as out:
            out.write(f"# pdfplumber {pdfplumber.__version__}: page, left, top, right, bottom, word\n")
            for number, page in enumerate(pdf.pages, 1):
                for w in page.extract_words(x_tolerance_ratio=0.15, use_text_flow=False):
                    out.write(f"{number}\t{w['x0']:.1f}\t{w['top']:.1f}\t{w['x1']:.1f}\t{w['bottom']:.1f}\t{w['text']}\n")

plain(); wrapped("wrapped_grid.pdf", "MIDDLE", True); wrapped("wrapped_top.pdf", "TOP", False); wrapped("wrapped_middle.pdf", "MIDDLE", False)
solid(); two_column(); rotated(); stamped(); forty(); scans(); letters(); locked(); calc(); web(); no_meaning(); words()
