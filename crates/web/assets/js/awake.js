// Keeps the screen awake while a session is open, where the browser can; it can on this machine and over HTTPS only.
let lock;
async function stay() {
  if (document.hidden || !navigator.wakeLock) return;
  try { lock = await navigator.wakeLock.request("screen"); } catch { lock = undefined; }
}
document.addEventListener("visibilitychange", stay);
stay();
