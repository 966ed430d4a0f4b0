/* SPDX-License-Identifier: GPL-3.0-or-later */
/* node check.js PAGE_FOLDER WORK_FOLDER. Values are compared as shown: to half of their last digit. */
"use strict";
const fs = require("fs"), path = require("path");
const { chromium } = require("playwright-core");
const { HtmlValidate } = require("html-validate");
const folder = path.resolve(process.argv[2]), work = process.argv[3], address = "file://" + path.join(folder, "handover.html");
const text = fs.readFileSync(path.join(folder, "handover.html"), "utf8"), result = JSON.parse(fs.readFileSync(path.join(folder, "result.json"), "utf8"));
const axe = fs.readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
let passed = 0, failed = 0;

function check(what, holds) {
  if (holds) passed++;
  else { failed++; console.log("FAILED: " + what); }
}

/* A page that counts what it complains of and asks for. */
async function open(browser, options, fragment = "") {
  const context = await browser.newContext(options), page = await context.newPage(), faults = [];
  page.on("console", (said) => { if (["error", "warning"].includes(said.type())) faults.push("console: " + said.text()); });
  page.on("pageerror", (error) => faults.push("error: " + error.message));
  page.on("request", (request) => { if (request.url().split("#")[0] !== address) faults.push("request: " + request.url()); });
  await page.goto(address + fragment);
  return { page, context, faults, close: () => context.close() };
}

const slider = (page) => page.locator(".pl-time input");
const time = async (page) => Number(await slider(page).inputValue());
const near = (shown, value, half) => Math.abs(shown - value) <= half + 1e-9;
/* The text of the value of a row in the first panel that is shown. */
const shown = (page, row) => page.locator(".pl-run:not([hidden]) .pl-values tbody tr").nth(row).locator(".pl-now").innerText();
const figure = (words) => Number(words.replace("\u2212", "-").match(/-?[\d.]+/)[0]) * (/above|starboard|bow up/.test(words) ? -1 : 1);

async function plays(page) {
  await page.getByRole("button", { name: "Play", exact: true }).click();
  await page.waitForFunction(() => Number(document.querySelector(".pl-time input").value) > 0.4, null, { timeout: 8000 });
  await page.getByRole("button", { name: "Pause", exact: true }).click();
  const at = await time(page), hull = () => page.locator(".pl-run:not([hidden]) .pl-side path.pl-hull").first().getAttribute("d"), before = await hull();
  await page.waitForTimeout(250);
  check("pause holds the time", (await time(page)) === at);
  const box = await slider(page).boundingBox();
  await page.mouse.move(box.x + box.width * 0.2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width * 0.8, box.y + box.height / 2, { steps: 4 });
  await page.mouse.up();
  const most = Number(await slider(page).getAttribute("max"));
  check("dragging moves the time", near(await time(page), 0.8 * most, 0.05 * most));
  check("and the hull", (await hull()) !== before);
  await slider(page).focus();
  await page.keyboard.press("Home");
  check("Home goes to the start", (await time(page)) === 0);
  await page.keyboard.press("End");
  check("End goes to the end", near(await time(page), most, 0.011));
  await page.keyboard.press("Home");
  await page.keyboard.press("Space");
  check("space plays", (await page.getByRole("button", { name: "Pause", exact: true }).count()) === 1);
  await page.keyboard.press("Space");
}

/* Each marked event: its button, time, depth of the hub; the slider says what happened. */
async function tellsTheResult(page, run, number) {
  const buttons = page.locator(".pl-run").nth(number).locator(".pl-events button"), count = await buttons.count();
  check("events to jump to in run " + number + ": " + count, count >= 3);
  for (let i = 0; i < count; i++) {
    const name = (await buttons.nth(i).innerText()).replace(/\s+/g, " "), at = Number(await buttons.nth(i).getAttribute("data-time"));
    const event = run.events.find((e) => near(e.time_s, at, 1e-6) && name.includes(e.name));
    check("the event " + name + " is in result.json", event !== undefined);
    if (!event) continue;
    await buttons.nth(i).click();
    check(name + ": the time", near(await time(page), event.time_s, 0.0051));
    check(name + ": depth at the hub", near(figure(await shown(page, 1)), event.hub_depth_m, 0.0005));
    check(name + ": the slider tells it", /after .+ at /.test(await slider(page).getAttribute("aria-valuetext")));
    check(name + ": told politely", (await page.locator(".pl-said").innerText()).length > 0);
  }
  const margin = run.margins.find((m) => m.channel === "strap_tension_N");
  if (margin) check("limit of the strap", (await page.locator(".pl-run:not([hidden]) .pl-limit").first().innerText()).includes(String(Math.round(margin.limit))));
}

async function switches(page) {
  const runs = page.locator(".pl-run:not([hidden])"), choice = page.locator(".pl-choice input");
  check("one run at first", (await runs.count()) === 1);
  const first = await runs.first().getAttribute("data-run");
  await choice.nth(1).check();
  check("the other run", (await runs.count()) === 1 && (await runs.first().getAttribute("data-run")) !== first);
  check("its verdict", (await runs.first().locator(".pl-verdict").innerText()).includes(result.runs[1].run.sentence));
  await choice.nth(2).check();
  check("side by side", (await runs.count()) === 2);
  await choice.nth(0).check();
}

async function units(page) {
  await slider(page).focus();
  await page.keyboard.press("End");
  const metric = figure(await shown(page, 1));
  await page.locator("#units-us").check();
  const us = await shown(page, 1);
  check("US units in the player: " + us, / in\b|\u00a0in\b/.test(us) && near(figure(us), metric / 0.0254, 0.05 + 0.0005 / 0.0254));
  check("the bar is 3 ft", (await page.locator(".pl-run:not([hidden]) .pl-side").first().innerHTML()).includes("3 ft"));
  await page.locator("#units-metric").check();
  check("and metric again", figure(await shown(page, 1)) === metric);
}

