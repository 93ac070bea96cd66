// The keys, wherever the focus is on nothing that takes keys itself.

/** @param {KeyboardEvent} event @param {Record<string, () => void>} shortcuts  by the key, in lower case */
export function pressed(event, shortcuts) {
  if (event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
  const on = event.target instanceof Element ? event.target.closest("button, a, input, select, summary") : null;
  const act = shortcuts[event.key.toLowerCase()];
  if (!act || (on && (on.matches("input, select") || event.key === " " || event.key === "Enter"))) return;
  event.preventDefault();
  act();
}
