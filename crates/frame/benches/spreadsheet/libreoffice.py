"""The workbook that bill.py wrote, recalculated by LibreOffice without a window.

Runs under a Python that has LibreOffice's own module `uno`; on Debian that is /usr/bin/python3 with the packages
libreoffice-calc-nogui and python3-uno. Prints one JSON object of the same form as bill.py.
"""

import json
import pathlib
import subprocess
import tempfile
import time

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException

from asked import read, seconds

COLUMNS = ["quantity", "length", "width", "unit_mass", "mass"]
PIPE = "tallyard-bench"


def connect(office):
    """The desktop of an office that is still starting up."""
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    for _ in range(300):
        if office.poll() is not None:
            raise SystemExit("LibreOffice ended by itself")
        try:
            context = resolver.resolve(f"uno:pipe,name={PIPE};urp;StarOffice.ComponentContext")
            return context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
        except NoConnectException:
            time.sleep(0.1)
    raise SystemExit("LibreOffice does not answer")


def open_workbook(desktop, path):
    hidden = PropertyValue()
    hidden.Name, hidden.Value = "Hidden", True
    return desktop.loadComponentFromURL(pathlib.Path(path).resolve().as_uri(), "_blank", 0, (hidden,))


class Sheet:
    """The cells that go in, as one range, and the bill that comes out, as another: one call each."""

    def __init__(self, document):
        self.document = document
        self.inputs = document.Sheets.getByName("Order").getCellRangeByName("B2:B8")
        bill = document.Sheets.getByName("Bill")
        used = bill.createCursor()
        used.gotoEndOfUsedArea(False)
        self.bill = bill.getCellRangeByPosition(0, 1, 5, used.RangeAddress.EndRow)

    def recalculate(self, values):
        """Every formula anew, and the whole bill read."""
        self.inputs.setDataArray(tuple((value,) for value in values))
        self.document.calculateAll()
        return self.bill.getDataArray()

    def changed(self, values):
        """What hangs on the changed cells, and the whole bill read."""
        self.inputs.setDataArray(tuple((value,) for value in values))
        return self.bill.getDataArray()


def as_bill(rows):
    found = {}
    for mark, *cells in rows:
        found[mark] = {name: cell for name, cell in zip(COLUMNS, cells) if cell != ""}
    return found


def main():
    asked, orders = read()
    version = subprocess.run(["soffice", "--version"], capture_output=True, text=True, check=True).stdout.split()

    began = time.perf_counter()
    with tempfile.TemporaryDirectory() as profile:
        office = subprocess.Popen(
            ["soffice", "--headless", "--norestore", "--nologo", f"-env:UserInstallation=file://{profile}",
             f"--accept=pipe,name={PIPE};urp;"],
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        try:
            desktop = connect(office)
            document = open_workbook(desktop, asked.workbook)
            sheet = Sheet(document)
            ready = time.perf_counter() - began
            answer = {
                "engine": " ".join(version[:2]),
                "bills": [as_bill(sheet.recalculate(values)) for values in orders],
                "times": [
                    ["all formulas anew, bill read", seconds(asked.runs, orders, sheet.recalculate)],
                    ["what the change touches, bill read", seconds(asked.runs, orders, sheet.changed)],
                    ["of which: one call that does nothing", seconds(asked.runs, orders, lambda _: document.getURL())],
                    ["once: to start and load it", ready],
                ],
            }
            document.close(True)
            desktop.terminate()
        finally:
            try:
                office.wait(20)
            except subprocess.TimeoutExpired:
                office.kill()
    print(json.dumps(answer))


if __name__ == "__main__":
    main()
