"""Random plans that leave rates to the compiler, and the same question as a MathProg model.

The model is written from the plan's own figures (lb per 1000 sqft, percents of the grade, days), not from anything that
the program computes: what a limit or label means is stated here a second time, as docs/language.md tells it.
"""
import datetime
import random
import subprocess
import tempfile

from lifted import LIFTED  # noqa: E402

DAY0 = datetime.date(2027, 3, 10)
NUTRIENTS = ["N", "P2O5", "K2O", "Mg"]
GRADES = [(46, 0, 0), (21, 0, 0), (11, 52, 0), (18, 46, 0), (0, 46, 0), (0, 0, 50), (0, 0, 60), (13, 0, 44), (10, 10, 10),
          (20, 4, 10), (14, 20, 10), (30, 0, 4), (5, 10, 5)]


# `rates within 0%`: no step is taken, and hardly a least rate: rates are exact (docs/language.md, usual).
EXACT = """usual spreader {
    rates within 0% from common-practice
    least rate 0.000001 lb per 1000 sqft from common-practice
}
"""
BANK = "z1"  # a zone that lies near water


def month_day(date):
    return f"{['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'][date[0] - 1]} {date[1]}"


class Plan:
    """Every figure is what stands in the plan's text: rates in lb per 1000 sqft, areas in sqft, prices of a pack in lb."""

    def __init__(self, seed, zones=None, applications=None, products=None, lows=True, packs=None, bounds=True):
        self.seed = seed
        r = self.r = random.Random(seed)
        self.zones = {f"z{i}": r.randrange(200, 6000, 50) for i in range(zones or r.randint(1, 3))}
        days = sorted(r.sample(range(0, 225, 5), applications or r.randint(1, 5)))
        self.applications = {f"a{i}": day for i, day in enumerate(days)}
        self.to = {a: list(self.zones) if r.random() < 0.75 else r.sample(list(self.zones), r.randint(1, len(self.zones)))
                   for a in self.applications}
        self.products = {}
        for i in range(products or r.randint(2, 4)):
            self.products[f"p{i}"] = self.product(lows)
        self.limits = self.made_limits()
        self.fixed = []
        if r.random() < 0.4:
            self.fixed.append((r.choice(list(self.products)), r.choice([2, 8, 13, 202]) + r.randrange(0, 20),
                               r.choice(list(self.zones)), round(r.uniform(0.2, 0.6), 2)))
        if any(limit[0] == "water" for limit in self.limits):  # the plan itself keeps off the bank
            self.fixed = [fixed for fixed in self.fixed if fixed[2] != BANK]
        self.needs = {n: round(r.uniform(0.2, top), 2) for n, top, chance in
                      [("N", 3.2, 0.8), ("P2O5", 2.0, 0.6), ("K2O", 2.5, 0.6), ("Mg", 0.2, 0.2)] if r.random() < chance}
        if not self.needs:
            self.needs = {"N": 1.5}
        self.bounds = []
        if bounds and r.random() < 0.2:
            self.bounds.append((r.choice(["least", "most"]), r.choice(["N", "P2O5", "K2O"]), round(r.uniform(0.2, 1.5), 2),
                                r.choice([None] + list(self.applications))))
        self.packs = packs if packs is not None else r.random() < 0.12

    def product(self, lows):
        r = self.r
        n, p, k = r.choice(GRADES)
        made = {"grade": (n, p, k), "slow": r.choice([0, 0, 0, 30, 50]) if n else 0, "Mg": r.choice([0, 0, 1.5, 4]),
                "packs": [(r.choice([10, 20, 25, 40, 50]), round(r.uniform(8, 45), 2))], "low": 0, "high": None,
                "apart": None, "times": None, "year": None}
        if r.random() < 0.3:
            made["packs"].append((5, round(r.uniform(4, 12), 2)))
        if r.random() < 0.06:
            made["packs"] = [(40, None)]
        if r.random() < 0.85:
            made["high"] = r.choice([2, 3, 4, 6, 10])
            made["low"] = r.choice([0, 0.5, 1, 2]) if lows and r.random() < 0.6 else 0
        if r.random() < 0.25:
            made["apart"] = r.choice([21, 28, 42, 60])
        if r.random() < 0.25:
            made["times"] = r.randint(1, 3)
        if r.random() < 0.15:
            made["year"] = r.choice([4, 8, 12])
        return made

    def made_limits(self):
        r = self.r
        limits = []
        if r.random() < 0.8:
            limits.append(("application", "N", r.choice([0.5, 0.75, 0.9, 1])))
        if r.random() < 0.4:
            limits.append(("application", "soluble N", r.choice([0.5, 0.7])))
        if r.random() < 0.25:
            limits.append(("application", "P2O5", r.choice([0.25, 0.5])))
        if r.random() < 0.5:
            limits.append(("year", "N", r.choice([1.5, 2.5, 3.2])))
        if r.random() < 0.25:
            limits.append(("period", "N", r.choice([0.9, 1.2]), r.choice([30, 60])))
        if r.random() < 0.2:
            limits.append(("slow", r.choice([20, 30])))
        if r.random() < 0.3:
            limits.append(("wait", "N", r.choice([21, 28, 42])))
        if r.random() < 0.15:
            limits.append(("closed", "N", (6, 1), (8, 31)))
        return limits + self.made_laws()

    def made_laws(self):
        """Forms that laws need. Of a stream of their own, so that they leave the rest of each plan as it is."""
        r = random.Random(f"laws {self.seed}")
        limits = []
        if r.random() < 0.2:
            limits.append(("slow-above", r.choice([20, 40]), r.choice([0.3, 0.5, 0.7])))
        if r.random() < 0.08:
            limits.append(("slow-each", r.choice([20, 50])))
        if r.random() < 0.15:
            limits.append(("window", "N", r.choice([0.3, 0.5, 1]), (4, 20), (8, 15)))
        if r.random() < 0.1:
            limits.append(("content", "P2O5", r.choice([0.67, 5, 20])))
        if r.random() < 0.1:
            limits.append(("water", r.choice(["N", "P2O5"])))
        return limits

    # ---- as a plan ----

    def text(self):
        day = lambda d: (DAY0 + datetime.timedelta(days=d)).isoformat()
        lines = ['plan "Made at random"', "edition 1 on 2027-01-10", "season 2027-03-01 to 2027-11-30", "units us",
                 LIFTED.rstrip(), "lawn green {"]
        lines += [f"    zone {z} area {area} sqft{', 5 ft from water' if z == BANK else ''}" for z, area in self.zones.items()] + ["}"]
        for name, p in self.products.items():
            lines += [f"product {name} {{", f"    grade {'-'.join(map(str, p['grade']))} granular"]
            if p["slow"]:
                lines.append(f"    slow {p['slow']}% of N")
            if p["Mg"]:
                lines.append(f"    contains Mg {p['Mg']}%")
            for lb, price in p["packs"]:
                lines.append(f"    pack {lb} lb" + (f" at {price}" if price is not None else ""))
            if p["high"]:
                lines.append(f"    label {p['low']} to {p['high']} lb per 1000 sqft" if p["low"]
                             else f"    label up to {p['high']} lb per 1000 sqft")
            if p["apart"]:
                lines.append(f"    label at least {p['apart']} days apart")
            if p["times"]:
                lines.append(f"    label at most {p['times']} a year")
            if p["year"]:
                lines.append(f"    label at most {p['year']} lb per 1000 sqft a year")
            lines.append("}")
        lines.append("limits {")
        for limit in self.limits:
            if limit[0] == "application":
                lines.append(f"    at most {limit[2]} lb {limit[1]} per 1000 sqft per application")
            elif limit[0] == "year":
                lines.append(f"    at most {limit[2]} lb {limit[1]} per 1000 sqft per year")
            elif limit[0] == "period":
                lines.append(f"    at most {limit[2]} lb {limit[1]} per 1000 sqft in any {limit[3]} days")
            elif limit[0] == "slow":
                lines.append(f"    at least {limit[1]}% of N slow")
            elif limit[0] == "wait":
                lines.append(f"    at least {limit[2]} days between {limit[1]} applications")
            elif limit[0] == "closed":
                lines.append(f"    no {limit[1]} from {month_day(limit[2])} to {month_day(limit[3])}")
            elif limit[0] == "slow-above":
                lines.append(f"    at least {limit[1]}% of N slow above {limit[2]} lb N per 1000 sqft")
            elif limit[0] == "slow-each":
                lines.append(f"    at least {limit[1]}% of N slow in each product")
            elif limit[0] == "window":
                lines.append(f"    at most {limit[2]} lb {limit[1]} per 1000 sqft from {month_day(limit[3])} to {month_day(limit[4])}")
            elif limit[0] == "content":
                lines.append(f"    no product with more than {limit[2]}% {limit[1]}")
            elif limit[0] == "water":
                lines.append(f"    no {limit[1]} within 10 ft of water")
        lines.append("}")
        for a, d in self.applications.items():
            lines.append(f"apply {a} {{ to {', '.join(self.to[a])}\n when on {day(d)} }}")
        for i, (product, d, zone, rate) in enumerate(self.fixed):
            lines.append(f"apply f{i} {{ to {zone}\n when on {day(d)}\n rate {rate} lb per 1000 sqft of {product} }}")
        lines.append("correct soil {")
        lines.append(f"    to {', '.join(self.zones)}")
        lines += [f"    need {amount} lb {n} per 1000 sqft" for n, amount in self.needs.items()]
        lines.append(f"    from {', '.join(self.products)}")
        lines.append(f"    in {', '.join(self.applications)}")
        for kind, n, amount, where in self.bounds:
            lines.append(f"    at {kind} {amount} lb {n} per 1000 sqft" + (f" in {where}" if where else ""))
        if self.packs:
            lines.append("    whole packs")
        lines.append("}")
        return "\n".join(lines) + "\n"

    # ---- as a model ----

    def content(self, product, n):
        p = self.products[product]
        share = dict(zip(["N", "P2O5", "K2O"], p["grade"]), Mg=p["Mg"])
        if n == "soluble N":
            return p["grade"][0] / 100 * (1 - p["slow"] / 100)
        if n == "slow N":
            return p["grade"][0] / 100 * p["slow"] / 100
        return share[n] / 100

    def given(self, zone, n, first=-1000, last=1000):
        return sum(rate * self.content(product, n) for product, d, z, rate in self.fixed
                   if z == zone and first <= d <= last)

    def priced(self):
        return all(any(price is not None for _, price in p["packs"]) for p in self.products.values())

    def model(self):
        """Constraints and the five objectives, as MathProg text."""
        variables, rows, goals = [], [], [[] for _ in range(4)]
        count = [0]

        def row(terms, sense, bound):
            count[0] += 1
            terms = [(c, v) for c, v in terms if c != 0]
            left = " + ".join(f"{c!r} * {v}" for c, v in terms) if terms else "0 * unused"
            rows.append(f"s.t. r{count[0]}: {left} {sense} {bound!r};")

        variables.append("var unused >= 0, <= 0;")
        choices, uses = {}, {}
        for z in self.zones:
            for a, d in self.applications.items():
                for p, product in self.products.items():
                    if z not in self.to[a]:
                        continue
                    given = sum(rate for q, e, y, rate in self.fixed if q == p and y == z and e == d)
                    low, high = max(0, self.least(product) - given), product["high"]
                    high = max(0, high - given) if high is not None else None
                    x = choices[z, a, p] = f"x_{z}_{a}_{p}"
                    variables.append(f"var {x} >= 0" + (f", <= {high!r}" if high is not None else "") + ";")
                    if not (low > 0 or product["times"] or product["apart"] or self.waits()):
                        continue
                    y = uses[z, a, p] = f"y_{z}_{a}_{p}"
                    variables.append(f"var {y} binary;")
                    row([(1, x), (-(high if high is not None else 40), y)], "<=", 0)
                    if low > 0:
                        row([(1, x), (-low, y)], ">=", 0)
        self.demands(row, choices, uses)
        self.law_demands(row, variables, choices)
        self.objectives(row, variables, goals, choices)
        return variables, rows, goals, lambda: self.products_used(row, variables, choices)

    @staticmethod
    def least(product):
        """A label's own, or 0.5 lb per 1000 sqft, the least anyone spreads (plans/library/usual.prill), where its most allows that."""
        return product["low"] or (0.5 if product["high"] is None or product["high"] >= 0.5 else 0)

    def waits(self):
        return any(limit[0] == "wait" for limit in self.limits)

    def on(self, choices, zone, test):
        return [(a, p, v) for (z, a, p), v in choices.items() if z == zone and test(a, p)]

    def demands(self, row, choices, uses):
        for z in self.zones:
            for limit in self.limits:
                if limit[0] == "application":
                    for a, d in self.applications.items():
                        row([(self.content(p, limit[1]), v) for _, p, v in self.on(choices, z, lambda b, _: b == a)], "<=",
                            max(0, limit[2] - self.given(z, limit[1], d, d)))
                elif limit[0] == "year":
                    row([(self.content(p, limit[1]), v) for _, p, v in self.on(choices, z, lambda *_: True)], "<=",
                        max(0, limit[2] - self.given(z, limit[1])))
                elif limit[0] == "period":
                    starts = list(self.applications.values()) + [d for _, d, y, _ in self.fixed if y == z]
                    for start in starts:
                        inside = lambda b, _: start <= self.applications[b] < start + limit[3]
                        row([(self.content(p, limit[1]), v) for _, p, v in self.on(choices, z, inside)], "<=",
                            max(0, limit[2] - self.given(z, limit[1], start, start + limit[3] - 1)))
                elif limit[0] == "slow":
                    for a, d in self.applications.items():
                        row([(limit[1] / 100 * self.content(p, "N") - self.content(p, "slow N"), v)
                             for _, p, v in self.on(choices, z, lambda b, _: b == a)], "<=",
                            max(0, self.given(z, "slow N", d, d) - limit[1] / 100 * self.given(z, "N", d, d)))
                elif limit[0] == "closed":
                    for a, d in self.applications.items():
                        date = DAY0 + datetime.timedelta(days=d)
                        if limit[2] <= (date.month, date.day) <= limit[3]:
                            row([(1, v) for _, p, v in self.on(choices, z, lambda b, q: b == a and self.content(q, "N"))],
                                "<=", 0)
                elif limit[0] == "wait":
                    self.wait(row, choices, uses, z, limit[2], lambda p: self.content(p, "N") > 0)
            for name, p in self.products.items():
                if p["apart"]:
                    self.wait(row, choices, uses, z, p["apart"], lambda q: q == name)
                days = {d for q, d, y, _ in self.fixed if q == name and y == z}
                if p["times"]:
                    row([(1, uses[z, a, q]) for a, q, _ in self.on(
                        choices, z, lambda b, q: q == name and self.applications[b] not in days)], "<=",
                        max(0, p["times"] - len(days)))
                if p["year"]:
                    row([(1, v) for _, _, v in self.on(choices, z, lambda _, q: q == name)], "<=",
                        max(0, p["year"] - sum(rate for q, _, y, rate in self.fixed if q == name and y == z)))
            for kind, n, amount, where in self.bounds:
                if where and z not in self.to[where]:
                    continue
                given = 0 if where else self.given(z, n)
                row([(self.content(p, n), v) for _, p, v in self.on(choices, z, lambda b, _: where in (None, b))],
                    ">=" if kind == "least" else "<=", max(0, amount - given))

    def most(self, product):
        """More of a product than any plan here could want at once, in lb per 1000 sqft."""
        return self.products[product]["high"] or 40

    def within(self, d, first, last):
        date = DAY0 + datetime.timedelta(days=d)
        return first <= (date.month, date.day) <= last

    def law_demands(self, row, variables, choices):
        for z in self.zones:
            for limit in self.limits:
                if limit[0] == "slow-above":
                    for a, d in self.applications.items():
                        mine = self.on(choices, z, lambda b, _: b == a)
                        lack = [(limit[1] / 100 * self.content(p, "N") - self.content(p, "slow N"), v, p) for _, p, v in mine]
                        n = [(self.content(p, "N"), v, p) for _, p, v in mine]
                        room = max(0, self.given(z, "slow N", d, d) - limit[1] / 100 * self.given(z, "N", d, d))
                        free = limit[2] - self.given(z, "N", d, d)
                        if free <= 0:
                            row([(c, v) for c, v, _ in lack], "<=", room)
                            continue
                        little = f"little_{z}_{a}_{limit[1]}"
                        variables.append(f"var {little} binary;")
                        row([(c, v) for c, v, _ in lack] + [(-sum(max(0, c) * self.most(p) for c, _, p in lack), little)], "<=", room)
                        most = sum(c * self.most(p) for c, _, p in n)
                        row([(c, v) for c, v, _ in n] + [(most, little)], "<=", free + most)
                elif limit[0] == "slow-each":
                    row([(1, v) for _, p, v in self.on(choices, z, lambda _, q: self.content(q, "N") > 0)
                         if self.products[p]["slow"] < limit[1]], "<=", 0)
                elif limit[0] == "window":
                    given = sum(rate * self.content(p, limit[1]) for p, d, y, rate in self.fixed if y == z and self.within(d, *limit[3:]))
                    row([(self.content(p, limit[1]), v) for _, p, v in
                         self.on(choices, z, lambda b, _: self.within(self.applications[b], *limit[3:]))], "<=", max(0, limit[2] - given))
                elif limit[0] == "content":
                    row([(1, v) for _, _, v in self.on(choices, z, lambda _, q: self.content(q, limit[1]) * 100 > limit[2])], "<=", 0)
                elif limit[0] == "water" and z == BANK:
                    row([(1, v) for _, _, v in self.on(choices, z, lambda _, q: self.content(q, limit[1]) > 0)], "<=", 0)

    def wait(self, row, choices, uses, z, days, member):
        """No two days closer than that with something of the class, one day apart from the other."""
        clash = lambda d, e: d != e and abs(d - e) < days
        for a, d in self.applications.items():
            mine = [p for b, p, _ in self.on(choices, z, lambda b, q: b == a and member(q))]
            if any(clash(d, e) for q, e, y, _ in self.fixed if y == z and member(q)):
                row([(1, choices[z, a, p]) for p in mine], "<=", 0)
            for b, e in self.applications.items():
                if d < e and clash(d, e):
                    for p in mine:
                        for _, q, _ in self.on(choices, z, lambda c, q: c == b and member(q)):
                            row([(1, uses[z, a, p]), (1, uses[z, b, q])], "<=", 1)

    def objectives(self, row, variables, goals, choices):
        wanted = dict(self.needs)
        for n in ["N", "P2O5", "K2O"]:
            wanted.setdefault(n, 0)
        for z in self.zones:
            mine = self.on(choices, z, lambda *_: True)
            variables.append(f"var w_{z} >= 0;")
            goals[0].append((1, f"w_{z}"))
            for n, amount in wanted.items():
                if not any(self.content(p, n) for _, p, _ in mine):
                    continue
                unit = amount or 1
                s, o = f"s_{z}_{n}", f"o_{z}_{n}"
                variables += [f"var {s} >= 0;", f"var {o} >= 0;"]
                row([(self.content(p, n) / unit, v) for _, p, v in mine] + [(1, s), (-1, o)], "=",
                    (amount - self.given(z, n)) / unit)
                goals[2].append((1, o))
                if amount:
                    row([(1, f"w_{z}"), (-1, s)], ">=", 0)
                    goals[1].append((1, s))
                else:
                    row([(1, s)], "<=", 0)
        for p, product in self.products.items():
            mine = [(z, v) for (z, _, q), v in choices.items() if q == p]
            if self.packs:
                packs = []
                for i, (lb, price) in enumerate(product["packs"]):
                    if self.priced() and price is None:
                        continue
                    variables.append(f"var n_{p}_{i} integer, >= 0;")
                    packs.append((lb, f"n_{p}_{i}"))
                    goals[3].append((price if self.priced() else lb * 0.45359237, f"n_{p}_{i}"))
                row(packs + [(-self.zones[z] / 1000, v) for z, v in mine], ">=", 0)
            else:
                price = min(price / lb for lb, price in product["packs"] if price is not None) if self.priced() else 0.45359237
                goals[3] += [(price * self.zones[z] / 1000, v) for z, v in mine]

    def products_used(self, row, variables, choices):
        """Rows that tell which products are used; they belong to the last goal only, and slow down those before it."""
        goal = []
        for p, product in self.products.items():
            variables.append(f"var u_{p} binary;")
            goal.append((1, f"u_{p}"))
            for (z, a, q), v in choices.items():
                if q == p:
                    row([(1, v), (-(product["high"] if product["high"] is not None else 40), f"u_{p}")], "<=", 0)
        return goal

    def best(self):
        """The five goals in order, each as small as it can be among what those before leave; None where nothing fits."""
        variables, rows, goals, products = self.model()
        reached = []
        for i in range(5):
            goal = goals[i] if i < 4 else products()
            terms = " + ".join(f"{c!r} * {v}" for c, v in goal) or "0 * unused"
            value = glpsol(variables, rows, terms, "--cuts")
            if value is None:  # with its cuts glpsol 5.0 has lost answers that it finds without them
                value = glpsol(variables, rows, terms)
            if value is None and i:
                raise GaveUp
            if value is None:
                return None
            reached.append(value)
            rows.append(f"s.t. g{i}: {terms} <= {value + 1e-7 * max(1, abs(value))!r};")
        return reached


class GaveUp(Exception):
    """glpsol took too long, or lost by rounding what it had found itself for the goal before."""


def glpsol(variables, rows, objective, *options):
    """The least value of the objective; None where glpsol finds nothing that fits."""
    text = "\n".join(variables + rows) + f"\nminimize goal: {objective};\nsolve;\nprintf \"%.12g\\n\", goal > \"OUT\";\nend;\n"
    with tempfile.TemporaryDirectory() as folder:
        with open(f"{folder}/m.mod", "w") as file:
            file.write(text.replace("OUT", f"{folder}/out"))
        try:
            done = subprocess.run(["glpsol", *options, "-m", f"{folder}/m.mod"], capture_output=True, text=True, timeout=3)
        except subprocess.TimeoutExpired:
            raise GaveUp from None
        if done.returncode != 0:
            raise RuntimeError(done.stdout[-2000:])
        if "NO PRIMAL FEASIBLE" in done.stdout or "NO INTEGER FEASIBLE" in done.stdout or "NO FEASIBLE" in done.stdout:
            return None
        with open(f"{folder}/out") as file:
            return float(file.read())
