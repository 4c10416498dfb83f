"""What a test asks of a page of the notes: its fields, what is typed, what it heard while workers changed."""

from __future__ import annotations

FIELDS = """() => Array.from(document.querySelectorAll('input, select, textarea'), (field, i) => {
  const box = field.getBoundingClientRect();
  if (!box.width || field.disabled || field.readOnly || field.type === 'file') return null;
  field.dataset.walk = field.dataset.walk || '';
  const form = field.closest('[data-calc]');
  if (field.id) return '#' + CSS.escape(field.id);
  if (field.classList.contains('ohm-find-field')) return '.ohm-find-field';
  return form && field.name ? `[data-calc="${form.dataset.calc}"] [name="${field.name}"]` : null;
}).filter(Boolean)"""

TYPE = """([selector, text, choice]) => {
  const field = document.querySelector(selector);
  field.focus();
  if (field.type === 'radio' || field.type === 'checkbox') {
    field.click();
    return field.checked;
  }
  if (field.tagName === 'SELECT') {
    field.selectedIndex = choice % field.options.length;
    ['input', 'change'].forEach((kind) => field.dispatchEvent(new Event(kind, { bubbles: true })));
    return field.value;
  }
  field.select();
  document.execCommand('insertText', false, text);
  return field.value;
}"""

READY = """() => window.Ohm && Ohm.copy && Ohm.copy.state.ready && Ohm.copy.state.ready.name"""

# As a page does that is still loading while another worker takes over.
ASK_ON = """([scope, paths]) => {
  sessionStorage.removeItem('walk');
  navigator.serviceWorker.addEventListener('controllerchange', () => {
    paths.forEach(async (path) => {
      const body = await (await fetch(scope + path)).arrayBuffer();
      const sum = Array.from(new Uint8Array(await crypto.subtle.digest('SHA-256', body)),
        (byte) => byte.toString(16).padStart(2, '0')).join('');
      const heard = JSON.parse(sessionStorage.getItem('walk') || '{}');
      sessionStorage.setItem('walk', JSON.stringify({ ...heard, [path]: sum }));
    });
  });
}"""
HEARD = "() => JSON.parse(sessionStorage.getItem('walk') || '{}')"
CHANGING = ("changes.html", "codes/example-e1.html", "assets/find-index.js")

TAP = """(selector) => {
  const key = Array.from(document.querySelectorAll(selector)).find((one) => !one.hidden);
  if (key) key.click();
  return Boolean(key);
}"""
