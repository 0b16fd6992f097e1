// Looks while one types: sends the form as the Look button does, and puts what comes back in its places.
'use strict';
(() => {
  const form = document.getElementById('edit');
  if (!form) return;
  const text = document.getElementById('text');
  const working = document.getElementById('working');
  const WAIT_MS = 400;
  let timer = 0;
  let turn = 0;
  let changed = false;
  let leaving = false;

  function sent() {
    const body = new URLSearchParams(new FormData(form));
    body.set('do', 'look');
    return body;
  }

  // Where the cursor is, to be put back after the fields are exchanged.
  function place() {
    const here = document.activeElement;
    if (!here || !here.name || !here.name.startsWith('set|')) return null;
    return { place: here.name.split('|')[1], start: here.selectionStart, end: here.selectionEnd };
  }

  function back(to) {
    if (!to) return;
    for (const field of form.querySelectorAll('#fields input')) {
      if (field.name.split('|')[1] === to.place) {
        field.focus({ preventScroll: true });
        field.setSelectionRange(to.start, to.end);
        return;
      }
    }
  }

  async function look() {
    const mine = ++turn;
    const was = text.value;
    working.textContent = 'Working it out …';
    let page;
    try {
      const answer = await fetch(form.action, { method: 'POST', body: sent() });
      page = new DOMParser().parseFromString(await answer.text(), 'text/html');
    } catch {
      if (mine === turn) working.textContent = 'The board does not answer. What you wrote is still here; press Look when it is back.';
      return;
    }
    // Somebody typed on meanwhile: the next look is under way.
    if (mine !== turn || text.value !== was) return;
    working.textContent = '';
    const found = page.getElementById('preview');
    const fields = page.getElementById('fields');
    const its = page.getElementById('text');
    if (!found || !fields || !its) {
      const trouble = page.querySelector('.trouble');
      document.getElementById('preview').replaceChildren(...(trouble ? [trouble] : []));
      return;
    }
    const cursor = place();
    document.getElementById('preview').replaceChildren(...found.childNodes);
    document.getElementById('fields').replaceChildren(...fields.childNodes);
    if (its.value !== was) text.value = its.value;
    back(cursor);
  }

  form.addEventListener('input', (event) => {
    if (event.target.name === 'who') { changed = true; return; }
    changed = true;
    clearTimeout(timer);
    turn++;
    timer = setTimeout(look, WAIT_MS);
  });
  form.addEventListener('submit', () => { leaving = true; clearTimeout(timer); turn++; });
  window.addEventListener('beforeunload', (event) => {
    if (changed && !leaving) event.preventDefault();
  });
})();
