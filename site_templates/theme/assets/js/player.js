// Sound: one AudioContext, unlocked by a tap; clips are decoded before they are needed.
// Where Web Audio is missing or a clip cannot be decoded, one <audio> element plays it.

/** @import { Player } from "../../../types" */

const STUCK_CHECK_MS = 300; // after which a context that claims to run but stands still is replaced

/**
 * @typedef {object} BrowserApis
 * @property {typeof AudioContext} [AudioContext]
 * @property {(source: string) => Promise<Response>} fetch
 * @property {() => HTMLAudioElement} makeAudio
 * @property {{ audioSession?: { type: string } }} navigator
 * @property {(ms: number) => Promise<void>} pause
 */

/** @param {BrowserApis} apis @returns {Player} */
export function makePlayer(apis) {
  /** @type {AudioContext | null} */
  let context = null;
  /** @type {Map<string, Promise<AudioBuffer | null>>} */
  const buffers = new Map();
  /** What was never fetched. @type {Set<string>} */
  const held = new Set();
  /** @type {AudioBufferSourceNode | null} */
  let sounding = null;
  /** @type {HTMLAudioElement | null} */
  let element = null;
  let request = 0;

  function newContext() {
    context = apis.AudioContext ? new apis.AudioContext() : null;
    return context;
  }

  /** To be called inside a tap. iOS plays on silent only in a session of this type. */
  async function unlock() {
    try {
      if (apis.navigator.audioSession) apis.navigator.audioSession.type = "playback";
    } catch { /* an older system: the silent switch stays in charge */ }
    const now = context ?? newContext();
    if (now && now.state !== "running") await Promise.race([now.resume(), apis.pause(STUCK_CHECK_MS)]);
    element ??= apis.makeAudio();
  }

  /** A context that was interrupted may say it runs while its clock stands. @param {AudioContext} now */
  async function isRunning(now) {
    const before = now.currentTime;
    await apis.pause(STUCK_CHECK_MS);
    return context !== now || now.currentTime !== before;
  }

  /** @param {string} source @returns {Promise<AudioBuffer | null>} */
  function decoded(source) {
    let buffer = buffers.get(source);
    if (!buffer) {
      buffer = decode(source).catch(() => null);
      buffers.set(source, buffer);
      buffer.then((result) => result ?? buffers.delete(source));
    }
    return buffer;
  }

  /** @param {string} source */
  async function decode(source) {
    const now = context ?? newContext();
    if (!now) return null;
    const answer = await apis.fetch(source);
    if (!answer.ok) return null;
    return now.decodeAudioData(await answer.arrayBuffer());
  }

  function stop() {
    request += 1;
    try {
      sounding?.stop();
    } catch { /* it had not begun */ }
    sounding = null;
    element?.pause();
  }

  /** Play to the end; false when there was nothing to hear. @param {string} source @param {number} [gain] */
  async function play(source, gain = 1) {
    stop();
    const own = ++request;
    if (context?.state !== "running") await unlock();
    const buffer = await decoded(source);
    if (own !== request) return true; // another clip was asked for meanwhile
    const now = context;
    if (!buffer || !now || now.state !== "running") return byElement(source, gain);
    const ended = sound(now, buffer, gain);
    if (!(await Promise.race([ended.then(() => true), isRunning(now)]))) {
      if (own !== request) return true;
      stop();
      await now.close().catch(() => undefined);
      newContext();
      await unlock();
      return context?.state === "running" ? sound(context, buffer, gain) : byElement(source, gain);
    }
    return ended;
  }

  /** @param {AudioContext} now @param {AudioBuffer} buffer @param {number} gain @returns {Promise<boolean>} */
  function sound(now, buffer, gain) {
    return new Promise((resolve) => {
      const node = now.createBufferSource();
      node.buffer = buffer;
      node.connect(gain === 1 ? now.destination : softer(now, gain));
      node.onended = () => resolve(true);
      node.start();
      sounding = node;
    });
  }

  /** @param {AudioContext} now @param {number} gain */
  function softer(now, gain) {
    const node = now.createGain();
    node.gain.value = gain;
    node.connect(now.destination);
    return node;
  }

  /** @param {string} source @param {number} gain @returns {Promise<boolean>} */
  function byElement(source, gain) {
    if (held.has(source)) return Promise.resolve(false);
    return new Promise((resolve) => {
      const audio = (element ??= apis.makeAudio());
      audio.volume = gain; // iOS leaves it at 1
      audio.onended = audio.onpause = () => resolve(true);
      audio.onerror = () => resolve(false);
      audio.src = source;
      audio.play().catch(() => resolve(false));
    });
  }

  return {
    unlock,
    load: async (sources) => void (await Promise.all(sources.map(decoded))),
    hold(source, samples, rate) {
      const now = context ?? newContext();
      if (!now) return false;
      const buffer = now.createBuffer(1, samples.length, rate);
      buffer.copyToChannel(samples, 0);
      held.add(source);
      buffers.set(source, Promise.resolve(buffer));
      return true;
    },
    drop: (source) => void buffers.delete(source),
    has: async (source) => Boolean(await buffers.get(source)),
    play,
    stop,
  };
}

/** The browser's own. @param {Window & typeof globalThis} window @returns {BrowserApis} */
export function browserApis(window) {
  return {
    AudioContext: window.AudioContext,
    fetch: (source) => window.fetch(source),
    makeAudio: () => new window.Audio(),
    navigator: /** @type {BrowserApis["navigator"]} */ (window.navigator),
    pause: (ms) => new Promise((resolve) => window.setTimeout(resolve, ms)),
  };
}
