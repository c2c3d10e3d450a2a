// Timers count on this device between two looks at the server, ring when they are over, and ask again when something
// is due to change. On a phone one cook's column is shown.
import { again } from "./live.js";

let seen = performance.now();
let audio;
let rung = new Set();

const digits = (left) => {
  const secs = Math.abs(left);
  const two = (number) => String(number).padStart(2, "0");
  const sign = left <= 0 ? "+" : "";
  const hours = Math.floor(secs / 3600);
  return hours ? `${sign}${hours}:${two(Math.floor(secs / 60) % 60)}:${two(secs % 60)}` : `${sign}${Math.floor(secs / 60)}:${two(secs % 60)}`;
};

// Three short strokes; a bell needs one touch of the page before browsers let it sound.
function ring() {
  navigator.vibrate?.([300, 150, 300, 150, 300]);
  if (!audio) return;
  for (let stroke = 0; stroke < 3; stroke += 1) {
    const tone = audio.createOscillator();
    const loud = audio.createGain();
    tone.frequency.value = 880;
    loud.gain.setValueAtTime(0.4, audio.currentTime + stroke * 0.5);
    loud.gain.exponentialRampToValueAtTime(0.001, audio.currentTime + stroke * 0.5 + 0.4);
    tone.connect(loud).connect(audio.destination);
    tone.start(audio.currentTime + stroke * 0.5);
    tone.stop(audio.currentTime + stroke * 0.5 + 0.4);
  }
}
addEventListener("pointerdown", () => { audio ??= new AudioContext(); audio.resume?.(); });

const heading = document.title;
function tick() {
  const gone = Math.floor((performance.now() - seen) / 1000);
  let over = 0;
  for (const each of document.querySelectorAll("[data-left]")) {
    const left = Number(each.dataset.left) - gone;
    each.textContent = digits(left);
    if (left > 0) continue;
    over += 1;
    const name = each.parentElement.querySelector("b").firstChild.textContent;
    if (!rung.has(name) || left % 30 === 0) ring();
    if (!rung.has(name)) document.getElementById("news").textContent = `Timer: ${name}`;
    rung.add(name);
  }
  if (!over) rung = new Set();
  document.title = over ? `(${over}) ${heading}` : heading;
  const due = Number(document.getElementById("main").dataset.refresh || 60);
  if (gone > 0 && gone >= Math.min(due, 60)) { seen = performance.now(); again(); }
}
setInterval(tick, 1000);

function pick() {
  const sheet = document.getElementById("main");
  const picks = [...sheet.querySelectorAll("[data-whose]")];
  if (picks.length < 2) return;
  const known = picks.map((each) => each.dataset.whose);
  const kept = sessionStorage.getItem("larderwright-cook");
  const mine = known.includes(kept) ? kept : known[0];
  sheet.classList.add("picked");
  for (const each of picks) each.setAttribute("aria-pressed", each.dataset.whose === mine);
  for (const each of sheet.querySelectorAll("[data-cook]")) each.classList.toggle("me", each.dataset.cook === mine);
}
document.addEventListener("click", (event) => {
  const who = event.target.closest("[data-whose]")?.dataset.whose;
  if (who) { sessionStorage.setItem("larderwright-cook", who); pick(); }
});
document.addEventListener("sheet", () => { seen = performance.now(); pick(); });
pick();
