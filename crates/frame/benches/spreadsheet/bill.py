"""The bill of families/gothic-24.toml as a workbook of formulas, recalculated by a spreadsheet engine.

The peer of `cargo bench -p frame --bench spreadsheet`, which see. By itself:

    python3 bill.py --orders '[{"length": 576, "spacing": 48, "purlins": "one each side", "front_wall": "framed",
        "front_door": "double", "back_wall": "framed", "back_door": "single"}]' --runs 100 --workbook bill.xlsx

Lengths are inches, masses kilograms. Prints one JSON object: the bill of each order, and seconds a recalculation.
"""

import json
import re
import time

import formulas
import openpyxl

from asked import INPUTS, read, seconds

ENDS = ["front", "back"]
ROLLS = [20, 24, 28, 32, 36, 40, 42, 48]  # ft, the widths in which the cover comes

# A count must not rise because 576 / 96 came out a hair over 6.
HAIR = "1E-6"


class Book:
    """A workbook whose formulas speak of cells by name: `{bays} + 1` becomes `=Lines!$B$3 + 1`."""

    def __init__(self):
        self.book = openpyxl.Workbook()
        self.book.remove(self.book.active)
        self.at = {}

    def sheet(self, title):
        self.page = self.book.create_sheet(title)
        return self

    def put(self, name, value, says=""):
        row = self.page.max_row + 1
        self.page.cell(row, 1, says or name.replace("_", " "))
        self.page.cell(row, 2, self.written(value))
        self.at[name] = f"{self.page.title}!$B${row}"

    def written(self, value):
        if not isinstance(value, str) or not value.startswith("="):
            return value
        return re.sub(r"\{(\w+)\}", lambda m: self.at[m[1]], value)


def pieces(length, first, step):
    """The fewest pieces of a line: the first reaches `first`, each more brings it `step` further."""
    return f"1 + ROUNDUP(MAX(0, ({length} - {first}) / {step} - {HAIR}), 0)"


def fastenings(length, every):
    """One at either end, and between them as few as keep to the greatest gap."""
    return f"1 + MAX(1, ROUNDUP({length} / {every} - {HAIR}, 0))"


def order_sheet(book):
    book.sheet("Order")
    first = [576, 48, "one each side", "framed", "double", "framed", "single"]
    for name, value in zip(INPUTS, first):
        book.put(name, value)


def profile_sheet(book):
    """Half the profile: a side of 4 ft, a shoulder bent to 3 ft, a roof bent to 30 ft, without a kink, to the peak.

    The shoulder's centre is known; the roof's lies 360 − 36 from it and 360 from the peak: two circles.
    """
    book.sheet("Profile")
    for name, value in [
        ("width", 288), ("height", 129), ("side", 48), ("shoulder", 36), ("roof", 360), ("post_top", 24),
        ("from_ground", 6),
        ("shoulder_x", "=-{width} / 2 + {shoulder}"),
        ("shoulder_z", "={side}"),
        ("apart", "=SQRT({shoulder_x}^2 + ({height} - {shoulder_z})^2)"),
        ("between", "={roof} - {shoulder}"),
        ("foot", "=({between}^2 - {roof}^2 + {apart}^2) / (2 * {apart})"),
        ("off", "=SQRT({between}^2 - {foot}^2)"),
        ("along_x", "=-{shoulder_x} / {apart}"),
        ("along_z", "=({height} - {shoulder_z}) / {apart}"),
        ("roof_x", "={shoulder_x} + {foot} * {along_x} + {off} * {along_z}"),
        ("roof_z", "={shoulder_z} + {foot} * {along_z} - {off} * {along_x}"),
        ("shoulder_turn", "=ACOS(-({shoulder_x} - {roof_x}) / {between})"),
        ("roof_turn", "=ACOS((({shoulder_x} - {roof_x}) * -{roof_x} + ({shoulder_z} - {roof_z}) "
                      "* ({height} - {roof_z})) / ({between} * {roof}))"),
        ("half", "={side} + {shoulder} * {shoulder_turn} + {roof} * {roof_turn}"),
        ("arch", "=2 * ({half} - {from_ground})"),
    ]:
        book.put(name, value)


def lines_sheet(book):
    """What runs the length of the house, and the arches: pieces of one line of each, and how many lines."""
    book.sheet("Lines")
    for name, value in [
        ("bays", "=ROUND({length} / {spacing}, 6)"),
        ("bows", "={bays} + 1"),
        ("posts", "=2 * {bows}"),
        ("purlin_lines", '=IF({purlins} = "one each side", 2, 0)'),
        ("tube_lines", "=1 + {purlin_lines}"),
        # Of 126-1/2 in, 3-1/2 go into the next tube; the last tube loses its swage.
        ("tubes", "=" + pieces("{length}", "(126.5 - 3.5)", "(126.5 - 3.5)")),
        ("tube_splices", "={tubes} - 1"),
        ("rail_lines", 4),
        ("rails", "=" + pieces("{length}", "117", "117")),
        ("rail_splices", "={rails} - 1"),
        ("rail_locks", "=" + pieces("{length}", "96", "96")),
        # A wire of 80 in laps the next by 2.
        ("rail_wires", "=" + pieces("{length}", "80", "(80 - 2)")),
        ("rail_fastenings", "=" + fastenings("{length}", "24")),
        ("arches", 2),
        ("arch_locks", "=" + pieces("{arch}", "96", "96")),
        ("arch_wires", "=" + pieces("{arch}", "80", "(80 - 2)")),
        ("arch_fastenings", "=" + fastenings("{arch}", "18")),
    ]:
        book.put(name, value)


