// Each page as its readers get it: an HTML validator, an accessibility checker, and a browser at the sizes of a phone, a desk
// and paper, light and dark, without colour and without a network.
//
// Sources: html-validate (its rules "recommended", which follow the HTML Living Standard); axe-core (rules of WCAG 2.0 to 2.2,
// levels A and AA, and its best practices); the program's own JSON outputs, against which the numbers of the pages are read.
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";

const modules = process.env.NODE_MODULES, prill = process.env.PRILL;
const require = createRequire(join(modules, "none.js"));
const { HtmlValidate } = require("html-validate");
const axe = readFileSync(join(modules, "axe-core/axe.min.js"), "utf8");
const { default: puppeteer } = await import(join(modules, "puppeteer-core/lib/esm/puppeteer/puppeteer-core.js"));

const folder = mkdtempSync(join(tmpdir(), "prill-pages."));
const keep = process.env.KEEP_PAGES, word = process.argv[2] ?? "";
let passed = 0, failed = 0;

function test(name, faults) {
    if (faults.length === 0) {
        passed++;
        return;
    }
    failed++;
    console.log(`FAILED ${name}`);
    for (const fault of faults.slice(0, 12))
        console.log(`  ${fault}`);
}

function run(...words) {
    return execFileSync(prill, words, { stdio: ["ignore", "pipe", "ignore"], maxBuffer: 1 << 28 }).toString();
}

function json(result, plan) {
    return JSON.parse(run(result, plan, "--as", "json"));
}

// ---- plans ----

const ODD = `plan "</title><script>document.title = 'run'</script>"
season 2027-03-01 to 2027-11-20
units metric
lawn "<img src=x onerror=alert(1)>" {
    zone "a\\"b'c&d" rectangle 20 m by 10 m
    zone "<!--" offsets every 3 m: 4 m, 6 m, 5 m
    zone "{title}{body}" triangle sides 10 m, 8 m, 9 m
    zone "]]>" polygon (0 m, 0 m), (9 m, 0 m), (9 m, 9 m), (0 m, 9 m), plus (ellipse 6 m by 4 m, less square 2 m), less circle 1 m across
}
product "<b>bold</b>" { grade 14-20-10 granular, pack 20 kg at 31.00 }
spreader "&lt;" { width 2 m, hopper 5 kg, passes 2 }
apply "<style>*{display:none}</style>" {
    to "a\\"b'c&d", "<!--", "{title}{body}", "]]>"
    when every 6 weeks from Apr 10, 3 times
    rate 10 g per sqm of "<b>bold</b>"
    with "&lt;"
    note "javascript:alert(1) https://a.example/?x=\\"><script> \`<i>\`"
}
limits { at most 5 g N per sqm in any 60 days, at most 12 g N per sqm per year }
allow untested-zone "<script>alert(1)</script>"
`;

// Forty zones that differ in size, fed, tested and treated all year, for the size and the speed of a large report.
function large() {
    const zones = [...Array(40).keys()].map((i) => `z${i}`), all = zones.join(", ");
    const tests = zones.filter((_, i) => i % 4 === 0).map((zone, i) =>
        `soil-test 2027-02-1${i % 9} { of ${zones.slice(4 * i, 4 * i + 4).join(", ")}\n method mehlich-3, depth 4 in, scale minimum-levels\n` +
        ` results {\n spot pH P ppm K ppm Mg ppm S ppm\n a ${(6 + i / 10).toFixed(1)} ${20 + i} ${25 + i} 60 ${5 + i / 2}\n` +
        ` b ${(6.1 + i / 10).toFixed(1)} ${22 + i} ${27 + i} 61 6\n } }`);
    return `plan "Wrenfield, forty zones"\nseason 2027-03-01 to 2028-02-28\nlawn ground { grass tall-fescue\n` +
        zones.map((zone, i) => `zone ${zone} rectangle ${40 + i} ft by ${30 + (i * 7) % 23} ft`).join("\n") + "\n}\n" +
        tests.join("\n") + "\n" +
        `product feed { grade 16-0-12 granular, slow 40% of N, pack 40 lb at 34, label 2 to 6 lb per 1000 sqft, heat below 88 F, water-in 0.25 in within 1 day }\n` +
        `product iron { grade 0-0-0 liquid, 10.8 lb per gal, kind iron, contains Fe 6%, label 2 to 6 fl oz per 1000 sqft in 1 to 2 gal of water, dry 4 h }\n` +
        `spreader broadcast { width 8 ft, hopper 35 lb, passes 2 }\nsprayer backpack { tank 4 gal, output 1 gal per 1000 sqft }\n` +
        `limits { at most 1 lb N per 1000 sqft in any 30 days, at most 4 lb N per 1000 sqft per year }\n` +
        `apply feeding { to ${all}\n when every 8 weeks from Apr 3, 4 times\n rate 3 lb per 1000 sqft of feed\n with broadcast }\n` +
        `apply greening { to ${all}\n when every 6 weeks from Apr 17, 5 times\n rate 3 fl oz per 1000 sqft of iron\n with backpack }\n` +
        `task mow { to ${all}\n when every 1 weeks from Apr 1, 30 times }\ntask aerate { to ${all}\n when on 2027-09-11 }\n`;
}

