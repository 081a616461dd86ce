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
    if (!confirm("Stop " + run.name + "? The trial in progress is not recorded. Finished trials are kept.")) return;
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
    article.append(element("p", (run.running ? "Running: " : "Interrupted: ") + run.run + " of " + run.planned + " trials"));
    if (!run.running) {
      article.append(element("p", "Last written at " + run.written + ". To continue: " + run.resume, { class: "quiet" }));
    }
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
  if (!run.finished) {
    actions.append(element("a", run.running ? "Watch" : "Look and resume", { href: "/watch/" + encodeURIComponent(run.name) }));
  }
  if (run.running) actions.append(stopButton(run));
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
    words.append(element("p", plan.file + ": " + plan.problem, { class: "quiet" }));
  } else {
    words.append(element("p", plan.purpose, { class: "quiet" }));
    words.append(element("p", plan.file + ": " + plan.trials + " trials, " +
      plan.conditions + (plan.conditions === 1 ? " condition" : " conditions"), { class: "quiet" }));
  }
  const button = element("button", plan.problem ? "Show mistakes" : "Check and start …",
    { "aria-label": (plan.problem ? "Show the mistakes of " : "Check and start ") + (plan.name || plan.file) });
  button.disabled = !plan.problem && (desk.running !== "" || desk.locked !== "");
  button.addEventListener("click", () => check(plan, desk));
  item.append(words, button);
  return item;
}

/* What the command check says comes first; a plan with a mistake cannot be started. */
async function check(plan, desk) {
  const byId = (id) => document.getElementById(id);
  chosen = null;
  byId("start").hidden = true;
  byId("sure-head").textContent = plan.problem ? "This plan cannot be started" : "Start this campaign?";
  byId("what").textContent = "Checking " + plan.file + " …";
  byId("physical").hidden = true;
  byId("advice").replaceChildren();
  sure.showModal();
  const found = await (await fetch("/api/check/" + encodeURIComponent(plan.file))).json();
  const wrong = found.mistakes.length > 0;
  byId("what").textContent = wrong ? plan.file + ": " + found.mistakes.length +
    (found.mistakes.length === 1 ? " mistake" : " mistakes") + ". Correct the file, then open this again."
    : plan.name + ": " + plan.trials + " trials. Bench: " + desk.bench + "." +
      (found.advice.length > 0 ? " Read this first:" : " The check found nothing to say.");
  byId("advice").replaceChildren(...(wrong ? found.mistakes : found.advice).map((line) => element("li", line)));
  byId("physical").hidden = wrong || !desk.physical;
  byId("start").hidden = wrong;
  chosen = wrong ? null : { file: plan.file, hash: found.hash };
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
  if (desk.running) {
    const running = element("p", "Running: ");
    running.append(element("a", desk.running, { href: "/watch/" + encodeURIComponent(desk.running) }));
    last.append(running);
  }
  else if (desk.last) last.append(element("p", desk.last + " has ended, exit code " + desk.code + "."));
  if (desk.said.length > 0) last.append(element("pre", desk.said.join("\n"), { role: "log" }));
  document.getElementById("list").replaceChildren(...desk.plans.map((p) => offer(p, desk)));
}

document.getElementById("not-now").addEventListener("click", () => sure.close());
document.getElementById("start").addEventListener("click", async () => {
  sure.close();
  const answer = await fetch("/plans/" + encodeURIComponent(chosen.file) + "/start",
    { method: "POST", headers: { "X-Stopwell": "start" }, body: chosen.hash });
  if (!answer.ok) state.textContent = "Not started: " + await answer.text();
  await news();
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