def ends_sheet(book):
    """What stands in the end walls: each end, and both together."""
    book.sheet("Ends")
    for end in ENDS:
        framed, door = f'{{{end}_wall}} = "framed"', f"{{{end}_door}}"
        for name, value in [
            ("is_framed", f"=IF({framed}, 1, 0)"),
            ("is_single", f'=IF({door} = "single", 1, 0)'),
            ("is_double", f'=IF({door} = "double", 1, 0)'),
            ("has_door", f"={{{end}_is_single}} + {{{end}_is_double}}"),
            # Two studs; two more uprights, which are middle studs or jambs.
            ("uprights", f"=2 * {{{end}_is_framed}} + 2 * MAX({{{end}_is_framed}} * (1 - {{{end}_has_door}}), "
                         f"{{{end}_has_door}})"),
            ("header", f"=42 * {{{end}_is_single}} + 84 * {{{end}_is_double}}"),
            # Lock channel on each jamb up to 82 in, and along the header.
            ("locks", f"={{{end}_has_door}} * (2 * ({pieces('82', '96', '96')}) + "
                      f"{pieces(f'{{{end}_header}}', '96', '96')})"),
            ("wires", f"={{{end}_has_door}} * (2 * ({pieces('82', '80', '(80 - 2)')}) + "
                      f"{pieces(f'{{{end}_header}}', '80', '(80 - 2)')})"),
            ("fastenings", f"={{{end}_has_door}} * (2 * ({fastenings('82', '18')}) + "
                           f"{fastenings(f'{{{end}_header}}', '18')})"),
            ("panels", f"={{{end}_is_single}} + 2 * {{{end}_is_double}}"),
        ]:
            book.put(f"{end}_{name}", value)
    for name in ["is_framed", "is_single", "is_double", "has_door", "uprights", "locks", "wires", "fastenings", "panels"]:
        book.put(f"all_{name}", f"={{front_{name}}} + {{back_{name}}}")


def film_sheet(book):
    """The cover's roll is the narrowest that reaches over the arch with 12 in to hold on either side."""
    book.sheet("Film")
    book.put("across", "={arch} + 2 * 12")
    rows = []
    for feet in ROLLS:
        book.put(f"roll_{feet}", 12 * feet)
        rows.append(book.at[f"roll_{feet}"].split("$")[-1])
    rolls = f"Film!$B${rows[0]}:$B${rows[-1]}"
    book.put("cover_width", f'=INDEX({rolls}, COUNTIF({rolls}, "<" & {{across}}) + 1)')
    book.put("cover_length", "=ROUND({length} + 2 * 24, 0)")
    book.put("end_width", "=ROUND({width} + 2 * 12, 0)")
    book.put("end_height", "=ROUND({height} + 2 * 12, 0)")


STEEL, ALUMINIUM, FILM = 7850, 2700, 920  # kg/m³
CUBIC = 0.0254**3


def tube(outside, wall, length):
    return f"PI() * {STEEL} * ({outside} - {wall}) * {wall} * {length} * {CUBIC!r}"


def solid(density, *sides):
    return f"{density} * {' * '.join(map(str, sides))} * {CUBIC!r}"


