// At the rack: forms marked for it are kept on the phone first and sent then, so that a dropped
// connection loses nothing. Without this script the same forms are sent as they are.
import { all, drop, keep, newId, sendAll } from "./outbox.js";

const bar = document.getElementById("outbox");
const count = document.getElementById("outbox-count");
const list = document.getElementById("outbox-list");
const EVERY_MS = 20000;
const LONGEST_PX = 1600;
const say = bar.dataset; // the words of this script, in the language of the page
const LANGUAGE = document.documentElement.lang;
const counted = (words, number) => words.replace("%(num)s", number);

function line(entry) {
  const made = document.createElement("li");
  const at = new Date(entry.typed).toLocaleTimeString(LANGUAGE, { hour: "2-digit", minute: "2-digit" });
  const words = document.createElement("p");
  words.textContent = `${entry.words}, ${at}${entry.refused ? "" : `: ${say.waits}`}`;
  made.append(words);
  if (!entry.refused) return made;
  const why = document.createElement("strong");
  why.className = "fault";
  why.textContent = `${say.notTaken} ${entry.refused}`;
  const said = document.createElement("p");
  said.className = "breaks";
  said.textContent = told(entry.body);
  const again = button(say.again, async () => { await keep(entry); });
  const away = button(say.away, async () => {});
  for (const one of [again, away]) one.addEventListener("click", async () => { await drop(entry.number); await go(); });
  made.append(why, said, again, away);
  return made;
}

function button(words, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.className = "second";
  made.textContent = words;
  made.addEventListener("click", act);
  return made;
}

/** What was typed, in words: fields with something in them, without the form's own marks. */
function told(body) {
  const fields = [...new URLSearchParams(body)].filter(([name, value]) => value && !["once", "_csrf_token"].includes(name));
  return fields.map(([name, value]) => `${name.replaceAll("|", " ").replace(/^stop\.\d+$/, "stop")}: ${value.replaceAll("|", " ")}`).join("; ");
}

async function show(why = "") {
  const entries = await all();
  const refused = entries.filter((one) => one.refused).length;
  const waiting = entries.length - refused;
  bar.hidden = !entries.length;
  const parts = [];
  if (waiting) parts.push(counted(say.waiting, waiting));
  if (refused) parts.push(counted(say.refused, refused));
  count.textContent = parts.join(", ") + (why ? `. ${why}` : "");
  list.replaceChildren(...entries.map((one) => line(one)));
  if (refused) bar.querySelector("details").open = true;
}

async function go() {
  const last = await sendAll();
  await show(last && last.why && last.state === "waits" ? say[last.why] || last.why : "");
  return last;
}

/** Shows on the page that its part was taken down, though the book has it not yet. */
function markKept(form, submitter) {
  const part = (submitter && submitter.closest("section.shelf")) || form;
  part.classList.add("kept");
  let note = part.querySelector(":scope > .kept-note");
  if (!note) {
    note = document.createElement("p");
    note.className = "kept-note state";
    note.setAttribute("role", "status");
    part.prepend(note);
  }
  note.textContent = say.kept;
  if (submitter && submitter.name === "only") submitter.disabled = true;
}

/** A picture made smaller before it is kept or sent; as it is where the browser cannot do that. */
async function smaller(file) {
  try {
    const whole = await createImageBitmap(file, { imageOrientation: "from-image" });
    const part = Math.min(1, LONGEST_PX / Math.max(whole.width, whole.height));
    const canvas = new OffscreenCanvas(Math.round(whole.width * part), Math.round(whole.height * part));
    canvas.getContext("2d").drawImage(whole, 0, 0, canvas.width, canvas.height);
    const made = await canvas.convertToBlob({ type: "image/jpeg", quality: 0.85 });
    return made.size < file.size ? new File([made], "picture.jpg", { type: made.type }) : file;
  } catch {
    return file;
  }
}

/** The files of a form, which no text can hold: [field, file]. */
const filesOf = (data) => Promise.all([...data].filter(([, value]) => value instanceof File && value.size)
  .map(async ([name, file]) => [name, file.type.startsWith("image/") ? await smaller(file) : file]));

