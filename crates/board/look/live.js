// What is written down on any screen appears on this one, and a screen that lost the board says so.

import { hour, now, setClock, tick } from "./clock.js";
import { keepForms, sendKept } from "./kept.js";
import { isTyping, renew } from "./renewed.js";

const SILENT_MS = 25_000; // two and a half beats of the board
const MOST_WAIT_MS = 15_000;
const BETWEEN_MS = 1_000; // a page is asked for anew at most so often, whatever happens
const SPREAD_MS = 150; // so that two hundred screens do not ask in the same instant

let mark = document.getElementById("live");
let after = mark.dataset.after;
let stream = null;
let heard = Date.now();
let answered = false; // the stream that is open said hello
let tries = 0;
let lostSince = null;
let again = null;
let stale = null; // what came while somebody was typing
let renewing = false;
let onceMore = false;
let lastRenewed = Date.now();

// The line stands outside the page proper, so that renewing the page leaves it alone.
const line = document.createElement("div");
line.className = "live-line";
line.setAttribute("role", "status");
line.setAttribute("aria-live", "polite");
document.querySelector("main").before(line);
setClock(mark.dataset.now, mark.dataset.zone);
mark.hidden = true;

// While the board is away that is said first, whatever else there is to say.
function say(words, isOld = false) {
  const away = lostSince === null ? "" : `Not connected since ${lostSince}: what stands here may be old. `;
  line.classList.toggle("lost", isOld || lostSince !== null);
  // The same words are not said twice.
  if (line.textContent !== away + words) line.textContent = away + words;
}

function lost() {
  stream?.close();
  stream = null;
  if (lostSince === null) lostSince = hour(new Date(now() - (Date.now() - heard)));
  say("");
  // Spread out, so that a board that comes back is not met by every screen at once.
  const wait = Math.min(MOST_WAIT_MS, 500 * 2 ** tries) * (0.5 + Math.random() / 2);
  tries += 1;
  clearTimeout(again);
  again = setTimeout(connect, wait);
}

function connect() {
  if (stream !== null || document.hidden) return;
  const to = new URL(mark.dataset.stream, location.href);
  to.searchParams.set("after", after);
  stream = new EventSource(to);
  answered = false;
  const own = stream;
  stream.addEventListener("hello", async (e) => {
    heard = Date.now();
    answered = true;
    tries = 0;
    setClock(e.data);
    const was = lostSince;
    lostSince = null;
    if (was !== null) {
      say(`Connected again at ${hour()}`);
      await sendKept();
      await renewPage();
    } else if (line.textContent === "" || line.classList.contains("lost")) {
      say(`Connected at ${hour()}: what is written down appears here`);
    }
    sendKept();
  });
  stream.addEventListener("entry", (e) => {
    heard = Date.now();
    after = e.lastEventId;
    renewSoon(`Updated ${e.data}`);
  });
  stream.addEventListener("reload", (e) => {
    heard = Date.now();
    after = e.lastEventId;
    renewSoon(`Updated ${hour()}`);
  });
  stream.addEventListener("beat", () => {
    heard = Date.now();
  });
  stream.onerror = lost;
  setTimeout(() => {
    // Neither answered nor refused: the network swallows it.
    if (stream === own && !answered) lost();
  }, 5000);
}

// What comes close together is shown together, under the words of the last.
let coming = null;
let newest = "";
function renewSoon(words) {
  newest = words;
  const wait = Math.max(0, BETWEEN_MS - (Date.now() - lastRenewed)) + Math.random() * SPREAD_MS;
  coming ??= setTimeout(() => {
    coming = null;
    renewPage(newest);
  }, wait);
}

// Fetches this page and puts in place what changed. While somebody is typing it waits.
async function renewPage(words) {
  if (words !== undefined) stale = words;
  else stale ??= "";
  if (isTyping()) {
    say(`${words ?? "This page may have changed"}. Shown here when the field is left`);
    return;
  }
  if (renewing) {
    // What is on its way may have been made before this.
    onceMore = true;
    return;
  }
  renewing = true;
  const said = stale;
  stale = null;
  try {
    const answer = await fetch(location.href, { headers: { Accept: "text/html" }, signal: AbortSignal.timeout(10_000) });
    const next = new DOMParser().parseFromString(await answer.text(), "text/html");
    const nextMark = next.getElementById("live");
    if (!answer.ok || nextMark === null || nextMark.dataset.stream !== mark.dataset.stream) {
      say("The board answers with another page: load this one again", true);
      return;
    }
    if (isTyping()) {
      stale = said;
      return;
    }
    setClock(nextMark.dataset.now);
    // The line has it; in the page proper it would be a change at every turn.
    nextMark.replaceWith(mark.cloneNode(true));
    next.querySelector('script[src="/look/live.js"]')?.replaceWith(document.querySelector('script[src="/look/live.js"]').cloneNode(true));
    const main = next.querySelector("main");
    tick(main);
    renew(document.querySelector("main"), document.adoptNode(main));
    mark = document.getElementById("live") ?? mark;
    lastRenewed = Date.now();
    if (said !== "") say(said);
  } catch {
    stale ??= said;
    if (lostSince === null) lost();
  } finally {
    renewing = false;
    if (onceMore) {
      onceMore = false;
      renewPage();
    }
  }
}

document.addEventListener("focusout", () => setTimeout(() => {
  if (stale !== null) renewPage();
}, 150));

// A screen nobody looks at gives its place to others, and asks for what it missed when somebody looks.
document.addEventListener("visibilitychange", () => {
  if (document.hidden) {
    stream?.close();
    stream = null;
  } else {
    connect();
    renewPage();
  }
});

window.addEventListener("online", () => {
  tries = 0;
  connect();
});
window.addEventListener("offline", lost);

setInterval(() => {
  tick();
  if (stream !== null && answered && Date.now() - heard > SILENT_MS) lost();
  const every = Number(mark.dataset.every) * 1000;
  if (every > 0 && !document.hidden && lostSince === null && Date.now() - lastRenewed >= every) renewPage();
}, 1000);

keepForms({ say, isConnected: () => lostSince === null });
connect();
