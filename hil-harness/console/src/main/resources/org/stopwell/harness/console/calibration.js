// Shows the question that a calibration asks and sends what is typed. All text goes in as text, never as HTML.
import { picture } from "/pictures.js";

const byId = (id) => document.getElementById(id);
let number = 0;
let done = false;

function show(now) {
  if (!now.armed) {
    byId("state").textContent = "Nothing asks at the moment. A calibration asks here with: stopwell rig calibrate … --console. A proof asks here with: stopwell rig prove … --console.";
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
  byId("state").textContent = now.finished ? "Finished." : now.number === undefined ? "No question at the moment." : "The bench waits for this answer:";
  done = now.finished;
  if (now.number === undefined || now.number === number) return;
  number = now.number;
  const clear = now.wanted === "done";
  byId("question").textContent = now.text;
  const drawn = picture(now.picture);
  byId("picture").replaceChildren(...(drawn ? [drawn] : []));
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
    byId("state").textContent = "The program has ended. What was measured is kept.";
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
  if (confirm("Answer nothing more? What was measured is kept.")) post("leave", "");
});

news();
setInterval(news, 500);