const plans = {
    "reading-green": "plans/wrenfield/reading-green.prill",
    "kiln-close": "plans/kiln-close/kiln-close.prill",
    "sexton-lawn": "plans/sexton-lawn/sexton-lawn.prill",
    "town-oval": "plans/new-wrenfield/town-oval.prill",
    "first-lawn": "plans/first-lawn/first-lawn.prill",
    "awkward-text": "tests/cases/outputs/awkward-text.prill",
    odd: join(folder, "odd.prill"),
    "per-hectare": "tests/cases/outputs/per-hectare.prill",
    "per-acre": "tests/cases/outputs/per-acre.prill",
    large: join(folder, "large.prill"),
};
writeFileSync(plans.odd, ODD);
writeFileSync(plans.large, large());

// The whole report of each plan, and every other page of two; a page that takes more words than a plan has them behind it.
const every = [["calendar"], ["day"], ["needs"], ["shopping"], ["budget"], ["rates"], ["weather"]];
const more = {
    "reading-green": [...every, ["explain", "north"], ["compare", "plans/wrenfield/reading-green-mill.prill"]],
    odd: [...every, ["explain", "<b>bold</b>"], ["compare", "plans/new-wrenfield/town-oval.prill"]],
};
const pages = [];
for (const [name, plan] of Object.entries(plans))
    for (const [result, ...words] of more[name] ?? [["calendar"]])
        if (`${name} ${result}`.includes(word))
            pages.push({ name: `${name} ${result}`, plan, result, words: [result, plan, ...words] });

// ---- what each page is held against ----

const validator = new HtmlValidate({ extends: ["html-validate:recommended"], rules: { "long-title": "off", "no-trailing-whitespace": "off" } });

async function validate(page) {
    const report = await validator.validateString(page.html);
    return report.results.flatMap((result) => result.messages).map((message) =>
        `${message.line}:${message.column} ${message.ruleId}: ${message.message}`);
}

// Wider than its window, a page must be pushed to and fro; what is cut or lies over something else is not found by this.
async function look(tab, page, width, scheme) {
    await tab.setViewport({ width, height: 900 });
    await tab.emulateMediaFeatures([{ name: "prefers-color-scheme", value: scheme }]);
    await tab.goto(`file://${page.path}`);
    const faults = await tab.evaluate(() => {
        const faults = [], root = document.documentElement;
        if (root.scrollWidth > root.clientWidth)
            faults.push(`${root.scrollWidth} wide in a window of ${root.clientWidth}`, ...[...document.querySelectorAll("table, pre, p, svg")]
                .filter((element) => element.getBoundingClientRect().right > root.clientWidth).map((element) => element.textContent.slice(0, 60)));
        for (const text of document.querySelectorAll("svg text")) {
            const box = text.getBoundingClientRect(), svg = text.ownerSVGElement.getBoundingClientRect();
            if (box.left < svg.left - 1 || box.right > svg.right + 1 || box.bottom > svg.bottom + 1)
                faults.push(`"${text.textContent}" runs out of its chart`);
        }
        return faults;
    });
    if (keep)
        await tab.screenshot({ path: join(keep, `${page.name}-${width}-${scheme}.png`.replaceAll(" ", "-")), fullPage: true });
    return faults;
}

async function accessible(tab) {
    await tab.evaluate(axe);
    const found = await tab.evaluate(() => axe.run(document, { resultTypes: ["violations"] }));
    return found.violations.map((rule) => `${rule.id}: ${rule.help}: ${rule.nodes[0].html.slice(0, 120)}`);
}

