"""Zones with a soil test each, read by the program in one call: for soil.check and grasses.check."""
import json
import os
import sys
import tempfile

import served
from described import of_element

PROGRAM = os.environ.get("PRILL") or os.path.join(os.environ.get("BUILD", "build"), "prill")
POUND, FOOT = 0.45359237, 0.3048
THOUSAND = POUND / (1000 * FOOT**2)  # lb per 1000 sq ft in kg/m2
OXIDE = {"P": (2 * 30.974 + 5 * 15.999) / (2 * 30.974), "K": (2 * 39.098 + 15.999) / (2 * 39.098)}
TRADE = {"P": "P2O5", "K": "K2O"}

passed = failed = 0


def check(what, found, wanted, within=0.0):
    """Found is what the program says, wanted what was published."""
    global passed, failed
    fine = found == wanted if isinstance(wanted, str) or wanted is None else found is not None and abs(found - wanted) <= within
    passed += fine
    failed += not fine
    if not fine:
        print(f"FAILED {what}: {found}, published {wanted}")


class Plan:
    """Zones with a soil test each, read in one call."""

    def __init__(self, head=""):
        self.text = "season 2027-03-01 to 2027-11-20\nsource bench {\n status from-memory\n}\n" + head
        self.count = 0

    def zone(self, test, columns, row, lawn=""):
        name = f"z{self.count}"
        self.count += 1
        self.text += f"lawn l{name} {{\n{lawn}\n zone {name} area 1000 sqft\n}}\n"
        self.text += f"soil-test 2027-02-01 {{\n of {name}\n{test}\n results {{\n spot {columns}\n a {row}\n }}\n}}\n"
        return name

    def read(self):
        with tempfile.NamedTemporaryFile("w", suffix=".prill", delete=False) as file:
            file.write(self.text)
        done = served.run([PROGRAM, "needs", "--as", "json", file.name], capture_output=True, text=True, check=False)
        os.unlink(file.name)
        if done.returncode:
            sys.exit(done.stderr)
        return {zone["zone"]: zone for zone in json.loads(done.stdout)["zones"]}


def need(zone, element):
    name = TRADE.get(element, element)
    return next(n for n in zone["needs"] if n["nutrient"] == name)


def pounds(found, element):
    """lb of the trade's form per 1000 sq ft."""
    kg = of_element(found, "least")
    return None if kg is None else kg * OXIDE.get(element, 1) / THOUSAND


def close():
    """The count that tests/reference/run reads."""
    print(f"{passed} passed, {failed} failed")
    sys.exit(failed > 0)
