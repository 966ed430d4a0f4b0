#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""handover: the page parses, fetches nothing, stays small, is the same twice, says what result.json says, says why a part is missing,
and writes all or nothing. Text of a scenario shows as it is. Values are compared as printed, to the digits that stand there."""
import html
import html.parser
import json
import os
import re
import shlex
import subprocess
import sys
import tempfile

tool, source = os.environ["DRAWDOCK"], os.environ["SOURCE_DIR"]
passed = failed = 0
VOID = {"meta", "input", "br", "link", "img", "hr"}


def check(what, holds):
    global passed, failed
    passed, failed = (passed + 1, failed) if holds else (passed, failed + 1)
    if not holds:
        print("FAILED:", what, flush=True)


class Page(html.parser.HTMLParser):
    """Elements that nest, their ids, what they point at, and the text of the page by section."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.open, self.ids, self.links, self.faults, self.text, self.us, self.scripts, self.seen = [], [], [], [], "", "", [], []
        self.in_us = 0  # elements open since one of US units began
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attributes):
        values = dict(attributes)
        self.seen.append((tag, values))
        if "id" in values:
            self.ids.append(values["id"])
        for name in ("src", "href", "action", "data", "poster", "xlink:href", "srcset", "background"):
            if name in values:
                self.links.append((tag, values[name]))
        for name in ("aria-labelledby", "for"):
            self.links += [(tag, "#" + part) for part in values.get(name, "").split()]
        if tag == "script":
            self.scripts.append([values, ""])
        if tag not in VOID:
            self.open.append(tag)
            self.in_us += self.in_us > 0 or values.get("class") == "us"

    def handle_endtag(self, tag):
        self.in_us -= self.in_us > 0
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}> at {self.getpos()}")

    def handle_data(self, data):
        if self.open and self.open[-1] == "script":
            self.scripts[-1][1] += data
        elif self.in_us:
            self.us += data + " "
        elif "style" not in self.open:
            self.text += data


def run(*arguments, environment=None, folder=None):
    made = subprocess.run([tool, "handover", *arguments], capture_output=True, text=True, env={**os.environ, **(environment or {})}, cwd=folder)
    return made.returncode, made.stdout, made.stderr


def read(*parts):
    with open(os.path.join(*parts), encoding="utf-8") as file:
        return file.read()


def plain(text):
    return re.sub(r"\s+", " ", text)


