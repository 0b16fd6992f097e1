// Puts what changed of a page in its place and leaves everything else alone: what is typed, focused, scrolled or opened stays.

// A form somebody is at: a field has the focus, or says something else than it did when the page was made.
export function isBusy(form) {
  if (form.contains(document.activeElement)) return true;
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

// Lets `old` become `next`. Children that are the same stay the same nodes; so a link that has the focus keeps it.
export function renew(old, next) {
  if (isElement(old) && old.tagName === "FORM" && isElement(next) && next.tagName === "FORM" && isBusy(old)) return;
  if (old.isEqualNode(next)) return;
  if (isElement(old) && isElement(next) && old.tagName === "DETAILS") next.open = old.open;
  if (!sameShell(old, next)) {
    if (isElement(old) && [old, ...old.querySelectorAll("form")].some((n) => n.tagName === "FORM" && isBusy(n))) return;
    old.replaceWith(next);
    return;
  }
  let before = [...old.childNodes];
  let after = [...next.childNodes];
  while (before.length && after.length && before[0].isEqualNode(after[0])) {
    before.shift();
    after.shift();
  }
  let behind = null;
  while (before.length && after.length && before.at(-1).isEqualNode(after.at(-1))) {
    behind = before.pop();
    after.pop();
  }
  const both = Math.min(before.length, after.length);
  // A busy form keeps its place even where what stands around it came or went.
  for (const node of before.slice(both)) {
    const forms = isElement(node) ? [node, ...node.querySelectorAll("form")].filter((n) => n.tagName === "FORM") : [];
    if (!forms.some(isBusy)) node.remove();
  }
  for (const node of after.slice(both)) old.insertBefore(node, behind);
  for (let i = 0; i < both; i += 1) renew(before[i], after[i]);
}
