// What the microphone hears: its level all the time, its samples while a recording is made.

import { nextLevel, silence } from "./level.js";
import { openMicrophone } from "./microphone.js";
import { concatenated, encodeWav, withoutNothingAtEnd } from "./wav.js";

/** @import { Microphone } from "../types" */
/** @import { BrowserApis } from "./microphone.js" */
/** @import { Level } from "./level.js" */

const MAX_RECORDING_S = 30;

/**
 * @param {BrowserApis} apis
 * @param {{ onLevel: (level: Level) => void, onFull: () => void, onLost: () => void }} told  onLost: may still end the recording
 */
export function makeCapture(apis, { onLevel, onFull, onLost }) {
  /** @type {Microphone | null} */
  let microphone = null;
  /** @type {Float32Array[] | null} */
  let blocks = null;
  let rate = 0; // Hz, of the last microphone
  let level = silence();

  /** @param {Float32Array} block */
  function add(block) {
    if (!microphone) return;
    level = nextLevel(level, block, block.length / rate);
    onLevel(level);
    blocks?.push(block);
    if (blocks && blocks.length * block.length > MAX_RECORDING_S * rate) onFull();
  }

  function lost() {
    microphone = null;
    onLost();
  }

  return {
    /** What is to be said of the microphone. */
    get notices() {
      return microphone?.notices ?? [];
    },
    /** Throws NoMicrophone. @param {string} device  its id, "" for the usual one */
    async open(device) {
      microphone?.close();
      microphone = null;
      microphone = await openMicrophone(apis, device, add, lost);
      rate = microphone.rate;
    },
    begin() {
      level = silence();
      blocks = [];
    },
    /** The recording as a WAV file; null when nothing was heard. @param {boolean} cut  the microphone was unplugged */
    end(cut) {
      const heard = concatenated(blocks ?? []);
      const samples = cut ? withoutNothingAtEnd(heard) : heard;
      blocks = null;
      return samples.length ? encodeWav(samples, rate) : null;
    },
  };
}
