// The microphone: samples as they come, with nothing done to them.

/**
 * @typedef {object} MicrophoneApis
 * @property {Pick<MediaDevices, "getUserMedia">} [mediaDevices]  none where the page is not served securely
 * @property {typeof AudioContext} [AudioContext]
 * @property {typeof AudioWorkletNode} [AudioWorkletNode]
 */
/** rate: Hz; close: nothing listens any more. @typedef {{ rate: number, settings: MediaTrackSettings, close: () => void }} OpenMicrophone */

/** What browsers do to speech for calls: it would change the sounds that are to be heard. */
const PLAIN = { echoCancellation: false, noiseSuppression: false, autoGainControl: false, channelCount: 1 };
const TAP = new URL("../worklets/tap.js", import.meta.url).href;

/** It was allowed, and did not start. */
export class NotStarted extends Error {}

/** Whether a browser can do it at all. @param {MicrophoneApis} apis */
export const canOpen = ({ mediaDevices, AudioContext, AudioWorkletNode }) =>
  Boolean(mediaDevices?.getUserMedia && AudioContext && AudioWorkletNode);

/**
 * Open one; `onBlock` gets every block. Throws the browser's fault (W3C, Media Capture and Streams) or
 * NotStarted.
 * @param {MicrophoneApis} apis
 * @param {MediaTrackConstraints} which  of several
 * @param {(block: Float32Array) => void} onBlock
 * @param {() => void} onLost  called when it is pulled out or taken away
 * @returns {Promise<OpenMicrophone>}
 */
export async function openMicrophone(apis, which, onBlock, onLost) {
  if (!canOpen(apis)) throw new NotStarted();
  const stream = await /** @type {MediaDevices} */ (apis.mediaDevices).getUserMedia({ audio: { ...PLAIN, ...which } });
  const [track] = stream.getAudioTracks();
  const context = new /** @type {typeof AudioContext} */ (apis.AudioContext)();
  let open = true;
  const close = () => {
    if (!open) return;
    open = false;
    track.onended = null;
    for (const each of stream.getTracks()) each.stop();
    void context.close();
  };
  try {
    await context.audioWorklet.addModule(TAP);
    await context.resume();
  } catch {
    close();
    throw new NotStarted();
  }
  const one = /** @type {const} */ ({ channelCount: 1, channelCountMode: "explicit" });
  const tap = new /** @type {typeof AudioWorkletNode} */ (apis.AudioWorkletNode)(context, "tap", one);
  tap.port.onmessage = ({ data }) => onBlock(data);
  context.createMediaStreamSource(stream).connect(tap).connect(context.destination); // of silence
  track.onended = () => (close(), onLost());
  return { rate: context.sampleRate, settings: track.getSettings(), close };
}
