// Bytes -> parts that survive mail programs and cameras: letters and digits of base32 (RFC 4648, without
// padding), which are also the alphanumeric ones of a QR code. Pure. builder/practice/parts.py reads them.
//
//   PR1/ID/N/OF/DATA/CHECK
//
// ID: CRC-32 of the whole message, 7 characters, the same in all its parts, so that parts of different
// messages are told apart and the whole is checked. N OF: which part of how many. CHECK: 4 characters, the
// first 20 bits of the CRC-32 of all that stands before it, its slash included. The data of all parts in
// their order are one base32 text. Line breaks, blanks and signs of quoting may stand anywhere.

const HEAD = "PR1";
const ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";
const LINE = 60; // characters: mail programs break lines beyond 72, quoted ones a little sooner
// 758 alphanumeric characters fit version 15 at level L (ISO/IEC 18004, table 7); a head takes up to 23.
const MOST_IN_A_CODE = 728; // data of one code
export const MOST_CODES = 12; // more than that nobody photographs

/** CRC-32 as in zlib (ISO/IEC 8802-3). @param {Uint8Array} bytes */
export function crc32(bytes) {
  let sum = 0xffffffff;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit += 1) sum = (sum >>> 1) ^ (sum & 1 ? 0xedb88320 : 0);
  }
  return ~sum >>> 0;
}

/** @param {Uint8Array} bytes */
export function base32(bytes) {
  let [text, held, bits] = ["", 0, 0];
  for (const byte of bytes) {
    held = (held << 8) | byte;
    for (bits += 8; bits >= 5; bits -= 5) text += ALPHABET[(held >>> (bits - 5)) & 31];
    held &= (1 << bits) - 1;
  }
  return bits ? text + ALPHABET[(held << (5 - bits)) & 31] : text;
}

/** @param {Uint8Array} message @param {number} [most]  characters of data in a part */
export function parts(message, most = Infinity) {
  const data = base32(message);
  const of = Math.max(1, Math.ceil(data.length / most));
  const size = Math.ceil(data.length / of);
  const id = sum(message);
  return Array.from({ length: of }, (_, n) => {
    const part = [HEAD, id, n + 1, of, data.slice(n * size, (n + 1) * size), ""].join("/");
    return part + sum(new TextEncoder().encode(part)).slice(0, 4);
  });
}

/** What the codes hold, or null where there would be too many. @param {Uint8Array} message */
export function codeTexts(message) {
  const found = parts(message, MOST_IN_A_CODE);
  return found.length > MOST_CODES ? null : found;
}

/** One part in lines, for a message. @param {Uint8Array} message */
export const lines = (message) => parts(message)[0].match(new RegExp(`.{1,${LINE}}`, "g")) ?? [];

/** @param {Uint8Array} bytes */
function sum(bytes) {
  const crc = crc32(bytes);
  return base32(Uint8Array.of(crc >>> 24, crc >>> 16, crc >>> 8, crc));
}