def bill_rows():
    """Mark, quantity, length, width, mass of one: `None` where the family gives none."""
    big, small = (1.660, 0.083), (1.315, 0.065)
    half_bow = "ROUND(({half} - {post_top} + 4) * 16, 0) / 16"
    return [
        ("P1", "{posts}", "60", None, tube(*big, 60)),
        ("B1", "2 * {bows}", half_bow, None, tube(*big, f"({half_bow})")),
        ("R1", "{tube_lines} * {tubes}", "126.5", None, tube(*small, 126.5)),
        ("S1", "{all_uprights}", "126", None, tube(*small, 126)),
        ("H1", "{all_is_single}", "42", None, tube(*small, 42)),
        ("H2", "{all_is_double}", "84", None, tube(*small, 84)),
        ("C1", "{rail_lines} * {rails}", "117", None, solid(STEEL, 3.5, 0.0635, 117)),
        ("C2", "{rail_lines} * {rail_splices}", "6", None, "0.115"),
        ("L1", "{rail_lines} * {rail_locks} + {arches} * {arch_locks} + {all_locks}", "96", None,
         solid(ALUMINIUM, 2.375, 1.2 / 25.4, 96)),
        ("W1", "{rail_lines} * {rail_wires} + {arches} * {arch_wires} + {all_wires}", "80", None, "0.062"),
        ("F1", "1", "{cover_length}", "{cover_width}", solid(FILM, 0.006, "{cover_length}", "{cover_width}")),
        ("F2", "{all_is_framed}", "{end_height}", "{end_width}", solid(FILM, 0.006, "{end_height}", "{end_width}")),
        ("K1", "2 * {bows}", None, None, "0.410"),
        ("X1", "{bows}", None, None, "0.180"),
        ("X2", "{purlin_lines} * {bows}", None, None, "0.165"),
        ("X3", "{all_uprights}", None, None, "0.140"),
        ("X4", "{all_uprights}", None, None, "0.620"),
        ("D1", "{all_panels}", None, None, "14.5"),
        ("D2", "3 * {all_panels}", None, None, "0.230"),
        ("D3", "{all_has_door}", None, None, "0.310"),
        ("N1", "{posts}", "2.5", None, "0.029"),
        ("N2", "4 * {bows}", "3", None, "0.034"),
        ("N3", "{posts} + 4 * {bows}", None, None, "0.005"),
        ("N4", "{posts} + 4 * {bows}", None, None, "0.003"),
        # Tube splices; rails on bows and posts, and in their plates; channel on rails, arches and round doors.
        ("N5", "{tube_lines} * {tube_splices} + 2 * 2 * {bows} + 2 * {posts} + 4 * {rail_lines} * {rail_splices} "
               "+ {rail_lines} * {rail_fastenings} + {arches} * {arch_fastenings} + {all_fastenings}", "0.75", None,
         "0.0045"),
        # Ridge clamps, cross connectors, stud clamps and shoes, headers on two jambs, door hardware.
        ("N6", "2 * {bows} + 2 * {purlin_lines} * {bows} + 2 * {all_uprights} + 2 * {all_uprights} "
               "+ 2 * 2 * {all_has_door} + 12 * {all_panels}", "1", None, "0.0052"),
    ]


COLUMNS = ["quantity", "length", "width", "unit_mass", "mass"]


def bill_sheet(book):
    """The bill itself; returns the address of each of its figures."""
    page = book.sheet("Bill").page
    page.append(["mark", *COLUMNS])
    figures = {}
    for mark, *cells in bill_rows():
        row = page.max_row + 1
        page.cell(row, 1, mark)
        for column, cell in enumerate([*cells, f"B{row} * E{row}"], start=2):
            if cell is None:
                continue
            page.cell(row, column, book.written(f"={cell}"))
            figures[mark, COLUMNS[column - 2]] = f"BILL!{'ABCDEF'[column - 1]}{row}"
    row = page.max_row + 1
    page.cell(row, 1, "all")
    page.cell(row, 6, f"=SUM(F2:F{row - 1})")
    figures["all", "mass"] = f"BILL!F{row}"
    return figures


def write(path):
    book = Book()
    order_sheet(book)
    profile_sheet(book)
    lines_sheet(book)
    ends_sheet(book)
    film_sheet(book)
    figures = bill_sheet(book)
    book.book.save(path)
    cells = [book.at[name].replace("$", "").upper() for name in INPUTS]
    written = sum(1 for page in book.book for row in page.iter_rows() for cell in row if cell.data_type == "f")
    return cells, figures, written


def number(found):
    """A figure out of the engine's array of one cell."""
    value = found.value if hasattr(found, "value") else found
    while hasattr(value, "__len__") and not isinstance(value, str):
        value = value[0]
    return float(value)


def main():
    asked, orders = read()

    began = time.perf_counter()
    inputs, figures, written = write(asked.workbook)
    model = formulas.ExcelModel().loads(asked.workbook).finish()
    file = asked.workbook.replace("\\", "/").rsplit("/", 1)[-1]
    prefix = next(node[: node.index("]") + 1] for node in model.cells if file.lower() in node.lower())

    def address(cell):
        sheet, place = cell.split("!")
        return f"{prefix}{sheet}'!{place}"

    inputs, outputs = [address(cell) for cell in inputs], [address(cell) for cell in figures.values()]
    compiled = model.compile(inputs=inputs, outputs=outputs)
    ready = time.perf_counter() - began

    bills = []
    for values in orders:
        bill = {}
        for (mark, column), found in zip(figures, compiled(*values)):
            bill.setdefault(mark, {})[column] = number(found)
        bills.append(bill)

    def whole_model(values):
        model.calculate(inputs=dict(zip(inputs, values)), outputs=outputs)

    print(json.dumps({
        "engine": f"formulas {formulas.__version__}, {written} formulas",
        "bills": bills,
        "times": [
            ["recalculation, compiled to one function", seconds(asked.runs, orders, lambda values: compiled(*values))],
            ["recalculation of the whole model", seconds(max(1, asked.runs // 10), orders, whole_model)],
            ["once: to write, load and compile it", ready],
        ],
    }))


if __name__ == "__main__":
    main()