// By the keyboard alone: the first stop leads to the content, and every link and box is one.
async function keyboard(tab) {
    await tab.bringToFront();
    await tab.keyboard.press("Tab");
    const first = await tab.evaluate(() => document.activeElement.getAttribute("href"));
    return first === "#content" ? [] : [`the first stop is ${first}`];
}

// Everything that a plan wrote is text: no element but those that the program writes, no handler, nothing loaded.
async function inert(tab) {
    return tab.evaluate(() => {
        const faults = [];
        for (const element of document.querySelectorAll("script, img, iframe, object, embed, link, base, form, b, i"))
            faults.push(`<${element.localName}>`);
        if (document.querySelectorAll("style").length !== 1)
            faults.push("more than one <style>");
        for (const element of document.querySelectorAll("*"))
            for (const attribute of element.attributes)
                if (attribute.name.startsWith("on") || /^\s*javascript:/i.test(attribute.value))
                    faults.push(`${element.localName} ${attribute.name}="${attribute.value}"`);
        if (document.title === "run" || performance.getEntriesByType("resource").length)
            faults.push("something ran, or was loaded");
        return faults;
    });
}

// No row of a table and no chart lies over the end of a sheet: each is told at the top of its sheet by Chromium's own
// layout of the printed pages, whose text is read back by pdftotext -bbox.
async function printed(tab, page) {
    const path = page.path.replace(/html$/, "pdf");
    await tab.emulateMediaType("print");
    const styles = await tab.evaluate(() => [...document.querySelectorAll("tr, figure, svg, li, h2, h3")]
        .filter((element) => getComputedStyle(element).breakInside !== "avoid" && !/^h/.test(element.localName))
        .map((element) => `${element.localName} may be cut`));
    await tab.pdf({ path, format: "Letter", printBackground: true, margin: { top: "16mm", bottom: "16mm", left: "14mm", right: "14mm" } });
    await tab.emulateMediaType(null);
    const text = execFileSync("pdftotext", ["-bbox", path, "-"], { maxBuffer: 1 << 28 }).toString();
    const faults = [...new Set(styles)];
    for (const sheet of text.split("<page ").slice(1)) {
        const height = Number(/height="([\d.]+)"/.exec(sheet)[1]), width = Number(/width="([\d.]+)"/.exec(sheet)[1]);
        for (const [, x1, y1, x2, y2, said] of sheet.matchAll(/<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)<\/word>/g))
            if (x1 < 20 || x2 > width - 20 || y1 < 20 || y2 > height - 20)
                faults.push(`"${said}" lies over the edge of its sheet`);
    }
    if (keep)
        writeFileSync(join(keep, basename(path)), readFileSync(path));
    return faults;
}

// ---- numbers ----

// The plan without its records: what they are held against.
function unmarked(plan) {
    return plan.replace(/^(done|skipped) [^\n{]*(\{[^}]*\})?/gm, "");
}

const tables = (tab) => tab.evaluate(() => [...document.querySelectorAll("table")].map((table) => {
    let heading = table;
    while (heading && !/^H[2-6]$/.test(heading.tagName))
        heading = heading.previousElementSibling;
    const chart = table.previousElementSibling?.tagName === "FIGURE" ? table.previousElementSibling.querySelector("desc").textContent : null;
    return { heading: heading?.textContent ?? "", chart, rows: [...table.rows].map((row) => [...row.cells].map((cell) => cell.textContent.trim())) };
}));

// A figure as it is shown, against the exact one: as many digits as it has.
function shows(text, exact, off = 0.5) {
    const decimals = (text.split(".")[1] ?? "").length;
    return Math.abs(Number(text) - exact) <= off * 10 ** -decimals * (1 + 1e-9);
}

const LB_PER_1000_SQFT = 0.45359237 / 92.90304, G_PER_M2 = 1e-3, ACRE = 4046.8564224, HECTARE = 1e4;

// One of the plan's unit of rates, in kg per m2, by how the plan's own JSON prints a supply.
function rate_unit(document) {
    const per = / per (ha|acre|m2|1000 sqft)"/.exec(JSON.stringify(document.work))?.[1];
    return { ha: 1 / HECTARE, acre: 0.45359237 / ACRE, m2: G_PER_M2, "1000 sqft": LB_PER_1000_SQFT }[per];
}