def whole_page(work):
    """A launch, its boat named as nobody should be: every section, and the figures of result.json."""
    out = os.path.join(work, "page")
    title = "<script>alert(1)</script> & \"Tide's end\""
    status, printed, told = run(os.path.join(source, "scenarios", "launch.yaml"), "-o", out, "--with", "title=" + title)
    check(f"a launch within its limits: status {status}: {told}", status == 0 and told == "" and "handover.html" in printed)
    text = read(out, "handover.html")
    page, data = Page(text), json.loads(read(out, "result.json"))
    words = plain(page.text)
    check(f"it parses: {page.faults[:3]}", not page.faults and not page.open)
    check("every id stands once", len(page.ids) == len(set(page.ids)))
    shell = re.search(r"<code>(drawdock handover .*?)</code>", text, re.S)
    check("the command that makes it again is one a shell reads", shell and shlex.split(html.unescape(shell.group(1)))[2:5] == [os.path.join(source, "scenarios", "launch.yaml"), "--with", "title=" + title])
    targets = [link for _, link in page.links]
    check(f"nothing from outside: {targets[:5]}", targets and all(link.startswith("#") for link in targets))
    check("every link leads somewhere", all(link[1:] in page.ids for link in targets))
    check("no fetch in style or script", not re.search(r"url\(\s*['\"]?(?!#)|@import|fetch\(|XMLHttpRequest|import\(", text))
    check("a policy forbids it too", any(v.get("http-equiv") == "Content-Security-Policy" and "default-src 'none'" in v["content"] for _, v in page.seen))
    check(f"below 2 MB: {len(text.encode())}", len(text.encode()) < 2e6)
    check("the title shows as it is", title in page.text and "<script>alert" not in text)
    check("scripts are ours or data", all(v.get("type") == "application/json" or "SPDX" in body for v, body in page.scripts))
    check("pictures have words", all("role" in v for t, v in page.seen if t == "svg") and sum(t == "svg" for t, _ in page.seen) >= 8)
    check("tables have captions and headings", text.count("<caption>") == text.count("<table") and 'scope="row"' in text)
    result = data["runs"][0]["run"]
    body = words[words.find("Every question and its answer"):]
    order = [body.find(part) for part in (result["sentence"], "Marks on the trailer", "The drill, step by step", "How near the limits",
                                           "What it weighs", "What the supports carry", "Does it stop, hold and reverse?",
                                           "When the ramp can be used", "Take care", "Every figure of")]
    check(f"all sections, in their order: {order}", -1 not in order and order == sorted(order))
    for margin in result["margins"]:
        row = re.search(r">" + re.escape(margin["name"].replace("'", "'")) + r"</th>(.*?)</tr>", text)
        cells = re.findall(r'<td class="number">(?:<span class="metric">)?(-?[\d.]+)', row.group(1)) if row else []
        near = lambda shown, value: abs(float(shown) - value) <= 0.5 * 10 ** -len(shown.partition(".")[2]) + 1e-12
        check(f"margin {margin['name']}: {cells} as computed", len(cells) >= 2 and near(cells[0], margin["value"]) and near(cells[1], margin["limit"]))
    for study in ("depth", "weigh", "seat", "brake"):
        check(f"{study}: its sentence", plain(data["runs"][0][study]["sentence"]) in words)
    row = re.search(r'href="#brake">Does it stop and hold\?</a>.*?</tr>', text, re.S)
    check("brakes not stated: no tick, an open answer", data["runs"][0]["brake"]["verdict"] == "unchecked" and row and "\u2713" not in row.group(0) and "Stopping was not checked" in row.group(0)
          and "jack-knife" in row.group(0) and "Does it stop and hold? is open" in words)
    band = next(t for t in data["runs"][0]["depth"]["tables"] if t["key"] == "band")
    best = next(row for row in band["rows"] if row[0] == "best")
    mark = f"{best[1]:.0f} mm"
    check(f"the mark at {mark}", f"Put the mark on the mudguard {mark}" in words)
    check("and in inches", f"{best[1] / 25.4:.2f} in" in page.us)
    check("its sentence in inches", re.search(r"hub %.2f in under water \(\d+\.\d\d to \d+\.\d\d\)" % (best[1] / 25.4), page.us) is not None)
    check("no millimetres in US units", not re.search(r"\d mm\b", page.us))
    check("the drill has the procedure's figures", "380 mm over the trailer's hub" in words and "about 120 N" in words)
    stands = next(e["hub_depth_m"] for e in result["events"] if e["name"].startswith("step 2:"))
    check(f"where the rig comes to stand: {stands}", f"comes to stand with {1e3 * stands:.0f} mm over the hub" in words and stands > 0.385)
    for caution in result["cautions"]:
        check(f"caution: {caution[:40]}", caution in page.text)
    for line in result["assumed"] + result["unchecked"]:
        check(f"told: {line[:40]}", line in page.text)
    embedded = [json.loads(body) for v, body in page.scripts if v.get("class") == "result"]
    check("the result stands in the page", len(embedded) == 1 and embedded[0]["margins"] == result["margins"])
    check("never called safe", not re.search(r"\bsafe\b", words.replace("US Coast Guard safe loading", "")))  # a title


