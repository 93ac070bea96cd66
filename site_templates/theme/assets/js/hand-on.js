// The ways out of the page, each of them a tap of the family's: share sheet, file, clipboard.

import { attempt } from "./store.js";

/** @import { Way } from "../../../types" */
/** @typedef {Pick<Navigator, "share" | "canShare" | "clipboard"> & { standalone?: boolean }} Device */
/** @typedef {"done" | "cancelled" | "failed"} Outcome */

/**
 * Those of the wanted ways that this device has. On an iPhone's home screen a download opens a view that
 * nobody gets out of.
 * @param {readonly Way[]} wanted @param {Partial<Device>} device @param {File} file
 */
export function waysHere(wanted, device, file) {
  const has = {
    share: () => attempt(() => device.canShare?.({ files: [file] })) === true,
    download: () => device.standalone !== true,
    copy: () => true,
    code: () => true,
  };
  return wanted.filter((way) => has[way]());
}

/** Within the tap, with nothing waited for before. @param {Partial<Device>} device @param {File} file @returns {Promise<Outcome>} */
export async function share(device, file) {
  try {
    await device.share?.({ files: [file] });
    return "done";
  } catch (problem) {
    return /** @type {Error} */ (problem).name === "AbortError" ? "cancelled" : "failed";
  }
}

/** @param {Document} document @param {File} file */
export function download(document, file) {
  const address = URL.createObjectURL(file);
  const link = document.createElement("a");
  link.href = address;
  link.download = file.name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 60000); // a slow device reads it a little later
}

/** @param {Partial<Device>} device @param {string} text @returns {Promise<Outcome>} */
export async function copy(device, text) {
  try {
    if (!device.clipboard) return "failed"; // a page that came without https
    await device.clipboard.writeText(text);
    return "done";
  } catch {
    return "failed";
  }
}
