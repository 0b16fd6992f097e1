// Entries are kept here until the board says that they are written down: in the order they were entered, each once.
//
// Every entry has an id of its own and the moment it was entered; the board stores an id once and answers a repeated
// send as it did the first. Only "201 Created" takes an entry away from here. One that is refused (422 and the like)
// stands aside with the reason and lets the others pass; it can be mended or withdrawn. One the board fails at three
// times stands aside too. Anything else (no network, no sign-in) stops the row, and the row is sent again later.

import { hour, now } from "./clock.js";
import { isFilled } from "./renewed.js";

const PREFIX = "saltern entry ";
const MOST_FAILS = 3;
const WAIT_MS = 5000;
const AGAIN_MS = 5000;
const SECOND_TAP_MS = 800;

let say = () => {};
let isConnected = () => true;
let sending = null;

// One key an entry: two pages of one browser never write over each other's. The key sorts by the moment of entry.
function all() {
  const found = [];
  for (let i = 0; i < localStorage.length; i += 1) {
    const key = localStorage.key(i);
    if (!key.startsWith(PREFIX)) continue;
    try {
      found.push({ key, ...JSON.parse(localStorage.getItem(key)) });
    } catch {
      // Not ours, or cut off by a full disk: it is left where it is and not sent.
    }
  }
  return found.sort((a, b) => (a.key < b.key ? -1 : 1));
}

function put(entry) {
  const { key, ...rest } = entry;
  localStorage.setItem(key, JSON.stringify(rest));
}

let count = 0;
function newKey() {
  count += 1;
  return `${PREFIX}${String(now().getTime()).padStart(15, "0")}-${String(count).padStart(6, "0")}`;
}

function newId() {
  const random = crypto.getRandomValues(new Uint8Array(16));
  return `screen:${[...random].map((b) => b.toString(16).padStart(2, "0")).join("")}`;
}

const field = (entry, name) => entry.fields.find(([n]) => n === name)?.[1] ?? "";

function words(entry) {
  const who = field(entry, "who");
  const parts = [entry.what, entry.about, field(entry, "part"), field(entry, "reading"), field(entry, "words")];
  return `${hour(new Date(entry.entered))} ${parts.filter((p) => p !== "").join(", ")}${who === "" ? "" : `, by ${who}`}`;
}

// The token of this session's forms, where it is newer than the page.
let token;

const inForm = (page) => page.querySelector('input[name="form-token"]')?.value;

// Whether the page, loaded anew, has another token than `old`.
async function renewToken(old) {
  try {
    const answer = await fetch(location.href, { headers: { Accept: "text/html" }, signal: AbortSignal.timeout(WAIT_MS) });
    const fresh = inForm(new DOMParser().parseFromString(await answer.text(), "text/html"));
    if (fresh === undefined || fresh === old) return false;
    token = fresh;
    return true;
  } catch {
    return false;
  }
}

// One entry to the board. Answers with what to do: "written", "refused", "later".
async function send(entry, again = false) {
  let answer;
  const headers = { Accept: "text/plain", "Content-Type": "application/x-www-form-urlencoded" };
  const mine = token ?? inForm(document);
  if (mine !== undefined) headers["X-Form-Token"] = mine;
  try {
    answer = await fetch(entry.to, {
      method: "POST",
      headers,
      body: new URLSearchParams(entry.fields).toString(),
      redirect: "manual",
      signal: AbortSignal.timeout(WAIT_MS),
    });
  } catch {
    return { what: "later" };
  }
  // A board started anew has another token for its forms: the page has it now. Once, then it is a matter of signing in.
  if (answer.status === 403 && !again && (await renewToken(mine))) return send(entry, true);
  if (answer.status === 201) return { what: "written", next: answer.headers.get("Location") };
  const said = answer.type === "opaqueredirect" ? "" : (await answer.text().catch(() => ""));
  if (answer.status >= 500) {
    entry.fails = (entry.fails ?? 0) + 1;
    if (entry.fails < MOST_FAILS) {
      put(entry);
      return { what: "later", why: "the board failed at it" };
    }
    return { what: "refused", why: `the board failed at it ${entry.fails} times (${answer.status}): ${said.slice(0, 300)}` };
  }
  // A sign-in that ran out, or too much at once: nothing is wrong with the entry.
  if (answer.status < 400 || [401, 403, 408, 429].includes(answer.status)) {
    return { what: "later", why: "the board wants something first: load the page again and sign in" };
  }
  const isPage = (answer.headers.get("Content-Type") ?? "").includes("html");
  return { what: "refused", why: isPage ? `refused (${answer.status})` : said.slice(0, 500) };
}

// Sends what is kept, in order, until the network stops it. One run at a time: who asks while it goes on gets its end.
export function sendKept() {
  sending ??= sendAll().finally(() => {
    sending = null;
  });
  return sending;
}

// Who is signed in on this page, where anybody is.
const signedIn = () => document.getElementById("live")?.dataset.who;

// An entry is sent by who made it: another name's waits until that name signs in on this tablet.
const isMine = (entry) => signedIn() === undefined || field(entry, "who") === signedIn();

async function sendAll() {
  const answers = new Map();
  for (;;) {
    const next = all().find((e) => e.why === undefined && !answers.has(e.key) && isMine(e));
    if (next === undefined) return answers;
    const answer = await send(next);
    answers.set(next.key, answer);
    if (answer.what === "written") localStorage.removeItem(next.key);
    if (answer.what === "refused") put({ ...next, why: answer.why });
    show(answer.what === "later" ? answer.why : undefined);
    if (answer.what === "later") return answers;
  }
}

function button(text, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = text;
  made.addEventListener("click", act);
  return made;
}

