// The therapist's microphone: which one, what is to be said of it, and why there is none.

import { canOpen, NotStarted, openMicrophone as open } from "../../theme/assets/js/microphone.js";

/** @import { Microphone } from "../types" */
/** @import { MicrophoneApis } from "../../theme/assets/js/microphone.js" */

/** What browsers do to speech in spite of what they were asked. */
const PROCESSING = /** @type {const} */ ({
  echoCancellation: "echo cancellation",
  noiseSuppression: "noise suppression",
  autoGainControl: "automatic gain control",
});
const MIN_RATE_HZ = 32000; // at lower rates /s/ loses the frequencies that identify it

/** @typedef {Omit<MicrophoneApis, "mediaDevices"> & { mediaDevices?: Pick<MediaDevices, "getUserMedia" | "enumerateDevices" | "addEventListener"> }} BrowserApis */

/** Why there is no microphone, as a sentence. */
export class NoMicrophone extends Error {}

/**
 * Open a microphone; `onBlock` gets every block. Throws NoMicrophone.
 * @param {BrowserApis} apis
 * @param {string} device  its id, "" for the usual one
 * @param {(block: Float32Array) => void} onBlock
 * @param {() => void} onLost  called when it is pulled out or taken away
 * @returns {Promise<Microphone>}
 */
export async function openMicrophone(apis, device, onBlock, onLost) {
  if (!canOpen(apis)) {
    throw new NoMicrophone("This browser cannot record here. Open the page in a current Chrome, Edge, Firefox or Safari.");
  }
  try {
    const { rate, settings, close } = await open(apis, device ? { deviceId: { exact: device } } : {}, onBlock, onLost);
    return { rate, notices: notices(settings, rate), close };
  } catch (error) {
    if (error instanceof NotStarted) throw new NoMicrophone("The microphone could not be started. Reload this page.");
    throw new NoMicrophone(explanation(error instanceof Error || error instanceof DOMException ? error.name : ""));
  }
}

/** @param {string} name  of the fault (W3C, Media Capture and Streams) */
function explanation(name) {
  switch (name) {
    case "NotAllowedError":
      return "The browser is not allowed to use the microphone. Allow it (the icon beside the address), then press again.";
    case "NotFoundError":
    case "OverconstrainedError":
      return "No microphone was found. Plug one in, then press again.";
    case "NotReadableError":
      return "The microphone does not respond: another program may be using it. Close that program, then press again.";
    default:
      return "The microphone could not be opened. Check that it is plugged in and allowed, then press again.";
  }
}

/** What the browser does in spite of what it was asked. @param {MediaTrackSettings} settings @param {number} rate  Hz */
export function notices(settings, rate) {
  const on = Object.entries(PROCESSING).filter(([key]) => /** @type {Record<string, unknown>} */ (settings)[key]);
  const found = on.map(([, name]) => `The browser leaves ${name} on, which changes sounds. Another browser or microphone may not.`);
  const least = Math.min(rate, settings.sampleRate ?? rate);
  if (least < MIN_RATE_HZ) {
    found.push(`This microphone delivers only ${least / 1000} kHz, as in a call: too little for s, f and th. Use one with a cable.`);
  }
  return found;
}

/** The microphones there are; names are known once one was allowed. @param {BrowserApis} apis */
export async function microphones({ mediaDevices }) {
  const all = (await mediaDevices?.enumerateDevices()) ?? [];
  return all.filter(({ kind, deviceId }) => kind === "audioinput" && deviceId).map(({ deviceId, label }) => ({ id: deviceId, label }));
}

/** Whether there is any, allowed or not. @param {BrowserApis} apis */
export async function isThere({ mediaDevices }) {
  return ((await mediaDevices?.enumerateDevices()) ?? []).some(({ kind }) => kind === "audioinput");
}

/** When one is plugged in or pulled out. @param {BrowserApis} apis @param {() => void} act */
export function onDeviceChange({ mediaDevices }, act) {
  mediaDevices?.addEventListener("devicechange", act);
}
