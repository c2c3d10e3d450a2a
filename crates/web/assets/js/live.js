// Makes pages live: forms are sent without leaving the page, changes on other devices are fetched, and ticks that
// find no network wait on this device until there is one.
const main = () => document.getElementById("main");
const say = (words) => { document.getElementById("news").textContent = words; };
const parser = new DOMParser();
const key = "larderwright-waiting";
const waiting = () => JSON.parse(localStorage.getItem(key) || "[]");
const keep = (list) => localStorage.setItem(key, JSON.stringify(list));
const fresh = () => (crypto.randomUUID ? crypto.randomUUID() : `${Date.now()}-${Math.random().toString(36).slice(2)}`);

// The new sheet takes the place of the old one; who stood on a button stands on it again.
export function show(text) {
  const next = parser.parseFromString(text, "text/html");
  const sheet = next.getElementById("main");
  if (!sheet) return;
  const at = document.activeElement?.id;
  const open = [...main().querySelectorAll("details[open]")].map((each) => each.parentElement?.id);
  main().replaceWith(document.importNode(sheet, true));
  shown += 1;
  open.forEach((id) => id && document.getElementById(id)?.querySelector("details")?.setAttribute("open", ""));
  if (at) document.getElementById(at)?.focus({ preventScroll: true });
  document.dispatchEvent(new Event("sheet"));
}

// How often a sheet was shown: what was asked for before another sheet came is old and not shown any more.
let shown = 0;
let asking = false;
let missed = false;
export async function again() {
  if (document.hidden) return;
  if (asking) { missed = true; return; }
  asking = true;
  missed = false;
  const before = shown;
  try {
    const answer = await fetch(location.href, { headers: { accept: "text/html" } });
    const text = await answer.text();
    if (shown !== before) missed = true;
    else if (answer.ok) show(text);
    offline(false);
  } catch { missed = false; offline(true); } finally { asking = false; }
  if (missed) again();
}

function offline(yes) {
  const strip = document.getElementById("offline");
  if (strip) strip.hidden = !(yes || waiting().length);
}

async function send(address, body) {
  const answer = await fetch(address, { method: "POST", body: new URLSearchParams(body), headers: { accept: "text/html" } });
  return answer;
}

// On screen a tick counts at once.
function assume(button) {
  const row = button.closest("li");
  if (button.getAttribute("role") === "checkbox") {
    const on = button.value === "on";
    button.setAttribute("aria-checked", on);
    button.value = on ? "off" : "on";
    if (button.id.startsWith("cart")) row?.classList.toggle("got", on);
  } else if (button.hasAttribute("aria-pressed")) {
    for (const other of button.parentElement.children) other.setAttribute("aria-pressed", other === button);
  }
}

document.addEventListener("submit", async (event) => {
  const form = event.target.closest("form[data-live]");
  if (!form) return;
  event.preventDefault();
  const body = [...new FormData(form, event.submitter)].concat([["id", fresh()]]);
  const queues = form.dataset.live === "queue";
  if (queues) assume(event.submitter);
  else event.submitter.setAttribute("aria-disabled", "true");
  try {
    const answer = await send(form.action, body);
    const text = await answer.text();
    if (new URL(answer.url).pathname !== location.pathname && answer.ok) { location.assign(answer.url); return; }
    // Who asks again asks for what stands here now, with what was said.
    if (answer.ok) history.replaceState(null, "", answer.url);
    show(text);
    say(answer.ok ? "Saved" : "Not saved");
  } catch {
    if (!queues) { say("No network: not saved"); event.submitter.removeAttribute("aria-disabled"); offline(true); return; }
    keep(waiting().concat([{ address: new URL(form.action).pathname, body }]));
    say("No network: kept on this device");
    offline(true);
  }
});

async function flush() {
  let list = waiting();
  while (list.length) {
    try { await send(list[0].address, list[0].body); } catch { return; }
    list = waiting().slice(1);
    keep(list);
  }
  offline(false);
}

const news = new EventSource("/news");
news.onopen = () => flush().then(() => { if (news.lost) again(); news.lost = false; });
news.onerror = () => { news.lost = true; offline(true); };
news.onmessage = (event) => {
  const topic = main()?.dataset.topic;
  if (topic && (event.data === topic || event.data === "all")) again();
};
addEventListener("online", flush);
addEventListener("pagehide", () => news.close());
addEventListener("pageshow", (event) => { if (event.persisted) location.reload(); });
document.addEventListener("visibilitychange", () => { if (!document.hidden) again(); });