// Every row of a nutrient's table is what the JSON calendar brings to that zone by that day.
function compare_nutrients(document, shown) {
    const faults = [], unit = rate_unit(document);
    let rows = 0;
    for (const table of shown.filter((table) => table.rows[0]?.[2] === "total so far")) {
        const nutrient = / on /.exec(table.heading) ? table.heading.split(" on ")[0] : "";
        for (let column = 1; column < table.rows[0].length; column += 2) {
            const zone = table.rows[0][column].replace(/^on /, "");
            const doses = document.work.flatMap((work) => work.zones.filter((item) => item.name === zone && item.supply[nutrient])
                .map((item) => ({ date: work.date, value: item.supply[nutrient].si / unit })));
            for (const row of table.rows.slice(1)) {
                const date = row[0].slice(4), on = doses.filter((dose) => dose.date === date).reduce((sum, dose) => sum + dose.value, 0);
                const so_far = doses.filter((dose) => dose.date <= date).reduce((sum, dose) => sum + dose.value, 0);
                rows++;
                if (row[column] ? !shows(row[column], on) : on > 0)
                    faults.push(`${nutrient} on ${zone}, ${date}: ${row[column]} is not ${on}`);
                if (!shows(row[column + 1], so_far))
                    faults.push(`${nutrient} on ${zone} by ${date}: ${row[column + 1]} is not ${so_far}`);
            }
        }
    }
    return { faults, rows };
}

// The amounts of each day's tables, and the days themselves.
function compare_days(document, shown, headlines) {
    const faults = [];
    for (const work of document.work) {
        if (!headlines.includes(work.headline))
            faults.push(`no line says: ${work.headline}`);
        for (const material of work.done ? [] : work.materials)
            for (const portion of material.portions)
                if (!shown.some((table) => table.heading === work.headline &&
                    table.rows.some((row) => row[0] === portion.zone && row.includes(portion.amount.text))))
                    faults.push(`${work.headline}: no row of ${portion.zone} with ${portion.amount.text}`);
    }
    return faults;
}

