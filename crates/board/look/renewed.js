// Puts what changed of a page in its place and leaves everything else alone: what is typed, focused, scrolled or opened stays.

// A form somebody is at: it came back refused, a field has the focus, or one says something else than when the page was made.
export function isBusy(form) {
  return form.dataset.refused !== undefined || form.contains(document.activeElement) || isFilled(form);
}

// Whether a field says something else than when the page was made.
export function isFilled(form) {
  return [...form.elements].some((field) => {
    if (field.type === "hidden" || field.type === "submit") return false;
    if (field.tagName === "SELECT") {
      const first = [...field.options].find((o) => o.defaultSelected) ?? field.options[0];
      return first !== undefined && !first.selected;
    }
    if (field.type === "checkbox" || field.type === "radio") return field.checked !== field.defaultChecked;
    return field.value !== field.defaultValue;
  });
}

// Somebody is typing or choosing: nothing may move under their fingers.
export function isTyping() {
  return ["INPUT", "SELECT", "TEXTAREA"].includes(document.activeElement?.tagName);
}

const isElement = (node) => node?.nodeType === Node.ELEMENT_NODE;

function sameShell(a, b) {
  return isElement(a) && isElement(b) && a.cloneNode(false).isEqualNode(b.cloneNode(false));
}

const formsIn = (node) => (isElement(node) ? [node, ...node.querySelectorAll("form")].filter((n) => n.tagName === "FORM") : []);
const hasBusy = (node) => formsIn(node).some(isBusy);

// Lets `old` become `next`. Children that are the same stay the same nodes; so a link that has the focus keeps it.
export function renew(old, next) {
  if (isElement(old) && old.tagName === "FORM" && isBusy(old)) return;
  if (old.isEqualNode(next)) return;
  if (isElement(old) && isElement(next) && old.tagName === "DETAILS") next.open = old.open;
  if (sameShell(old, next)) renewChildren(old, [...old.childNodes], [...next.childNodes], null);
  else if (!hasBusy(old)) old.replaceWith(next);
}

// Lets the children `before` of `old` become `after`, in front of `behind`.
function renewChildren(old, before, after, behind) {
  while (before.length && after.length && before[0].isEqualNode(after[0])) {
    before.shift();
    after.shift();
  }
  while (before.length && after.length && before.at(-1).isEqualNode(after.at(-1))) {
    behind = before.pop();
    after.pop();
  }
  // A busy form meets itself, whatever came or went around it.
  const at = before.findIndex(hasBusy);
  if (at >= 0) {
    const action = formsIn(before[at]).find(isBusy).getAttribute("action");
    const to = after.findIndex((node) => formsIn(node).some((f) => f.getAttribute("action") === action));
    const meets = to >= 0 ? to : 0;
    renewChildren(old, before.slice(0, at), after.slice(0, meets), before[at]);
    if (to >= 0) renew(before[at], after[to]);
    renewChildren(old, before.slice(at + 1), after.slice(to >= 0 ? to + 1 : meets), behind);
    return;
  }
  const both = Math.min(before.length, after.length);
  for (const node of before.slice(both)) node.remove();
  for (const node of after.slice(both)) old.insertBefore(node, behind);
  for (let i = 0; i < both; i += 1) renew(before[i], after[i]);
}
