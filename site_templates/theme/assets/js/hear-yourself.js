// The client hears the model and then the own try. It lies in the memory of this page until the next
// word, is never written down and never sent; no mark waits for it. Loaded only where a program asks.

import { button, el, sign } from "./dom.js";
import { openMicrophone } from "./microphone.js";
import { afterModel, joined, MAX_OWN_S, mayCompare, mayRecord } from "./own-try.js";
import { modelOf, task } from "./run.js";
import { OWN } from "./sound.js";

/** @import { ClipData, Run } from "../../../types" */
/** @import { MicrophoneApis, OpenMicrophone } from "./microphone.js" */
/** @import { Say } from "./screens.js" */

/**
 * What leads through practice, as far as it is needed. become: the run goes on like this; quiet: what
 * plays or is recorded is called off; play: as a model is played, null when another was asked for.
 * @typedef {object} Around
 * @property {() => Run | null} run
 * @property {(run: Run) => void} become
 * @property {() => void} quiet
 * @property {(focus?: string) => void} show
 * @property {(playing: boolean) => void} playing
 * @property {(clip: ClipData | null) => Promise<boolean | null>} play
 */
/** @typedef {MicrophoneApis & { navigator: { audioSession?: { type: string } } }} VoiceApis */
/** @typedef {ReturnType<typeof makeHearYourself>} HearYourself */

/**
 * @param {Pick<ReturnType<typeof import("./sound.js").makeSound>, "play" | "keepOwn" | "dropOwn">} sound
 * @param {Say} say @param {Around} around @param {VoiceApis} apis
 */
export function makeHearYourself(sound, say, around, apis) {
  /** refused: it is said now; off: it was said. @type {"" | "opening" | "recording" | "there" | "refused" | "off"} */
  let state = "";
  /** @type {OpenMicrophone | null} */
  let microphone = null;
  /** @type {Float32Array[]} */
  let blocks = [];
  let recorded = 0; // samples
  let duration = 0; // seconds of the try that is there
  let modelled = false; // the model was heard after it
  let request = 0;

  /** @param {string} type  of the audio session; iOS plays softly, or not at all, in the one for recording */
  function session(type) {
    try {
      if (apis.navigator.audioSession) apis.navigator.audioSession.type = type;
    } catch { /* an older system chooses by itself */ }
  }

  function close() {
    request += 1;
    microphone?.close();
    microphone = null;
    session("playback");
  }

  /** What is being recorded is thrown away. */
  function quiet() {
    if (state !== "opening" && state !== "recording") return;
    close();
    blocks = [];
    state = "";
  }

  /** Nothing of it is left. */
  function drop() {
    quiet();
    sound.dropOwn();
    modelled = false;
    state = state === "refused" || state === "off" ? "off" : "";
  }

  async function record() {
    const run = around.run();
    if (!run || !mayRecord(run)) return;
    around.quiet();
    if (modelled) around.become(afterModel(run));
    drop();
    [state, blocks, recorded] = ["opening", [], 0];
    const own = ++request;
    around.show("own-stop");
    session("play-and-record");
    try {
      const opened = await openMicrophone(apis, {}, add, stop);
      if (own !== request) return opened.close();
      microphone = opened;
      state = "recording";
      around.show();
    } catch {
      if (own !== request) return;
      close();
      state = "refused";
      around.show("clear");
    }
  }

  /** @param {Float32Array} block */
  function add(block) {
    if (state !== "recording" || !microphone) return;
    blocks.push(block);
    recorded += block.length;
    if (recorded >= MAX_OWN_S * microphone.rate) stop();
  }

  function stop() {
    if (state === "recording" && microphone) {
      const { rate } = microphone;
      const samples = joined(blocks, rate);
      close();
      [blocks, duration] = [[], samples.length / rate];
      state = samples.length > 0 && sound.keepOwn(samples, rate) ? "there" : "";
    } else quiet();
    around.show(state ? "own-hear" : "own-record");
  }

  async function compare() {
    const run = around.run();
    const now = run && task(run);
    if (!now || state !== "there" || !mayCompare(run)) return;
    around.quiet();
    const model = modelOf(run, now);
    const played = model && (await around.play(model));
    if (model && played === null) return;
    if (played) modelled = true;
    around.playing(true);
    if ((await sound.play({ src: OWN, duration })) !== null) around.playing(false);
  }

  /** @param {Run} run */
  const hearButton = (run) => {
    const now = task(run);
    return el("button", { type: "button", class: "button hear", "data-key": "own-hear", "aria-disabled": run.phase === "marked" && "true", onclick: () => void compare() },
      sign("hear"), el("span", {}, say(now && modelOf(run, now) ? "yourself.hear" : "yourself.alone")));
  };

  /** @param {string} text @param {string} [classes] */
  const recordButton = (text, classes) =>
    el("button", { type: "button", class: `button ${classes ?? ""}`.trim(), "data-key": "own-record", onclick: () => void record() }, sign("microphone"), el("span", {}, say(text)));

  return {
    quiet,
    drop,
    there: () => state === "there",
    /** What stands in place of the buttons of the model, if anything does. @param {Run} run @returns {HTMLElement[] | null} */
    instead(run) {
      if (state === "opening" || state === "recording") return [button("own-stop", say("yourself.stop"), stop, "big")];
      return state === "there" && (mayRecord(run) || run.phase === "marked") ? [hearButton(run), recordButton("yourself.again", "minor")] : null;
    },
    /** @param {Run} run */
    record: (run) => state === "" && mayRecord(run) && recordButton("yourself.record"),
    /** After a miss. @param {Run} run */
    compare: (run) => (state === "there" && mayCompare(run) ? hearButton(run) : null),
    /** What is asked for; "" where it is what the round asks for. @param {Run} run */
    prompt(run) {
      if (state === "opening") return say("yourself.wait");
      if (state === "recording") return say("yourself.now");
      return state === "there" && mayRecord(run) ? say("yourself.mark") : "";
    },
    /** Why it cannot be done here. */
    note: () => (state === "refused" ? say("yourself.refused") : ""),
  };
}

/** The browser's own. @param {Window & typeof globalThis} window @returns {VoiceApis} */
export const browserApis = ({ navigator, AudioContext, AudioWorkletNode }) => ({
  mediaDevices: navigator.mediaDevices, AudioContext, AudioWorkletNode,
  navigator: /** @type {VoiceApis["navigator"]} */ (navigator),
});
