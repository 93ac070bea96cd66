// The sentences for the notes go to the clipboard; where the browser refuses, they are selected.
const told = document.getElementById("told");
const text = document.getElementById("sentences");
const button = document.getElementById("copy");

button.addEventListener("click", async () => {
  try {
    await navigator.clipboard.writeText(text.innerText.trim());
    told.textContent = "Copied.";
  } catch {
    getSelection().selectAllChildren(text);
    told.textContent = "Selected: copy it with Ctrl+C or Command+C.";
  }
});
button.hidden = false;