// Of each column of the plan's tables the mean: soil tests are shown so.
function means(plan) {
    const found = [];
    for (const [block] of plan.matchAll(/results \{[^}]*\}/g)) {
        const rows = block.split("\n").map((line) => line.replace(/#.*/, "").match(/(?<=\s)\d+(\.\d+)?(?=\s|$)/g) ?? []).filter((row) => row.length > 1);
        for (let column = 0; column < (rows[0]?.length ?? 0); column++)
            found.push(rows.reduce((sum, row) => sum + Number(row[column]), 0) / rows.length);
    }
    return found;
}

// So much of each unit, as pages print it, is one of the SI unit; of kg/m2 two, since a table may say either.
const PRINTED = { "kg/m2": [1 / LB_PER_1000_SQFT, 1 / G_PER_M2], m2: [1 / 0.09290304, 1], kg: [1 / 0.45359237, 1, 1000] };
const OF_FIELDS = { "kg/m2": [ACRE / 0.45359237, HECTARE], m2: [1 / ACRE, 1 / HECTARE], kg: PRINTED.kg };

// All other numbers of the page stand in one of the JSON outputs too, as they are printed there or as an exact figure that is
// printed so; of a soil test, the spots' own figures may be the plan's. A month's are rounded down, so that they add up: they may be off by less than one of their last digit. Left aside
// are the axes of charts, and sentences, which the JSON outputs hold as they are.
function compare_numbers(documents, shown, plan) {
    const printed = / per (ha|acre)"/.test(JSON.stringify(documents[0].work)) ? OF_FIELDS : PRINTED;
    const known = new Set(), exact = [], areas = {}, stated = new Set(plan.match(/\d+(\.\d+)?/g));
    for (const zone of documents.find((document) => document.format.startsWith("prill budget")).zones) {
        const sums = {};
        for (const part of zone.months.flatMap((month) => [month.done, month.planned]))
            for (const [nutrient, supply] of Object.entries(part))
                sums[nutrient] = (sums[nutrient] ?? 0) + supply.si;
        exact.push(...printed["kg/m2"].flatMap((per) => Object.values(sums).map((sum) => sum * per)));
    }
    for (const lawn of documents[0].lawns)
        for (const zone of lawn.zones)
            areas[zone.name] = zone.area.si;
    for (const work of documents[0].work)
        for (const per of printed.m2)
            exact.push(work.zones.reduce((sum, zone) => sum + areas[zone.name], 0) * per);
    const walk = (value) => {
        if (typeof value === "string")
            for (const [number] of value.matchAll(/\d+(\.\d+)?/g))
                known.add(number);
        else if (typeof value === "number")
            exact.push(Math.abs(value));
        else if (value && typeof value === "object") {
            Object.values(value).forEach(walk);
            for (const per of printed[value.unit] ?? [])
                exact.push(Math.abs(value.si * per));
        }
    };
    documents.forEach(walk);
    exact.push(...exact.map((value) => value * 1e6), ...means(plan)); // ppm
    const faults = [];
    for (const table of shown.filter((table) => table.chart === null))
        for (const row of table.rows.filter((row) => row.length === table.rows[0].length))
            for (const cell of row.filter((cell) => !/%$|\w\.$/.test(cell)))
                for (const [number] of cell.matchAll(/\d+(\.\d+)?/g))
                    if (!known.has(number) && !(table.heading.startsWith("Soil test") && stated.has(number)) && !known.has(String(Number(number))) && !exact.some((value) => shows(number, value, table.heading.startsWith("Zone") ? 1 : 0.5)))
                        faults.push(`${table.heading}: ${cell}: no JSON has ${number}`);
    return [...new Set(faults)];
}

// ---- planted faults ----

// Each check with a fault that it has to find: one that finds nothing any more would pass for ever.
async function planted(browser, plan) {
    const html = run("calendar", plan, "--as", "html"), document = json("calendar", plan), page = { path: join(folder, "planted.html") };
    const open = async (text, look_at) => {
        const tab = await browser.newPage(), said = [];
        tab.on("console", (message) => said.push(message.text()));
        writeFileSync(page.path, text);
        await tab.goto(`file://${page.path}`);
        const found = await look_at(tab, said);
        await tab.close();
        return found;
    };
    const put = (markup) => html.replace("</main>", `${markup}</main>`);
    const others = ["needs", "shopping", "budget", "rates"].map((result) => json(result, plan));
    const change = (tab, text, which) => tab.evaluate((text, which) => {
        const cells = [...globalThis.document.querySelectorAll("td")].filter((cell) => new RegExp(which).test(cell.textContent));
        cells[cells.length - 1].textContent = text;
    }, text, which);
    const plants = {
        "invalid HTML": () => validate({ html: put("<table><p>x</table>") }),
        "a wide line": () => open(put(`<p style="width: 3000px">wide</p>`), (tab) => look(tab, { ...page, name: "planted" }, 390, "light")),
        "a box without a name": () => open(put(`<input type="text">`), accessible),
        "pale text": () => open(put(`<p style="color: #ddd; background: #fff">pale</p>`), accessible),
        "a link before the first": () => open(html.replace("<body>", `<body><a href="#x">x</a>`), keyboard),
        "an image": () => open(put("<img alt=x src=x>"), inert),
        "a handler": () => open(put("<p onclick=x>x</p>"), inert),
        "a row that may be cut": () => open(html.replace("tr, li,", "li,"), (tab) => printed(tab, page)),
        "something said": () => open(put("<script>x</script>"), (tab, said) => said),
        "another total": () => open(html, async (tab) => {
            await tab.evaluate(() => {
                const table = [...globalThis.document.querySelectorAll("table")].find((table) => table.rows[0].cells[2]?.textContent === "total so far");
                table.rows[1].cells[2].textContent = "98765";
            });
            return compare_nutrients(document, await tables(tab)).faults;
        }),
        "another amount": () => open(html, async (tab) => {
            const amount = document.work.find((work) => !work.done && work.materials.length).materials[0].portions[0].amount.text;
            await tab.evaluate((amount) => {
                for (const cell of globalThis.document.querySelectorAll("td"))
                    if (cell.textContent === amount)
                        cell.textContent = "98765 lb";
            }, amount);
            return compare_days(document, await tables(tab), document.work.map((work) => work.headline));
        }),
        "another number": () => open(html, async (tab) => {
            await change(tab, "98765.43", "^\\d+\\.\\d+$");
            return compare_numbers([document, ...others], await tables(tab), readFileSync(plan, "utf8"));
        }),
    };
    for (const [name, find] of Object.entries(plants))
        test(`planted: ${name}`, (await find()).length ? [] : ["not found"]);
}

// ---- all of it ----

if (keep)
    mkdirSync(keep, { recursive: true });
const browser = await puppeteer.launch({
    executablePath: process.env.CHROMIUM,
    headless: true,
    args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
        "--disable-component-update", "--disable-sync"],
});
try {
    if ("planted".includes(word))
        await planted(browser, plans["reading-green"]);
    for (const page of pages) {
        page.path = join(folder, `${page.name.replaceAll(" ", "-")}.html`);
        run(...page.words, "-o", page.path);
        page.html = readFileSync(page.path, "utf8");
        if (keep)
            writeFileSync(join(keep, basename(page.path)), page.html);
        const tab = await browser.newPage(), said = [];
        tab.on("console", (message) => said.push(message.text()));
        tab.on("pageerror", (error) => said.push(String(error)));
        tab.on("request", (request) => request.url().startsWith("file://") || said.push(`asks for ${request.url()}`));
        test(`${page.name}: valid HTML`, await validate(page));
        for (const [width, scheme] of [[390, "light"], [1280, "dark"]]) {
            test(`${page.name}: ${width} pixels, ${scheme}`, await look(tab, page, width, scheme));
            if (page.name !== "large calendar")
                test(`${page.name}: accessible at ${width} pixels, ${scheme}`, await accessible(tab));
        }
        await tab.goto(`file://${page.path}`);
        test(`${page.name}: by keyboard`, await keyboard(tab));
        test(`${page.name}: inert`, await inert(tab));
        if (page.name !== "large calendar") // hundreds of sheets of the same parts
            test(`${page.name}: printed`, await printed(tab, page));
        if (page.result === "calendar") {
            const shown = await tables(tab), document = json("calendar", page.plan);
            const headlines = await tab.evaluate(() => [...document.querySelectorAll("td, h3, h4, h5")].map((element) => element.textContent.trim()));
            const nutrients = compare_nutrients(document, shown);
            test(`${page.name}: nutrients as in the JSON, ${nutrients.rows} rows`, nutrients.faults);
            test(`${page.name}: days as in the JSON`, compare_days(document, shown, headlines));
            const unrecorded = unmarked(readFileSync(page.plan, "utf8"));
            const planned = JSON.parse(execFileSync(prill, ["calendar", "-", "--stdin-name", page.plan, "--as", "json"],
                { input: unrecorded, stdio: ["pipe", "pipe", "ignore"], maxBuffer: 1 << 28 }).toString());
            const documents = [document, planned, ...["needs", "shopping", "budget", "rates"].map((result) => json(result, page.plan))];
            test(`${page.name}: numbers as in the JSON`, compare_numbers(documents, shown, readFileSync(page.plan, "utf8")));
        }
        test(`${page.name}: nothing on the console`, said);
        if (page.name === "large calendar") {
            test(`${page.name}: size`, page.html.length < 2e6 ? [] : [`${page.html.length} bytes`]);
            test(`${page.name}: rows against the JSON`, compare_nutrients(json("calendar", page.plan), await tables(tab)).rows > 0 ? [] : ["none"]);
            // A machine's own measure: an empty page opens, laid out, in so many milliseconds.
            const times = {};
            for (const [name, url] of [["empty", "data:text/html,<!DOCTYPE html><title>t</title><p>t"], ["report", `file://${page.path}`]]) {
                times[name] = [];
                for (let i = 0; i < 5; i++) {
                    const begun = performance.now();
                    await tab.goto(url);
                    await tab.evaluate(() => document.body.getBoundingClientRect().height);
                    times[name].push(performance.now() - begun);
                }
                times[name] = Math.min(...times[name]);
            }
            console.log(`${page.name}: ${(page.html.length / 1e3).toFixed(0)} kB, opens in ${times.report.toFixed(0)} ms, an empty page in ${times.empty.toFixed(0)} ms`);
            test(`${page.name}: opens`, times.report < Math.max(20 * times.empty, 400) ? [] : [`${times.report} ms, an empty page ${times.empty} ms`]);
        }
        await tab.close();
    }
} finally {
    await browser.close();
    rmSync(folder, { recursive: true });
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed > 0 || passed === 0 ? 1 : 0);