// What is kept, above the page; nothing when there is nothing.
function show(why) {
  const kept = all();
  let box = document.querySelector(".kept");
  if (kept.length === 0) {
    box?.remove();
    return;
  }
  if (box === null) {
    box = document.createElement("section");
    box.className = "kept";
    box.setAttribute("aria-label", "Kept here");
    document.querySelector("main").before(box);
  }
  const waiting = kept.filter((e) => e.why === undefined);
  const refused = kept.filter((e) => e.why !== undefined);
  const parts = [];
  if (waiting.length > 0) {
    const head = document.createElement("p");
    head.className = "count";
    head.textContent = `Kept here, not yet sent (${waiting.length})${why === undefined ? "" : `: ${why}`}`;
    const list = document.createElement("ol");
    for (const entry of waiting) {
      const item = document.createElement("li");
      item.textContent = isMine(entry) ? words(entry) : `${words(entry)}: waits until ${field(entry, "who")} signs in here`;
      list.append(item);
    }
    parts.push(head, list);
  }
  if (refused.length > 0) {
    const head = document.createElement("p");
    head.className = "count";
    head.textContent = `Not taken, kept here (${refused.length})`;
    const list = document.createElement("ul");
    for (const entry of refused) {
      const item = document.createElement("li");
      const reason = document.createElement("p");
      reason.textContent = entry.why;
      item.append(words(entry), reason, button("Mend", () => mend(entry)), " ", button("Withdraw", () => withdraw(entry)));
      list.append(item);
    }
    parts.push(head, list);
  }
  box.replaceChildren(...parts);
}

function withdraw(entry) {
  if (!window.confirm(`Withdraw "${words(entry)}"? It is not in the record and will not be.`)) return;
  localStorage.removeItem(entry.key);
  show();
}

// Back into the form, with its own moment; sent from there it is a new try of the same entry.
function mend(entry) {
  const form = document.querySelector(`form[data-entry][action="${CSS.escape(entry.to)}"]`) ?? document.querySelector("form[data-entry]");
  // Only into a form of its own kind: a correction of the same entry, or no correction and no short form.
  const corrects = form?.elements.namedItem("corrects")?.value ?? "";
  if (form === null || form.getAttribute("action") !== entry.to || form.matches(".quick") || corrects !== field(entry, "corrects")) {
    const of = field(entry, "corrects");
    location.assign(of === "" ? entry.to : `${entry.to}?corrects=${encodeURIComponent(of)}`);
    return;
  }
  for (const [name, value] of entry.fields) set(form, name, value);
  form.dataset.mends = entry.key;
  form.scrollIntoView();
  form.querySelector('[name="reading"], [name="words"]')?.focus();
}

function set(form, name, value) {
  let place = form.elements.namedItem(name);
  if (place === null) {
    place = document.createElement("input");
    place.type = "hidden";
    place.name = name;
    place.dataset.added = "";
    form.append(place);
  }
  place.value = value;
}

function reset(form) {
  const who = form.elements.namedItem("who");
  if (who !== null) who.defaultValue = who.value;
  form.reset();
  for (const added of form.querySelectorAll("[data-added]")) added.remove();
  form.elements.namedItem("entered")?.remove();
  delete form.dataset.mends;
  set(form, "id", newId());
}

function chosen(form, name) {
  const place = form.elements.namedItem(name);
  if (place?.tagName !== "SELECT") return place?.value ?? "";
  return place.value === "" ? "" : (place.selectedOptions[0]?.textContent ?? "");
}

let tapped = -SECOND_TAP_MS;

async function submitted(event) {
  const form = event.target;
  if (!form.matches?.("form[data-entry]")) return;
  event.preventDefault();
  // A finger that taps twice means one entry; the form it just emptied would be another.
  if (performance.now() - tapped < SECOND_TAP_MS && !isFilled(form)) return;
  tapped = performance.now();
  if (form.elements.namedItem("entered") === null) set(form, "entered", now().toISOString());
  const entry = {
    key: form.dataset.mends ?? newKey(),
    to: form.getAttribute("action"),
    entered: form.elements.namedItem("entered").value,
    what: chosen(form, "kind") || `correction of ${chosen(form, "corrects")}`,
    about: chosen(form, "about"),
    fields: [...new FormData(form, event.submitter ?? null)].map(([n, v]) => [n, String(v)]).filter(([n]) => n !== "form-token"),
  };
  try {
    put(entry);
  } catch {
    // Nothing can be kept here; the browser sends it as it would without this script.
    form.submit();
    return;
  }
  show();
  if (isConnected()) {
    // Nothing is changed in it and nothing is sent twice while it is on its way.
    form.inert = true;
    // A run that was on its way already may have passed it by.
    const answer = (await sendKept()).get(entry.key) ?? (await sendKept()).get(entry.key);
    form.inert = false;
    // Another page of this browser may have sent it: only what is written down goes from here by itself.
    if (answer?.what === "written" || localStorage.getItem(entry.key) === null) {
      location.assign(answer?.next ?? location.href);
      return;
    }
    if (answer?.what === "refused") {
      // The board shows the form again, with what is wrong beside its field.
      localStorage.removeItem(entry.key);
      if (token !== undefined) set(form, "form-token", token);
      form.submit();
      return;
    }
  }
  reset(form);
  say(`Kept here, not yet sent: ${words(entry)}`);
}

// Takes over the forms that write an entry, and sends what an earlier page left behind.
export function keepForms(page) {
  ({ say, isConnected } = page);
  document.addEventListener("submit", submitted);
  window.addEventListener("online", () => sendKept());
  window.addEventListener("storage", () => show());
  setInterval(() => {
    if (all().some((e) => e.why === undefined)) sendKept();
  }, AGAIN_MS);
  show();
}
