// One page, nothing else: shows the lines that hold every word of the search box.
const box = document.getElementById("find");
const waiting = document.getElementById("waiting");
const told = document.getElementById("told");
const lines = [...document.querySelectorAll("tbody tr")];

function show() {
  const words = box.value.toLowerCase().split(/\s+/).filter(Boolean);
  let count = 0;
  for (const line of lines) {
    const text = line.textContent.toLowerCase();
    const fits = words.every((word) => text.includes(word)) && (!waiting.checked || line.dataset.waits);
    line.hidden = !fits;
    count += fits ? 1 : 0;
  }
  told.textContent = `${count} of ${lines.length} shown`;
}

box.addEventListener("input", show);
waiting.addEventListener("change", show);
document.getElementById("tools").hidden = false;
show();
