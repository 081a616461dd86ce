// Shows every run and asks for news every two seconds. All text goes in as text, never as HTML.
"use strict";

const list = document.getElementById("runs");
const state = document.getElementById("state");
let shown = "";

function element(tag, text, attributes) {
  const e = document.createElement(tag);
  if (text !== undefined) e.textContent = text;
  Object.entries(attributes || {}).forEach(([name, value]) => e.setAttribute(name, value));
  return e;
}

function conditions(run) {
  const table = element("table");
  const head = table.createTHead().insertRow();
  const body = table.createTBody();
  table.append(element("caption", "Trials of " + run.name + " by condition", { class: "unseen" }));
  ["condition", "run", "passed", "failed", "rig faults"].forEach((t) =>
    head.append(element("th", t, { scope: "col" })));
  run.conditions.forEach((c) => {
    const row = body.insertRow();
    row.append(element("th", c.name, { scope: "row" }), element("td", c.run + " of " + c.planned));
    row.append(element("td", c.passed), element("td", c.failed), element("td", c.rig_faults));
  });
  return table;
}

function stopButton(run) {
  const button = element("button", run.stop_requested ? "Stop requested" : "Request stop");
  button.disabled = run.stop_requested;
  button.addEventListener("click", async () => {
    if (!confirm("Stop " + run.name + " after the trial in progress? Finished trials are kept.")) return;
    button.disabled = true;
    await fetch("/runs/" + encodeURIComponent(run.name) + "/stop",
      { method: "POST", headers: { "X-Stopwell": "stop" } });
    news();
  });
  return button;
}

function card(run) {
  const article = element("article");
  article.append(element("h2", run.name));
  if (run.problem) {
    article.append(element("p", run.problem));
    return article;
  }
  article.append(element("p", run.plan + ", on the " + run.bench + " bench, started " + run.started));
  if (run.finished) {
    const verdict = element("p");
    verdict.append(element("span", run.verdict, { class: "verdict " + run.verdict }), " " + run.meaning);
    article.append(verdict);
  } else {
    article.append(element("p", run.run + " of " + run.planned + " trials"));
    article.append(element("p", "Last written at " + run.written +
      ". If no program is running it, continue with: " + run.resume, { class: "quiet" }));
    if (run.waiting) article.append(element("p", "The bench needs service. " + run.waiting, { class: "care" }));
    article.append(element("progress", undefined,
      { max: run.planned, value: run.run, "aria-label": "trials of " + run.name }));
  }
  article.append(conditions(run));
  const actions = element("div", undefined, { class: "actions" });
  if (run.report) {
    actions.append(element("a", "Report",
      { href: "/runs/" + encodeURIComponent(run.name) + "/report.html" }));
  }
  if (!run.finished) actions.append(stopButton(run));
  article.append(actions);
  return article;
}

const sure = document.getElementById("sure");
let chosen = null;
let offered = "";

function offer(plan, desk) {
  const item = element("li");
  const words = element("div");
  words.append(element("strong", plan.name || plan.file));
  if (plan.problem) {
    words.append(element("p", plan.problem));
    item.append(words);
    return item;
  }
  words.append(element("p", plan.purpose, { class: "quiet" }));
  words.append(element("p", plan.file + ": " + plan.trials + " trials, " +
    plan.conditions + (plan.conditions === 1 ? " condition" : " conditions"), { class: "quiet" }));
  const button = element("button", "Start …", { "aria-label": "Start " + plan.name });
  button.disabled = desk.running !== "" || desk.locked !== "";
  button.addEventListener("click", () => {
    chosen = plan;
    document.getElementById("what").textContent =
      plan.name + ": " + plan.trials + " trials. Bench: " + desk.bench + ".";
    document.getElementById("physical").hidden = !desk.physical;
    sure.showModal();
  });
  item.append(words, button);
  return item;
}

function showDesk(desk) {
  document.getElementById("plans").hidden = !desk.armed;
  if (!desk.armed) return;
  document.getElementById("bench").textContent =
    "Bench: " + desk.bench + ". Plans: " + desk.directory + ".";
  const locked = document.getElementById("locked");
  locked.textContent = desk.locked;
  locked.hidden = desk.locked === "";
  const last = document.getElementById("last");
  last.replaceChildren();
  if (desk.running) last.append(element("p", "Running: " + desk.running));
  else if (desk.last) last.append(element("p", desk.last + " has ended, exit code " + desk.code + "."));
  if (desk.said.length > 0) last.append(element("pre", desk.said.join("\n"), { role: "log" }));
  document.getElementById("list").replaceChildren(...desk.plans.map((p) => offer(p, desk)));
}

document.getElementById("not-now").addEventListener("click", () => sure.close());
document.getElementById("start").addEventListener("click", async () => {
  sure.close();
  const answer = await fetch("/plans/" + encodeURIComponent(chosen.file) + "/start",
    { method: "POST", headers: { "X-Stopwell": "start" }, body: chosen.hash });
  if (!answer.ok) alert("Not started: " + await answer.text());
  news();
});

async function plans() {
  const text = await (await fetch("/api/plans")).text();
  if (text === offered || sure.open) return;
  showDesk(JSON.parse(text));
  offered = text;
}

async function news() {
  try {
    const text = await (await fetch("/api/runs")).text();
    if (text !== shown) {
      const runs = JSON.parse(text);
      list.replaceChildren(...runs.map(card));
      state.textContent = runs.length === 0 ? "No runs. Start one with: stopwell run PLAN" : "";
      shown = text;
    }
    await plans();
  } catch (e) {
    state.textContent = "No answer from the console. Is the program still running?";
    shown = "";
    offered = "";
  }
}

news();
setInterval(news, 2000);
