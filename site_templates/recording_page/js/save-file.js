// The browser's downloads: hands a recording to the person as a file.

const KEEP_MS = 60_000; // until the browser has read it for sure

/** @param {Document} document @param {ArrayBuffer} wav @param {string} name */
export function saveFile(document, wav, name) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([wav], { type: "audio/wav" }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), KEEP_MS);
}
