// Samples to a WAV file: one channel, 24 bits, so that a soft microphone loses nothing.

const HEADER_BYTES = 44;
const SAMPLE_BYTES = 3;
const NOTHING = 2 ** -16; // full scale 1: half a step of 16 bits, below any room
const FULL_SCALE = 2 ** 23 - 1;

/**
 * The bytes of a RIFF/WAVE file (Microsoft and IBM, Multimedia Programming Interface and Data
 * Specifications 1.0, 1991). What is beyond full scale is clipped.
 * @param {Float32Array} samples  full scale ±1
 * @param {number} rate  Hz
 */
export function encodeWav(samples, rate) {
  const size = samples.length * SAMPLE_BYTES;
  const odd = size % 2; // a chunk has an even length
  const view = new DataView(new ArrayBuffer(HEADER_BYTES + size + odd));
  writeText(view, 0, "RIFF");
  view.setUint32(4, HEADER_BYTES - 8 + size + odd, true);
  writeText(view, 8, "WAVEfmt ");
  view.setUint32(16, 16, true); // bytes of the format
  view.setUint16(20, 1, true); // PCM
  view.setUint16(22, 1, true); // channels
  view.setUint32(24, rate, true);
  view.setUint32(28, rate * SAMPLE_BYTES, true);
  view.setUint16(32, SAMPLE_BYTES, true);
  view.setUint16(34, SAMPLE_BYTES * 8, true);
  writeText(view, 36, "data");
  view.setUint32(40, size, true);
  samples.forEach((sample, i) => writeSample(view, HEADER_BYTES + i * SAMPLE_BYTES, sample));
  return view.buffer;
}

/** @param {DataView} view @param {number} at @param {number} sample */
function writeSample(view, at, sample) {
  const value = Math.round(Math.min(1, Math.max(-1, sample)) * FULL_SCALE);
  view.setUint16(at, value & 0xffff, true);
  view.setInt8(at + 2, value >> 16);
}

/** @param {DataView} view @param {number} at @param {string} letters */
function writeText(view, at, letters) {
  for (let i = 0; i < letters.length; i++) view.setUint8(at + i, letters.charCodeAt(i));
}

/** Blocks as one piece. @param {Float32Array[]} blocks */
export function concatenated(blocks) {
  const whole = new Float32Array(blocks.reduce((sum, block) => sum + block.length, 0));
  let at = 0;
  for (const block of blocks) {
    whole.set(block, at);
    at += block.length;
  }
  return whole;
}

/** Samples without what a dying microphone gives: nothing, behind which the cut end would not be noticed. @param {Float32Array} samples */
export function withoutNothingAtEnd(samples) {
  let end = samples.length;
  while (end > 0 && Math.abs(samples[end - 1]) < NOTHING) end--;
  return samples.subarray(0, end);
}
