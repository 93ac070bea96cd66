// Samples to a WAV file: one channel, 24 bits, so that a soft microphone loses nothing.

const HEAD = 44; // bytes
const BYTES = 3; // of a sample
const FULL = 2 ** 23 - 1;

/**
 * The bytes of a RIFF/WAVE file (Microsoft and IBM, Multimedia Programming Interface and Data
 * Specifications 1.0, 1991). What is beyond full scale is cut.
 * @param {Float32Array} samples  full scale ±1
 * @param {number} rate  Hz
 */
export function wav(samples, rate) {
  const size = samples.length * BYTES;
  const odd = size % 2; // a chunk has an even length
  const view = new DataView(new ArrayBuffer(HEAD + size + odd));
  text(view, 0, "RIFF");
  view.setUint32(4, HEAD - 8 + size + odd, true);
  text(view, 8, "WAVEfmt ");
  view.setUint32(16, 16, true); // bytes of the format
  view.setUint16(20, 1, true); // PCM
  view.setUint16(22, 1, true); // channels
  view.setUint32(24, rate, true);
  view.setUint32(28, rate * BYTES, true);
  view.setUint16(32, BYTES, true);
  view.setUint16(34, BYTES * 8, true);
  text(view, 36, "data");
  view.setUint32(40, size, true);
  samples.forEach((sample, i) => put(view, HEAD + i * BYTES, sample));
  return view.buffer;
}

/** @param {DataView} view @param {number} at @param {number} sample */
function put(view, at, sample) {
  const value = Math.round(Math.min(1, Math.max(-1, sample)) * FULL);
  view.setUint16(at, value & 0xffff, true);
  view.setInt8(at + 2, value >> 16);
}

/** @param {DataView} view @param {number} at @param {string} letters */
function text(view, at, letters) {
  for (let i = 0; i < letters.length; i++) view.setUint8(at + i, letters.charCodeAt(i));
}

/** Blocks as one piece. @param {Float32Array[]} blocks */
export function joined(blocks) {
  const whole = new Float32Array(blocks.reduce((sum, block) => sum + block.length, 0));
  let at = 0;
  for (const block of blocks) {
    whole.set(block, at);
    at += block.length;
  }
  return whole;
}
