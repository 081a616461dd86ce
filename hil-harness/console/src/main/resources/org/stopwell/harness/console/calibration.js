// Shows the question that a calibration asks and sends what is typed. All text goes in as text, never as HTML.
"use strict";

const byId = (id) => document.getElementById(id);
let number = 0;
let done = false;

function show(now) {
  if (!now.armed) {
    byId("state").textContent = "No calibration is running. Start one at the machine of the bench: stopwell rig calibrate … --console";
    byId("form").hidden = true;
    return;
  }
  byId("title").textContent = now.title;
  byId("said").replaceChildren(...now.said.slice().reverse().map((text) => {
    const line = document.createElement("li");
    line.textContent = text;
    return line;
  }));
  byId("form").hidden = now.number === undefined;
  byId("state").textContent = now.finished ? "Finished." : now.number === undefined ? "Measuring …" : "";
  done = now.finished;
  if (now.number === undefined || now.number === number) return;
  number = now.number;
  const clear = now.wanted === "done";
  byId("question").textContent = now.text;
  byId("unit").textContent = now.unit;
  byId("answer").hidden = clear;
  byId("answer").value = "";
  byId("answer").inputMode = now.wanted === "number" ? "decimal" : "text";
  byId("send").textContent = clear ? "Done" : "Enter";
  (clear ? byId("skip") : byId("answer")).focus();
}

async function post(path, body) {
  await fetch("/calibration/" + path, { method: "POST", headers: { "X-Stopwell": "calibrate" }, body });
  await news();
}

async function news() {
  if (done) return;
  try {
    show(await (await fetch("/api/calibration")).json());
  } catch (e) {
    byId("state").textContent = "The calibration has ended or the program has stopped. All readings are saved.";
    byId("form").hidden = true;
  }
}

byId("form").addEventListener("submit", (event) => {
  event.preventDefault();
  const answer = byId("answer").hidden ? "y" : byId("answer").value;
  if (answer.trim() !== "") post("answer", number + " " + answer);
});
byId("skip").addEventListener("click", () => post("answer", number + " "));
byId("leave").addEventListener("click", () => {
  if (confirm("Stop the calibration? All readings are kept.")) post("leave", "");
});

news();
setInterval(news, 500);