async function accessible(page, what) {
  const over = await page.evaluate(() => (document.documentElement.scrollWidth <= window.innerWidth ? [] : [...document.querySelectorAll("body *")]
    .filter((e) => e.getBoundingClientRect().right > window.innerWidth + 1 && !(e.parentElement && e.parentElement.closest(".scroll, svg"))).slice(0, 4).map((e) => e.tagName + "." + e.className + " " + e.textContent.slice(0, 30)).concat(document.documentElement.scrollWidth + " px")));
  check("no sideways scrolling, " + what + ": " + over.join("; "), over.length === 0);
  await page.addScriptTag({ content: axe });
  const found = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"] }));
  const bad = found.violations.filter((v) => v.impact === "serious" || v.impact === "critical");
  check("axe, " + what + ": " + bad.map((v) => v.id + " " + v.nodes.slice(0, 3).map((n) => n.target + " " + n.failureSummary).join("; ")).join(" | "), bad.length === 0);
}

async function inTheBrowser(browser) {
  const desk = await open(browser, { viewport: { width: 1280, height: 800 }, bypassCSP: true });
  check("the title shows as it is", (await desk.page.locator(".pl-run h3").first().innerText()) === 'A <b>bold</b> & "quoted" rig');
  await plays(desk.page);
  await tellsTheResult(desk.page, result.runs[0].run, 0);
  await switches(desk.page);
  await units(desk.page);
  await accessible(desk.page, "desk, light");
  check("desk: " + desk.faults.join("; "), desk.faults.length === 0);
  await desk.page.emulateMedia({ media: "print" });
  check("controls are not printed", !(await desk.page.locator(".pl-controls").isVisible()) && (await desk.page.locator("#player svg:visible").count()) >= 2);
  await desk.page.emulateMedia({ media: null });
  for (const format of ["A4", "Letter"]) {
    const pdf = await desk.page.pdf({ path: path.join(work, format + ".pdf"), format });
    check(format + " prints", pdf.subarray(0, 5).toString() === "%PDF-" && pdf.length > 20000);
  }
  await desk.close();
  /* As --pdf asks for it, the page's own policy in force. */
  for (const [paper, width] of [["A4", 595], ["letter", 612]]) {
    const one = await open(browser, { viewport: { width: 1280, height: 800 } }, "#paper=" + paper);
    const box = /MediaBox\s*\[\s*0 0 ([\d.]+)/.exec((await one.page.pdf({ preferCSSPageSize: true })).toString("latin1"));
    check("paper of the PDF, " + paper + ": " + (box && box[1]), box && near(Number(box[1]), width, 1));
    check("paper of the PDF: " + one.faults.join("; "), one.faults.length === 0);
    await one.close();
  }
  const phone = await open(browser, { viewport: { width: 360, height: 740 }, colorScheme: "dark", reducedMotion: "reduce", bypassCSP: true, hasTouch: true });
  await phone.page.getByRole("button", { name: "Play", exact: true }).click();
  const first = Number(await phone.page.locator(".pl-events button").first().getAttribute("data-time"));
  check("motion reduced: play goes to the first event", near(await time(phone.page), first, 0.0051));
  await phone.page.getByRole("button", { name: "Pause", exact: true }).click();
  await phone.page.getByRole("button", { name: "Next event" }).click();
  check("next event", (await time(phone.page)) > first);
  await accessible(phone.page, "phone, dark");
  check("phone: " + phone.faults.join("; "), phone.faults.length === 0);
  await phone.close();
  const bare = await open(browser, { javaScriptEnabled: false, viewport: { width: 800, height: 600 } });
  check("without script the still pictures stand", (await bare.page.locator("#player svg").count()) >= 2 && (await bare.page.locator(".pl-live").count()) === 0);
  await bare.close();
  /* As it leaves: with its policy in force, nothing complains. */
  const strict = await open(browser, {});
  await strict.page.locator(".pl-events button").first().click();
  const broken = await strict.page.evaluate((svgs) => svgs.filter((svg) => new DOMParser().parseFromString(svg, "image/svg+xml").querySelector("parsererror")).length,
    (text.match(/<svg[\s\S]*?<\/svg>/g) || []).map((svg) => (svg.includes("xmlns=") ? svg : svg.replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"'))));
  check("pictures are well-formed: " + broken + " are not", broken === 0);
  check("policy: " + strict.faults.join("; "), strict.faults.length === 0);
  await strict.close();
}

async function validates() {
  const report = await new HtmlValidate({ extends: ["html-validate:standard"], rules: { "no-inline-style": "off", "long-title": "off", "require-sri": "off" } }).validateString(text);
  const told = report.results.flatMap((r) => r.messages).filter((m) => m.severity === 2);
  check("html-validate: " + told.length + ": " + told.slice(0, 8).map((m) => m.line + ":" + m.column + " " + m.ruleId + " " + m.message).join("; "), told.length === 0);
}

(async () => {
  const browser = await chromium.launch({ executablePath: process.env.CHROMIUM || "/usr/bin/chromium", args: ["--no-sandbox", "--disable-dev-shm-usage"] });
  try {
    await validates();
    await inTheBrowser(browser);
  } catch (error) {
    check(String(error.stack), false);
  }
  await browser.close();
  console.log("[  PASSED  ] " + passed + " test(s).");
  if (failed) console.log("[  FAILED  ] " + failed + " test(s).");
  process.exit(failed ? 1 : 0);
})();
