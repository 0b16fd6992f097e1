// The kitchen's clock on this screen, and minutes that count on.

// Milliseconds the board's clock is ahead of this device's. The page says what the board's clock was when it was made,
// which is earlier than now: what is reckoned from it never lies in the board's future.
let ahead = 0;
let zone = "UTC";

export function setClock(boardNow, kitchenZone) {
  const at = Date.parse(boardNow);
  if (!Number.isNaN(at)) ahead = at - Date.now();
  if (kitchenZone) zone = kitchenZone;
}

// Now by the board's clock.
export function now() {
  return new Date(Date.now() + ahead);
}

// "15:04" on the clock of the kitchen.
export function hour(moment = now()) {
  return new Intl.DateTimeFormat("en-GB", { timeZone: zone, hour: "2-digit", minute: "2-digit", hourCycle: "h23" }).format(moment);
}

// As the board writes a span of minutes: "3 h 20 min".
function span(minutes) {
  const hours = Math.floor(minutes / 60);
  const rest = minutes % 60;
  if (hours === 0) return `${minutes} min`;
  return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`;
}

// Counts on what says since when. It only displays: what a reading shows is reckoned by the board.
export function tick(root = document) {
  for (const place of root.querySelectorAll("[data-since]")) {
    const since = Date.parse(place.dataset.since);
    if (Number.isNaN(since)) continue;
    const text = span(Math.max(0, Math.floor((now() - since) / 60000)));
    if (place.textContent !== text) place.textContent = text;
  }
}