def road_page(work):
    """A rig on the road: what is missing says why; twice the same; all or nothing."""
    rig, one, two = os.path.join(source, "scenarios", "on-the-road.yaml"), os.path.join(work, "one"), os.path.join(work, "two")
    status, _, told = run(rig, "-o", one, "--with", "trailer.coupling rating=800 N")
    check(f"a limit broken on the road: status {status} {told}", status == 1 and told == "")
    words = plain(Page(read(one, "handover.html")).text)
    check("it leads", "broken" in words.partition("Every question")[0] and "coupling" in words.partition("Every question")[0])
    check("why there is no run", "gives no action, ramp, water and procedure" in words)
    check("why there is no depth", "this scenario is for the road alone" in words)
    check("why there are no hours", "states no tide" in words)
    status, _, told = run(rig, "-o", two, "--with", "trailer.coupling rating=800 N", environment={"LC_ALL": "de_DE.UTF-8"})
    check("twice the same, in any locale", status == 1 and read(one, "handover.html") == read(two, "handover.html"))
    before = read(one, "handover.html")
    empty = os.path.join(work, "empty")
    os.mkdir(empty)
    status, _, told = run("--pdf", rig, "-o", two, environment={"PATH": empty})
    lines = told.splitlines()
    check(f"neither gnuplot nor browser: a line each, the status kept: {told}", status == 0 and len(lines) == 2 and "gnuplot" in lines[0] and "no PDF" in lines[1])
    check("the page says so", "no pictures of histories" in plain(Page(read(two, "handover.html")).text) and not os.path.exists(os.path.join(two, "handover.pdf")))
    data = os.path.join(work, "data")  # plots and scenarios, and a template that is none
    os.makedirs(os.path.join(data, "tools", "report"))
    for name in os.listdir(os.path.join(source, "tools", "report")):
        os.symlink(os.path.join(source, "tools", "report", name), os.path.join(data, "tools", "report", name))
    os.symlink(os.path.join(source, "scenarios"), os.path.join(data, "scenarios"))
    os.remove(os.path.join(data, "tools", "report", "handover.xsl"))
    with open(os.path.join(data, "tools", "report", "handover.xsl"), "w", encoding="utf-8") as file:
        file.write("<xsl:stylesheet")
    status, _, told = run("-n", rig, "-o", one, environment={"DRAWDOCK_DATA": data})
    check(f"a template that is none: status {status}: {told}", status == 3 and "tools/report/handover.xsl" in told)
    check("the old page stands", read(one, "handover.html") == before)
    status, _, told = run(rig, "-o", os.path.join(work, "nowhere", "page"))
    check("a folder that cannot be made", status == 3 and told != "")
    with open(os.path.join(one, "notes.txt"), "w", encoding="utf-8") as file:
        file.write("mine\n")
    status, _, told = run(rig, "-o", one)
    check("a folder with something of the user's is left alone", status == 3 and "notes.txt" in told and read(one, "handover.html") == before)
    check("nothing is left behind", not [name for name in os.listdir(work) if name.startswith(".drawdock-")])


def misuse(work):
    rig = os.path.join(source, "scenarios", "launch.yaml")
    for what, arguments in (("no folder", [rig]), ("no file", ["-o", work + "/x"]), ("both", ["--teach", work, rig, "-o", work + "/x"]),
                            ("no such file", [work + "/none.yaml", "-o", work + "/x"]), ("no lessons", ["--teach", work, "-o", work + "/x"]),
                            ("a key that is none", [rig, "--with", "no such=1", "-o", work + "/x"])):
        status, printed, told = run(*arguments)
        check(f"{what}: status {status}", status == 2 and printed == "" and told != "")
    check("nothing was made", not os.path.exists(work + "/x"))


def lessons(work):
    """The instructor's page over one lesson of the shipped ones."""
    folder, out = os.path.join(work, "lessons"), os.path.join(work, "taught")
    os.mkdir(folder)
    name = "park-lock-only"
    for part in (name, name + "-remedy"):
        text = read(source, "scenarios", "teaching", part + ".yaml").replace("based on: ../", f"based on: {source}/scenarios/")
        with open(os.path.join(folder, part + ".yaml"), "w", encoding="utf-8") as file:
            file.write(text)
    status, _, told = run("--teach", folder, "-o", out)
    check(f"a lesson: status {status} {told}", status == 0 and told == "")
    page, data = Page(read(out, "handover.html")), json.loads(read(out, "result.json"))
    words = plain(page.text)
    check(f"it parses: {page.faults[:3]}", not page.faults and len(page.ids) == len(set(page.ids)))
    check("wrong and right were run", [entry["run"]["verdict"] == "within" for entry in data["runs"]] == [False, True])
    for entry in data["runs"]:
        check(f"its sentence: {entry['name']}", plain(entry["run"]["sentence"]) in words)
    for part in ("What was done", "Predict: how does it end?", "what happened, and why", "What to do instead", "The one thing that differs:"):
        check(part, part in words)
    check("the answer is among the choices", any(v.get("value") == data["runs"][0]["run"]["word"] for t, v in page.seen if t == "input"))


with tempfile.TemporaryDirectory() as place:
    for part in (whole_page, road_page, misuse, lessons):
        part(place)
print(f"[  PASSED  ] {passed} test(s).")
if failed:
    print(f"[  FAILED  ] {failed} test(s).")
sys.exit(failed > 0)
