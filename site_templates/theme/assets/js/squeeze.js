// A message is one byte that says how the rest is written, and the rest: 0 as packed, 1 deflated (RFC 1951)
// but for what is random and would only grow; it follows as it is.

/**
 * The shorter of the two; as packed where the browser cannot deflate.
 * @param {{ bytes: Uint8Array, random: number }} packed  of pack.js
 * @returns {Promise<Uint8Array>}
 */
export async function squeeze({ bytes, random }) {
  const even = bytes.length - random;
  const small = await deflated(bytes.subarray(0, even));
  return small && small.length < even ? joined([1], small, bytes.subarray(even)) : joined([0], bytes);
}

/** @param {...(Uint8Array | number[])} pieces */
function joined(...pieces) {
  const all = new Uint8Array(pieces.reduce((size, { length }) => size + length, 0));
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
}

/** @param {Uint8Array} bytes @returns {Promise<Uint8Array | null>} */
async function deflated(bytes) {
  try {
    const stream = new Blob([/** @type {Uint8Array<ArrayBuffer>} */ (bytes)]).stream().pipeThrough(new CompressionStream("deflate-raw"));
    return new Uint8Array(await new Response(stream).arrayBuffer());
  } catch {
    return null; // an older browser: no such stream, or not of this kind
  }
}
