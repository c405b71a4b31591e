// Looking through the register while one types. Without this script the same form asks as usual.
const form = document.querySelector("form[data-live]");
const field = form.querySelector("input[type=search]");
const WAITS_MS = 150;
let clock = 0;
let asked = null;
let shown = "";

const wanted = () => {
  const fields = new URLSearchParams([...new FormData(form)].filter(([name, value]) => value || name === "shelf"));
  if (fields.get("shelf") === "any") fields.delete("shelf");
  return fields.size === 0 ? form.getAttribute("action") : `${form.getAttribute("action")}?${fields}`;
};

async function look() {
  const address = wanted();
  if (address === shown) return;
  shown = address;
  if (asked) asked.abort();
  asked = new AbortController();
  try {
    const answer = await fetch(address, { headers: { accept: "text/html" }, signal: asked.signal });
    if (!answer.ok) { shown = ""; return; }
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const { live } = form.dataset;
    document.getElementById(live).replaceChildren(...page.getElementById(live).childNodes);
    const said = document.getElementById(`${live}-said`);
    said.textContent = page.getElementById(said.id).textContent;
    history.replaceState(null, "", address);
  } catch {
    // Typed on, or the book is not there: what is shown stays, and may be asked again.
    if (shown === address) shown = "";
  }
}

shown = wanted();
field.addEventListener("input", () => { clearTimeout(clock); clock = setTimeout(look, WAITS_MS); });
// Leaving the field counts as a change too: were the list drawn anew then, the click that left it would be lost.
form.addEventListener("change", (event) => { if (event.target !== field) look(); });
form.addEventListener("submit", (event) => { event.preventDefault(); clearTimeout(clock); look(); });

const results = () => [...document.querySelectorAll(`#${form.dataset.live} .register a`)];

document.addEventListener("keydown", (event) => {
  const typing = event.target.closest("input, textarea, select");
  if (event.ctrlKey || event.altKey || event.metaKey) return;
  if (event.key === "/" && !typing) {
    event.preventDefault();
    field.focus();
    field.select();
    return;
  }
  const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  const list = results();
  const at = list.indexOf(document.activeElement);
  if (!step || (typing && typing !== field) || (at < 0 && event.target !== field)) return;
  event.preventDefault();
  const next = at + step;
  if (next < 0) field.focus();
  else if (list[next]) list[next].focus();
});