addEventListener("submit", async (event) => {
  const form = event.target;
  const submitter = event.submitter;
  if (!form.dataset.keep || (submitter && submitter.hasAttribute("formaction"))) return;
  event.preventDefault();
  const data = new FormData(form, submitter);
  const body = new URLSearchParams([...data].filter(([, value]) => typeof value === "string"));
  const id = newId();
  body.delete("_csrf_token");
  if (body.has("once")) body.set("once", id);
  const where = submitter && submitter.name === "only" ? submitter.textContent.trim() : "";
  try {
    const files = form.enctype === "multipart/form-data" ? await filesOf(data) : null;
    await keep({ id, address: form.action, body: body.toString(), files, typed: Date.now(), words: where || form.dataset.keep });
  } catch {
    delete form.dataset.keep; // nothing can be kept here, as in a private window: send it plainly
    form.requestSubmit(submitter);
    return;
  }
  const last = await go();
  const mine = (await all()).find((one) => one.id === id);
  if (!mine && last && last.state === "written" && last.address) location.assign(last.address);
  else if (mine && mine.refused) { // the book answers: its page says beside the field what is wrong
    await drop(mine.number);
    delete form.dataset.keep;
    form.requestSubmit(submitter);
  }
  else markKept(form, submitter);
});

addEventListener("online", go);
document.addEventListener("visibilitychange", () => { if (!document.hidden) go(); });
setInterval(async () => { if ((await all()).some((one) => !one.refused)) go(); }, EVERY_MS);
show().then(go, () => {});
all().then((entries) => entries.filter((one) => !one.refused).forEach((one) => {
  const body = new URLSearchParams(one.body);
  for (const form of document.forms) {
    if (!form.dataset.keep || form.action !== one.address || body.get("day") !== new FormData(form).get("day")) continue;
    const pressed = [...form.elements].find((each) => each.name === "only" && each.value === body.get("only"));
    if (pressed) markKept(form, pressed);
  }
}), () => {});

// What is marked on the round and not sent yet is kept on this device, so that a look at a card, or
// a page closed by mistake, does not lose it. Only the marks of the day that is shown are kept.
const round = document.getElementById("round");
const MARKS = "mancary-marks";
const fields = () => [...round.elements].filter((one) => one.name && one.type !== "hidden" && one.type !== "submit");
const isMarked = (one) => (one.type === "checkbox" ? one.checked !== one.defaultChecked : one.value !== one.defaultValue);

function keepMarks() {
  const marks = fields().filter(isMarked).map((one) => [one.name, one.value, one.checked]);
  localStorage.setItem(MARKS, JSON.stringify([round.elements.day.value, marks]));
}

function bringMarksBack() {
  const [day, marks] = JSON.parse(localStorage.getItem(MARKS) || "[]");
  if (day !== round.elements.day.value) return;
  for (const [name, value, checked] of marks) {
    const one = fields().find((each) => each.name === name && (each.type !== "checkbox" || each.value === value));
    if (!one) continue; // written already
    if (one.type === "checkbox") one.checked = checked;
    else one.value = value;
    const stop = one.closest("details.stop");
    if (stop) stop.open = true;
  }
}

if (round) {
  try {
    bringMarksBack();
    round.addEventListener("change", keepMarks);
    round.addEventListener("input", keepMarks);
  } catch { /* nothing can be kept here, as in a private window */ }
}

// A worker may only be had over trusted HTTPS, or at the desk itself; whether there is one is asked
// of the browser and never read off the address.
if ("serviceWorker" in navigator) {
  navigator.serviceWorker.register("/worker.js").then(async () => {
    const ready = await navigator.serviceWorker.ready;
    document.documentElement.dataset.worker = "ready";
    const cards = [...document.querySelectorAll("a[data-card]")].map((one) => one.getAttribute("href"));
    const here = location.pathname + location.search;
    if (cards.length) ready.active.postMessage({ keep: [here, ...new Set(cards)] });
  }, () => {});
}
