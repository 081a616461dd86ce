// One settings file: fields and text show the same. The server checks each change and puts it into the text.
// All text goes in as text; the one drawing comes from the console itself, which escapes what it holds.
"use strict";

const name = location.pathname.split("/")[2];
const at = (id) => document.getElementById(id);
let hash = "";
let saved = "";
let sent = 0;
let waiting = 0;

function element(tag, text, attributes) {
  const e = document.createElement(tag);
  if (text !== undefined) e.textContent = text;
  Object.entries(attributes || {}).forEach(([n, value]) => e.setAttribute(n, value));
  return e;
}

function limits(field) {
  if (field.min === "" && field.max === "") return "";
  return field.min + " to " + field.max + (field.unit ? (/^\d/.test(field.unit) ? ", in " : " ") + field.unit : "") + ". ";
}

function input(section, field, id) {
  let control;
  if (field.choices.length > 0) {
    control = element("select");
    control.append(element("option", field.default === "" ? "choose" : "default: " + field.default, { value: "" }));
    field.choices.forEach((c) => control.append(element("option", c, { value: c })));
  } else {
    control = element("input", undefined, { autocomplete: "off", maxlength: 100,
      placeholder: field.default, inputmode: field.kind === "number" ? "decimal" : "text" });
  }
  control.id = id;
  control.value = field.value;
  control.setAttribute("aria-describedby", id + "-about " + id + "-wrong");
  control.addEventListener("input", () => later({ section: section.name, key: field.key, value: control.value.trim() }));
  return control;
}

function row(section, field) {
  const id = section.name + "." + field.key;
  const line = element("div", undefined, { class: "field" });
  const entry = element("div", undefined, { class: "entry" });
  entry.append(input(section, field, id));
  if (field.unit) entry.append(element("span", field.unit));
  line.append(element("label", field.key, { for: id }), entry,
    element("p", limits(field) + field.text + (field.default === "" ? "" : " Default: " + field.default + "."),
      { class: "quiet", id: id + "-about" }),
    element("p", "", { class: "wrong", id: id + "-wrong" }));
  return line;
}

function fields(sections) {
  at("sections").replaceChildren(...sections.map((section) => {
    const box = element("section");
    const stage = section.name.split(".")[1];
    const words = section.name.endsWith("file") ? (stage ? "File of stage " + stage : "File") : "Stage " + stage;
    const head = element("h2", words, { id: section.name + "-head" });
    box.setAttribute("aria-labelledby", head.id);
    box.append(head);
    section.fields.filter((f) => f.value !== "").forEach((f) => box.append(row(section, f)));
    const rest = section.fields.filter((f) => f.value === "");
    if (rest.length > 0) {
      const more = element("details");
      more.append(element("summary", "Keys at their default (" + rest.length + ")"), ...rest.map((f) => row(section, f)));
      box.append(more);
    }
    return box;
  }));
}

function show(state, rebuild) {
  at("name").textContent = "Settings " + state.name;
  document.title = "Settings " + state.name;
  if (at("text").value !== state.text) at("text").value = state.text;
  hash = state.hash;
  if (rebuild) fields(state.sections);
  at("picture").innerHTML = state.picture;
  at("advice").replaceChildren(...state.advice.map((line) => element("li", line)));
  document.querySelectorAll(".field").forEach((line) => {
    const control = line.querySelector("input, select");
    const mistake = state.mistakes.find((m) => m.key === control.id);
    at(control.id + "-wrong").textContent = mistake ? mistake.message : "";
    if (mistake) control.setAttribute("aria-invalid", "true");
    else control.removeAttribute("aria-invalid");
  });
  at("mistakes").replaceChildren(...state.mistakes.map((m) =>
    element("li", (m.line > 0 ? "Line " + m.line + ": " : "") + (m.key ? m.key + ": " : "") + m.message)));
  const count = state.mistakes.length;
  const changed = state.text !== saved;
  at("state").textContent = (state.note ? state.note + " " : "") + (count === 1 ? "1 mistake." : count > 1
    ? count + " mistakes." : changed ? "Valid. Not saved yet." : "Valid.");
  at("save").disabled = count > 0 || !changed;
}

async function ask(what, body) {
  const turn = ++sent;
  try {
    const answer = await fetch("/settings/" + name + "/" + what, { method: "POST",
      headers: { "X-Stopwell": what, "Content-Type": "application/json" }, body: JSON.stringify(body) });
    if (turn !== sent) return null;
    if (answer.ok) return await answer.json();
    at("state").textContent = await answer.text();
  } catch (e) {
    at("state").textContent = "No answer from the console. Is the program still running?";
  }
  return null;
}

// A change waits until the hand rests; a change of a second field does not swallow the first.
let pending = null;
function later(change) {
  if (pending && pending.key !== change.key) send();
  pending = change;
  clearTimeout(waiting);
  waiting = setTimeout(send, 200);
}

async function send() {
  clearTimeout(waiting);
  const change = pending;
  pending = null;
  if (!change) return;
  const state = await ask("check", Object.assign({ text: at("text").value, hash }, change));
  if (state) show(state, change.key === undefined);
}

at("text").addEventListener("input", () => later({}));
at("save").addEventListener("click", async () => {
  const state = await ask("save", { text: at("text").value, hash });
  if (!state) return;
  saved = state.text;
  show(state, true);
});
addEventListener("beforeunload", (event) => { if (at("text").value !== saved) event.preventDefault(); });

fetch("/api/settings/" + name).then(async (answer) => {
  if (!answer.ok) {
    at("state").textContent = "There are no settings of this name that the console may show.";
    return;
  }
  const state = await answer.json();
  saved = state.text;
  show(state, true);
});
